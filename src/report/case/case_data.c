/* case_data.c - the data of a case, and the lot's story read back from them. */
#include "report/case/case_impl.h"

#include "report/draw/pen.h"
#include "tenterbook/date.h"
#include "tenterbook/extract.h"
#include "tenterbook/work.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <sodium.h>

#define RATIO_MOST 1e6 /* the model is not so exact that more than this would mean anything */

/* The verdict with all it rests on, as the model in force gives it now; null where there is nothing to judge. */
static tb_rc judged_json(json_t **out, struct tb_book *b, const struct tb_lot *lot, struct tb_err *err)
{
    struct tb_evidence *ev = NULL;
    struct tb_lot_verdict v;
    tb_rc rc = tb_bench_model(&ev, b, err);

    if (rc == TB_OK &&
        (rc = tb_bench_judge(&v, b, lot, ev, TB_WANT_CUES | TB_WANT_POWER, TB_BOOK_NOW, err)) == TB_OK) {
        *out = v.observations ? tb_lot_verdict_json(&v, lot) : json_null();
        tb_lot_verdict_free(&v);
    }
    tb_evidence_free(ev);
    return rc;
}

tb_rc tb_case_data(json_t **out, struct tb_book *b, const struct tb_case_plan *plan, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_lot lot;
    json_t *extract = NULL, *verdict = NULL;
    struct tb_text maker = { 0 };
    tb_rc rc;

    if (plan->answer_by && !tb_day_valid(plan->answer_by))
        return tb_fail(err, TB_EINVAL, "%s is not a day; write it like 2026-03-31", plan->answer_by);
    if ((rc = tb_lot_find(&lot, b, plan->lot, &mem, err)) == TB_OK &&
        (rc = judged_json(&verdict, b, &lot, err)) == TB_OK &&
        (rc = tb_extract_lot(&extract, b, lot.ref, err)) == TB_OK) {
        tb_pen_maker(&maker);
        *out = json_pack("{s:i, s:s, s:s, s:s%, s:s, s:s%, s:s, s:s, s:O, s:o}", "tenterbook_case",
                         TB_CASE_FORM, "program", TB_VERSION, "made", plan->made, "by", plan->by,
                         strlen(plan->by), "lot", lot.ref, "asked", plan->asked ? plan->asked : "",
                         plan->asked ? strlen(plan->asked) : (size_t)0, "answer_by",
                         plan->answer_by ? plan->answer_by : "", "drawn_with", tb_text_str(&maker), "verdict",
                         verdict, "extract", extract);
        if (!*out)
            rc = tb_fail(err, TB_EINVAL, "what is asked is not valid text");
    }
    json_decref(verdict);
    tb_text_free(&maker);
    tb_arena_free(&mem);
    return rc;
}

char *tb_case_text(const json_t *data)
{
    return json_dumps(data, JSON_SORT_KEYS | JSON_INDENT(1) | JSON_REAL_PRECISION(17));
}

double tb_story_figure(const json_t *o, const char *key)
{
    const json_t *v = json_object_get(o, key);

    return json_is_number(v) ? json_number_value(v) : NAN;
}

const char *tb_story_text(const struct story *s, const char *key)
{
    const char *v = json_string_value(json_object_get(s->data, key));

    return v ? v : "";
}

static tb_rc add_photos(struct story *s, const char *subject, size_t *cap, struct tb_err *err)
{
    struct tb_attachment *a;
    size_t n;
    tb_rc rc = tb_attachment_list(&a, &n, s->book, subject, &s->mem, err);

    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        TB_PUSH_ROOM(s->photo, s->photos, *cap);
        s->photo[s->photos] = (struct tb_attachment){ 0 };
        rc = tb_attachment_load(&s->photo[s->photos], s->book, a[i].id, &s->mem, err);
        s->photos += rc == TB_OK;
    }
    return rc;
}

static tb_rc load_photos(struct story *s, struct tb_err *err)
{
    size_t cap = 0;
    tb_rc rc = add_photos(s, s->lot.delivery, &cap, err);

    if (rc == TB_OK)
        rc = add_photos(s, s->lot.id, &cap, err);
    for (size_t i = 0; i < s->swatches && rc == TB_OK; i++)
        rc = add_photos(s, s->swatch[i].id, &cap, err);
    for (size_t i = 0; i < s->burns && rc == TB_OK; i++)
        rc = add_photos(s, s->burn[i].id, &cap, err);
    for (size_t i = 0; i < s->tests && rc == TB_OK; i++)
        rc = add_photos(s, s->test[i].id, &cap, err);
    return rc;
}

static tb_rc load(struct story *s, const char *ref, struct tb_err *err)
{
    struct tb_book *b = s->book;
    const char *id;
    tb_rc rc;

    if ((rc = tb_lot_find(&s->lot, b, ref, &s->mem, err)) != TB_OK)
        return rc;
    id = s->lot.id;
    if ((rc = tb_delivery_find(&s->delivery, b, s->lot.delivery_ref, &s->mem, err)) != TB_OK ||
        (rc = tb_declaration_list(&s->declared, &s->declareds, b, id, &s->mem, err)) != TB_OK ||
        (rc = tb_bolt_list(&s->bolt, &s->bolts, b, id, &s->mem, err)) != TB_OK ||
        (rc = tb_swatch_list(&s->swatch, &s->swatches, b, id, &s->mem, err)) != TB_OK ||
        (rc = tb_burn_list(&s->burn, &s->burns, b, id, &s->mem, err)) != TB_OK ||
        (rc = tb_bench_test_list(&s->test, &s->tests, b, id, &s->mem, err)) != TB_OK ||
        (rc = tb_analysis_list(&s->analysis, &s->analyses, b, id, &s->mem, err)) != TB_OK ||
        (rc = tb_judged_list(&s->judged, &s->judgeds, b, id, &s->mem, err)) != TB_OK ||
        (rc = tb_standing_list(&s->standing, &s->standings, b, id, &s->mem, err)) != TB_OK ||
        (rc = tb_bolt_use_list(&s->use, &s->uses, b, id, &s->mem, err)) != TB_OK ||
        (rc = tb_joint_sample_list(&s->joint, &s->joints, b, id, &s->mem, err)) != TB_OK)
        return rc;
    s->verdict = json_incref(json_object_get(s->data, "verdict"));
    return load_photos(s, err);
}

static void digest(char out[65], const char *text)
{
    unsigned char sum[crypto_hash_sha256_BYTES];

    (void)crypto_hash_sha256(sum, (const unsigned char *)text, strlen(text));
    (void)sodium_bin2hex(out, 65, sum, sizeof sum);
}

tb_rc tb_story_open(struct story *s, const json_t *data, struct tb_err *err)
{
    const char *ref = json_string_value(json_object_get(data, "lot"));
    const char *made = json_string_value(json_object_get(data, "made"));
    json_int_t form = json_integer_value(json_object_get(data, "tenterbook_case"));
    char *text;
    tb_rc rc;

    *s = (struct story){ .data = data };
    if (form < 1 || !ref || !made || !tb_moment_valid(made))
        return tb_fail(err, TB_EFORMAT, "the data are not those of a case");
    if (form > TB_CASE_FORM)
        return tb_fail(err, TB_EFORMAT, "the case was made by a newer program; use that one");
    text = tb_case_text(data);
    digest(s->sha256, text ? text : "");
    free(text);
    if ((rc = tb_extract_book(&s->book, json_object_get(data, "extract"), err)) == TB_OK)
        rc = load(s, ref, err);
    if (rc != TB_OK)
        tb_story_close(s);
    return rc;
}

void tb_story_close(struct story *s)
{
    json_decref(s->verdict);
    free(s->photo);
    tb_book_close(s->book);
    tb_arena_free(&s->mem);
    *s = (struct story){ 0 };
}

double tb_story_metres_burnt(const struct story *s)
{
    double metres = 0;

    for (size_t i = 0; i < s->bolts; i++)
        for (size_t k = 0; k < s->burns; k++)
            if (strcmp(s->burn[k].bolt_number, s->bolt[i].number) == 0) {
                metres += s->bolt[i].metres;
                break;
            }
    return metres;
}

/* Three figures, and no exponent in the words: 407123.4 is 407000. */
static double three_figures(double v)
{
    double unit = pow(10, floor(log10(v)) - 2);

    return v < 1000 ? v : round(v / unit) * unit;
}

void tb_story_odds(char out[TB_STORY_ODDS], double log_ratio, int figures)
{
    double times = exp(fabs(log_ratio));

    if (times > RATIO_MOST)
        (void)snprintf(out, TB_STORY_ODDS, log_ratio > 0 ? _("above %.0f") : _("below 1/%.0f"), RATIO_MOST);
    else if (times >= 1e4)
        (void)snprintf(out, TB_STORY_ODDS, log_ratio > 0 ? "%.0f" : "1/%.0f", three_figures(times));
    else
        (void)snprintf(out, TB_STORY_ODDS, "%.*g", figures, exp(log_ratio));
}

void tb_story_ratio(struct tb_text *out, double log_ratio)
{
    double times = exp(fabs(log_ratio));

    if (times < 1.1) {
        tb_text_add(out, _("about as likely whether the declared fibres are there or not"));
        return;
    }
    if (times > RATIO_MOST)
        tb_text_add(out, _("more than a million times"));
    else
        tb_text_addf(out, times < 1000 ? _("%.3g times") : _("%.0f times"), three_figures(times));
    tb_text_add(out, log_ratio > 0
                         ? _(" likelier if the declared fibres are there than if anything else is")
                         : _(" likelier if something else is there than if the declared fibres are"));
}

static int by_time(const void *a, const void *b)
{
    const struct event *x = a, *y = b;
    int order = strcmp(x->at, y->at);

    return order ? order : (x->place > y->place) - (x->place < y->place);
}

static void add_event(struct event *e, size_t *n, const char *at, const char *what, const char *who,
                      const char *tag)
{
    e[*n] = (struct event){ at, what, who, tag, *n };
    ++*n;
}

/* Where each piece of a joint sample went, and what was cut into: goods and swatches left our shelf by it. */
static void add_departures(struct event *e, size_t *k, const struct story *s)
{
    for (size_t i = 0; i < s->joints; i++)
        for (size_t p = 0; p < s->joint[i].pieces; p++) {
            const char *to = s->joint[i].piece[p].holder;

            add_event(e, k, s->joint[i].dealt_at,
                      strcmp(to, "supplier") == 0     ? _("dealt to the supplier")
                      : strcmp(to, "laboratory") == 0 ? _("dealt to the laboratory")
                                                      : _("kept of the joint sample"),
                      s->joint[i].dealt_by, s->joint[i].piece[p].tag);
        }
    for (size_t i = 0; i < s->uses; i++)
        add_event(e, k, s->use[i].used_at, _("bolt cut into"), s->use[i].used_by, s->use[i].bolt_number);
}

void tb_story_events(struct event **out, size_t *n, struct story *s)
{
    size_t pieces = 0, most, k = 0;
    struct event *e;

    for (size_t i = 0; i < s->joints; i++)
        pieces += s->joint[i].pieces;
    most = 1 + s->swatches + s->burns + s->tests + s->analyses + s->judgeds + s->standings + s->uses + pieces;
    e = tb_arena_alloc(&s->mem, most * sizeof *e);
    add_event(e, &k, s->delivery.received_at, _("received"), s->delivery.received_by, s->delivery.ref);
    for (size_t i = 0; i < s->swatches; i++)
        add_event(e, &k, s->swatch[i].cut_at, _("swatch cut"), s->swatch[i].cut_by, s->swatch[i].tag);
    for (size_t i = 0; i < s->burns; i++)
        add_event(e, &k, s->burn[i].burned_at, _("swatch burnt"), s->burn[i].burned_by, s->burn[i].tag);
    for (size_t i = 0; i < s->tests; i++)
        add_event(e, &k, s->test[i].tested_at, _("bench test"), s->test[i].tested_by, s->test[i].tag);
    for (size_t i = 0; i < s->analyses; i++)
        add_event(e, &k, s->analysis[i].recorded_at, _("analysis recorded"), s->analysis[i].recorded_by,
                  s->analysis[i].laboratory);
    for (size_t i = 0; i < s->judgeds; i++)
        add_event(e, &k, s->judged[i].judged_at, tb_verdict_key(s->judged[i].verdict), s->judged[i].judged_by,
                  _("verdict"));
    for (size_t i = 0; i < s->standings; i++)
        add_event(e, &k, s->standing[i].settled_at, tb_standing_key(s->standing[i].standing),
                  s->standing[i].settled_by, _("standing"));
    add_departures(e, &k, s);
    qsort(e, k, sizeof *e, by_time);
    *out = e;
    *n = k;
}
