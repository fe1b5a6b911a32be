/* void_json.c - what was recorded by mistake, and what was amended, as JSON. */
#include "tenterbook/tell.h"

#define VOIDING(member, key) TB_JSON_AS(struct tb_voiding, member, key)
TB_JSON_MEMBERS(voiding_members, VOIDING(about, "about"), VOIDING(subject, "id"), VOIDING(ref, "ref"),
                VOIDING(why, "why"), VOIDING(instead, "instead"), VOIDING(voided_at, "voided_at"),
                VOIDING(voided_by, "voided_by"), VOIDING(back_at, "taken_back_at"),
                VOIDING(back_by, "taken_back_by"), VOIDING(back_why, "taken_back_why"));
#define HANGING(member, key) TB_JSON_AS(struct tb_hanging, member, key)
TB_JSON_MEMBERS(hanging_members, HANGING(lots, "lots"), HANGING(bolts, "bolts"),
                HANGING(swatches, "swatches"), HANGING(burns, "burns"), HANGING(tests, "tests"),
                HANGING(uses, "cuts_into_use"), HANGING(analyses, "analyses"), HANGING(draws, "draws"),
                HANGING(sendings, "samples_sent"), HANGING(answers, "drill_answers"),
                HANGING(singles, "decisions_about_single_bolts"), HANGING(decisions, "decisions_about_lots"),
                HANGING(holds, "holds"));
#define AMENDMENT(member, key) TB_JSON_AS(struct tb_amendment, member, key)
TB_JSON_MEMBERS(amendment_members, AMENDMENT(field, "field"), AMENDMENT(old, "old"), AMENDMENT(new, "new"),
                AMENDMENT(why, "why"), AMENDMENT(amended_at, "amended_at"),
                AMENDMENT(amended_by, "amended_by"));

json_t *tb_json_voidings(const struct tb_voiding *v, size_t n)
{
    return tb_json_all(voiding_members, v, n);
}

json_t *tb_json_amendments(const struct tb_amendment *a, size_t n)
{
    return tb_json_all(amendment_members, a, n);
}

json_t *tb_json_amended(const struct tb_amend_outcome *done)
{
    json_t *metres = done->unit ? tb_json_number(done->metres) : NULL,
           *was = done->unit ? tb_json_number(done->metres_was) : NULL;

    return json_pack("{s:s, s:o, s:I, s:o*, s:o*, s:b, s:s*, s:s*, s:b}", "delivery", done->delivery.ref,
                     "amended", tb_json_amendments(done->amendment, done->amendments), "lots",
                     (json_int_t)done->lots, "metres_were", was, "metres", metres, "new_supplier",
                     done->fresh, "near_supplier", done->seen.near, "taken_for", done->seen.taken_as,
                     "note_after_arrival", tb_note_late(done->delivery.note_day, done->delivery.arrived));
}

/* A lot after something of it was voided: with its verdict, null where nothing is left to judge it by. */
static json_t *void_lot(const struct tb_void_lot *l)
{
    const struct tb_rejudged *r = &l->judged;
    json_t *j = json_object();

    tb_json_put(j, "lot", tb_json_lot(&r->lot));
    tb_json_put(j, "judged", r->judged ? tb_lot_verdict_json(&r->v, &r->lot) : json_null());
    tb_json_put(j, "held", json_boolean(r->held || r->disputed));
    tb_json_put(j, "lifted", json_boolean(r->lifted || l->undisputed));
    tb_json_put(j, "decision_stays", tb_json_text(r->stays));
    return j;
}

json_t *tb_json_moved(const struct tb_move_outcome *done)
{
    json_t *left = json_array();

    for (size_t i = 0; i < done->lots; i++)
        tb_json_push(left, void_lot(&done->lot[i]));
    if (done->test.id)
        return json_pack("{s:s, s:s, s:s, s:s, s:s, s:s, s:o}", "test", done->test.id, "swatch",
                         done->test.tag, "was", done->was, "from", done->from, "tested_at",
                         done->test.tested_at, "tested_by", done->test.tested_by, "left", left);
    return json_pack("{s:s, s:s, s:s, s:s, s:s, s:s, s:o}", "burn", done->burn.id, "swatch", done->burn.tag,
                     "was", done->was, "from", done->from, "burned_at", done->burn.burned_at, "burned_by",
                     done->burn.burned_by, "left", left);
}

json_t *tb_json_voided(const struct tb_void_outcome *done)
{
    json_t *j = json_object();

    tb_json_put(j, "void", tb_json_voidings(&done->voiding, 1));
    tb_json_put(j, "with_it", tb_json_of(hanging_members, &done->hanging));
    tb_json_put(j, "back", json_boolean(done->voiding.replaces));
    tb_json_put(j, "counts_again", tb_json_text(done->subject.replaces));
    tb_json_put(j, "held_again", tb_json_text(done->held));
    tb_json_put(j, "left", done->lot.judged.lot.ref ? void_lot(&done->lot) : json_null());
    return j;
}
