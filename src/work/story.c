/* Everything the book holds about one lot. */
#include "tenterbook/lot_story.h"

#include <string.h>

tb_rc tb_lot_story_lists(struct tb_lot_story *s, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    const char *id = s->lot.id;
    tb_rc rc;

    if ((rc = tb_declaration_list(&s->declared, &s->declareds, b, id, mem, err)) != TB_OK ||
        (rc = tb_bolt_list(&s->bolt, &s->bolts, b, id, mem, err)) != TB_OK ||
        (rc = tb_burn_list(&s->burn, &s->burns, b, id, mem, err)) != TB_OK ||
        (rc = tb_bench_test_list(&s->test, &s->tests, b, id, mem, err)) != TB_OK ||
        (rc = tb_judged_list(&s->judged, &s->judgeds, b, id, mem, err)) != TB_OK ||
        (rc = tb_joint_sample_list(&s->joint, &s->joints, b, id, mem, err)) != TB_OK)
        return rc;
    return tb_standing_list(&s->standing, &s->standings, b, id, mem, err);
}

tb_rc tb_lot_story_read(struct tb_lot_story *out, struct tb_book *b, const char *ref, const char *today,
                        struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_book_look(b, err);

    *out = (struct tb_lot_story){ 0 };
    if (rc == TB_OK && (rc = tb_lot_find(&out->lot, b, ref, mem, err)) == TB_OK &&
        (rc = tb_lot_story_lists(out, b, mem, err)) == TB_OK)
        rc = tb_claim_of_lot(&out->claim, b, &out->lot, today, mem, err);
    tb_book_look_away(b);
    return rc;
}

bool tb_burn_typed_later(const struct tb_burn *burn)
{
    return strncmp(burn->recorded_at, burn->burned_at, TB_DAY_LEN) != 0;
}
