/* nearest.c - what a person may have meant by a name that nothing has: the ones that are written nearly so. */
#include "base/say.h"
#include "book/named.h"
#include "book/private.h"
#include "tenterbook/utf8.h"
#include "tenterbook/words.h"

#include <ctype.h>
#include <string.h>

#define OFFERED_MOST 6
#define NAME_MOST 64 /* bytes; a longer one is no name that is typed */
#define SHORT_NAME 3 /* one slip in so few letters leaves little of it */
#define LONG_NAME 6  /* two slips in so many leave most of it */
#define REFUSALS_MOST                                                                                        \
    20 /* of a file with ten thousand wrong rows each name would be looked for in the whole book */

/* How two names differ, the likeliest slip first. */
enum slip { ZEROS_AND_SIGNS, ORDER, ONE_LETTER, PIECE, TWO_LETTERS, NOT_NEAR };

struct near {
    const char *about; /* the kinds that are meant, by their words, separated by spaces */
    char typed[NAME_MOST], bare[NAME_MOST];
    struct {
        char name[NAME_MOST];
        enum slip slip;
    } best[OFFERED_MOST];
    size_t n;
};

/* Small letters; false where it is longer than a name. */
static bool fold(char out[NAME_MOST], const char *name)
{
    size_t n = strlen(name);

    if (n >= NAME_MOST)
        return false;
    for (size_t i = 0; i < n; i++)
        out[i] = (char)tolower((unsigned char)name[i]);
    out[n] = '\0';
    return true;
}

/* Without signs, and without the zeros that fill a number up: "r815" of "R-0815". */
static void strip(char out[NAME_MOST], const char *folded)
{
    bool digits = false;

    for (; *folded; folded++) {
        bool digit = isdigit((unsigned char)*folded) != 0;

        if ((!digit && !isalpha((unsigned char)*folded) && (unsigned char)*folded < 0x80) ||
            (*folded == '0' && !digits)) {
            digits = digits && digit;
            continue;
        }
        digits = digit;
        *out++ = *folded;
    }
    *out = '\0';
}

static bool same_letters(const char *a, const char *b)
{
    int count[256] = { 0 };

    for (; *a; a++)
        count[(unsigned char)*a]++;
    for (; *b; b++)
        if (count[(unsigned char)*b]-- == 0)
            return false;
    return true;
}

static enum slip slip_of(const struct near *w, const char *name)
{
    static const char figures[] = "0123456789";
    size_t n = strlen(w->typed), m = strlen(name), edits;
    char bare[NAME_MOST];

    strip(bare, name);
    if (*bare && strcmp(bare, w->bare) == 0)
        return ZEROS_AND_SIGNS;
    if (n < SHORT_NAME) /* "b9" of "b1": what differs is the figure */
        return n == 2 && m == 2 && w->typed[0] == name[0] && isalpha((unsigned char)name[0]) &&
                       strspn(w->typed + 1, figures) == 1 && strspn(name + 1, figures) == 1
                   ? ONE_LETTER
                   : NOT_NEAR;
    edits = tb_edit_distance(w->typed, name, n < LONG_NAME ? 1 : 2);
    if (edits <= 2 && n == m && same_letters(w->typed, name))
        return ORDER;
    if (edits == 1)
        return ONE_LETTER;
    if (strstr(name, w->typed) || (m >= SHORT_NAME && m + 2 >= n && strstr(w->typed, name)))
        return PIECE;
    return edits == 2 && n >= LONG_NAME ? TWO_LETTERS : NOT_NEAR;
}

static void keep(struct near *w, const char *name, enum slip slip)
{
    size_t at = w->n;

    for (size_t i = 0; i < w->n; i++)
        if (strcmp(w->best[i].name, name) == 0)
            return;
    while (at && w->best[at - 1].slip > slip)
        at--;
    if (at == OFFERED_MOST)
        return;
    w->n += w->n < OFFERED_MOST;
    memmove(&w->best[at + 1], &w->best[at], (w->n - at - 1) * sizeof w->best[0]);
    (void)strcpy(w->best[at].name, name);
    w->best[at].slip = slip;
}

static tb_rc take(void *arg, const struct tb_name_there *there, struct tb_err *err)
{
    struct near *w = arg;
    char folded[NAME_MOST];
    enum slip slip;

    (void)err;
    if (!tb_word_listed(w->about, there->about, strlen(there->about), " ") || !fold(folded, there->name))
        return TB_OK;
    slip = slip_of(w, folded);
    if (slip != NOT_NEAR)
        keep(w, there->name, slip);
    return TB_OK;
}

/* "A", "A or B", "A, B or C". What is much less alike than the best is left out. */
static void list(struct tb_text *out, const struct near *w)
{
    size_t n = 1;

    while (n < w->n && w->best[n].slip <= w->best[0].slip + 1)
        n++;
    for (size_t i = 0; i < n; i++)
        tb_text_addf(out, i == 0 ? "%s" : i + 1 < n ? ", %s" : _(" or %s"), w->best[i].name);
}

tb_rc tb_nearest_offer(struct tb_book *b, const char *about, const char *lot_id, const char *typed, tb_rc rc,
                       struct tb_err *err)
{
    struct near w = { .about = about };
    struct tb_err none;
    struct tb_arena mem = { 0 };
    struct tb_text names = { 0 };
    const char *written = tb_ref_as_written(typed, &mem);
    bool people = strcmp(about, "person") == 0 || strcmp(about, "supplier") == 0;

    if (rc == TB_ENOTFOUND && err && b->offered < REFUSALS_MOST && fold(w.typed, written ? written : typed)) {
        b->offered++;
        strip(w.bare, w.typed);
        /* whatever hinders the search, the refusal stands */
        if (tb_each_name_there(people ? tb_sql_people_there(b) : tb_sql_names_there(b, lot_id), take, &w,
                               &none) == TB_OK &&
            w.n) {
            list(&names, &w);
            rc = tb_fail(err, rc, "%s; did you mean %s?", tb_arena_strdup(&mem, err->msg), names.s);
        }
    }
    tb_text_free(&names);
    tb_arena_free(&mem);
    return rc;
}

tb_rc tb_near_offer(struct tb_book *b, const char *typed, tb_rc rc, struct tb_err *err)
{
    return tb_nearest_offer(b, "delivery lot bolt swatch", NULL, typed, rc, err);
}
