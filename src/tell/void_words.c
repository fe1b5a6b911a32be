/* void_words.c - what was recorded by mistake, in words: on the page of its lot, and before it is voided. */
#include "base/say.h"
#include "tenterbook/tell.h"

#include <string.h>

/* --- what hangs on a record --------------------------------------------------------------------------------------- */

static void counted(struct tb_text *out, int64_t n, const char *word)
{
    if (n)
        tb_text_addf(out, "%s%lld %s", out->n ? ", " : "", (long long)n, word);
}

void tb_hanging_words(struct tb_text *out, const struct tb_hanging *h)
{
    struct tb_text list = { 0 };

    counted(&list, h->lots, _n("lot", "lots", h->lots));
    counted(&list, h->bolts, _n("bolt", "bolts", h->bolts));
    counted(&list, h->swatches, _n("swatch", "swatches", h->swatches));
    counted(&list, h->burns, _n("burn", "burns", h->burns));
    counted(&list, h->tests, _n("test", "tests", h->tests));
    counted(&list, h->uses, _n("cut into use", "cuts into use", h->uses));
    counted(&list, h->analyses, _n("analysis of a laboratory", "analyses of laboratories", h->analyses));
    counted(&list, h->draws, _n("draw", "draws", h->draws));
    counted(&list, h->sendings,
            _n("sample sent to a laboratory", "samples sent to laboratories", h->sendings));
    counted(&list, h->answers, _n("answer of a drill", "answers of drills", h->answers));
    counted(&list, h->singles,
            _n("decision about a single bolt", "decisions about single bolts", h->singles));
    counted(&list, h->decisions, _n("decision about a lot", "decisions about lots", h->decisions));
    counted(&list, h->holds,
            _n("hold, with the verdict that made it and the term of a claim that runs from it",
               "holds, with the verdicts that made them and the terms of claims that run from them",
               h->holds));
    tb_text_add(out, tb_text_str(&list));
    tb_text_free(&list);
}

/* --- what is void ------------------------------------------------------------------------------------------------- */

/* A sentence for each kind of record: languages put such words together in their own ways. */
static void voiding_words(struct tb_text *out, enum tb_tongue to, const struct tb_voiding *v)
{
    if (strcmp(v->about, "delivery") == 0)
        tb_text_addf(out, tb_tr(to, "Void: delivery %s, by %s at %s: %s\n"), v->ref, v->voided_by,
                     v->voided_at, v->why);
    else if (strcmp(v->about, "lot") == 0)
        tb_text_addf(out, tb_tr(to, "Void: lot %s, by %s at %s: %s\n"), v->ref, v->voided_by, v->voided_at,
                     v->why);
    else if (strcmp(v->about, "bolt") == 0)
        tb_text_addf(out, tb_tr(to, "Void: bolt %s, by %s at %s: %s\n"), v->ref, v->voided_by, v->voided_at,
                     v->why);
    else if (strcmp(v->about, "swatch") == 0)
        tb_text_addf(out, tb_tr(to, "Void: swatch %s, by %s at %s: %s\n"), v->ref, v->voided_by, v->voided_at,
                     v->why);
    else if (strcmp(v->about, "burn") == 0)
        tb_text_addf(out, tb_tr(to, "Void: burn %s of swatch %s, by %s at %s: %s\n"), v->subject, v->ref,
                     v->voided_by, v->voided_at, v->why);
    else if (strcmp(v->about, "analysis") == 0)
        tb_text_addf(out, tb_tr(to, "Void: analysis %s, by %s at %s: %s\n"), v->subject, v->voided_by,
                     v->voided_at, v->why);
    else if (strcmp(v->about, "dispute_step") == 0)
        tb_text_addf(out, tb_tr(to, "Void: a step of the dispute, by %s at %s: %s\n"), v->voided_by,
                     v->voided_at, v->why);
    else if (strcmp(v->about, "sending") == 0)
        tb_text_addf(out, tb_tr(to, "Void: the sending of a sample to %s, by %s at %s: %s\n"), v->ref,
                     v->voided_by, v->voided_at, v->why);
    else
        tb_text_addf(out, tb_tr(to, "Void: test %s of swatch %s, by %s at %s: %s\n"), v->subject, v->ref,
                     v->voided_by, v->voided_at, v->why);
    if (*v->instead && strcmp(v->about, "bench_test") == 0)
        tb_text_addf(out, tb_tr(to, "  test %s, of another swatch, stands in its place\n"), v->instead);
    else if (*v->instead)
        tb_text_addf(out, tb_tr(to, "  burn %s, of another swatch, stands in its place\n"), v->instead);
    if (v->back_at)
        tb_text_addf(out, tb_tr(to, "  taken back by %s at %s: %s\n"), v->back_by, v->back_at, v->back_why);
}

static const char *told_key(const struct tb_judged *v)
{
    struct tb_told_verdict told;

    tb_judged_told(&told, v);
    return tb_grade_key(told.grade);
}

void tb_voidings_words(struct tb_text *out, enum tb_tongue to, const struct tb_voidings *v)
{
    for (size_t i = 0; i < v->n; i++)
        voiding_words(out, to, &v->voiding[i]);
    tb_void_records_words(out, to, &v->bench);
    tb_void_papers_words(out, to, v);
    for (size_t i = 0; i < v->judgeds; i++)
        tb_text_addf(
            out, tb_tr(to, "Void: the verdict '%s' of %s, since it rests on what does not count any more\n"),
            tb_tr(to, told_key(&v->judged[i])), v->judged[i].judged_at);
    for (size_t i = 0; i < v->standings; i++)
        tb_text_addf(
            out,
            tb_decided_by(v->standing[i].why) == TB_DECIDED_BY_VERDICT
                ? tb_tr(to, "Void: the hold of %s, since the verdict that made it does not count\n")
                : tb_tr(to, "Void: the hold of %s, since the dispute that made it was opened by mistake\n"),
            v->standing[i].settled_at);
}

static const char *field_words(enum tb_tongue to, const char *field)
{
    static const struct {
        const char *field, *words;
    } all[] = { { "arrived", TR_("day of arrival") },
                { "note", TR_("number of the note") },
                { "order", TR_("order") },
                { "note_day", TR_("date of the note") },
                { "remark", TR_("remark") },
                { "supplier", TR_("supplier") },
                { "unit", TR_("unit of lengths") } };

    for (size_t i = 0; i < TB_COUNT(all); i++)
        if (strcmp(all[i].field, field) == 0)
            return tb_tr(to, all[i].words);
    return field;
}

/* A unit is kept as a key: "read" where the list's own words count again. */
static const char *value_words(enum tb_tongue to, const char *field, const char *value)
{
    static const struct {
        const char *value, *words;
    } all[] = { { "yd", TR_("yards") }, { "m", TR_("metres") }, { "read", TR_("as the list was read") } };

    for (size_t i = 0; i < TB_COUNT(all) && strcmp(field, "unit") == 0; i++)
        if (strcmp(all[i].value, value) == 0)
            return tb_tr(to, all[i].words);
    return value;
}

void tb_amendments_words(struct tb_text *out, enum tb_tongue to, const struct tb_amendment *a, size_t n)
{
    for (size_t i = 0; i < n; i++)
        tb_text_addf(out, tb_tr(to, "Amended by %s at %s: %s, \"%s\", was \"%s\": %s\n"), a[i].amended_by,
                     a[i].amended_at, field_words(to, a[i].field), value_words(to, a[i].field, a[i].new),
                     value_words(to, a[i].field, a[i].old), a[i].why);
}

void tb_amended_words(struct tb_text *out, const struct tb_amendment *a, size_t n)
{
    for (size_t i = 0; i < n; i++)
        tb_text_say(out, "  %s: \"%s\", was \"%s\"\n", field_words(TB_READER, a[i].field),
                    value_words(TB_READER, a[i].field, a[i].new),
                    value_words(TB_READER, a[i].field, a[i].old));
}
