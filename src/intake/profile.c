/* profile.c - what is proposed where a file does not say it: a column by what stands in it, a name by the title. */
#include "intake/reader.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define NEARLY 0.7 /* of two columns that look so alike nobody knows which is meant */

/* Where the figures begin that end before `to` and add up to `stated`; SIZE_MAX: none do. *n: how many they are. */
static size_t adds_up(const struct tb_row *row, size_t to, double stated, size_t *n)
{
    size_t from = SIZE_MAX, seen = 0;
    double sum = 0, v;

    for (size_t i = to;
         i > 0 && (row->cell[i - 1].type == TB_CELL_EMPTY || tb_cell_figure(&row->cell[i - 1], &v)); i--) {
        if (row->cell[i - 1].type == TB_CELL_EMPTY)
            continue;
        sum += v;
        if (++seen >= 2 && fabs(sum - stated) <= 0.005 * (double)seen + 0.011) {
            from = i - 1;
            *n = seen;
        }
    }
    return from;
}

/* "50.2  49.8  51.0  151.0": the figure at `at` as the sum of those before it; between them their number may stand. */
static bool learn_sum_at(struct tb_profile *p, const struct tb_row *row, size_t at)
{
    size_t from, to = at, n = 0;
    double stated, count;

    if (!tb_cell_figure(&row->cell[at], &stated))
        return false;
    from = adds_up(row, to, stated, &n);
    if (from == SIZE_MAX && at && tb_cell_figure(&row->cell[at - 1], &count)) {
        to = at - 1;
        from = adds_up(row, to, stated, &n);
        if (from != SIZE_MAX && count != (double)n)
            return false;
        if (from == SIZE_MAX && (from = adds_up(row, to, count, &n)) != SIZE_MAX) {
            if (stated != (double)n) /* the number of them stands behind their sum */
                return false;
            at = to;
        }
    }
    if (from == SIZE_MAX || (p->sums && (p->sum_at != at || p->sum_to != to)))
        return false;
    p->sum_from = p->sums && p->sum_from < from ? p->sum_from : from;
    p->sum_to = to;
    p->sum_at = at;
    p->sums++;
    return true;
}

/* Widths and masses may stand behind the sum. */
static void learn_sum(struct tb_profile *p, const struct tb_row *row)
{
    size_t at = row->n < TB_PROFILED_MOST ? row->n : TB_PROFILED_MOST;

    while (at && !learn_sum_at(p, row, at - 1))
        at--;
}

void tb_profile_learn(struct tb_profile *p, const struct tb_row *row)
{
    p->rows++;
    learn_sum(p, row);
    for (size_t i = 0; i < row->n && i < TB_PROFILED_MOST; i++) {
        const char *text = row->cell[i].text;
        struct tb_figure f;

        if (row->cell[i].type == TB_CELL_EMPTY || row->cell[i].type == TB_CELL_DAY)
            continue;
        if (!p->column[i].filled++)
            (void)snprintf(p->column[i].first, sizeof p->column[i].first, "%s", text);
        p->column[i].percents += strchr(text, '%') != NULL && strpbrk(text, "0123456789") != NULL;
        p->column[i].digits += strpbrk(text, "0123456789") != NULL;
        p->column[i].changes += strncmp(p->column[i].last, text, sizeof p->column[i].last - 1) != 0;
        (void)snprintf(p->column[i].last, sizeof p->column[i].last, "%s", text);
        if (strchr(text, '%') || !tb_figure_scan(&f, text) || f.range || f.before_n ||
            !(isdigit((unsigned char)*text) || *text == '='))
            continue;
        p->column[i].figures++;
        p->column[i].counted += strtoul(text, NULL, 10) == p->column[i].counted + 1 && !strpbrk(text, ".,");
        p->column[i].ones += strcmp(text, "1") == 0;
        p->column[i].decimals += strpbrk(text, ".,") != NULL;
        p->column[i].sum += isnan(f.point) ? f.comma : f.point;
    }
}

void tb_profile_word(struct tb_profile *p, const struct tb_header_words *w, const struct tb_row *row)
{
    struct tb_word_hit hit[TB_HITS_MOST];

    for (size_t i = 0; i < row->n && i < TB_PROFILED_MOST && !tb_row_alone(row); i++)
        if (row->cell[i].type == TB_CELL_TEXT && tb_header_words_find(w, row->cell[i].text, hit) > 0 &&
            hit[0].field <= TB_FIELD_PACKAGE)
            p->column[i].word = hit[0].field;
}

/* Codes number bolts, such as "R-0815" or 88021; what counts 1, 2, 3 mostly numbers the rows. */
static double number_likeness(const struct tb_profile *p, size_t i)
{
    size_t figures = p->column[i].figures;
    bool code = figures * 2 < p->column[i].filled || p->column[i].sum >= 1000 * (double)figures;

    return p->rows > 1 && p->column[i].counted * 5 >= p->rows * 4 ? 0.6 : code ? 1.5 : 1;
}

/* How much a column looks like lengths, or like numbers of bolts; 0: not at all. */
double tb_profile_likeness(const struct tb_profile *p, size_t i, enum tb_field field)
{
    double rows = (double)p->rows, figures, mean;

    if (!p->rows || i >= TB_PROFILED_MOST || (double)p->column[i].filled < 0.6 * rows)
        return 0;
    figures = (double)p->column[i].figures;
    mean = figures > 0 ? p->column[i].sum / figures : 0;
    if (field == TB_FIELD_LENGTH)
        return figures >= 0.6 * rows && (p->rows < 2 || p->column[i].counted * 5 < p->rows * 4) &&
                       mean >= 2 && mean <= 3000
                   ? 1 + (double)(p->column[i].decimals + p->column[i].changes) / rows
                   : 0;
    if (p->column[i].decimals * 2 > p->column[i].filled) /* "98.0" is measured, and numbers nothing */
        return 0;
    if ((double)p->column[i].digits < 0.6 * rows || (double)p->column[i].changes < 0.7 * rows)
        return 0;
    return number_likeness(p, i) + (double)(p->column[i].changes - p->column[i].decimals) / rows;
}

/* "Paino kg": the unit behind a word that nobody knows. */
static enum tb_unit unit_behind(const char *header)
{
    const char *space = strrchr(header, ' ');
    size_t skip = space ? 1 + strspn(space + 1, "([") : 0;

    return space ? tb_unit_find(TB_FIELD_LENGTH, space + skip, strcspn(space + skip, ")]")) : TB_UNIT_NONE;
}

#define BIT(field) ((uint64_t)1 << (field))

/* What a header that is not understood lets a column be, where lengths are looked for. */
enum claim {
    OTHER,   /* its words speak of something else */
    NOTHING, /* they say nothing */
    WEIGHS,  /* a weight: goods without a length may be counted by it */
    LENGTH   /* its unit or one of its words is that of a length */
};

static enum claim claim_of(const struct tb_list_reader *r, const char *header)
{
    static const uint64_t other = BIT(TB_FIELD_WIDTH) | BIT(TB_FIELD_WIDTH_USABLE) | BIT(TB_FIELD_PRICE) |
                                  BIT(TB_FIELD_FAULTS) | BIT(TB_FIELD_WEIGHT_GROSS) | BIT(TB_FIELD_DAY);
    uint64_t hint = tb_header_words_hint(r->words, header);

    if (tb_header_words_unit(header) && unit_behind(header) != TB_UNIT_KG)
        return LENGTH;
    if (unit_behind(header) == TB_UNIT_KG || (hint & (BIT(TB_FIELD_WEIGHT_NET) | BIT(TB_FIELD_MASS))))
        return hint & BIT(TB_FIELD_WEIGHT_GROSS) && !(hint & BIT(TB_FIELD_WEIGHT_NET)) ? OTHER : WEIGHS;
    if (hint & BIT(TB_FIELD_LENGTH))
        return LENGTH;
    return hint & other || tb_header_words_width(header) || tb_header_words_mass(header) ? OTHER : NOTHING;
}

static double looks_of(const struct tb_list_reader *r, size_t i, enum tb_field field)
{
    struct tb_word_hit hit[TB_HITS_MOST];
    size_t at, n;

    if (field == TB_FIELD_LENGTH && r->best.text[i] &&
        tb_header_words_no_length(r->words, r->best.text[i], &at, &n))
        return 0;
    return r->best.text[i] && !tb_header_words_find(r->words, r->best.text[i], hit)
               ? tb_profile_likeness(&r->profile, i, field)
               : 0;
}

/* The strongest claim of the columns with figures as lengths have them. */
static enum claim best_claim(const struct tb_list_reader *r)
{
    enum claim best = OTHER;

    for (size_t i = 0; i < r->best.n; i++)
        if (looks_of(r, i, TB_FIELD_LENGTH) > 0 && claim_of(r, r->best.text[i]) > best)
            best = claim_of(r, r->best.text[i]);
    /* of a weight and figures that nothing explains, the figures come first */
    for (size_t i = 0; best == WEIGHS && i < r->best.n; i++)
        if (looks_of(r, i, TB_FIELD_LENGTH) > 0 && claim_of(r, r->best.text[i]) == NOTHING)
            return NOTHING;
    return best;
}

size_t tb_profile_map(const struct tb_list_reader *r, enum tb_field field, const char **map, size_t most)
{
    enum claim claim = field == TB_FIELD_LENGTH ? best_claim(r) : NOTHING;
    double best = 0;
    size_t n = 0;

    for (size_t i = 0; i < r->best.n; i++)
        if (field != TB_FIELD_LENGTH || (r->best.text[i] && claim_of(r, r->best.text[i]) == claim))
            best = fmax(best, looks_of(r, i, field));
    for (size_t i = 0; best > 0 && i < r->best.n && n < most; i++) {
        const char *header = r->best.text[i];
        enum tb_field is =
            claim == WEIGHS && unit_behind(header ? header : "") != TB_UNIT_KG ? TB_FIELD_WEIGHT_NET : field;

        if (!header || (field == TB_FIELD_LENGTH && (claim == OTHER || claim_of(r, header) < claim)))
            continue;
        if (looks_of(r, i, field) >= NEARLY * best || (claim >= WEIGHS && looks_of(r, i, field) > 0) ||
            (claim == NOTHING && field == TB_FIELD_LENGTH && looks_of(r, i, field) > 0 &&
             claim_of(r, header) > NOTHING))
            map[n++] = tb_store_internf(r->list->store, "%s=%s", header, tb_field_key(is));
    }
    return n;
}

/* "alder-mill-4711.csv": the words before the first figure, and what begins with it. */
static const char *from_name(const struct tb_list_reader *r, bool figures)
{
    const char *name = strrchr(r->name, '/') ? strrchr(r->name, '/') + 1 : r->name, *dot = strrchr(name, '.');
    size_t n = dot && dot > name ? (size_t)(dot - name) : strlen(name), at = strcspn(name, "0123456789");

    if (at >= n || at == 0)
        return tb_store_intern(r->list->store, name, n); /* all figures, or none */
    if (figures)
        return tb_store_intern(r->list->store, name + at, n - at);
    while (at && strchr(" -_.", name[at - 1]))
        at--;
    return tb_store_intern(r->list->store, name, at ? at : n);
}

/* "packing-list-0926.csv" names the paper, not the goods: a word or two of the name are those for a note, an order or a total. */
static bool names_paper(const struct tb_list_reader *r, const char *name)
{
    static const uint64_t paper =
        (uint64_t)1 << TB_FIELD_NOTE | (uint64_t)1 << TB_FIELD_ORDER | (uint64_t)1 << TB_FIELD_TOTAL;
    size_t end = 0, before = 0; /* of this word, and where the one before it began */

    for (size_t from = 0; name[from]; from = end + strspn(name + end, " -_.,()+")) {
        size_t n = (end = from + strcspn(name + from, " -_.,()+")) - before;
        char two[80];

        if (n < sizeof two) {
            memcpy(two, name + before, n);
            two[n] = '\0';
            for (char *c = two; (c = strpbrk(c, "-_.,()+"));)
                *c = ' ';
            if (tb_header_words_hint(r->words, two) & paper ||
                tb_label_field(r->words, two, n) == TB_FIELD_NOTE)
                return true;
        }
        before = from;
    }
    return false;
}

const char *tb_article_said(const struct tb_list_reader *r)
{
    if (tb_headed_below(r))
        return r->headed.said;
    return r->article_like ? r->article_like : r->looses == 1 ? r->loose[0].name : NULL;
}

const char *tb_proposed(const struct tb_list_reader *r, enum tb_field field)
{
    const char *name;

    if (field == TB_FIELD_SUPPLIER && r->name_like)
        return r->name_like;
    if (field == TB_FIELD_ARTICLE && tb_article_said(r))
        return tb_article_said(r);
    for (size_t i = 0; i < r->unreads; i++) /* a number of the paper is likelier than that of its file */
        if (field == TB_FIELD_NOTE && r->unread[i].value && strpbrk(r->unread[i].value, "0123456789"))
            return NULL;
    name = from_name(r, field == TB_FIELD_NOTE);
    return field == TB_FIELD_ARTICLE && names_paper(r, name) ? NULL : name;
}
