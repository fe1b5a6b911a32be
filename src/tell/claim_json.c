/* Claims as JSON: the clock of a lot, its disputes, joint samples, terms. */
#include "tenterbook/tell.h"

static json_t *due_json(const struct tb_claim *c, const struct tb_claim_due *d)
{
    const struct tb_claim_term *t = &c->term[d->by];

    if (!d->day[0])
        return json_null();
    return json_pack("{s:s, s:s, s:I, s:I, s:o, s:s, s:o, s:s}", "day", d->day, "work_by", d->work_by,
                     "days_left", (json_int_t)d->left, "working_days_left", (json_int_t)d->work_left, "term",
                     tb_json_text(t->name), "key", t->key, "source", tb_json_text(t->source), "status",
                     t->status);
}

/* A step with every field, also those that are empty: a program reads the same keys of each. */
#define STEP(member, key) TB_JSON_AS(struct tb_dispute_step, member, key)
TB_JSON_MEMBERS(step_members, TB_JSON_WORD_AS(struct tb_dispute_step, step, "step", &tb_step_words),
                STEP(day, "day"), TB_JSON_WORD_AS(struct tb_dispute_step, remedy, "remedy", &tb_remedy_words),
                STEP(currency, "currency"), STEP(amount, "amount"), STEP(recorded_at, "recorded_at"),
                STEP(recorded_by, "recorded_by"), STEP(words, "words"), STEP(due, "due"),
                STEP(channel, "channel"), STEP(proof, "proof"), STEP(keep_until, "keep_until"));

static json_t *dispute_json(const struct tb_dispute *d)
{
    json_t *steps = json_array();

    for (size_t i = 0; i < d->steps; i++) {
        const struct tb_dispute_step *s = &d->step[i];
        json_t *j = tb_json_of(step_members, s);

        tb_json_put(j, "document", tb_json_text(s->document ? s->document_name : NULL));
        tb_json_put(j, "document_sha256", tb_json_text(s->document ? s->document_sha256 : NULL));
        tb_json_push(steps, j);
    }
    return json_pack("{s:I, s:b, s:o, s:o}", "dispute", (json_int_t)d->serial, "open",
                     tb_dispute_last(d, TB_CLOSED) == NULL, "found_on", tb_json_text(d->found_on), "steps",
                     steps);
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
    return json_pack("{s:o, s:o, s:o, s:o, s:o, s:o, s:b, s:I, s:o, s:o, s:o}", "due", due_json(c, &k->first),
                     "from_arrival", due_json(c, &k->arrival), "from_discovery", due_json(c, &k->discovery),
                     "last", due_json(c, &k->last), "found_on", tb_json_text(c->found_on), "found_by",
                     tb_json_text(c->found_by), "before_cutting", k->before_cutting, "terms_without_days",
                     (json_int_t)k->undated, "notified", tb_json_text(c->notified), "used",
                     tb_json_all(use_members, c->use, c->uses), "disputes", disputes);
}

#define OPEN(member, key) TB_JSON_AS(struct tb_claim_open, member, key)
TB_JSON_MEMBERS(open_members, TB_JSON_SOME_AS(struct tb_claim_open, due_by, "due_by"),
                OPEN(opened_on, "opened_on"), OPEN(bolts_used, "bolts_used"), OPEN(amount, "amount"),
                OPEN(amount_currency, "currency"));

json_t *tb_json_claim_open(const struct tb_claim_open *o)
{
    json_t *j =
        json_pack("{s:o, s:o, s:s, s:b, s:o, s:o}", "lot", tb_json_text(o->lot), "supplier",
                  tb_json_text(o->supplier), "state", tb_claim_state_key(o->state), "overdue", o->overdue,
                  "due", tb_json_some(o->due), "days_left", *o->due ? json_integer(o->left) : json_null());

    tb_json_add(j, open_members, TB_COUNT(open_members), o);
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

json_t *tb_json_joint(const struct tb_joint_sample *j)
{
    json_t *out = tb_json_of(joint_members, j);

    tb_json_put(out, "pieces", tb_json_all(piece_members, j->piece, j->pieces));
    return out;
}

/* No number of days is null. */
static json_t *days(int n)
{
    return n < 0 ? json_null() : json_integer(n);
}

json_t *tb_json_term(const struct tb_claim_term *t)
{
    return json_pack(
        "{s:s, s:s, s:o, s:o, s:o, s:s, s:b, s:b, s:o, s:s, s:s, s:s, s:s, s:s}", "key", t->key, "country",
        t->country, "name", tb_json_text(t->name), "open_days", days(t->open_days), "hidden_days",
        days(t->hidden_days), "hidden_from", t->hidden_from_arrival ? "arrival" : "discovery", "working",
        t->working, "before_cutting", t->before_cutting, "last_months", days(t->last_months), "last_of",
        t->last_of, "last_status", t->last_status, "says", t->says, "source", t->source, "status", t->status);
}

json_t *tb_json_terms_set(const struct tb_supplier_term *t)
{
    return json_pack(
        "{s:o, s:o, s:o, s:o, s:o, s:b, s:b, s:o, s:s, s:o}", "supplier", tb_json_text(t->supplier_name),
        "country", tb_json_text(t->country), "laws", tb_json_text(t->laws), "open_days", days(t->open_days),
        "hidden_days", days(t->hidden_days), "working", t->working, "before_cutting", t->before_cutting,
        "stands_in", tb_json_text(t->stands_in), "set_at", t->set_at, "set_by", tb_json_text(t->set_by));
}
