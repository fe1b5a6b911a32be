/* Header words: the reference table and a site's own list, looked up in one form whatever the spelling. */
#include "intake_in.h"

#include "gen/ref_header_word.h"
#include "tenterbook/utf8.h"

#include <pthread.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#define KEY_MOST 96
#define SLOTS 4096 /* at least twice the words there are */

struct entry {
    char *key;
    struct word_hit hit[HITS_MOST];
    size_t n;
};

struct words {
    struct entry slot[SLOTS];
    size_t used;
};

static bool is_number_word(const char *s, size_t n)
{
    static const char *const word[] = { "no",     "n",      "nr",     "nro",    "num",
                                        "number", "nummer", "numero", "numara", "numarasi" };

    for (size_t i = 0; i < TB_COUNT(word); i++)
        if (strlen(word[i]) == n && memcmp(word[i], s, n) == 0)
            return true;
    return false;
}

/*
 * The form words are compared in: folded, punctuation dropped, the dotless i made plain, blanks around a
 * stroke dropped, every word for "number" left out and remembered as a final '#'.
 */
static bool make_key(char key[KEY_MOST], const char *text, size_t n)
{
    char *folded, tidy[KEY_MOST * 2], *tok, *save = NULL;
    size_t k = 0;
    bool number = false;

    key[0] = '\0';
    if (n >= KEY_MOST)
        return false;
    folded = tb_fold(text, n);
    for (const char *c = folded; *c && k < sizeof tidy - 3; c++) {
        if (strncmp(c, "\xC4\xB1", 2) == 0) {
            tidy[k++] = 'i';
            c++;
        } else if (strncmp(c, "\xC2\xB0", 2) == 0) {
            tidy[k++] = ' ';
            c++;
        } else if (*c == '#') {
            number = true;
            tidy[k++] = ' ';
        } else if (strchr(".:;,_*\"'!?=()[]{}<>-", *c) || strncmp(c, "\xE2\x80\x99", 3) == 0) {
            tidy[k++] = ' ';
            c += *c == '\xE2' ? 2 : 0;
        } else if (*c == '/') {
            while (k && tidy[k - 1] == ' ')
                k--;
            tidy[k++] = '/';
            while (c[1] == ' ')
                c++;
        } else {
            tidy[k++] = *c;
        }
    }
    tidy[k] = '\0';
    free(folded);
    k = 0;
    for (tok = strtok_r(tidy, " ", &save); tok; tok = strtok_r(NULL, " ", &save)) {
        size_t len = strlen(tok);

        if (is_number_word(tok, len) || (number && len == 1 && *tok == 'o')) {
            number = true;
            continue;
        }
        if (k + len + 3 > KEY_MOST)
            return false;
        if (k)
            key[k++] = ' ';
        memcpy(key + k, tok, len);
        k += len;
    }
    if (!k && !number)
        return false;
    if (number)
        key[k++] = '#';
    key[k] = '\0';
    return true;
}

static struct entry *slot_of(const struct words *w, const char *key)
{
    uint32_t h = 2166136261u;

    for (const char *c = key; *c; c++)
        h = (h ^ (unsigned char)*c) * 16777619u;
    for (size_t i = h % SLOTS;; i = (i + 1) % SLOTS)
        if (!w->slot[i].key || strcmp(w->slot[i].key, key) == 0)
            return (struct entry *)&w->slot[i];
}

static void add(struct words *w, const char *text, struct word_hit hit)
{
    char key[KEY_MOST];
    struct entry *e;

    if (!make_key(key, text, strlen(text)) || w->used >= SLOTS / 2)
        return;
    e = slot_of(w, key);
    if (!e->key) {
        e->key = tb_strdup(key);
        w->used++;
    }
    if (e->n && e->hit[0].site)
        return; /* a site's own word stands alone */
    for (size_t i = 0; i < e->n; i++)
        if (e->hit[i].field == hit.field) {
            if (!e->hit[i].unit)
                e->hit[i].unit = hit.unit;
            e->hit[i].weak = e->hit[i].weak && hit.weak;
            return;
        }
    if (e->n < HITS_MOST)
        e->hit[e->n++] = hit;
}

/* The reference table is keyed once for the whole program, by whichever thread comes first, and then only read. */
static struct words reference;
static pthread_once_t reference_once = PTHREAD_ONCE_INIT;

static void key_reference(void)
{
    for (size_t i = 0; i < tb_ref_header_word_n; i++) {
        const struct tb_ref_header_word *r = &tb_ref_header_word[i];
        int field = tb_field_by_key(r->field), unit = tb_unit_by_key(r->unit);

        add(&reference, r->word,
            (struct word_hit){ .field = field > 0 ? (enum tb_field)field : TB_FIELD_IGNORE,
                               .unit = unit > 0 ? (enum tb_unit)unit : TB_UNIT_NONE,
                               .weak = r->weak == 1 });
    }
}

struct words *words_new(const struct tb_header_word *site, size_t n)
{
    struct words *w = tb_new(struct words);

    (void)pthread_once(&reference_once, key_reference);
    for (size_t i = n; i > 0; i--) /* the last one given counts */
        add(w, site[i - 1].word, (struct word_hit){ .field = site[i - 1].field, .site = true });
    return w;
}

void words_free(struct words *w)
{
    for (size_t i = 0; w && w->used && i < SLOTS; i++)
        free(w->slot[i].key);
    free(w);
}

/* The site's word, else that of the reference table. */
static const struct entry *look_up(const struct words *w, const char *key)
{
    const struct entry *e = w->used ? slot_of(w, key) : NULL;

    return e && e->key ? e : slot_of(&reference, key);
}

static size_t copy(const struct entry *e, struct word_hit hit[HITS_MOST])
{
    for (size_t i = 0; i < e->n; i++)
        hit[i] = e->hit[i];
    return e->n;
}

/* German umlauts written out: "Laenge" is "Länge". */
static void plain_umlauts(char *key)
{
    char *out = key;

    for (const char *c = key; *c; c++) {
        *out++ = *c;
        if ((*c == 'a' || *c == 'o' || *c == 'u') && c[1] == 'e')
            c++;
    }
    *out = '\0';
}

/* With or without a word for "number": "Bolt" is "Bolt no.". */
static void flip_number(char *key)
{
    size_t k = strlen(key);

    if (k > 1 && key[k - 1] == '#') {
        key[k - 1] = '\0';
    } else if (k + 2 < KEY_MOST && key[0] != '#') {
        key[k] = '#';
        key[k + 1] = '\0';
    }
}

size_t words_exact(const struct words *w, const char *text, size_t n, struct word_hit hit[HITS_MOST])
{
    char key[KEY_MOST];

    if (!make_key(key, text, n))
        return 0;
    for (int turn = 0; turn < 4; turn++) { /* as it is, umlauts plain; then both without or with the number */
        const struct entry *e;
        char plain[KEY_MOST];

        if (turn == 2)
            flip_number(key);
        memcpy(plain, key, sizeof plain);
        if (turn % 2)
            plain_umlauts(plain);
        e = look_up(w, plain);
        if (e->key)
            return copy(e, hit);
    }
    return 0;
}

bool words_number(const char *text)
{
    char key[KEY_MOST];

    return make_key(key, text, strlen(text)) && strcmp(key, "#") == 0;
}

/* --- what stands beside the word: a unit, a second language ---------------------------------------------- */
static size_t with_unit(struct word_hit hit[HITS_MOST], size_t n, const char *unit, size_t len)
{
    for (size_t i = 0; i < n; i++) {
        const char *per = memchr(unit, '/', len); /* of "EUR/m" the length counts */
        enum tb_unit u = unit_find(hit[i].field, unit, len);

        if (!u && per)
            u = unit_find(hit[i].field, per + 1, len - (size_t)(per + 1 - unit));
        if (u)
            hit[i].unit = u;
    }
    return n;
}

static bool any_unit(const char *s, size_t n)
{
    static const enum tb_field measured[] = { TB_FIELD_LENGTH, TB_FIELD_WIDTH, TB_FIELD_MASS };

    for (size_t i = 0; i < TB_COUNT(measured); i++)
        if (unit_find(measured[i], s, n))
            return true;
    return currency_find(s, n) != NULL;
}

static bool letters_meet(unsigned char a, unsigned char b)
{
    return (a < 0x80) != (b < 0xE3);
}

/* Two languages in one header: halves at a stroke, a line break or where Chinese meets Latin script. */
static size_t find_halves(const struct words *w, const char *text, struct word_hit hit[HITS_MOST])
{
    struct word_hit half[HITS_MOST];
    size_t from = 0, end = strlen(text), found = 0;

    for (size_t at = 1; at <= end; at++) {
        bool cut = at == end || text[at] == '/' || text[at] == '\n' || text[at] == '|' || text[at] == '(' ||
                   (((unsigned char)text[at] & 0xC0) != 0x80 &&
                    letters_meet((unsigned char)text[at - 1], (unsigned char)text[at]) &&
                    ((unsigned char)text[at - 1] >= 0xE3 || (unsigned char)text[at] >= 0xE3 ||
                     ((unsigned char)text[at - 1] & 0xC0) == 0x80));
        size_t n, both = 0;

        if (!cut)
            continue;
        n = words_exact(w, text + from, at - from, half);
        if (n && !found) {
            memcpy(hit, half, n * sizeof *hit);
            found = n;
        } else if (n) { /* only readings both halves allow */
            for (size_t i = 0; i < found; i++)
                for (size_t k = 0; k < n; k++)
                    if (hit[i].field == half[k].field)
                        hit[both++] = hit[i];
            if (!both)
                return 0;
            found = both;
        } else if (found) {
            (void)with_unit(hit, found, text + from, at - from);
        }
        from = at + (at < end && strchr("/\n|(", text[at]) != NULL);
    }
    return found;
}

/* "Length (m)", "Breite [cm]": the text outside the brackets, the unit inside. */
static size_t find_bracketed(const struct words *w, const char *text, struct word_hit hit[HITS_MOST])
{
    const char *open = strpbrk(text, "([{"), *close;
    struct tb_text outside = { 0 };
    size_t n;

    if (!open || !(close = strpbrk(open, ")]}")))
        return 0;
    tb_text_addn(&outside, text, (size_t)(open - text));
    tb_text_addc(&outside, ' ');
    tb_text_add(&outside, close + 1);
    n = words_exact(w, outside.s, outside.n, hit);
    if (!n)
        n = find_halves(w, outside.s, hit); /* "Breite/Width (cm)" */
    if (n)
        n = with_unit(hit, n, open + 1, (size_t)(close - open - 1));
    else if (!any_unit(open + 1, (size_t)(close - open - 1)))
        n = words_exact(w, open + 1, (size_t)(close - open - 1), hit); /* "布幅 (Width)" */
    tb_text_free(&outside);
    return n;
}

/* "Breite in cm", "Length m", "Price EUR/m": the last word, or the last two, are the unit. */
static size_t find_trailing(const struct words *w, const char *text, struct word_hit hit[HITS_MOST])
{
    size_t end = strlen(text);

    for (size_t at = end; at > 1; at--) {
        size_t head = at - 1, n;

        if (text[at - 1] != ' ' && text[at - 1] != '/' && text[at - 1] != '\n')
            continue;
        if (!any_unit(text + at, end - at))
            continue;
        while (head && strchr(" \n,/", text[head - 1]))
            head--;
        if (head > 3 && (strncmp(text + head - 3, " in", 3) == 0 || strncmp(text + head - 3, " en", 3) == 0 ||
                         strncmp(text + head - 3, " em", 3) == 0))
            head -= 3;
        if (head && (n = words_exact(w, text, head, hit)) > 0)
            return with_unit(hit, n, text + at, end - at);
    }
    return 0;
}

size_t words_find(const struct words *w, const char *text, struct word_hit hit[HITS_MOST])
{
    size_t n = strlen(text);

    if (n == 0 || n > 160)
        return 0;
    if ((n = words_exact(w, text, n, hit)) > 0)
        return n;
    if ((n = find_bracketed(w, text, hit)) > 0)
        return n;
    if ((n = find_trailing(w, text, hit)) > 0)
        return n;
    return find_halves(w, text, hit);
}

/* --- totals ---------------------------------------------------------------------------------------------- */
static bool is_total(const struct words *w, const char *s, size_t n)
{
    struct word_hit hit[HITS_MOST];
    size_t found = words_exact(w, s, n, hit);

    for (size_t i = 0; i < found; i++)
        if (hit[i].field == TB_FIELD_TOTAL)
            return true;
    return false;
}

bool words_total(const struct words *w, const char *text)
{
    size_t n = strlen(text);
    bool plain = true, digits = false; /* "R0001": a number of something, by far the commonest case */

    for (size_t i = 0; i < n && plain; i++) {
        plain = (unsigned char)text[i] < 0x80 && text[i] != ' ' && text[i] != ':';
        digits = digits || (text[i] >= '0' && text[i] <= '9');
    }
    if (n == 0 || n > 80 || (plain && digits))
        return false;
    if (is_total(w, text, n))
        return true;
    for (size_t at = 1; at < n; at++)
        if ((text[at] == ' ' || text[at] == ':') &&
            (is_total(w, text, at) || is_total(w, text + at + 1, n - at - 1)))
            return true;
    return false;
}
