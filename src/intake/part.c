/*
 * part.c - a further length of the bolt above, in a row of its own; and what is asked about until a total shows what it is:
 * lengths that may be cloth, bolts that may not have come.
 */
#include "intake/rows.h"

#include "tenterbook/limits.h"

#include <math.h>
#include <string.h>

static const char *as_said(struct tb_list_reader *r, const struct tb_list_bolt *b)
{
    return *b->said ? b->said
                    : tb_store_internf(r->list->store, "%.2f %s", b->kg > 0 ? b->kg : b->metres,
                                       tb_unit_key(b->kg > 0 ? TB_UNIT_KG : TB_UNIT_M));
}

static void add_to(struct tb_list_lot *lot, struct tb_list_delivery *d, double metres, double kg)
{
    lot->metres += metres;
    d->metres += metres;
    lot->kg += kg;
    d->kg += kg;
}

/* A length that was computed from the weight grows with it. */
void tb_take_part(struct tb_list_reader *r, const struct tb_row *row)
{
    struct tb_packing_list *l = r->list;
    struct tb_list_bolt *b = l->bolts ? &l->bolt[l->bolts - 1] : NULL;
    struct tb_list_bolt more = { .parts = 1, .said = "" };
    double metres;

    if (!b || b->sheet != r->rows->sheet_index) {
        tb_row_bad(r, row, NULL, "no bolt stands above it, so it is a further length of none");
        return;
    }
    if (!tb_take_length(r, row, &more))
        return;
    metres = b->derived ? round(b->metres * more.kg / b->kg * 100) / 100 : more.metres;
    if ((more.kg > 0) != (b->kg > 0) || b->metres + metres > TB_METRES_MOST || b->kg + more.kg > TB_KG_MOST) {
        tb_row_bad(r, row, r->now->of[TB_FIELD_LENGTH],
                   "it cannot be added to the length of the bolt above, '%s' of line %u", b->number, b->line);
        return;
    }
    b->said = tb_store_internf(l->store, "%s + %s", as_said(r, b), as_said(r, &more));
    b->parts = (uint16_t)(b->parts + more.parts);
    b->metres += metres;
    b->kg += more.kg;
    tb_part_weight(r, row, b);
    add_to(&l->lot[b->lot], &l->delivery[r->rows->delivery], isnan(metres) ? 0 : metres, more.kg);
    tb_sum_more(r->rows, more.kg > 0 ? more.kg : more.metres);
}

/* Of the bolt above: the same number in the same lot, and another length than it has, else it is typed twice. */
static bool repeats_number(const struct tb_list_reader *r, const struct tb_row *row, double metres)
{
    const struct tb_packing_list *l = r->list;
    const struct tb_list_bolt *b = l->bolts ? &l->bolt[l->bolts - 1] : NULL;
    const struct tb_cell *number = tb_cell_at(row, r->now->of[TB_FIELD_BOLT]);
    const struct tb_cell *lot = tb_cell_at(row, r->now->of[TB_FIELD_LOT]);

    return b && b->sheet == r->rows->sheet_index && r->rows->last_lot == b->lot &&
           !r->rows->fresh[TB_FIELD_LOT] && !r->rows->fresh[TB_FIELD_COLOUR] &&
           !r->rows->fresh[TB_FIELD_ARTICLE] && number && number->type &&
           strcmp(number->text, b->number) == 0 && fabs(metres - (b->kg > 0 ? b->kg : b->metres)) > 0.005 &&
           (!lot || !lot->type || strcmp(lot->text, l->lot[b->lot].dye_lot) == 0);
}

bool tb_ask_again(struct tb_list_reader *r, const struct tb_row *row, double metres)
{
    const char *at = tb_row_place(r, row);
    struct tb_question *q;

    if (isnan(metres) || !repeats_number(r, row, metres))
        return false;
    q = tb_list_ask(
        r->list, row->line,
        "line %zu: the bolt number '%s' stands on line %u already, there with another length; say "
        "--part-line %s if this is a further length of that bolt, --total-line %s if it is left out",
        row->line, r->list->bolt[r->list->bolts - 1].number, r->list->bolt[r->list->bolts - 1].line, at, at);
    tb_list_answer(r->list, q, "part-line", at);
    tb_list_answer(r->list, q, "total-line", at);
    if (q)
        q->open = true;
    tb_pend(r->rows, q, row->line, metres, false);
    return true;
}

void tb_pend(struct tb_list_rows *s, struct tb_question *q, size_t line, double metres, bool taken)
{
    struct tb_pending *p = s->pending;

    if (isnan(metres))
        return;
    while (p < s->pending + s->pendings && !(q && taken && p->q == q))
        p++;
    if (p == s->pending + TB_PENDING_MOST)
        return;
    if (p == s->pending + s->pendings)
        s->pending[s->pendings++] = (struct tb_pending){ .q = q, .line = line, .taken = taken };
    p->metres += metres;
    p->bolts++;
}

static bool says_gone(const struct tb_answer *a)
{
    return strcmp(a->option, "total-line") == 0 || strcmp(a->value, "leave") == 0;
}

/* The answer becomes the first, and the others stay in their order. */
void tb_answer_first(struct tb_question *q, bool gone)
{
    for (size_t i = 0; q && i < q->answers; i++)
        if (says_gone(&q->answer[i]) == gone) {
            struct tb_answer a = q->answer[i];

            memmove(q->answer + 1, q->answer, i * sizeof *q->answer);
            q->answer[0] = a;
            return;
        }
}

/* Cloth, as the total shows: it counts the bolts with it or without it, or nobody knows whether it is one of its own. */
static void settle_cloth(struct tb_list_reader *r, const struct tb_pending *p, size_t line, size_t stated,
                         struct tb_list_sum sum)
{
    const char *at = tb_line_place(r, p->line);
    bool own = stated == sum.bolts + r->rows->pendings;
    struct tb_text t = { 0 };

    if (!p->q)
        return;
    if (strcmp(p->q->answer[p->q->answers - 1].option, "total-line") ==
        0) { /* its number is that of the bolt above */
        p->q->open = stated && stated != sum.bolts;
        return;
    }
    tb_text_say(
        &t,
        "line %zu: %.2f %s belong to the bolts, as the total of line %zu shows; say --part-line %s if it is "
        "a "
        "further length of the bolt above, --bolt-line %s if it is a bolt without a number, and it is given "
        "one",
        p->line, p->metres, tb_length_unit_key(r), line, at, at);
    p->q->ask = tb_store_keep(r->list->store, tb_text_str(&t), t.n);
    tb_text_free(&t);
    p->q->answers = 0;
    tb_list_answer(r->list, p->q, own ? "bolt-line" : "part-line", at);
    tb_list_answer(r->list, p->q, own ? "part-line" : "bolt-line", at);
    p->q->open = !own && stated != sum.bolts;
}

void tb_pending_counted(struct tb_list_rows *s)
{
    for (size_t i = 0; i < s->pendings; i++)
        if (s->pending[i].taken && s->pending[i].q) {
            tb_answer_first(s->pending[i].q, false);
            s->pending[i].q->open = true;
        }
}

void tb_pending_settle(struct tb_list_reader *r, size_t line, size_t stated, struct tb_list_sum sum)
{
    struct tb_list_rows *s = r->rows;

    for (size_t i = 0; i < s->pendings; i++) {
        const struct tb_pending *p = &s->pending[i];

        if (!p->taken) {
            settle_cloth(r, p, line, stated, sum);
        } else if (p->q) {
            /* where a total of other bolts counts some of them, nobody knows */
            p->q->open = !says_gone(&p->q->answer[0]);
        }
    }
}
