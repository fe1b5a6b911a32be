/* month_kinds.c - kinds of fibre: what a lot was declared to be, what was found instead, and the matrix of both. */
#include "report/month/month_impl.h"

#include "tenterbook/fibre.h"

#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define SHARE_LEAST 10.0 /* less than this does not show in a flame */
#define KINDS 8

struct kinds {
    const char *word[KINDS];
    size_t n;
    bool more;
};

static void add_kind(struct kinds *k, int fibre)
{
    const char *word = tb_fibre_at(fibre)->burn_class;
    size_t at = 0;

    while (at < k->n && strcmp(k->word[at], word) < 0)
        at++;
    if (at < k->n && strcmp(k->word[at], word) == 0)
        return;
    if (k->n == KINDS) {
        k->more = true;
        return;
    }
    memmove(&k->word[at + 1], &k->word[at], (k->n - at) * sizeof *k->word);
    k->word[at] = word;
    k->n++;
}

static void print_kinds(struct tb_text *out, const struct kinds *k)
{
    for (size_t i = 0; i < k->n; i++)
        tb_text_addf(out, "%s%s", i ? " + " : "", k->word[i]);
    if (k->more)
        tb_text_add(out, " + ...");
}

void tb_month_kind_declared(struct tb_text *out, const char *declared)
{
    struct tb_declaration d;
    struct kinds k = { 0 };

    tb_declaration_read(&d, declared, strlen(declared));
    if (tb_declaration_clear(&d))
        for (size_t p = 0; p < d.comp.n; p++)
            for (size_t i = 0; i < d.comp.part[p].n; i++) {
                const struct tb_share *s = &d.comp.part[p].share[i];

                if (s->fibre >= 0 && !(s->percent < SHARE_LEAST))
                    add_kind(&k, s->fibre);
            }
    print_kinds(out, &k);
    if (!k.n)
        tb_text_add(out, _("not readable"));
    tb_declaration_free(&d);
}

/* The likeliest composition of every part, as the verdict kept it. */
static void likeliest(struct kinds *k, const char *detail)
{
    json_t *root = detail ? json_loads(detail, 0, NULL) : NULL, *one, *share;
    const char *last = "";
    size_t i, j;

    json_array_foreach(json_object_get(root, "likeliest"), i, one)
    {
        const char *part = json_string_value(json_object_get(one, "part"));

        if (!part || strcmp(part, last) == 0)
            continue; /* the first of a part is its likeliest */
        last = part;
        json_array_foreach(json_object_get(one, "fibres"), j, share)
        {
            const char *key = json_string_value(json_object_get(share, "fibre"));
            int fibre = key ? tb_fibre_by_key(key) : -1;

            if (fibre >= 0 && json_number_value(json_object_get(share, "percent")) >= SHARE_LEAST)
                add_kind(k, fibre);
        }
    }
    json_decref(root);
}

void tb_month_kind_found(struct tb_text *out, const struct tb_month_lot *lot, const char *declared_kind)
{
    struct kinds k = { 0 };

    if (lot->verdict == TB_FITS)
        tb_text_add(out, declared_kind);
    else if (lot->verdict == TB_CONTRADICTS) {
        likeliest(&k, lot->detail);
        print_kinds(out, &k);
        /* the same kinds in other shares, or a verdict without its likeliest: all that is known is that it differs */
        if (!k.n || strcmp(tb_text_str(out), declared_kind) == 0) {
            tb_text_clear(out);
            tb_text_add(out, _("something else"));
        }
    } else if (lot->verdict != TB_UNJUDGED)
        tb_text_add(out, _("undecided"));
}

void tb_month_pair(struct month *m, const char *declared, const char *found)
{
    for (size_t i = 0; i < m->pairs; i++)
        if (strcmp(m->pair[i].declared, declared) == 0 && strcmp(m->pair[i].found, found) == 0) {
            m->pair[i].n++;
            return;
        }
    TB_PUSH_ROOM(m->pair, m->pairs, m->pair_cap);
    m->pair[m->pairs++] = (struct found_pair){ tb_strdup(declared), tb_strdup(found), 1 };
}

/* --- the matrix ------------------------------------------------------------------------------------------------- */

struct counted {
    const char *word;
    int64_t n;
};

static int oftener(const void *a, const void *b)
{
    const struct counted *x = a, *y = b;

    return x->n != y->n ? (x->n > y->n ? -1 : 1) : strcmp(x->word, y->word);
}

/* Is a word one of the columns that are no kind of fibre? */
static bool no_kind(const char *word)
{
    return strcmp(word, _("undecided")) == 0 || strcmp(word, _("something else")) == 0;
}

static void count(struct counted *c, size_t *n, const char *word, int64_t by)
{
    size_t at = 0;

    while (at < *n && strcmp(c[at].word, word) != 0)
        at++;
    if (at == *n)
        c[(*n)++].word = word;
    c[at].n += by;
}

/*
 * The kinds with a place of their own, by how often they come on either side: one list for rows and columns, so that
 * a kind is never named on one side and among the others on the other.
 */
static size_t kinds_kept(struct counted *c, const struct month *m)
{
    size_t n = 0;

    for (size_t i = 0; i < m->pairs; i++) {
        const struct found_pair *p = &m->pair[i];

        count(c, &n, p->declared, p->n);
        if (!no_kind(p->found) && strcmp(p->found, p->declared) != 0)
            count(c, &n, p->found, p->n);
    }
    qsort(c, n, sizeof *c, oftener);
    return n > MONTH_KINDS_MOST ? MONTH_KINDS_MOST - 1 : n;
}

static size_t kept(const struct counted *c, size_t keep, const char *word)
{
    size_t at = 0;

    while (at < keep && strcmp(c[at].word, word) != 0)
        at++;
    return at;
}

/* Under which word a pair stands. Two rare kinds that differ must not look alike as "other kinds". */
static const char *row_word(const struct found_pair *p, const struct counted *c, size_t keep)
{
    return kept(c, keep, p->declared) < keep ? p->declared : _("other kinds");
}

static const char *column_word(const struct found_pair *p, const struct counted *c, size_t keep)
{
    if (no_kind(p->found) || kept(c, keep, p->found) < keep)
        return p->found;
    if (kept(c, keep, p->declared) < keep || strcmp(p->declared, p->found) == 0)
        return _("other kinds");
    return _("something else");
}

/* The words of one side that occur, in the order of the list; what is no kind comes last, "undecided" always. */
static char **side(size_t *out, const struct month *m, const struct counted *c, size_t keep, bool found)
{
    const char *last[] = { _("other kinds"), _("something else"), _("undecided") };
    char **word = tb_array(char *, keep + TB_COUNT(last) + 1);
    size_t k = 0;

    for (size_t w = 0; m->pairs && w < keep + TB_COUNT(last); w++) {
        const char *one = w < keep ? c[w].word : last[w - keep];
        bool any = found && w + 1 == keep + TB_COUNT(last);

        for (size_t i = 0; i < m->pairs && !any; i++)
            any =
                strcmp(one, found ? column_word(&m->pair[i], c, keep) : row_word(&m->pair[i], c, keep)) == 0;
        if (any)
            word[k++] = tb_strdup(one);
    }
    *out = k;
    return word;
}

static size_t place(char *const *word, size_t n, const char *w)
{
    size_t at = 0;

    while (at + 1 < n && strcmp(word[at], w) != 0)
        at++;
    return at;
}

void tb_month_matrix(struct month *m)
{
    struct counted *c = tb_array(struct counted, 2 * m->pairs + 1);
    size_t keep = kinds_kept(c, m);

    m->declared = side(&m->rows, m, c, keep, false);
    m->seen = side(&m->columns, m, c, keep, true);
    m->cell = tb_array(double, m->rows * m->columns + 1);
    for (size_t i = 0; i < m->pairs; i++)
        m->cell[place(m->declared, m->rows, row_word(&m->pair[i], c, keep)) * m->columns +
                place(m->seen, m->columns, column_word(&m->pair[i], c, keep))] += (double)m->pair[i].n;
    free(c);
}
