/* month_matrix.c - which kinds get a row and a column of their own, and how many lots stand in each cell. */
#include "report/month/month_impl.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* Counted as the lots come: there are few kinds, whatever the number of lots. */
void tb_month_pair(struct month *m, const char *declared, const char *found, enum found_as as)
{
    for (size_t i = 0; i < m->pairs; i++)
        if (m->pair[i].as == as && strcmp(m->pair[i].declared, declared) == 0 &&
            strcmp(m->pair[i].found, found) == 0) {
            m->pair[i].n++;
            return;
        }
    TB_PUSH_ROOM(m->pair, m->pairs, m->pair_cap);
    m->pair[m->pairs++] = (struct found_pair){ tb_strdup(declared), tb_strdup(found), as, 1 };
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
        if (p->as == FOUND_KIND && strcmp(p->found, p->declared) != 0)
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

/* Where what is no kind of its own stands, behind the kinds that are kept. */
enum last_places { REST, ELSE, UNDECIDED, LAST_PLACES };

static size_t row_place(const struct found_pair *p, const struct counted *c, size_t keep)
{
    return kept(c, keep, p->declared); /* `keep` is the place of the rest */
}

/* Two rare kinds that differ must not look alike as "other kinds". */
static size_t column_place(const struct found_pair *p, const struct counted *c, size_t keep)
{
    size_t at = p->as == FOUND_KIND ? kept(c, keep, p->found) : keep;

    if (p->as != FOUND_KIND)
        return keep + (p->as == FOUND_ELSE ? ELSE : UNDECIDED);
    if (at < keep)
        return at;
    return kept(c, keep, p->declared) < keep || strcmp(p->declared, p->found) == 0 ? keep + REST
                                                                                   : keep + ELSE;
}

/*
 * The words of one side that occur, in the order of the list; what is no kind comes last, "undecided" always.
 *   at     of each place: which of the words; SIZE_MAX where it does not occur
 */
static char **side(size_t *out, size_t *at, const struct month *m, const struct counted *c, size_t keep,
                   bool found)
{
    const char *const last[LAST_PLACES] = { _("other kinds"), _("something else"), _("undecided") };
    char **word = tb_array(char *, keep + LAST_PLACES + 1);
    size_t k = 0;

    for (size_t w = 0; w < keep + LAST_PLACES; w++) {
        bool any = found && m->pairs && w == keep + UNDECIDED;

        for (size_t i = 0; i < m->pairs && !any; i++)
            any = w == (found ? column_place(&m->pair[i], c, keep) : row_place(&m->pair[i], c, keep));
        at[w] = any ? k : SIZE_MAX;
        if (any)
            word[k++] = tb_strdup(w < keep ? c[w].word : last[w - keep]);
    }
    *out = k;
    return word;
}

void tb_month_matrix(struct month *m)
{
    struct counted *c = tb_array(struct counted, 2 * m->pairs + 1);
    size_t keep = kinds_kept(c, m);
    size_t *row = tb_array(size_t, keep + LAST_PLACES), *column = tb_array(size_t, keep + LAST_PLACES);

    m->declared = side(&m->rows, row, m, c, keep, false);
    m->seen = side(&m->columns, column, m, c, keep, true);
    m->rest_row = row[keep + REST];
    m->rest_column = column[keep + REST];
    m->cell = tb_array(double, m->rows * m->columns + 1);
    for (size_t i = 0; i < m->pairs; i++)
        m->cell[row[row_place(&m->pair[i], c, keep)] * m->columns +
                column[column_place(&m->pair[i], c, keep)]] += (double)m->pair[i].n;
    free(row);
    free(column);
    free(c);
}
