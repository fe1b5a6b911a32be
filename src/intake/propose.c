/* propose.c - what the columns of a list without header may hold: by words above them, and by what stands in them. */
#include "intake/reader.h"

#include <math.h>
#include <string.h>

#define LENGTHS_LEAST 3 /* columns that make lengths side by side */
#define MEAN_LEAST 8    /* metres or yards: smaller figures count something else as often */

static double mean(const struct tb_profile *p, size_t i)
{
    return p->column[i].figures ? p->column[i].sum / (double)p->column[i].figures : 0;
}

/* Figures that change from row to row, of a size that a bolt can have. */
static bool varies(const struct tb_profile *p, size_t i)
{
    double m = mean(p, i);

    return i < TB_PROFILED_MOST && p->column[i].figures && p->column[i].figures == p->column[i].filled &&
           p->column[i].changes * 2 >= p->column[i].filled && m >= MEAN_LEAST && m <= 3000;
}

/* The longest run of columns with figures of one size; what is twice as large is mostly their sum. */
static size_t side_by_side(const struct tb_profile *p, size_t *from)
{
    size_t most = 0;

    for (size_t i = 0; i < TB_PROFILED_MOST; i++) {
        size_t n = 0;

        while (varies(p, i + n) && p->column[i + n].word == TB_FIELD_NONE &&
               fmax(mean(p, i + n), mean(p, i)) < 2 * fmin(mean(p, i + n), mean(p, i)))
            n++;
        if (n > most) {
            most = n;
            *from = i;
        }
    }
    return most;
}

static size_t likeliest(const struct tb_profile *p, enum tb_field field, size_t not )
{
    size_t best = SIZE_MAX;
    double most = 0;

    for (size_t i = 0; i < TB_PROFILED_MOST; i++) {
        double looks = i == not || (p->column[i].word && p->column[i].word != field)
                           ? 0
                           : tb_profile_likeness(p, i, field) + (p->column[i].word == field ? 10 : 0);

        if (looks > most) {
            most = looks;
            best = i;
        }
    }
    return best;
}

static bool is_taken(const enum tb_field *field, size_t n, enum tb_field f)
{
    for (size_t i = 0; i < n; i++)
        if (field[i] == f)
            return true;
    return false;
}

/* Words in the order in which most lists have them, without what the title says; a figure that nothing explains is left out. */
static enum tb_field by_content(const struct tb_list_reader *r, const struct tb_profile *p,
                                const enum tb_field *field, size_t i)
{
    static const enum tb_field usual[] = { TB_FIELD_ARTICLE, TB_FIELD_COLOUR, TB_FIELD_LOT };
    double rows = (double)p->rows;

    if (p->column[i].word)
        return p->column[i].word;
    if ((double)p->column[i].percents >= 0.5 * rows)
        return TB_FIELD_COMPOSITION;
    if (p->column[i].figures * 2 > p->column[i].filled || (double)p->column[i].filled < 0.3 * rows)
        return TB_FIELD_NONE;
    for (size_t k = 0; k < TB_COUNT(usual); k++)
        if (!is_taken(field, TB_PROFILED_MOST, usual[k]) && !r->title.value[usual[k]])
            return usual[k];
    return TB_FIELD_NONE;
}

/* What is left of the columns when lengths and numbers have theirs. */
static size_t fill_in(const struct tb_list_reader *r, const struct tb_profile *p, enum tb_field *field,
                      size_t from, size_t lengths)
{
    size_t n = 0;

    for (size_t i = 0; i < TB_PROFILED_MOST; i++) {
        enum tb_field f = field[i];

        if (!p->column[i].filled || (lengths && i >= from && i < from + lengths) ||
            (p->sums && i == p->sum_to && i != p->sum_at))
            continue;
        if (!f)
            f = by_content(r, p, field, i);
        if (f == TB_FIELD_COUNT || f == TB_FIELD_PACKAGE)
            f = TB_FIELD_NONE;
        if (f == TB_FIELD_LENGTH ? lengths > 0 || (field[i] != f && is_taken(field, TB_PROFILED_MOST, f))
                                 : f != field[i] && is_taken(field, TB_PROFILED_MOST, f))
            f = TB_FIELD_NONE;
        field[i] = f;
        n = f ? i + 1 : n;
    }
    return lengths && from + lengths > n ? from + lengths : n;
}

const char *tb_proposed_columns(const struct tb_list_reader *r)
{
    const struct tb_profile *p = r->whole.rows >= r->profile.rows ? &r->whole : &r->profile;
    enum tb_field field[TB_PROFILED_MOST] = { TB_FIELD_NONE };
    struct tb_text t = { 0 };
    size_t from = 0, lengths = side_by_side(p, &from), at = SIZE_MAX, n;
    const char *kept = NULL;

    bool total = p->sums && p->sums * 2 >= p->rows;

    if (total) {
        from = p->sum_from;
        lengths = p->sum_to - from;
        field[p->sum_at] = TB_FIELD_TOTAL;
    } else if (lengths < LENGTHS_LEAST) {
        lengths = 0;
        if ((at = likeliest(p, TB_FIELD_LENGTH, SIZE_MAX)) == SIZE_MAX || mean(p, at) < MEAN_LEAST)
            return NULL;
        field[at] = TB_FIELD_LENGTH;
        if ((n = likeliest(p, TB_FIELD_BOLT, at)) != SIZE_MAX)
            field[n] = TB_FIELD_BOLT;
    }
    n = fill_in(r, p, field, from, lengths);
    for (size_t i = 0; i < n; i++) {
        if (lengths && i == from)
            tb_text_addf(&t, "%slength*%zu", i ? "," : "", lengths);
        if (lengths && i >= from && i < from + lengths)
            continue;
        tb_text_addf(&t, "%s%s", i ? "," : "", field[i] ? tb_field_key(field[i]) : "-");
    }
    kept = tb_store_intern(r->list->store, tb_text_str(&t), t.n);
    tb_text_free(&t);
    return kept;
}
