/* case_sheets.c - the case as a workbook: for those who would rather sort and count. */
#include "report/case/case_impl.h"
#include "tenterbook/tell.h"

#include "tenterbook/work.h"
#include "tenterbook/workbook.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const struct tb_column overview_columns[] = {
    { "item", N_("Item"), NULL, TB_COL_TEXT, 0, 30, true, false, TB_FROM_HAND },
    { "value", N_("Value"), NULL, TB_COL_ANY, 3, 100, true, false, TB_FROM_HAND },
};
struct bolt_row {
    struct tb_bolt bolt;
    int64_t burns, tests;
    const char *length_kind;
};
#define BOLT(member) TB_FROM(struct bolt_row, member)
static const struct tb_column bolt_columns[] = {
    { "bolt", N_("Bolt"), NULL, TB_COL_TEXT, 0, 18, false, false, BOLT(bolt.number) },
    { "length_m", N_("Length"), "m", TB_COL_NUMBER, 1, 10, false, true, BOLT(bolt.metres) },
    { "width_cm", N_("Width"), "cm", TB_COL_NUMBER, 1, 10, false, false, BOLT(bolt.width_cm) },
    { "mass_gm2", N_("Mass"), "g/m\xC2\xB2", TB_COL_NUMBER, 0, 10, false, false, BOLT(bolt.mass_gm2) },
    { "burns", N_("Burns"), NULL, TB_COL_COUNT, 0, 8, false, true, BOLT(burns) },
    { "tests", N_("Tests"), NULL, TB_COL_COUNT, 0, 8, false, true, BOLT(tests) },
    { "length_kind", N_("How the length is known"), NULL, TB_COL_TEXT, 0, 22, false, false,
      BOLT(length_kind) },
    { "net_kg", N_("Net weight beside the length"), "kg", TB_COL_NUMBER, 2, 10, false, true,
      BOLT(bolt.weight_kg) },
};
static void put_cues(struct tb_tab *t, const void *burn)
{
    struct tb_text cues = { 0 };

    tb_case_cue_words(&cues, burn);
    tb_put_text(t, tb_text_str(&cues));
    tb_text_free(&cues);
}

#define BURN(member) TB_FROM(struct tb_burn, member)
static const struct tb_column burn_columns[] = {
    { "swatch", N_("Swatch"), NULL, TB_COL_TEXT, 0, 16, false, false, BURN(tag) },
    { "bolt", N_("Bolt"), NULL, TB_COL_TEXT, 0, 11, false, false, BURN(bolt_number) },
    { "part", N_("Part"), NULL, TB_COL_TEXT, 0, 8, false, false,
      TB_FROM_OF(struct tb_burn, part, &tb_part_words) },
    { "burned_at", N_("Burnt (UTC)"), NULL, TB_COL_MOMENT, 0, 16, false, false, BURN(burned_at) },
    { "burned_by", N_("By"), NULL, TB_COL_TEXT, 0, 14, false, false, BURN(burned_by) },
    { "looked", N_("Looked at"), NULL, TB_COL_TEXT, 0, 16, true, false, BURN(looked) },
    { "cues", N_("Seen; !: expressly not"), NULL, TB_COL_TEXT, 0, 34, true, false, TB_FROM_BY(put_cues) },
    { "note", N_("Note"), NULL, TB_COL_TEXT, 0, 16, true, false, BURN(note) },
    { "could_not", N_("Could not be judged"), NULL, TB_COL_TEXT, 0, 16, true, false, BURN(could_not) },
};
/* As on the pages, with two decimals for those who calculate with them. */
static void put_sight(struct tb_tab *t, const void *cue)
{
    tb_put_text(t, tb_case_sight(TB_READER, cue));
}

#define CUE(member) TB_FROM(struct tb_stored_cue, member)
static const struct tb_column cue_columns[] = {
    { "cue", N_("Cue"), NULL, TB_COL_TEXT, 0, 30, false, false, CUE(cue) },
    { "part", N_("Part"), NULL, TB_COL_TEXT, 0, 9, false, false,
      TB_FROM_OF(struct tb_stored_cue, part, &tb_part_words) },
    { "seen", N_("Observed"), NULL, TB_COL_TEXT, 0, 22, false, false, TB_FROM_BY(put_sight) },
    { "weight_db", N_("Weight"), "dB", TB_COL_NUMBER, 2, 10, false, false, CUE(weight_db) },
    { "alone_db", N_("By itself"), "dB", TB_COL_NUMBER, 2, 10, false, false, CUE(alone_db) },
};
#define EVENT(member) TB_FROM(struct event, member)
static const struct tb_column event_columns[] = {
    { "at", N_("When (UTC)"), NULL, TB_COL_MOMENT, 0, 18, false, false, EVENT(at) },
    { "what", N_("What"), NULL, TB_COL_TEXT, 0, 22, false, false, EVENT(what) },
    { "number", N_("Number"), NULL, TB_COL_TEXT, 0, 22, false, false, EVENT(tag) },
    { "by", N_("By"), NULL, TB_COL_TEXT, 0, 22, false, false, EVENT(who) },
};

/* An item of a form; what is not known is left out, name and all. */
struct item {
    const char *name;
    const char *words; /* NULL or "": the figure */
    double figure;     /* NAN: nothing */
};

/* Figures take as many decimals as they need: lengths, ratios and values stand in one column. */
static tb_rc put_section(struct tb_tab *t, const char *heading, const struct item *item, size_t n,
                         struct tb_err *err)
{
    tb_rc rc = tb_tab_section(t, heading, err);

    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        bool words = item[i].words && *item[i].words;

        if (!words && isnan(item[i].figure))
            continue;
        tb_put_text(t, item[i].name);
        if (words) {
            tb_put_text(t, item[i].words);
        } else {
            tb_put_decimals(t, TB_DECIMALS_FREE);
            tb_put_number(t, item[i].figure);
        }
        rc = tb_tab_row(t, err);
    }
    return rc;
}

/* All declarations, not the last one: that a supplier changed the words is part of the case. */
static tb_rc claim(struct tb_tab *t, const struct story *s, struct tb_err *err)
{
    const struct tb_delivery *d = &s->delivery;
    const struct item delivery[] = {
        { _("Delivery"), d->ref, NAN },           { _("Note"), d->note, NAN },
        { _("Order"), d->order_no, NAN },         { _("Arrived"), d->arrived, NAN },
        { _("Article"), s->of.lot.article, NAN }, { _("SHA-256 of the supplier's file"), d->file_digest, NAN }
    };
    struct item *item = tb_array(struct item, 1 + s->of.declareds + TB_COUNT(delivery));
    size_t n = 0;
    tb_rc rc;

    item[n++] = (struct item){ _("Supplier"), s->of.lot.supplier_name, NAN };
    for (size_t i = 0; i < s->of.declareds; i++)
        item[n++] = (struct item){ _("Declared, in the supplier's words"), s->of.declared[i].text, NAN };
    for (size_t i = 0; i < TB_COUNT(delivery); i++)
        item[n++] = delivery[i];
    rc = put_section(t, _("What is claimed"), item, n, err);
    free(item);
    return rc;
}

/* The verdict that the pages tell. */
static tb_rc finding(struct tb_tab *t, const struct story *s, struct tb_err *err)
{
    const struct tb_judged *v = tb_story_judged(s);
    struct item *item = tb_array(struct item, 4 + s->analyses);
    char odds[TB_STORY_ODDS] = "";
    struct tb_text proof = { 0 };
    size_t n = 0;
    tb_rc rc;

    tb_bench_coverage(&proof, TB_READER, s->of.lot.bolts_burnt, s->of.lot.bolts_tested, s->of.lot.bolts);
    if (v)
        tb_story_odds(odds, TB_READER, &s->recorded.bounds, v->log_ratio, 4);
    item[n++] = (struct item){ _("Verdict"), v ? tb_grade_key(s->recorded.grade) : _("not judged"), NAN };
    item[n++] = (struct item){ _("What it rests on"), proof.s, NAN };
    item[n++] = (struct item){ _("Evidence ratio"), odds, NAN }; /* as on the pages */
    item[n++] = (struct item){ _("Rule"), v ? s->recorded.rule : NULL, NAN };
    for (size_t i = 0; i < s->analyses; i++)
        item[n++] = (struct item){ _("Laboratory"), s->analysis[i].found, NAN };
    rc = put_section(t, _("What was found"), item, n, err);
    tb_text_free(&proof);
    free(item);
    return rc;
}

static tb_rc stake_and_check(struct tb_tab *t, const struct story *s, struct tb_err *err)
{
    const struct tb_invoiced *in = &s->of.invoiced;
    const bool priced = !isnan(in->price);
    const struct item stake[] = { { _("Length, m"), NULL, s->of.lot.metres },
                                  { _("Invoiced"), NULL, priced ? in->quantity : (double)NAN },
                                  { _("Invoiced in"), priced ? in->unit : "", NAN },
                                  { _("Metres in one"), NULL, priced ? in->unit_metres : (double)NAN },
                                  { _("Price of one"), NULL, in->price },
                                  { _("Value"), NULL, in->value },
                                  { _("Money"), in->currency, NAN } };
    struct tb_text anchor = { 0 }, stamps = { 0 };
    tb_rc rc;

    tb_story_anchor(&anchor, s);
    for (size_t i = 0; i < s->stamps; i++) {
        tb_text_add(&stamps, i ? "; " : "");
        tb_story_stamp(&stamps, TB_READER, &s->stamp[i]);
    }
    const struct item check[] = {
        { _("SHA-256 of the data of the case file"), s->sha256, NAN },
        { _("Anchor: prove --since takes it"), tb_text_str(&anchor), NAN },
        { _("Time-stamped"), tb_text_str(&stamps), NAN },
        { _("Caution"),
          _("A burn shows kinds of fibre, not percentages, and not fibres that burn alike. This is not "
            "legal advice."),
          NAN }
    };

    if ((rc = put_section(t, _("What is at stake"), stake, TB_COUNT(stake), err)) == TB_OK)
        rc = put_section(t, _("How to check"), check, TB_COUNT(check), err);
    tb_text_free(&anchor);
    tb_text_free(&stamps);
    return rc;
}

/* A list of records, whole. All sheets of a case are described alike. */
struct list {
    const char *key, *tab, *title;
    const struct tb_column *column;
    size_t columns;
    const void *record;
    size_t n, size; /* how many, and bytes of each */
};

static tb_rc put_list(struct tb_workbook *w, const struct list *l, struct tb_err *err)
{
    struct tb_tab_plan plan = {
        .key = l->key, .tab = l->tab, .title = l->title, .column = l->column, .columns = l->columns
    };
    struct tb_tab *t;
    tb_rc rc = tb_tab_begin(&t, w, &plan, err);

    return rc == TB_OK ? tb_tab_records(t, l->record, l->n, l->size, err) : rc;
}

/* Every bolt of the lot, burnt or not: how few were burnt is seen at a glance. */
static struct bolt_row *bolts_of(const struct story *s)
{
    struct bolt_row *row = tb_array(struct bolt_row, s->of.bolts + 1);

    for (size_t i = 0; i < s->of.bolts; i++) {
        row[i].bolt = s->of.bolt[i];
        if (!(row[i].bolt.weight_kg > 0))
            row[i].bolt.weight_kg = (double)NAN;
        row[i].length_kind = tb_length_kind(1, row[i].bolt.derived, isnan(row[i].bolt.metres));
        for (size_t k = 0; k < s->of.burns; k++)
            row[i].burns += strcmp(s->of.burn[k].bolt_number, s->of.bolt[i].number) == 0;
        for (size_t k = 0; k < s->of.tests; k++)
            row[i].tests += strcmp(s->of.test[k].bolt_number, s->of.bolt[i].number) == 0;
    }
    return row;
}

#define LIST(key, tab, title, column, record, n)                                                             \
    {                                                                                                        \
        key, tab, title, column, TB_COUNT(column), record, n, sizeof *(record)                               \
    }

static tb_rc lists(struct tb_workbook *w, struct story *s, struct tb_err *err)
{
    struct bolt_row *bolt = bolts_of(s);
    struct event *event;
    size_t events;
    tb_rc rc = TB_OK;

    tb_story_events(&event, &events, TB_READER, s);
    const struct list list[] = {
        LIST("bolts", _("Bolts"), _("Bolts"), bolt_columns, bolt, s->of.bolts),
        LIST("burns", _("Burns"), _("Burns"), burn_columns, s->of.burn, s->of.burns),
        LIST("cues", _("Cues"), _("Cues, by weight"), cue_columns, s->recorded.cue, s->recorded.n_cue),
        LIST("custody", _("Custody"), _("Chain of custody"), event_columns, event, events),
    };

    for (size_t i = 0; i < TB_COUNT(list) && rc == TB_OK; i++)
        rc = put_list(w, &list[i], err);
    free(bolt);
    return rc;
}

static tb_rc fill(struct tb_workbook *w, struct story *s, const char *title, struct tb_err *err)
{
    struct tb_tab_plan plan = { .key = "case",
                                .tab = _("Case"),
                                .title = title,
                                .layout = TB_LAYOUT_FORM,
                                .column = overview_columns,
                                .columns = TB_COUNT(overview_columns) };
    struct tb_tab *t;
    tb_rc rc;

    if ((rc = tb_tab_begin(&t, w, &plan, err)) != TB_OK || (rc = claim(t, s, err)) != TB_OK ||
        (rc = finding(t, s, err)) != TB_OK || (rc = stake_and_check(t, s, err)) != TB_OK)
        return rc;
    return lists(w, s, err);
}

/* From the data, not from the book: the workbook says what the pages say. */
tb_rc tb_case_sheets(struct tb_outset *files, const char *path, const json_t *data, struct tb_err *err)
{
    struct tb_workbook_plan plan = { .files = files, .path = path };
    struct tb_workbook *w = NULL;
    struct tb_text title = { 0 };
    struct story s;
    tb_rc rc = tb_story_open(&s, data, err);

    if (rc != TB_OK)
        return rc;
    tb_text_addf(&title, _("Case %s, %s"), s.of.lot.ref, s.of.lot.supplier_name);
    plan.title = tb_text_str(&title);
    plan.subject = s.of.lot.ref;
    plan.created = s.made;
    if ((rc = tb_workbook_open(&w, &plan, err)) == TB_OK) {
        if ((rc = fill(w, &s, tb_text_str(&title), err)) == TB_OK)
            rc = tb_workbook_close(w, err);
        else
            tb_workbook_drop(w);
    }
    tb_text_free(&title);
    tb_story_close(&s);
    return rc;
}
