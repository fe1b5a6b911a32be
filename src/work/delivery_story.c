/* Everything the book holds about one delivery as a whole: its lots, what they come to, and what was written about them. */
#include "tenterbook/lot_story.h"

#include <string.h>

static tb_rc read_lots(struct tb_delivery_story *s, struct tb_book *b, struct tb_arena *mem,
                       struct tb_err *err)
{
    const char **ref;
    tb_rc rc = tb_lot_refs_of_delivery(&ref, &s->lots, b, s->delivery.id, mem, err);

    if (rc != TB_OK)
        return rc;
    s->lot = tb_arena_alloc(mem, (s->lots + 1) * sizeof *s->lot);
    for (size_t i = 0; i < s->lots && rc == TB_OK; i++) {
        struct tb_delivery_lot *l = &s->lot[i];

        if ((rc = tb_lot_ever(&l->lot, b, ref[i], mem, err)) == TB_OK)
            rc = tb_bolt_list(&l->bolt, &l->bolts, b, l->lot.id, mem, err);
    }
    return rc;
}

/* Those about `subject`, added to what is there; of a lot those that stand. */
static tb_rc add_voidings(struct tb_delivery_story *s, struct tb_book *b, const char *lot,
                          const char *subject, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_voiding *all, *list;
    size_t n;
    tb_rc rc = tb_voiding_list(&all, &n, b, lot, mem, err);

    if (rc != TB_OK)
        return rc;
    list = tb_arena_alloc(mem, (s->voidings + n + 1) * sizeof *list);
    for (size_t i = 0; i < s->voidings; i++)
        list[i] = s->voiding[i];
    s->voiding = list;
    for (size_t i = 0; i < n; i++)
        if (strcmp(all[i].subject, subject) == 0 && !(lot && all[i].back_at))
            list[s->voidings++] = all[i];
    return TB_OK;
}

/* Each lot has a row of what was amended of the delivery: those of one are enough. A lot that is void by itself tells why. */
static tb_rc read_changes(struct tb_delivery_story *s, struct tb_book *b, struct tb_arena *mem,
                          struct tb_err *err)
{
    tb_rc rc = add_voidings(s, b, NULL, s->delivery.id, mem, err);

    for (size_t i = 0; i < s->voidings; i++)
        s->voided = s->voided || !s->voiding[i].back_at;
    for (size_t i = 0; i < s->lots && rc == TB_OK && !s->voided; i++)
        if (s->lot[i].lot.voided)
            rc = add_voidings(s, b, s->lot[i].lot.id, s->lot[i].lot.id, mem, err);
    if (rc == TB_OK && s->lots)
        rc = tb_amendment_list(&s->amendment, &s->amendments, b, s->lot[0].lot.id, mem, err);
    return rc;
}

static tb_rc read(struct tb_delivery_story *s, struct tb_book *b, const char *ref, struct tb_arena *mem,
                  struct tb_err *err)
{
    tb_rc rc;

    if ((rc = tb_delivery_named(&s->delivery, b, ref, mem, err)) != TB_OK ||
        (rc = read_lots(s, b, mem, err)) != TB_OK || (rc = read_changes(s, b, mem, err)) != TB_OK)
        return rc;
    return tb_journal_list(&s->row, &s->rows, b, ref, mem, err);
}

tb_rc tb_delivery_story_read(struct tb_delivery_story *out, struct tb_book *b, const char *ref,
                             struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_book_look(b, err);

    *out = (struct tb_delivery_story){ 0 };
    if (rc == TB_OK)
        rc = read(out, b, ref, mem, err);
    tb_book_look_away(b);
    return rc;
}
