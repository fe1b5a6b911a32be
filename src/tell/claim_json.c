/* Claims as JSON: the clock of a lot, its disputes, joint samples, terms. */
#include "tenterbook/tell.h"

#include <math.h>

#define DUE(member, key) TB_JSON_AS(struct tb_claim_due, member, key)
TB_JSON_MEMBERS(due_members, DUE(day, "day"), DUE(work_by, "work_by"), DUE(left, "days_left"),
                DUE(work_left, "working_days_left"));
#define BY(member, key) TB_JSON_AS(struct tb_claim_term, member, key)
TB_JSON_MEMBERS(by_members, BY(name, "term"), BY(key, "key"), BY(source, "source"), BY(status, "status"));

static json_t *due_json(const struct tb_claim *c, const struct tb_claim_due *d)
{
    const struct tb_claim_term *t = &c->term[d->by];

    json_t *j;

    if (!d->day[0])
        return json_null();
    j = tb_json_of(due_members, d);
    tb_json_add(j, by_members, TB_COUNT(by_members), t);
    return j;
}

/* A step with every field, also those that are empty: a program reads the same keys of each. */
#define STEP(member, key) TB_JSON_AS(struct tb_dispute_step, member, key)
TB_JSON_MEMBERS(step_members, STEP(id, "id"),
                TB_JSON_WORD_AS(struct tb_dispute_step, step, "step", &tb_step_words), STEP(day, "day"),
                TB_JSON_WORD_AS(struct tb_dispute_step, remedy, "remedy", &tb_remedy_words),
                STEP(currency, "currency"), STEP(amount, "amount"), STEP(recorded_at, "recorded_at"),
                STEP(recorded_by, "recorded_by"), STEP(words, "words"), STEP(due, "due"),
                STEP(channel, "channel"), STEP(proof, "proof"), STEP(keep_until, "keep_until"));

json_t *tb_json_dispute_steps(const struct tb_dispute_step *step, size_t n)
{
    json_t *steps = json_array();

    for (size_t i = 0; i < n; i++) {
        const struct tb_dispute_step *s = &step[i];
        json_t *j = tb_json_of(step_members, s);

        tb_json_put(j, "document", tb_json_text(s->document ? s->document_name : NULL));
        tb_json_put(j, "document_sha256", tb_json_text(s->document ? s->document_sha256 : NULL));
        tb_json_push(steps, j);
    }
    return steps;
}

static json_t *dispute_json(const struct tb_dispute *d)
{
    return json_pack("{s:I, s:b, s:o, s:o}", "dispute", (json_int_t)d->serial, "open",
                     tb_dispute_last(d, TB_CLOSED) == NULL, "found_on", tb_json_text(d->found_on), "steps",
                     tb_json_dispute_steps(d->step, d->steps));
}

#define USE(member, key) TB_JSON_AS(struct tb_bolt_use, member, key)
TB_JSON_MEMBERS(use_members, USE(bolt_number, "bolt"), USE(used_at, "used_at"), USE(used_by, "used_by"),
                USE(metres, "metres"), USE(why, "why"), USE(anyway, "anyway"));

json_t *tb_json_claim(const struct tb_claim *c)
{
    const struct tb_claim_clock *k = &c->clock;
    json_t *disputes = json_array();

    for (size_t i = 0; i < c->disputes; i++)
        tb_json_push(disputes, dispute_json(&c->dispute[i]));
    return json_pack("{s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:b, s:I, s:o, s:o, s:o}", "due",
                     due_json(c, &k->first), "from_arrival", due_json(c, &k->arrival), "from_discovery",
                     due_json(c, &k->discovery), "last", due_json(c, &k->last), "found_on",
                     tb_json_text(c->found_on), "found_by", tb_json_text(c->found_by), "found_typed",
                     tb_json_text(c->found_typed), "before_cutting", k->before_cutting, "terms_without_days",
                     (json_int_t)k->undated, "notified", tb_json_text(c->notified), "used",
                     tb_json_all(use_members, c->use, c->uses), "disputes", disputes);
}

#define OPEN(member, key) TB_JSON_AS(struct tb_claim_open, member, key)
TB_JSON_MEMBERS(open_members, TB_JSON_SOME_AS(struct tb_claim_open, due_by, "due_by"),
                OPEN(opened_on, "opened_on"), OPEN(bolts_used, "bolts_used"), OPEN(amount, "amount"),
                OPEN(amount_currency, "currency"), OPEN(recovered, "recovered"), OPEN(awaited, "awaited"));

/* Each amount has the money it was named in: one dispute may have several. */
static json_t *sum_json(const struct tb_claim_sum *s)
{
    return isnan(s->amount)
               ? json_null()
               : json_pack("{s:o, s:s}", "amount", tb_json_number(s->amount), "currency", s->currency);
}

json_t *tb_json_claim_open(const struct tb_claim_open *o)
{
    json_t *j = json_pack("{s:o, s:o, s:s, s:o, s:o, s:o}", "lot", tb_json_text(o->lot), "supplier",
                          tb_json_text(o->supplier), "state", tb_claim_state_key(o->state), "overdue",
                          o->unsaid ? json_null() : json_boolean(o->overdue), "due", tb_json_some(o->due),
                          "days_left", *o->due ? json_integer(o->left) : json_null());

    tb_json_add(j, open_members, TB_COUNT(open_members), o);
    tb_json_put(j, "claimed", sum_json(&o->asked));
    tb_json_put(j, "offered", sum_json(&o->offered));
    tb_json_put(j, "agreed", sum_json(&o->agreed));
    tb_json_put(j, "invoiced_returned", sum_json(&o->invoiced));
    tb_json_put(j, "metres_cut_off_returned", tb_json_number(o->cut_off));
    tb_json_put(j, "conclusion", tb_json_concluded(&o->concluded));
    tb_json_put(j, "bolts_claimed", json_integer((json_int_t)o->claimed.bolts));
    tb_json_put(j, "metres_claimed", tb_json_number(o->claimed.metres));
    tb_json_put(j, "kg_claimed_without_length", tb_json_number(o->claimed.kg));
    tb_json_put(j, "why_no_day", tb_json_some(tb_word(&tb_undated_words, (int)o->undated)));
    return j;
}

json_t *tb_json_lot_claim(const struct tb_lot_claim *now)
{
    json_t *j = tb_json_claim_open(&now->open);

    tb_json_put(j, "claim", tb_json_claim(&now->claim));
    return j;
}

#define JOINT(member, key) TB_JSON_AS(struct tb_joint_sample, member, key)
TB_JSON_MEMBERS(joint_members, JOINT(serial, "joint_sample"), JOINT(swatches, "swatches"),
                JOINT(each_one, "each"), JOINT(seed, "seed"), JOINT(laboratory, "laboratory"),
                JOINT(rule, "rule"), JOINT(present, "present"), JOINT(dealt_at, "dealt_at"),
                JOINT(dealt_by, "dealt_by"));
#define PIECE(member, key) TB_JSON_AS(struct tb_joint_piece, member, key)
TB_JSON_MEMBERS(piece_members, PIECE(tag, "swatch"),
                TB_JSON_WORD_AS(struct tb_joint_piece, holder, "holder", &tb_holder_words),
                PIECE(bolt_number, "bolt"),
                TB_JSON_WORD_AS(struct tb_joint_piece, part, "part", &tb_part_words));

json_t *tb_json_joint_list(const struct tb_joint_sample *j, size_t n)
{
    json_t *list = json_array();

    for (size_t i = 0; i < n; i++) {
        json_t *one = tb_json_of(joint_members, &j[i]);

        tb_json_put(one, "pieces", tb_json_all(piece_members, j[i].piece, j[i].pieces));
        tb_json_push(list, one);
    }
    return list;
}

json_t *tb_json_joints(const struct tb_lot *lot, const struct tb_joint_sample *j, size_t n)
{
    return json_pack("{s:s, s:o}", "lot", lot->ref, "joint_samples", tb_json_joint_list(j, n));
}

#define TERM(member) TB_JSON_AS(struct tb_claim_term, member, #member)
#define TERM_DAYS(member) TB_JSON_COUNT_AS(struct tb_claim_term, member, #member)
TB_JSON_MEMBERS(term_head, TERM(key), TERM(country), TERM(name), TERM_DAYS(open_days),
                TERM_DAYS(hidden_days));
TB_JSON_MEMBERS(term_rest, TERM(working), TERM(before_cutting), TERM_DAYS(last_months), TERM(last_of),
                TERM(last_status), TERM(says), TERM(source), TERM(status));

json_t *tb_json_terms_offer(void)
{
    json_t *list = json_array();

    for (size_t i = 0; i < tb_claim_law_count(); i++) {
        struct tb_claim_term t = tb_claim_law_at(i);
        json_t *j = tb_json_of(term_head, &t);

        tb_json_put(j, "hidden_from", json_string(t.hidden_from_arrival ? "arrival" : "discovery"));
        tb_json_add(j, term_rest, TB_COUNT(term_rest), &t);
        tb_json_push(list, j);
    }
    return list;
}

#define SET(member, key) TB_JSON_AS(struct tb_supplier_term, member, key)
#define SET_DAYS(member) TB_JSON_COUNT_AS(struct tb_supplier_term, member, #member)
TB_JSON_MEMBERS(set_members, SET(supplier_name, "supplier"), SET(country, "country"), SET(laws, "laws"),
                SET_DAYS(open_days), SET_DAYS(hidden_days), SET(working, "working"),
                SET(before_cutting, "before_cutting"), SET(stands_in, "stands_in"), SET(set_at, "set_at"),
                SET(set_by, "set_by"));

json_t *tb_json_terms_set(const struct tb_supplier_term *t)
{
    return tb_json_of(set_members, t);
}
