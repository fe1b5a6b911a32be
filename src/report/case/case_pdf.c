/* case_pdf.c - the pages of a case, in the order a reader asks: claim, finding, proof, custody, what is at stake. */
#include "report/case/case_impl.h"

#include "report/draw/page.h"
#include "report/draw/paper.h"
#include "report/draw/pdf_attach.h"
#include "tenterbook/fibre.h"
#include "tenterbook/sampling.h"
#include "tenterbook/work.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define DAY(moment) TB_DAY_LEN, (moment)

static const char *say(struct tb_text *t, const char *fmt, ...) TB_PRINTF(2, 3);
static const char *say(struct tb_text *t, const char *fmt, ...)
{
    va_list ap;

    tb_text_clear(t);
    va_start(ap, fmt);
    tb_text_vaddf(t, fmt, ap);
    va_end(ap);
    return tb_text_str(t);
}

/* --- claim and finding ---------------------------------------------------------------------------------------- */

static void claimed(struct page *p, const struct story *s, struct tb_text *t)
{
    const struct tb_delivery *d = &s->delivery;

    tb_page_heading(p, _("What is claimed, and by whom"));
    tb_page_text(p, say(t, _("%s declares of this cloth, in these words:"), s->lot.supplier_name));
    for (size_t i = 0; i < s->declareds; i++) {
        const struct tb_declared *c = &s->declared[i];

        tb_page_quote(p, c->text[0] ? c->text : _("(nothing was declared)"));
        tb_page_small(p, say(t, _("recorded %.*s by %s; read as: %s"), DAY(c->at), c->person,
                             c->reading[0] ? c->reading : _("nothing that can be read for certain")));
    }
    tb_page_pair(p, _("Delivery"),
                 say(t, d->note[0] ? _("%s, note %s") : "%s%s", d->ref, d->note[0] ? d->note : ""));
    tb_page_pair(p, _("Order"), d->order_no);
    tb_page_pair(p, _("Date of the note"), d->note_day ? d->note_day : "");
    tb_page_pair(p, _("Arrived"), d->arrived);
    tb_page_pair(p, _("Article"), s->lot.article);
    tb_page_pair(p, _("Colour, dye lot"),
                 say(t, s->lot.dye_lot[0] ? "%s, %s" : "%s%s", s->lot.colour, s->lot.dye_lot));
    tb_page_pair(p, _("Origin as stated"), s->lot.origin);
    tb_page_pair(p, _("Remark at the door"), d->remark);
    if (d->file_digest[0])
        tb_page_small(p, say(t, _("The supplier's file %s was taken in unchanged; SHA-256 %s"), d->file_name,
                             d->file_digest));
}

static const struct tb_judged *last_verdict(const struct story *s)
{
    return s->judgeds ? &s->judged[s->judgeds - 1] : NULL;
}

/* "on 2026-03-04", "from 2026-03-04 to 2026-03-09" */
static const char *when_burnt(char out[64], const struct story *s)
{
    const char *first = s->burns ? s->burn[0].burned_at : "", *last = first;

    for (size_t i = 1; i < s->burns; i++) {
        first = strcmp(s->burn[i].burned_at, first) < 0 ? s->burn[i].burned_at : first;
        last = strcmp(s->burn[i].burned_at, last) > 0 ? s->burn[i].burned_at : last;
    }
    if (strncmp(first, last, TB_DAY_LEN) == 0)
        (void)snprintf(out, 64, _("on %.*s"), DAY(first));
    else
        (void)snprintf(out, 64, _("from %.*s to %.*s"), DAY(first), DAY(last));
    return out;
}

static void found(struct page *p, const struct story *s, struct tb_text *t)
{
    const struct tb_judged *v = last_verdict(s);
    char days[64], odds[TB_STORY_ODDS];
    bool one = s->burns == 1;
    struct tb_text ratio = { 0 };

    tb_page_heading(p, _("What was found"));
    if (!v) {
        tb_page_text(p, say(t,
                            s->lot.bolts == 1 ? _("No verdict is recorded. %lld of %lld bolt was burnt.")
                                              : _("No verdict is recorded. %lld of %lld bolts were burnt."),
                            (long long)s->lot.bolts_burnt, (long long)s->lot.bolts));
        return;
    }
    tb_story_ratio(&ratio, v->log_ratio);
    tb_page_text(
        p, say(t,
               _("%zu %s on %s of %lld of %lld %s %s recorded, %s. What was seen %s. What was observed is "
                 "%s."),
               s->burns, one ? _("burn") : _("burns"), one ? _("a swatch") : _("swatches"),
               (long long)v->bolts_burnt, (long long)v->bolts, v->bolts == 1 ? _("bolt") : _("bolts"),
               one ? _("was") : _("were"), when_burnt(days, s),
               v->verdict == TB_CONTRADICTS ? _("contradicts the declaration")
               : v->verdict == TB_FITS
                   ? _("fits the declaration: burning found nothing against it, and never confirms it")
                   : _("decides neither for nor against the declaration"),
               tb_text_str(&ratio)));
    tb_text_free(&ratio);
    tb_story_odds(odds, v->log_ratio, 4);
    tb_page_pair(p, _("Verdict"), tb_verdict_key(v->verdict));
    tb_page_pair(p, _("Evidence ratio"), odds);
    tb_page_pair(p, _("Rests on"),
                 say(t, v->bolts == 1 ? _("%lld of %lld bolt burnt") : _("%lld of %lld bolts burnt"),
                     (long long)v->bolts_burnt, (long long)v->bolts));
    tb_page_pair(p, _("Judged"), say(t, _("%s by %s"), v->judged_at, v->judged_by));
    tb_page_pair(p, _("Standing of the lot"), tb_standing_key(s->lot.standing));
}

/* ISO/IEC 17025, 7.8.6 asks that the rule is said by which a statement of conformity was made. */
static void rule(struct page *p, const struct story *s)
{
    const char *words = json_string_value(json_object_get(s->verdict, "rule"));
    const char *reason = json_string_value(json_object_get(s->verdict, "reason"));
    const json_t *note;
    size_t i;

    if (!s->verdict)
        return;
    tb_page_heading(p, _("The rule by which this was decided"));
    if (words)
        tb_page_text(p, words);
    if (reason)
        tb_page_text(p, reason);
    json_array_foreach(json_object_get(s->verdict, "notes"), i, note)
    {
        if (json_string_value(note))
            tb_page_text(p, json_string_value(note));
    }
}

/* "+3.1", or "-" where the case was made without it. */
static double decibans(char text[32], const json_t *cue, const char *key)
{
    double db = tb_story_figure(cue, key);

    (void)snprintf(text, 32, isnan(db) ? "-" : "%+.1f", db);
    return isnan(db) ? 0 : db;
}

static void cues(struct page *p, const struct story *s)
{
    static const struct page_column column[] = {
        { "Cue", 0.32, false, false },          { "Part", 0.10, false, false },
        { "Observed", 0.19, false, false },     { "Weight, dB", 0.12, true, false },
        { "By itself, dB", 0.13, true, false }, { "Speaks", 0.14, false, false }
    };
    const json_t *cue;
    size_t i;

    if (!json_array_size(json_object_get(s->verdict, "cues")))
        return;
    tb_page_heading(p, _("Cues for and against, by weight"));
    tb_page_small(
        p,
        _("Decibans (ten times the decimal logarithm of a ratio): 10 dB is ten times likelier, 3 dB twice; "
          "above zero speaks for the declaration, below against it. Weight: what the cue adds to all the "
          "others; near zero where they say enough without it. By itself: how much likelier the cue is from "
          "the declared cloth than from what else it could be."));
    tb_page_table_begin(p, column, TB_COUNT(column));
    json_array_foreach(json_object_get(s->verdict, "cues"), i, cue)
    {
        char weight[32], alone[32];
        double db = decibans(weight, cue, "weight_db"), own = decibans(alone, cue, "alone_db");
        const char *key = json_string_value(json_object_get(cue, "cue")),
                   *part = json_string_value(json_object_get(cue, "part"));
        const char *cell[] = { key ? key : "",
                               part ? part : "",
                               json_is_true(json_object_get(cue, "seen"))     ? _("seen")
                               : json_is_true(json_object_get(cue, "denied")) ? _("expressly not there")
                                                                              : _("looked for, not seen"),
                               weight,
                               alone,
                               fabs(db) < 0.05 && fabs(own) < 1   ? _("for neither")
                               : (fabs(db) < 0.05 ? own : db) > 0 ? _("for it")
                                                                  : _("against it") };

        tb_page_row(p, column, TB_COUNT(column), cell);
    }
    tb_page_table_end(p);
}

/* --- photographs ---------------------------------------------------------------------------------------------- */

struct reader {
    const unsigned char *p;
    size_t left;
};

static cairo_status_t read_bytes(void *arg, unsigned char *out, unsigned n)
{
    struct reader *r = arg;

    if (n > r->left)
        return CAIRO_STATUS_READ_ERROR;
    memcpy(out, r->p, n);
    r->p += n;
    r->left -= n;
    return CAIRO_STATUS_SUCCESS;
}

/* Width and height of a JPEG, from its frame header; 0 when it has none. */
static void jpeg_size(int *w, int *h, const unsigned char *p, size_t n)
{
    size_t i = 2;

    *w = *h = 0;
    while (i + 9 < n && p[i] == 0xFF) {
        unsigned char m = p[i + 1];
        size_t length = (size_t)p[i + 2] << 8 | p[i + 3];

        if (m >= 0xC0 && m <= 0xCF && m != 0xC4 && m != 0xC8 && m != 0xCC) {
            *h = p[i + 5] << 8 | p[i + 6];
            *w = p[i + 7] << 8 | p[i + 8];
            return;
        }
        i += 2 + length;
    }
}

/* A JPEG goes into the PDF as it is, byte for byte: nothing is decoded. */
static cairo_surface_t *picture(const struct tb_attachment *a)
{
    cairo_surface_t *s = NULL;
    int w, h;

    if (strcmp(a->media, "image/png") == 0) {
        struct reader r = { a->bytes, a->size };

        s = cairo_image_surface_create_from_png_stream(read_bytes, &r);
    } else if (strcmp(a->media, "image/jpeg") == 0) {
        jpeg_size(&w, &h, a->bytes, a->size);
        if (w <= 0 || h <= 0 || (double)w * h > 1e8)
            return NULL;
        s = cairo_image_surface_create(CAIRO_FORMAT_RGB24, w, h);
        if (cairo_surface_set_mime_data(s, CAIRO_MIME_TYPE_JPEG, a->bytes, a->size, NULL, NULL) !=
            CAIRO_STATUS_SUCCESS) {
            cairo_surface_destroy(s);
            return NULL;
        }
    }
    if (s && cairo_surface_status(s) != CAIRO_STATUS_SUCCESS) {
        cairo_surface_destroy(s);
        return NULL;
    }
    return s;
}

static void photo(struct page *p, const struct tb_attachment *a, struct tb_text *t)
{
    cairo_surface_t *s = picture(a);
    double w, h, scale;

    if (s) {
        w = cairo_image_surface_get_width(s);
        h = cairo_image_surface_get_height(s);
        scale = fmin(fmin(300 / w, 210 / h), 1);
        tb_page_need(p, h * scale + 34);
        cairo_save(p->c);
        cairo_translate(p->c, PAGE_LEFT, p->y);
        cairo_scale(p->c, scale, scale);
        cairo_set_source_surface(p->c, s, 0, 0);
        cairo_rectangle(p->c, 0, 0, w, h);
        cairo_fill(p->c);
        cairo_restore(p->c);
        cairo_surface_destroy(s);
        p->y += h * scale + 3;
    } else {
        tb_page_text(
            p, say(t, _("%s (%s) is in the attached data; it cannot be shown here."), a->name, a->media));
    }
    tb_page_small(p, say(t, _("%s, of a %s, SHA-256 %s"), a->name, a->about, a->sha256));
}

static void photos(struct page *p, const struct story *s, struct tb_text *t)
{
    tb_page_heading(p, _("Photographs and papers"));
    if (!s->photos)
        tb_page_text(p, _("None were recorded."));
    for (size_t i = 0; i < s->photos; i++)
        photo(p, &s->photo[i], t);
}

/* --- what it proves ------------------------------------------------------------------------------------------- */

static void share_words(char out[16], const json_t *v)
{
    /* a simulation of so many burns cannot tell all of them from nearly all */
    if (json_is_number(v) && json_number_value(v) >= 0.995)
        (void)snprintf(out, 16, _("over 99 %%"));
    else if (json_is_number(v))
        (void)snprintf(out, 16, "%.0f %%", 100 * json_number_value(v));
    else
        (void)snprintf(out, 16, "-");
}

static void power(struct page *p, const struct story *s)
{
    static const struct page_column column[] = { { "If it were instead", 0.34, false, false },
                                                 { "One burn", 0.14, true, false },
                                                 { "Two burns", 0.14, true, false },
                                                 { "With a bench test", 0.18, true, false },
                                                 { "Which", 0.20, false, false } };
    const json_t *one;
    size_t i;

    if (!json_array_size(json_object_get(s->verdict, "power")))
        return;
    tb_page_text(
        p, _("How often burns like these would contradict the declaration if the cloth were something else, "
             "by simulation from the published descriptions:"));
    tb_page_table_begin(p, column, TB_COUNT(column));
    json_array_foreach(json_object_get(s->verdict, "power"), i, one)
    {
        const char *instead = json_string_value(json_object_get(one, "instead")),
                   *test = json_string_value(json_object_get(one, "test"));
        bool blind = json_is_true(json_object_get(one, "blind"));
        char a[16], b[16], c[16];
        const char *cell[] = { instead ? instead : "", a, b, c, blind ? _("burns alike") : test ? test : "" };

        share_words(a, json_object_get(one, "one_burn"));
        share_words(b, json_object_get(one, "two_burns"));
        share_words(c, json_object_get(one, "with_test"));
        tb_page_row(p, column, TB_COUNT(column), cell);
    }
    tb_page_table_end(p);
}

static void limits(struct page *p, const struct story *s, struct tb_text *t)
{
    const json_t *twins, *key;
    size_t i, k;

    tb_page_heading(p, _("What a burn can prove, and what it cannot"));
    tb_page_text(
        p,
        _("A burn shows kinds of fibre: those that melt, those that smell of hair, those that leave soft "
          "ash. "
          "It cannot measure percentages, cannot show a few percent of a fibre, and cannot tell apart fibres "
          "that burn alike. A verdict is a weighing of evidence with known error rates, not a measurement; a "
          "laboratory's analysis proves more."));
    json_array_foreach(json_object_get(s->verdict, "twins"), i, twins)
    {
        tb_text_clear(t);
        json_array_foreach(twins, k, key)
        {
            const char *name = json_string_value(key) ? json_string_value(key) : "";
            int fibre = tb_fibre_by_key(name);

            tb_text_addf(t, "%s%s", k ? ", " : "", fibre >= 0 ? tb_fibre_at(fibre)->name : name);
        }
        tb_page_pair(p, _("Burn alike"), tb_text_str(t));
    }
    power(p, s);
}

static void figure(char out[24], const json_t *v, const char *format)
{
    if (json_is_number(v))
        (void)snprintf(out, 24, "%.*f%s", 1, json_number_value(v), format);
    else
        (void)snprintf(out, 24, "-");
}

static const char *word(const json_t *o, const char *key)
{
    const char *s = json_string_value(json_object_get(o, key));

    return s ? s : "";
}

static const char *answer_words(const char *key)
{
    return strcmp(key, "conforms") == 0           ? _("conforms")
           : strcmp(key, "does_not_conform") == 0 ? _("does not conform")
           : strcmp(key, "cannot_be_said") == 0   ? _("cannot be said")
                                                  : key;
}

/* One share of one market: what the clause allows, what was found, what follows. */
static void share_row(struct page *p, const struct page_column *column, size_t n, const char *market,
                      const json_t *share, struct tb_text *t)
{
    const json_t *allowed = json_object_get(share, "allowed");
    char declared[24], found[24], u[24], low[24], high[24];
    struct tb_text limits = { 0 }, clause = { 0 };

    figure(declared, json_object_get(share, "declared"), "");
    figure(found, json_object_get(share, "found"), "");
    figure(u, json_object_get(share, "u"), "");
    figure(low, json_array_get(allowed, 0), "");
    figure(high, json_array_get(allowed, 1), "");
    tb_text_clear(t);
    tb_text_addf(t, "%s \xC2\xB1 %s", found, u);
    if (!json_is_number(json_array_get(allowed, 1)))
        tb_text_addf(&limits, _("%s or more"), low);
    else if (!json_is_number(json_array_get(allowed, 0)))
        tb_text_addf(&limits, _("up to %s"), high);
    else
        tb_text_addf(&limits, _("%s to %s"), low, high);
    tb_text_add(&clause, word(share, "clause"));
    if (strcmp(word(share, "status"), "seen") !=
        0) /* a clause nobody here has read is not shown as one that was */
        tb_text_addf(&clause, " (%s)", word(share, "status"));
    {
        const char *cell[] = { market,
                               word(share, "fibre"),
                               declared,
                               tb_text_str(t),
                               tb_text_str(&limits),
                               answer_words(word(share, "answer")),
                               tb_text_str(&clause) };

        tb_page_row(p, column, n, cell);
    }
    tb_text_free(&limits);
    tb_text_free(&clause);
}

static void conformity(struct page *p, const struct tb_analysis *a, struct tb_text *t)
{
    static const struct page_column column[] = {
        { "Market", 0.09, false, false },    { "Fibre", 0.14, false, false },
        { "Declared %", 0.12, true, false }, { "Found %", 0.15, true, false },
        { "Allowed %", 0.15, true, false },  { "Answer", 0.15, false, false },
        { "Clause", 0.20, false, false },
    };
    json_t *detail = json_loads(a->detail, 0, NULL), *markets = json_object_get(detail, "conformity"),
           *market, *share;
    double sure = json_number_value(json_object_get(json_array_get(markets, 0), "sure"));
    size_t i, k;

    if (json_array_size(markets)) {
        tb_page_table_begin(p, column, TB_COUNT(column));
        json_array_foreach(markets, i, market)
        {
            json_array_foreach(json_object_get(market, "fibres"), k, share)
                share_row(p, column, TB_COUNT(column), word(market, "market"), share, t);
        }
        tb_page_table_end(p);
        tb_page_small(
            p,
            say(t,
                _("The rule: a share conforms, or does not, where the probability of that, with the standard "
                  "uncertainty given, is at least %.0f %%; between them it cannot be said. A clause marked "
                  "memory or second-hand was not read in its printed text."),
                100 * sure));
    }
    json_decref(detail);
}

static void bench_tests(struct page *p, const struct story *s)
{
    static const struct page_column column[] = { { "When", 0.14, false, false },
                                                 { "Swatch", 0.20, false, true },
                                                 { "Test", 0.22, false, false },
                                                 { "Result", 0.26, false, false },
                                                 { "By", 0.18, false, false } };

    if (!s->tests)
        return;
    tb_page_table_begin(p, column, TB_COUNT(column));
    for (size_t i = 0; i < s->tests; i++) {
        char *day = tb_strndup(s->test[i].tested_at, TB_DAY_LEN);
        const char *cell[] = { day, s->test[i].tag, s->test[i].test, s->test[i].result,
                               s->test[i].tested_by };

        tb_page_row(p, column, TB_COUNT(column), cell);
        free(day);
    }
    tb_page_table_end(p);
}

static void bench_and_laboratory(struct page *p, const struct story *s, struct tb_text *t)
{
    if (!s->tests && !s->analyses)
        return;
    tb_page_heading(p, _("Bench tests and laboratory"));
    bench_tests(p, s);
    for (size_t i = 0; i < s->analyses; i++) {
        const struct tb_analysis *a = &s->analysis[i];

        tb_page_text(
            p, say(t,
                   _("Analysis of the part '%s', %s, by %s%s%s: %s (largest standard uncertainty %.2g "
                     "points)."),
                   a->part, a->analysed_on, a->laboratory[0] ? a->laboratory : _("a laboratory not named"),
                   a->report[0] ? _(", report ") : "", a->report, a->found, a->u));
        conformity(p, a, t);
    }
}

/* What the burns of one bolt say when it is judged alone; NULL: not said. */
static const json_t *alone(const struct story *s, const char *bolt)
{
    const json_t *one;
    size_t i;

    json_array_foreach(json_object_get(s->verdict, "by_bolt"), i, one)
    {
        if (strcmp(word(one, "bolt"), bolt) == 0)
            return one;
    }
    return NULL;
}

static void bolt_row(struct page *p, const struct page_column *column, size_t n, const struct story *s,
                     const struct tb_bolt *bolt, struct tb_text *t)
{
    const json_t *one = alone(s, bolt->number), *ratio = json_object_get(one, "log_ratio");
    char metres[32], burns[32], odds[TB_STORY_ODDS] = "";
    size_t burnt = 0;

    tb_text_clear(t);
    for (size_t k = 0; k < s->burns; k++)
        if (strcmp(s->burn[k].bolt_number, bolt->number) == 0) {
            if (!strstr(tb_text_str(t), s->burn[k].tag))
                tb_text_addf(t, "%s%s", t->n ? ", " : "", s->burn[k].tag);
            burnt++;
        }
    if (!burnt)
        return;
    (void)snprintf(metres, sizeof metres, "%.1f", bolt->metres);
    (void)snprintf(burns, sizeof burns, "%zu", burnt);
    if (json_is_number(ratio))
        tb_story_odds(odds, json_number_value(ratio), 3);
    {
        const char *cell[] = { bolt->number, metres, burns, word(one, "verdict"), odds, tb_text_str(t) };

        tb_page_row(p, column, n, cell);
    }
}

/* How many bolts can be false, from those that contradict alone: for all of them only if they were drawn at random. */
static void proof(struct page *p, const struct story *s, struct tb_text *t)
{
    const json_t *one;
    struct tb_err err = { 0 };
    long bad = 0, judged = 0, most;
    size_t i;

    json_array_foreach(json_object_get(s->verdict, "by_bolt"), i, one)
    {
        judged++;
        bad += strcmp(word(one, "verdict"), "contradicts") == 0;
    }
    if (!judged ||
        tb_proof_most(&most, (long)s->lot.bolts, judged, bad, TB_CATCH_DEFAULT, 0.95, &err) != TB_OK)
        return;
    tb_page_text(p,
                 say(t,
                     s->lot.bolts == 1 ? _("%ld of the %ld burnt bolt contradicts when judged alone. If "
                                           "those %ld are false, at most %ld "
                                           "of %lld bolt is false, with 95 %% confidence. (Taken that a burn "
                                           "shows a false bolt with a "
                                           "chance of %.0f %%: assumed, no burn test has a published rate.)")
                                       : _("%ld of the %ld burnt bolts contradict when each is judged alone. "
                                           "If those %ld are false and "
                                           "the bolts were drawn at random, at most %ld of %lld bolts are "
                                           "false, with 95 %% confidence. "
                                           "(Taken that a burn shows a false bolt with a chance of %.0f %%: "
                                           "assumed, no burn test has a "
                                           "published rate.)"),
                     bad, judged, bad, most, (long long)s->lot.bolts, 100 * TB_CATCH_DEFAULT));
}

static void coverage(struct page *p, const struct story *s, struct tb_text *t)
{
    static const struct page_column column[] = {
        { "Bolt", 0.18, false, true },  { "Length, m", 0.12, true, false },
        { "Burns", 0.09, true, false }, { "Judged alone", 0.16, false, false },
        { "Ratio", 0.12, true, false }, { "Swatches", 0.33, false, true },
    };

    tb_page_heading(p, _("How much of the delivery was looked at"));
    tb_page_text(
        p,
        say(t,
            s->lot.bolts == 1
                ? _("%lld of %lld bolt burnt, %.1f of %.1f metres. The list names every bolt that was burnt.")
                : _("%lld of %lld bolts burnt, %.1f of %.1f metres. What was seen was seen on these bolts; "
                    "of the "
                    "others it says something only as far as they are like these. The list names every bolt "
                    "that "
                    "was burnt."),
            (long long)s->lot.bolts_burnt, (long long)s->lot.bolts, tb_story_metres_burnt(s), s->lot.metres));
    proof(p, s, t);
    if (!s->burns)
        return;
    tb_page_table_begin(p, column, TB_COUNT(column));
    for (size_t i = 0; i < s->bolts; i++)
        bolt_row(p, column, TB_COUNT(column), s, &s->bolt[i], t);
    tb_page_table_end(p);
}

/* --- custody, stake, what is asked ---------------------------------------------------------------------------- */

static void burns(struct page *p, const struct story *s, struct tb_text *t)
{
    static const struct page_column column[] = { { "Swatch", 0.19, false, true },
                                                 { "Bolt, part", 0.17, false, false },
                                                 { "When, by whom", 0.20, false, false },
                                                 { "Seen; !: expressly not; looked at", 0.44, false,
                                                   false } };

    if (!s->burns)
        return;
    tb_page_heading(p, _("The burns, as they were recorded"));
    tb_page_table_begin(p, column, TB_COUNT(column));
    for (size_t i = 0; i < s->burns; i++) {
        const struct tb_burn *b = &s->burn[i];
        struct tb_text where = { 0 }, when = { 0 };

        tb_text_addf(&where, "%s, %s", b->bolt_number, b->part);
        tb_text_addf(&when, "%.*s %.5s, %s", DAY(b->burned_at), b->burned_at + 11, b->burned_by);
        tb_text_clear(t);
        for (size_t k = 0; k < b->cues; k++)
            tb_text_addf(t, "%s%s%s", k ? ", " : "", b->cue[k].seen ? "" : "!", b->cue[k].cue);
        tb_text_addf(t, _("%slooked at: %s"), b->cues ? "; " : "", b->looked);
        if (b->note[0])
            tb_text_addf(t, ". %s", b->note);
        {
            const char *cell[] = { b->tag, tb_text_str(&where), tb_text_str(&when), tb_text_str(t) };

            tb_page_row(p, column, TB_COUNT(column), cell);
        }
        tb_text_free(&where);
        tb_text_free(&when);
    }
    tb_page_table_end(p);
}

static void custody(struct page *p, struct story *s, struct tb_text *t)
{
    static const struct page_column column[] = { { "When (UTC)", 0.24, false, false },
                                                 { "What", 0.24, false, false },
                                                 { "Number", 0.28, false, true },
                                                 { "By", 0.24, false, false } };
    struct event *e;
    size_t n;

    tb_story_events(&e, &n, s);
    tb_page_heading(p, _("Chain of custody"));
    tb_page_table_begin(p, column, TB_COUNT(column));
    for (size_t i = 0; i < n; i++) {
        char when[32];
        const char *cell[] = { when, e[i].what, e[i].tag, e[i].who };

        (void)snprintf(when, sizeof when, "%.10s %.8s", e[i].at, e[i].at + 11);
        tb_page_row(p, column, TB_COUNT(column), cell);
    }
    tb_page_table_end(p);
    for (size_t i = 0; i < s->swatches; i++)
        if (s->swatch[i].kept[0])
            tb_page_pair(p, s->swatch[i].tag, say(t, _("unburnt half kept: %s"), s->swatch[i].kept));
    for (size_t i = 0; i < s->standings; i++)
        tb_page_pair(p, tb_standing_key(s->standing[i].standing),
                     say(t, "%.*s, %s: %s", DAY(s->standing[i].settled_at), s->standing[i].settled_by,
                         s->standing[i].why));
}

static void stake(struct page *p, const struct story *s, struct tb_text *t)
{
    tb_page_heading(p, _("What is at stake"));
    tb_page_pair(p, _("Bolts"), say(t, "%lld", (long long)s->lot.bolts));
    tb_page_pair(p, _("Length"), say(t, _("%.1f m as declared"), s->lot.metres));
    if (isfinite(s->lot.unit_price)) {
        tb_page_pair(p, _("Price"), say(t, _("%.2f %s a metre"), s->lot.unit_price, s->lot.currency));
        tb_page_pair(p, _("Value"), say(t, "%.2f %s", s->lot.unit_price * s->lot.metres, s->lot.currency));
    } else {
        tb_page_pair(p, _("Value"), _("no price is recorded"));
    }
}

static void asked(struct page *p, const struct story *s)
{
    const char *words = tb_story_text(s, "asked"), *day = tb_story_text(s, "answer_by");

    tb_page_heading(p, _("What is asked"));
    tb_page_text(
        p, words[0]
               ? words
               : _("Please say what you know of this cloth: the yarn and its maker, the records of this lot, "
                   "any analysis you hold. Please say whether you agree to a joint sample, drawn from bolts "
                   "both sides choose, sealed before both, and analysed by a laboratory both accept."));
    if (day[0])
        tb_page_pair(p, _("Answer asked by"), day);
}

/* --- the rest ---------------------------------------------------------------------------------------------------- */

static void glossary(struct page *p)
{
    tb_page_heading(p, _("Words"));
    tb_page_pair(p, _("lot"), _("one article and shade of a delivery, under one declaration"));
    tb_page_pair(p, _("swatch"),
                 _("a piece cut from a bolt, with a number of its own; half of it is kept unburnt"));
    tb_page_pair(p, _("cue"), _("one thing seen, smelt or felt when a swatch burns, written channel:cue"));
    tb_page_pair(p, _("evidence ratio"),
                 _("how many times likelier the observations are if the declared fibres are there "
                   "than if anything else is that burns differently"));
    tb_page_pair(p, _("fits, contradicts, undecided"),
                 _("the ratio is above the upper limit, below the lower one, or between them"));
    tb_page_pair(p, _("journal"),
                 _("the record of the warehouse to which rows are only added; each row carries the digest "
                   "of the one before"));
}

static void cautions(struct page *p, const struct story *s)
{
    struct tb_declaration d;
    struct tb_arena mem = { 0 };
    const struct tb_caution *c = NULL;
    size_t n = 0;

    tb_page_heading(p, _("Cautions"));
    tb_page_text(
        p,
        _("Burning cloth gives flame, hot drips and poisonous fumes. It belongs at a place where flame work "
          "is "
          "permitted, done by trained people; local fire code and the employer's rules come first. This file "
          "informs; it is not legal advice, and the official texts and your own counsel decide."));
    tb_declaration_read(&d, s->lot.declared, strlen(s->lot.declared));
    tb_bench_cautions(&c, &n, &d.comp, "burn", &mem);
    for (size_t i = 0; i < n; i++)
        tb_page_small(p, c[i].say);
    tb_declaration_free(&d);
    tb_arena_free(&mem);
}

static void how_to_check(struct page *p, const struct story *s, struct tb_text *t)
{
    const json_t *journal = json_object_get(json_object_get(s->data, "extract"), "journal");
    const json_t *last = json_array_get(journal, json_array_size(journal) - 1);
    const char *digest = json_string_value(json_object_get(last, "digest"));

    tb_page_heading(p, _("How to check this file"));
    tb_page_text(
        p, say(t, _("The data of this file are attached to it: the records as they were written, and the "
                    "journal rows "
                    "over them. \"tenterbook prove --case FILE.pdf\" computes every digest again, draws "
                    "these pages "
                    "again from the data and compares them; with \"--against BOOK\" it also compares the "
                    "journal with "
                    "the book it came from. Keep the digests below elsewhere: they show any later change.")));
    tb_page_pair(p, _("Data, SHA-256"), s->sha256);
    tb_page_pair(p, _("Last journal row"),
                 say(t, "%lld, %s", (long long)json_integer_value(json_object_get(last, "number")),
                     digest ? digest : ""));
    if (s->judgeds)
        tb_page_pair(p, _("Reference of the verdict"), s->judged[s->judgeds - 1].reference);
    tb_page_pair(p, _("Made"),
                 say(t, _("%s by %s, program %s"), tb_story_text(s, "made"), tb_story_text(s, "by"),
                     tb_story_text(s, "program")));
}

struct drawing {
    struct story *story;
    struct page page;
};

static void draw_all(cairo_t *c, void *arg)
{
    struct drawing *d = arg;
    struct story *s = d->story;
    struct page *p = &d->page;
    struct tb_text t = { 0 };

    p->c = c;
    tb_page_begin(p);
    tb_page_title(p, say(&t, _("Case %s"), s->lot.ref));
    tb_page_text(p, say(&t, _("Cloth of %s, received %s at %s. Made %.*s by %s."), s->lot.supplier_name,
                        s->lot.arrived, tb_book_site(s->book)->name, DAY(tb_story_text(s, "made")),
                        tb_story_text(s, "by")));
    claimed(p, s, &t);
    found(p, s, &t);
    rule(p, s);
    cues(p, s);
    burns(p, s, &t);
    photos(p, s, &t);
    limits(p, s, &t);
    bench_and_laboratory(p, s, &t);
    coverage(p, s, &t);
    custody(p, s, &t);
    stake(p, s, &t);
    asked(p, s);
    glossary(p);
    cautions(p, s);
    how_to_check(p, s, &t);
    tb_page_end(p);
    tb_text_free(&t);
}

/* --- the file ---------------------------------------------------------------------------------------------------- */

/* One drawing; total 0 counts the pages only. */
static tb_rc draw_on(struct tb_text *out, int *pages, struct story *s, int total, struct tb_err *err)
{
    struct tb_text title = { 0 }, foot = { 0 };
    struct drawing d = { s, { .total = total, .tagged = true } };
    struct paper how = { PAGE_WIDTH, PAGE_HEIGHT, NULL, tb_story_text(s, "made") };
    tb_rc rc;

    tb_text_addf(&title, _("Case %s, %s"), s->lot.ref, s->lot.supplier_name);
    tb_text_addf(&foot, _("Case %s \xC2\xB7 data SHA-256 %.32s..."), s->lot.ref, s->sha256);
    how.title = title.s;
    d.page.foot = foot.s;
    rc = tb_paper_pdf(out, &how, draw_all, &d, err);
    *pages = d.page.number;
    tb_text_free(&title);
    tb_text_free(&foot);
    return rc;
}

static tb_rc attach(struct tb_text *out, const struct story *s, struct tb_err *err)
{
    char *text = tb_case_text(s->data);
    struct tb_text name = { 0 };
    tb_rc rc;

    tb_text_addf(&name, "case-%s.json", s->lot.ref);
    rc = tb_pdf_attach(out, tb_text_str(&name), "application/json", tb_story_text(s, "made"), text,
                       strlen(text), err);
    tb_text_free(&name);
    free(text);
    return rc;
}

tb_rc tb_case_pdf(struct tb_text *out, const json_t *data, struct tb_err *err)
{
    struct story s;
    int pages = 0;
    tb_rc rc = tb_story_open(&s, data, err);

    if (rc != TB_OK)
        return rc;
    if ((rc = draw_on(NULL, &pages, &s, 0, err)) == TB_OK &&
        (rc = draw_on(out, &pages, &s, pages, err)) == TB_OK)
        rc = attach(out, &s, err);
    if (rc != TB_OK)
        rc = tb_within(err, rc, _("case of lot %s"), s.lot.ref);
    tb_story_close(&s);
    return rc;
}

tb_rc tb_case_write(const char *path, const json_t *data, struct tb_err *err)
{
    struct tb_text pdf = { 0 };
    struct tb_outfile out = { 0 };
    tb_rc rc = tb_case_pdf(&pdf, data, err);

    if (rc == TB_OK && (rc = tb_paper_put(&out, path, &pdf, err)) == TB_OK)
        rc = tb_outfile_commit(&out, err);
    tb_text_free(&pdf);
    return rc;
}
