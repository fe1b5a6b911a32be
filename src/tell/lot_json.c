/* A lot, and everything the book holds about one, as JSON. */
#include "tenterbook/tell.h"

#include <math.h>

/* A lot as every command and list gives it. */
#define LOT(member, key) TB_JSON_AS(struct tb_lot, member, key)
TB_JSON_MEMBERS(lot_members, LOT(ref, "lot"), LOT(delivery_ref, "delivery"), LOT(arrived, "arrived"),
                LOT(supplier_name, "supplier"), LOT(article, "article"), LOT(colour, "colour"),
                LOT(dye_lot, "dye_lot"), LOT(origin, "origin"),
                TB_JSON_PRICE_AS(struct tb_lot, unit_price, "unit_price"), LOT(currency, "currency"),
                LOT(bolts, "bolts"), LOT(bolts_burnt, "bolts_burnt"), LOT(bolts_tested, "bolts_tested"),
                LOT(burns, "burns"), LOT(tests, "tests"), LOT(metres, "metres"), LOT(kg, "kg"),
                LOT(derived, "bolts_with_derived_length"), LOT(unknown, "bolts_without_length"),
                LOT(weight_kg, "weight_kg"), LOT(weighed, "bolts_weighed"), LOT(declared, "declared"),
                LOT(reading, "reading"), LOT(clear, "clear"), LOT(doubts, "doubts"),
                TB_JSON_SOME_WORD_AS(struct tb_lot, verdict, "verdict", &tb_verdict_words),
                LOT(log_ratio, "log_ratio"),
                TB_JSON_WORD_AS(struct tb_lot, standing, "standing", &tb_standing_words),
                LOT(released_in_part, "released_in_part"), LOT(returned_in_part, "returned_in_part"),
                LOT(held_in_part, "held_in_part"));

json_t *tb_json_lot(const struct tb_lot *lot)
{
    const struct tb_kept_verdict kept = tb_lot_kept(lot);
    struct tb_lot within = *lot;
    struct tb_told_verdict told;
    struct tb_err unread;
    json_t *j;

    if (lot->verdict && tb_told_verdict_read(&told, &kept, &unread) == TB_OK)
        within.log_ratio = log(told.ratio);
    j = tb_json_of(lot_members, &within);
    tb_json_put(j, "sort_log_ratio", tb_json_number(lot->log_ratio));
    return j;
}

#define INVOICED(member, key) TB_JSON_AS(struct tb_invoiced, member, key)
TB_JSON_MEMBERS(invoiced_members, INVOICED(quantity, "quantity"), INVOICED(unit, "unit"),
                INVOICED(unit_metres, "metres_in_one"), INVOICED(price, "price"), INVOICED(value, "value"),
                INVOICED(currency, "currency"));
#define DECLARED(member, key) TB_JSON_AS(struct tb_declared, member, key)
TB_JSON_MEMBERS(declared_members, DECLARED(text, "text"), DECLARED(reading, "reading"),
                DECLARED(doubts, "doubts"),
                TB_JSON_WORD_AS(struct tb_declared, origin, "origin", &tb_origin_words), DECLARED(at, "at"),
                DECLARED(person, "person"), DECLARED(why, "why"));
#define BOLT(member, key) TB_JSON_AS(struct tb_bolt, member, key)
TB_JSON_MEMBERS(bolt_members, BOLT(number, "number"), BOLT(metres, "metres"), BOLT(width_cm, "width_cm"),
                BOLT(mass_gm2, "mass_gm2"), BOLT(said, "said"), BOLT(kg, "kg"), BOLT(derived, "derived"),
                BOLT(weight_kg, "weight_kg"));
#define DELIVERY(member, key) TB_JSON_AS(struct tb_delivery, member, key)
TB_JSON_MEMBERS(delivery_members, DELIVERY(note, "note"), DELIVERY(order_no, "order"),
                DELIVERY(note_day, "note_day"), DELIVERY(received_at, "received_at"),
                DELIVERY(received_by, "received_by"), DELIVERY(file_name, "file"),
                DELIVERY(remark, "remark"));
#define DRAW(member, key) TB_JSON_AS(struct tb_lot_draw, member, key)
TB_JSON_MEMBERS(draw_members, DRAW(draw.drawn_at, "drawn_at"), DRAW(draw.drawn_by, "drawn_by"),
                DRAW(draw.about, "about"), DRAW(draw.plan, "plan"), DRAW(draw.bolts, "bolts"),
                DRAW(draw.cut, "cut"), DRAW(draw.seed, "seed"), DRAW(bolts, "bolts_of_lot"),
                DRAW(gone, "void_since"));
#define JUDGED(member, key) TB_JSON_AS(struct tb_judged, member, key)
TB_JSON_MEMBERS(judged_members, TB_JSON_WORD_AS(struct tb_judged, verdict, "verdict", &tb_verdict_words),
                JUDGED(log_ratio, "log_ratio"), JUDGED(bolts_burnt, "bolts_burnt"),
                JUDGED(bolts_tested, "bolts_tested"), JUDGED(bolts, "bolts"), JUDGED(reference, "reference"),
                JUDGED(judged_at, "judged_at"), JUDGED(entry, "journal_row"));
#define STANDING(member, key) TB_JSON_AS(struct tb_standing, member, key)
TB_JSON_MEMBERS(standing_members,
                TB_JSON_WORD_AS(struct tb_standing, standing, "standing", &tb_standing_words),
                STANDING(why, "why"), STANDING(settled_at, "at"), STANDING(settled_by, "by"),
                STANDING(old_words, "old_words"), STANDING(new_words, "new_words"),
                STANDING(goods_of, "goods_of"));

json_t *tb_json_bolts(const struct tb_bolt *bolt, size_t n)
{
    return tb_json_all(bolt_members, bolt, n);
}

void tb_json_put_told(json_t *j, const struct tb_told_verdict *told)
{
    bool judged = told->grade != TB_UNGRADED;

    tb_json_put(j, "grade", judged ? tb_json_text(tb_grade_key(told->grade)) : json_null());
    tb_json_put(j, "evidence_ratio", judged ? tb_json_ratio(told->ratio) : json_null());
    tb_json_put(j, "one_look", judged ? json_boolean(told->one_look) : json_null());
    tb_json_put(j, "untested", judged ? json_boolean(told->bounds.untested) : json_null());
}

static json_t *judged_json(const struct tb_judged *v)
{
    struct tb_judged within = *v;
    struct tb_told_verdict told;
    json_t *j;

    tb_judged_told(&told, v);
    within.log_ratio = log(told.ratio);
    j = tb_json_of(judged_members, &within);
    tb_json_put(j, "sort_log_ratio", tb_json_number(v->log_ratio));
    tb_json_put_told(j, &told);
    return j;
}

static json_t *judged_list(const struct tb_judged *v, size_t n)
{
    json_t *list = json_array();

    for (size_t i = 0; i < n; i++)
        tb_json_push(list, judged_json(&v[i]));
    return list;
}

/* Where something is: a lot of which nothing was taken back says nothing of it. */
static void put_gone(json_t *j, const struct tb_lot_story *s)
{
    const struct tb_voidings *gone = &s->gone;
    json_t *v = json_object();

    tb_json_put(v, "lot_is_void", json_boolean(s->lot.voided));
    tb_json_put(v, "records", tb_json_voidings(gone->voiding, gone->n));
    tb_json_put_bench(v, &gone->bench, &(struct tb_bench_records){ 0 });
    tb_json_put_void_papers(v, gone);
    tb_json_put(v, "verdicts", judged_list(gone->judged, gone->judgeds));
    tb_json_put(v, "standings", tb_json_all(standing_members, gone->standing, gone->standings));
    tb_json_put(j, "void", v);
}

/* The keys of the lot itself come first, as everywhere; its lists follow in the order things happen. */
json_t *tb_json_story(const struct tb_lot_story *s)
{
    json_t *j = tb_json_lot(&s->lot);
    struct tb_bench_records now = { s->burn,  s->test,  s->burns,  s->tests,
                                    s->photo, s->moved, s->photos, s->moveds };
    enum tb_handling handling;
    bool unburnable;

    tb_json_put(j, "invoiced",
                isnan(s->invoiced.price) ? json_null() : tb_json_of(invoiced_members, &s->invoiced));
    tb_json_put(j, "conclusion", s->lot.voided ? json_null() : tb_json_concluded(&s->concluded));
    tb_story_handling(&handling, &unburnable, s);
    tb_json_put(j, "handling", tb_json_text(tb_word(&tb_handling_keys, (int)handling)));
    tb_json_put(j, "neither_burned_nor_melted", json_boolean(unburnable));
    tb_json_put(j, "declarations", tb_json_all(declared_members, s->declared, s->declareds));
    tb_json_put(j, "bolt_list", tb_json_bolts(s->bolt, s->bolts));
    tb_json_put(j, "received", tb_json_of(delivery_members, &s->delivery));
    tb_json_put(j, "draws", tb_json_all(draw_members, s->draw, s->draws));
    tb_json_put(j, "swatch_list", tb_json_swatches(s->swatch, s->swatches));
    tb_json_put_bench(j, &now, &s->before);
    tb_json_put(j, "sendings", tb_json_sendings(s->sending, s->sendings));
    tb_json_put_analyses(j, s);
    tb_json_put(j, "verdicts", judged_list(s->judged, s->judgeds));
    tb_json_put(j, "standings", tb_json_all(standing_members, s->standing, s->standings));
    tb_json_put(j, "ground_void_since", tb_json_some(s->ground.since));
    tb_json_put(j, "standings_of_bolts", tb_json_single_bolts(s->single, s->singles));
    if (s->amendments)
        tb_json_put(j, "amended", tb_json_amendments(s->amendment, s->amendments));
    if (s->gone.n)
        put_gone(j, s);
    tb_json_put(j, "joint_samples", tb_json_joint_list(s->joint, s->joints));
    tb_json_put(j, "claim", tb_json_claim(&s->claim));
    tb_json_put(j, "written", tb_json_circumstances(&s->written));
    return j;
}
