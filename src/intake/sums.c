/* sums.c - the bolts so far, and the groups they form: what a total may be the total of. */
#include "intake/rows.h"

#include <math.h>
#include <string.h>

/* Each bolt is rounded to the centimetre, and so is the sum. */
static bool near(struct tb_list_sum a, double metres)
{
    return a.bolts && fabs(a.metres - metres) <= 0.005 * (double)a.bolts + 0.011;
}

/* Beyond the most the oldest are forgotten: a group that long is the sheet. */
void tb_sum_mark(struct tb_list_rows *s)
{
    if (s->marks && s->mark[s->marks - 1].bolts == s->file.bolts)
        return;
    if (s->marks == TB_MARKS_MOST)
        memmove(s->mark, s->mark + 1, --s->marks * sizeof *s->mark);
    s->mark[s->marks++] = s->file;
}

/* Another lot begins a group of its own: its total may come after it. */
void tb_sum_add(struct tb_list_rows *s, uint32_t lot, double metres)
{
    struct tb_list_sum *sum[] = { &s->block, &s->sheet, &s->file };

    if (lot != s->last_lot)
        tb_sum_mark(s);
    s->last_lot = lot;
    s->longest = metres > s->longest ? metres : s->longest;
    for (size_t i = 0; i < TB_COUNT(sum); i++) {
        sum[i]->metres += metres;
        sum[i]->bolts++;
    }
}

void tb_sum_more(struct tb_list_rows *s, double metres)
{
    s->block.metres += metres;
    s->sheet.metres += metres;
    s->file.metres += metres;
}

void tb_sum_weigh_more(struct tb_list_rows *s, double kg)
{
    s->block.kg += kg;
    s->sheet.kg += kg;
    s->file.kg += kg;
}

void tb_sum_weigh(struct tb_list_rows *s, double kg)
{
    tb_sum_weigh_more(s, kg);
    s->block.weighed++;
    s->sheet.weighed++;
    s->file.weighed++;
}

void tb_sum_close(struct tb_list_rows *s)
{
    s->pendings = 0;
    s->block = (struct tb_list_sum){ 0 };
    s->block_start = true;
    tb_sum_mark(s);
}

/* The groups from the nearest: the block, those that began at a mark, the sheet, the file. 0 bolts: no more. */
static struct tb_list_sum group(const struct tb_list_rows *s, size_t i)
{
    if (i == 0)
        return s->block;
    if (i <= s->marks) {
        const struct tb_list_sum *m = &s->mark[s->marks - i];

        return (struct tb_list_sum){ s->file.metres - m->metres, s->file.bolts - m->bolts, s->file.kg - m->kg,
                                     s->file.weighed - m->weighed };
    }
    return i == s->marks + 1 ? s->sheet : s->file;
}

struct tb_list_sum tb_sum_of(const struct tb_list_rows *s, double metres, size_t count)
{
    struct tb_list_sum found = { 0 };

    if (isnan(metres))
        return found;
    for (size_t i = 0; i < s->marks + 3; i++) {
        struct tb_list_sum g = group(s, i);

        if (!near(g, metres))
            continue;
        if (!found.bolts || (count && g.bolts == count))
            found = g;
        if (!count || g.bolts == count)
            break;
    }
    return found;
}

struct tb_list_sum tb_sum_pending(const struct tb_list_rows *s, double metres, size_t count)
{
    for (int taken = 0; taken < 2; taken++) {
        struct tb_list_sum all = { 0 }, found;

        for (size_t i = 0; i < s->pendings; i++)
            if (s->pending[i].taken == (taken == 1)) {
                all.metres += s->pending[i].metres;
                all.bolts += s->pending[i].bolts;
            }
        if (!all.bolts)
            continue;
        found = tb_sum_of(s, taken ? metres + all.metres : metres - all.metres,
                          taken && count ? count + all.bolts : count);
        if (taken && found.bolts <= all.bolts)
            continue;
        if (found.bolts)
            return (struct tb_list_sum){ metres, taken ? found.bolts - all.bolts : found.bolts, 0, 0 };
    }
    return (struct tb_list_sum){ 0 };
}

bool tb_sum_counts(const struct tb_list_rows *s, size_t count)
{
    for (size_t i = 0; count && i < s->marks + 3; i++)
        if (group(s, i).bolts == count)
            return true;
    return false;
}

/* Bolts of the lots that agree with a text in one of their names. */
static struct tb_list_sum named(const struct tb_packing_list *l, enum tb_field f, const char *text)
{
    struct tb_list_sum sum = { 0 };

    for (size_t i = 0; i < l->lots; i++) {
        const struct tb_list_lot *t = &l->lot[i];
        const char *name = f == TB_FIELD_ARTICLE ? t->article : f == TB_FIELD_COLOUR ? t->shade : t->dye_lot;

        if (strcmp(name, text) == 0) {
            sum.metres += t->kg > 0 ? t->kg : t->metres;
            sum.bolts += t->bolts;
            sum.kg += t->weight_kg;
            sum.weighed += t->weighed;
        }
    }
    return sum;
}

struct tb_list_sum tb_sum_named(const struct tb_list_reader *r, const struct tb_row *row, double metres)
{
    static const enum tb_field name[] = { TB_FIELD_ARTICLE, TB_FIELD_COLOUR, TB_FIELD_LOT };
    const struct tb_packing_list *l = r->list;

    for (size_t i = 0; i < TB_COUNT(name); i++) {
        const struct tb_cell *cell = tb_cell_at(row, r->now->of[name[i]]);
        struct tb_list_sum sum =
            cell && cell->type ? named(l, name[i], cell->text) : (struct tb_list_sum){ 0 };

        if (near(sum, metres))
            return sum;
    }
    return (struct tb_list_sum){ 0 };
}

/* Looked at for rows that cannot be bolts, which are few. */
struct tb_list_sum tb_sum_recap(const struct tb_list_reader *r, const struct tb_row *row, double metres)
{
    const struct tb_packing_list *l = r->list;
    struct tb_list_sum by_name = tb_sum_named(r, row, metres);

    if (by_name.bolts)
        return by_name;
    for (size_t i = 0; i < l->lots; i++) {
        struct tb_list_sum sum = { l->lot[i].kg > 0 ? l->lot[i].kg : l->lot[i].metres, l->lot[i].bolts,
                                   l->lot[i].weight_kg, l->lot[i].weighed };

        if (sum.bolts > 1 && near(sum, metres))
            return sum;
    }
    return (struct tb_list_sum){ 0 };
}
