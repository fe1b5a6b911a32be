/* month_matrix.c - which kinds get a row and a column of their own, and how many lots stand in each cell. */
#include "report/month/month_impl.h"

#include <stdlib.h>
#include <string.h>

/* Counted as the lots come: there are few kinds, whatever the number of lots. */
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

struct counted {
    const char *word;
    int64_t n;
};

/* The alphabet decides between equals, so that the order is the same each time. */
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

/* A place for a word when it first occurs. */
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

/* The place among the kinds that are kept; `keep` for all others. */
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

/* The place of a word; every word has one, and the last is taken for what has none. */
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
