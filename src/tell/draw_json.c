/* Plans, draws, what they prove, and a day at the bench, as JSON. */
#include "tenterbook/tell.h"

#define WISH(member, key) TB_JSON_AS(struct tb_plan, want.member, key)
#define PLAN(member) TB_JSON_AS(struct tb_plan, member, #member)
#define TABLE(member) TB_JSON_AS(struct tb_plan, acceptance.member, #member)
#define POINT(member, key) TB_JSON_AS(struct tb_plan_point, member, key)
TB_JSON_MEMBERS(asked_members, PLAN(bolts), WISH(bad, "false"), WISH(sure, "sure"), WISH(catch_one, "catch"));
TB_JSON_MEMBERS(table_members, TABLE(code), TABLE(use_code), TABLE(table_n), TABLE(accept), TABLE(refuse));
TB_JSON_MEMBERS(point_members, POINT(bad, "false"), POINT(chance, "chance"));

tb_rc tb_json_plan(json_t **out, const struct tb_plan *p, const struct tb_catch *caught, struct tb_err *err)
{
    const struct tb_plan_wish *w = &p->want;
    struct tb_plan_point point[TB_PLAN_POINTS_MOST];
    struct tb_text shows = { 0 };
    size_t n;
    json_t *o;
    tb_rc rc = tb_plan_curve(point, &n, TB_PLAN_POINTS_MOST, p, err);

    if (rc != TB_OK)
        return rc;
    tb_plan_shows_words(&shows, p);
    *out = o = json_pack("{s:s}", "plan", tb_plan_key(w->kind));
    tb_json_add(o, asked_members, TB_COUNT(asked_members), p);
    tb_json_put(o, "catch_from", tb_json_text(caught->words));
    tb_json_put(o, "chance", tb_json_number(p->chance));
    tb_json_put(o, "statement", tb_json_text(shows.s));
    tb_text_free(&shows);
    tb_json_put(o, "cut", p->cut < 0 ? json_null() : json_integer(p->cut));
    tb_json_put(o, "curve", tb_json_all(point_members, point, n));
    if (w->kind == TB_PLAN_SHARE)
        tb_json_put(o, "share", json_real(w->share));
    if (w->kind == TB_PLAN_ACCEPTANCE) {
        tb_json_put(o, "level", json_string(tb_level_key(w->level)));
        tb_json_put(o, "aql", json_real(w->aql));
        tb_json_put(o, "inspection", json_string(tb_inspection_key(w->inspection)));
        tb_json_add(o, table_members, TB_COUNT(table_members), p);
    }
    return TB_OK;
}

#define DRAWN(member, key) TB_JSON_AS(struct tb_drawn, member, key)
TB_JSON_MEMBERS(drawn_members, DRAWN(lot_ref, "lot"), DRAWN(number, "bolt"), DRAWN(metres, "metres"),
                DRAWN(parts, "parts"),
                TB_JSON_WORD_AS(struct tb_drawn, handling, "handling", &tb_handling_keys));
#define LEFT(member, key) TB_JSON_AS(struct tb_left_out, member, key)
TB_JSON_MEMBERS(left_members, LEFT(lot, "lot"), LEFT(declared, "declared"), LEFT(caught.one, "catch"),
                LEFT(caught.words, "catch_from"));

/* Where no number of bolts is enough, "drawn" is an empty list and "recorded" is false. */
tb_rc tb_json_draw(json_t **out, const struct tb_draw_outcome *o, int64_t step, struct tb_err *err)
{
    static const char *const kinds[] = { "made", "earlier draw", "given" };
    tb_rc rc = tb_json_plan(out, &o->plan, &o->caught, err);
    json_t *j;

    if (rc != TB_OK)
        return rc;
    j = *out;
    tb_json_put(j, "about", tb_json_text(o->about));
    tb_json_put(j, "no_flame", json_boolean(o->handling & 1u << TB_HANDLING_FLAMELESS));
    tb_json_put(j, "laboratory_only", json_boolean(o->handling & 1u << TB_HANDLING_LABORATORY));
    tb_json_put(j, "seed", json_string(o->seed));
    tb_json_put(j, "seed_from", json_string(kinds[o->seed_from]));
    tb_json_put(j, "drawn_before", json_integer((json_int_t)o->befores));
    tb_json_put(j, "not_drawn_from", json_integer(o->apart));
    tb_json_put(j, "recorded", json_boolean(o->recorded));
    if (step)
        tb_json_put(j, "clock_step_s", json_integer((json_int_t)step));
    tb_json_put(j, "drawn", tb_json_all(drawn_members, o->drawn, o->n));
    tb_json_put(j, "left_out", tb_json_all(left_members, o->left, o->lefts));
    return TB_OK;
}

#define AGAIN(member) TB_JSON_AS(struct tb_draw, member, #member)
TB_JSON_MEMBERS(draw_members, AGAIN(drawn_at), AGAIN(drawn_by), AGAIN(cut));

json_t *tb_json_draw_again(const struct tb_draw *record, const struct tb_draw_outcome *now)
{
    json_t *gone = json_array(),
           *j = json_pack("{s:s, s:s, s:b}", "about", record->about, "seed", record->seed, "same", 1);

    tb_json_add(j, draw_members, TB_COUNT(draw_members), record);
    for (size_t i = 0; i < now->n; i++)
        if (now->drawn[i].gone)
            tb_json_push(gone,
                         json_pack("{s:s, s:s, s:o}", "lot", now->drawn[i].lot_ref, "bolt",
                                   now->drawn[i].number, "instead",
                                   tb_json_some(*now->drawn[i].instead ? now->drawn[i].instead : NULL)));
    tb_json_put(j, "void_since", gone);
    return j;
}

#define PROOF(member, key) TB_JSON_AS(struct tb_draw_proof, member, key)
TB_JSON_MEMBERS(proof_members, PROOF(about, "about"), PROOF(bolts, "bolts"), PROOF(drawn, "drawn"),
                PROOF(burned, "burned"), PROOF(found, "found"), PROOF(besides, "found_besides"),
                PROOF(undecided, "undecided"), PROOF(befores, "draws"), PROOF(draw.seed, "seed"),
                PROOF(sure, "sure"), PROOF(caught.one, "catch"), PROOF(most_false, "most_false"),
                PROOF(most_metres, "most_metres"), PROOF(metres, "metres"));
TB_JSON_MEMBERS(bound_members, PROOF(bolts, "bolts"), PROOF(burned, "burned"), PROOF(found, "found"),
                PROOF(sure, "sure"), PROOF(caught.one, "catch"), PROOF(caught.words, "catch_from"),
                PROOF(most_false, "most_false"), PROOF(least_false, "least_false"));

#define GONE(member, key) TB_JSON_AS(struct tb_gone_bolt, member, key)
TB_JSON_MEMBERS(gone_members, GONE(number, "bolt"), GONE(burned, "burned"));

json_t *tb_json_proof(const struct tb_draw_proof *p)
{
    json_t *j = tb_json_of(proof_members, p);

    tb_json_put(j, "void", tb_json_all(gone_members, p->gone, p->gones));
    return j;
}

json_t *tb_json_bound(const struct tb_draw_proof *p)
{
    json_t *j = tb_json_of(bound_members, p);

    tb_json_put(j, "most_share", json_real((double)p->most_false / (double)p->bolts));
    return j;
}

#define DAY(member) TB_JSON_AS(struct tb_bench_day, member, #member)
TB_JSON_MEMBERS(day_members, DAY(minutes), DAY(used),
                TB_JSON_HUNDREDTHS_AS(struct tb_bench_day, gain, "gain"),
                TB_JSON_HUNDREDTHS_AS(struct tb_bench_day, most, "most"), DAY(currency));
TB_JSON_MEMBERS(left_out_members, TB_JSON_AS(struct tb_bench_day, unmeasured, "no_length_nor_weight"),
                TB_JSON_AS(struct tb_bench_day, awaited, "at_a_laboratory"),
                TB_JSON_AS(struct tb_bench_day, unpriced, "no_price"),
                TB_JSON_AS(struct tb_bench_day, spared, "must_not_be_burned"));
#define PICK(member, key) TB_JSON_AS(struct tb_bench_pick, member, key)
TB_JSON_MEMBERS(pick_members, PICK(lot, "lot"),
                TB_JSON_HUNDREDTHS_AS(struct tb_bench_pick, task.value, "value"),
                TB_JSON_CHANCE_AS(struct tb_bench_pick, task.chance, "chance"),
                TB_JSON_CHANCE_AS(struct tb_bench_pick, task.catch_, "catch"), PICK(task.minutes, "minutes"),
                TB_JSON_HUNDREDTHS_AS(struct tb_bench_pick, gain, "gain"), PICK(every, "every_bolt"),
                PICK(derived, "derived_length"));

static json_t *one_plan(const struct tb_bench_day *d)
{
    json_t *j = tb_json_of(day_members, d);

    tb_json_put(j, "lots", tb_json_all(pick_members, d->pick, d->n));
    return j;
}

json_t *tb_json_day(const struct tb_bench_day *d)
{
    json_t *j = one_plan(d), *others = json_array();

    for (size_t i = 0; i < d->others; i++)
        tb_json_push(others, one_plan(&d->other[i]));
    tb_json_put(j, "rates", tb_json_some(d->rates));
    tb_json_put(j, "without_rate", tb_json_some(d->without_rate));
    tb_json_put(j, "left_out", tb_json_of(left_out_members, d));
    tb_json_put(j, "others", others);
    return j;
}
