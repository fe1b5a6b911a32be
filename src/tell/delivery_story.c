/* delivery_story.c - a delivery as a whole: its lots and bolts, what they come to, and what was written about them. */
#include "base/say.h"
#include "tenterbook/tell.h"
#include "tenterbook/work.h"

#include <math.h>
#include <string.h>

static const char *or_dash(const char *s)
{
    return *s ? s : "-";
}

static void head_words(struct tb_text *out, const struct tb_delivery *d)
{
    tb_text_say(out, "Delivery %s of %s, arrived %s\n", d->ref, d->supplier_name, d->arrived);
    if (strcmp(d->written_as, d->supplier_name) != 0)
        tb_text_say(out, "  its papers call the supplier %s\n", d->written_as);
    tb_text_say(out, "  note %s of %s, order %s\n", or_dash(d->note), d->note_day ? d->note_day : "-",
                or_dash(d->order_no));
    if (*d->file_name)
        tb_text_say(out, "  received by %s at %s from %s\n", d->received_by, d->received_at, d->file_name);
    else
        tb_text_say(out, "  received by %s at %s\n", d->received_by, d->received_at);
    if (*d->remark)
        tb_text_say(out, "  remark: %s\n", d->remark);
}

/* What counts of all lots together. */
static struct tb_lengths total(const struct tb_delivery_story *s, size_t *lots)
{
    struct tb_lengths all = { .metres = (double)NAN };

    *lots = 0;
    for (size_t i = 0; i < s->lots; i++) {
        const struct tb_lot *l = &s->lot[i].lot;

        if (l->voided)
            continue;
        ++*lots;
        all.bolts += l->bolts;
        all.derived += l->derived;
        all.unknown += l->unknown;
        all.kg += l->kg > 0 ? l->kg : 0;
        all.weight_kg += l->weighed ? l->weight_kg : 0;
        all.weighed += l->weighed;
        if (!isnan(l->metres))
            all.metres = isnan(all.metres) ? l->metres : all.metres + l->metres;
    }
    return all;
}

static void total_words(struct tb_text *out, const struct tb_delivery_story *s)
{
    char lots[TB_COUNTED], bolts[TB_COUNTED];
    struct tb_text length = { 0 };
    size_t n;
    struct tb_lengths all = total(s, &n);

    if (s->voided) {
        tb_text_say(out, "  void: it was recorded by mistake and counts nowhere\n");
        return;
    }
    tb_length_words(&length, TB_READER, &all);
    tb_text_say(out, "  in all %s, %s, %s\n", tb_counted(lots, n, _n("lot", "lots", n)),
                tb_counted(bolts, (size_t)all.bolts, _n("bolt", "bolts", all.bolts)), tb_text_str(&length));
    tb_text_free(&length);
}

static void lot_words(struct tb_text *out, const struct tb_delivery_lot *d)
{
    const struct tb_lot *l = &d->lot;
    struct tb_lengths lengths = tb_lengths_of(l);
    struct tb_text length = { 0 }, looked = { 0 };
    char standing[TB_COUNTED], bolts[TB_COUNTED];

    tb_length_words(&length, TB_READER, &lengths);
    tb_bench_coverage(&looked, TB_READER, l->bolts_burnt, l->bolts_tested, l->bolts);
    tb_text_say(out, "Lot %s: article %s, colour %s, dye lot %s: %s, %s\n", l->ref, or_dash(l->article),
                or_dash(l->colour), or_dash(l->dye_lot),
                tb_counted(bolts, (size_t)l->bolts, _n("bolt", "bolts", l->bolts)), length.s);
    if (*l->declared)
        tb_text_say(out, "  declared \"%s\"\n", l->declared);
    else
        tb_text_say(out, "  nothing is declared\n");
    if (l->voided)
        tb_text_say(out, "  void: it was recorded by mistake and counts nowhere\n");
    else if (l->verdict == TB_UNJUDGED)
        tb_text_say(out, "  %s; %s\n", tb_text_str(&looked), tb_lot_standing_words(standing, TB_READER, l));
    else
        tb_text_say(out, "  %s: %s; %s\n", tb_verdict_key(l->verdict), tb_text_str(&looked),
                    tb_lot_standing_words(standing, TB_READER, l));
    tb_text_free(&length);
    tb_text_free(&looked);
}

static void bolts_words(struct tb_text *out, const struct tb_delivery_lot *d)
{
    for (size_t i = 0; i < d->bolts; i++) {
        struct tb_lengths one = tb_lengths_of_bolt(&d->bolt[i]);
        struct tb_text length = { 0 };

        tb_length_words(&length, TB_READER, &one);
        tb_text_say(out, "  bolt %s: %s\n", d->bolt[i].number, length.s);
        tb_text_free(&length);
    }
}

void tb_delivery_story_words(struct tb_text *out, const struct tb_delivery_story *s)
{
    const struct tb_voidings gone = { .voiding = s->voiding, .n = s->voidings };

    head_words(out, &s->delivery);
    total_words(out, s);
    for (size_t i = 0; i < s->lots; i++) {
        lot_words(out, &s->lot[i]);
        bolts_words(out, &s->lot[i]);
    }
    tb_amendments_words(out, TB_READER, s->amendment, s->amendments);
    tb_voidings_words(out, TB_READER, &gone);
    for (size_t i = 0; i < s->rows; i++)
        tb_text_say(out, "Journal %lld, %s: %s, %s %s\n", (long long)s->row[i].number, s->row[i].at,
                    s->row[i].person, s->row[i].verb, s->row[i].subject);
}

#define DELIVERY(member, key) TB_JSON_AS(struct tb_delivery, member, key)
TB_JSON_MEMBERS(delivery_members, DELIVERY(ref, "delivery"), DELIVERY(supplier_name, "supplier"),
                DELIVERY(written_as, "supplier_on_papers"), DELIVERY(note, "note"),
                DELIVERY(order_no, "order"), DELIVERY(note_day, "note_day"), DELIVERY(arrived, "arrived"),
                DELIVERY(received_at, "received_at"), DELIVERY(received_by, "received_by"),
                DELIVERY(file_name, "file"), DELIVERY(remark, "remark"));
#define ROW(member, key) TB_JSON_AS(struct tb_journal_row, member, key)
TB_JSON_MEMBERS(row_members, ROW(number, "journal_row"), ROW(at, "at"), ROW(person, "person"),
                ROW(verb, "verb"), ROW(subject, "subject"));

json_t *tb_json_delivery_story(const struct tb_delivery_story *s)
{
    json_t *j = tb_json_of(delivery_members, &s->delivery), *lots = json_array();
    size_t n;
    struct tb_lengths all = total(s, &n);

    tb_json_put(j, "void", json_boolean(s->voided));
    tb_json_put(j, "lots", json_integer((json_int_t)n));
    tb_json_put(j, "bolts", json_integer((json_int_t)all.bolts));
    tb_json_put(j, "metres", tb_json_number(all.metres));
    tb_json_put(j, "kg", tb_json_number(all.kg > 0 ? all.kg : (double)NAN));
    tb_json_put(j, "weight_kg", tb_json_number(all.weighed ? all.weight_kg : (double)NAN));
    tb_json_put(j, "bolts_weighed", json_integer((json_int_t)all.weighed));
    tb_json_put(j, "bolts_with_derived_length", json_integer((json_int_t)all.derived));
    tb_json_put(j, "bolts_without_length", json_integer((json_int_t)all.unknown));
    for (size_t i = 0; i < s->lots; i++) {
        json_t *one = tb_json_lot(&s->lot[i].lot);

        tb_json_put(one, "void", json_boolean(s->lot[i].lot.voided));
        tb_json_put(one, "bolt_list", tb_json_bolts(s->lot[i].bolt, s->lot[i].bolts));
        tb_json_push(lots, one);
    }
    tb_json_put(j, "lot_list", lots);
    tb_json_put(j, "amended", tb_json_amendments(s->amendment, s->amendments));
    tb_json_put(j, "voidings", tb_json_voidings(s->voiding, s->voidings));
    tb_json_put(j, "written", tb_json_all(row_members, s->row, s->rows));
    return j;
}
