/*
 * case_prove.c - does a case file agree with itself: digests, pages, verdict; and with the book it came from.
 *
 * What does not agree is an answer and is collected, sentence by sentence; only a file that cannot be read is a failure.
 * What cannot be checked here, because another program or model made the file, is told apart from what is wrong.
 */
#include "report/case/case_impl.h"

#include "report/draw/pdf_attach.h"
#include "report/draw/pen.h"
#include "tenterbook/extract.h"
#include "tenterbook/work.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define FILE_MOST (1u << 30)
#define RATIO_SLACK 1e-9 /* of a logarithm: what another processor may round otherwise */

static void TB_PRINTF(2, 3) line(struct tb_text *t, const char *fmt, ...)
{
    va_list ap;

    va_start(ap, fmt);
    tb_text_vaddf(t, fmt, ap);
    va_end(ap);
    tb_text_addc(t, '\n');
}

/* Bounded: somebody else made the file, and it is held in memory as a whole. */
static tb_rc read_file(struct tb_text *out, const char *path, struct tb_err *err)
{
    FILE *f = fopen(path, "rb");
    char buffer[65536];
    size_t n;
    bool bad;

    if (!f)
        return tb_fail(err, errno == ENOENT ? TB_ENOTFOUND : TB_EIO, "%s cannot be read: %s", path,
                       strerror(errno));
    while (out->n <= FILE_MOST && (n = fread(buffer, 1, sizeof buffer, f)) > 0)
        tb_text_addn(out, buffer, n);
    bad = ferror(f) != 0;
    (void)fclose(f);
    if (bad)
        return tb_fail(err, TB_EIO, "%s cannot be read", path);
    return out->n > FILE_MOST ? tb_fail(err, TB_EFORMAT, "%s is too large for a case file", path) : TB_OK;
}

/* A member that is given twice would let two readers see two cases. */
static tb_rc parse(json_t **out, const struct tb_text *text, struct tb_err *err)
{
    json_error_t why;

    *out = json_loadb(text->s, text->n, JSON_REJECT_DUPLICATES, &why);
    if (*out)
        return TB_OK;
    (void)tb_fail(err, TB_EFORMAT, "the data attached to this file cannot be read");
    tb_detail(err, "line %d: %s", why.line, why.text);
    return TB_EFORMAT;
}

static tb_rc data_of(json_t **out, const struct tb_text *pdf, struct tb_err *err)
{
    struct tb_text text = { 0 };
    tb_rc rc = tb_pdf_attached(&text, tb_text_str(pdf), pdf->n, err);

    if (rc == TB_OK)
        rc = parse(out, &text, err);
    tb_text_free(&text);
    return rc;
}

/* The digest of the data in their usual form: the one printed on the pages. */
static tb_rc facts(struct tb_case_proof *out, const json_t *data, struct tb_book *against, struct tb_err *err)
{
    struct tb_extract_proof p;
    const json_t *extract = json_object_get(data, "extract");
    tb_rc rc = tb_extract_prove(&p, extract, out->lot, err);

    if (rc == TB_OK && against)
        rc = tb_extract_against(&p, &out->later, extract, out->lot, out->made, against, err);
    tb_text_add(&out->wrong, tb_text_str(&p.wrong));
    out->journal = p.journal;
    out->facts = p.facts;
    out->partly = p.partly;
    out->last = p.last;
    (void)snprintf(out->digest, sizeof out->digest, "%s", p.digest);
    tb_extract_proof_free(&p);
    return rc;
}

/*
 * A verdict can be computed again only with the figures it was computed with: their digest is its reference. With others
 * nothing is said against the file.
 */
static void compare_verdict(struct tb_case_proof *out, const struct tb_verdict *v,
                            const struct tb_stored_verdict *said)
{
    out->ratio = v->log_ratio;
    out->recorded = said->log_ratio;
    if (strcmp(said->reference, v->digest) != 0) {
        line(&out->notes,
             _("the verdict was computed with reference %s, this program has %s: it cannot be computed "
               "again here"),
             said->reference, v->digest);
        return;
    }
    out->judged = true;
    if (said->kind != v->kind)
        line(&out->wrong, _("the file says the verdict is '%s'; from its burns it is '%s'"),
             tb_verdict_key(said->kind), tb_verdict_key(v->kind));
    else if (isnan(out->ratio) != isnan(out->recorded) ||
             (isfinite(out->ratio) && fabs(out->ratio - out->recorded) > RATIO_SLACK))
        line(&out->wrong, _("the file says the evidence ratio is %.6g; from its burns it is %.6g"),
             exp(out->recorded), exp(out->ratio));
}

/* Judged from the book that was built of the data, as any lot is judged. */
static tb_rc verdict(struct tb_case_proof *out, const struct story *s, struct tb_err *err)
{
    struct tb_stored_verdict none = { .reference = "", .log_ratio = NAN };
    struct tb_evidence *ev = NULL;
    struct tb_lot_verdict v;
    tb_rc rc = tb_bench_model(&ev, s->book, err);

    if (rc == TB_OK && (rc = tb_bench_judge(&v, s->book, &s->lot, ev, 0, TB_BOOK_NOW, err)) == TB_OK) {
        if (v.observations || s->judged_now)
            compare_verdict(out, &v.verdict, s->judged_now ? &s->verdict : &none);
        tb_lot_verdict_free(&v);
    }
    tb_evidence_free(ev);
    if (rc == TB_EINVAL) {
        /* a cue or test this program does not know: the data are of another version, or forged */
        line(&out->wrong, _("the verdict cannot be computed again: %s"), err->msg);
        rc = TB_OK;
    }
    return rc;
}

/* Another program, library or type face may draw the same data otherwise: then nothing can be said of the pages. */
static bool drawn_alike(struct tb_case_proof *out, const struct story *s)
{
    struct tb_text maker = { 0 };
    bool alike;

    tb_pen_maker(&maker);
    alike = strcmp(s->program, TB_VERSION) == 0 && strcmp(s->drawn_with, tb_text_str(&maker)) == 0;
    if (!alike)
        line(&out->notes,
             _("the pages were drawn by program %s with %s, here they would be by %s with %s: they could not "
               "be compared"),
             s->program, s->drawn_with, TB_VERSION, tb_text_str(&maker));
    tb_text_free(&maker);
    return alike;
}

static tb_rc pages(struct tb_case_proof *out, const struct story *s, const struct tb_text *pdf,
                   struct tb_err *err)
{
    struct tb_text again = { 0 };
    tb_rc rc = drawn_alike(out, s) ? tb_case_pdf(&again, s->data, err) : TB_OK;

    if (rc == TB_OK && again.n) {
        out->pages = again.n == pdf->n && memcmp(again.s, pdf->s, pdf->n) == 0;
        if (!out->pages)
            line(&out->wrong, _("the pages are not those that the data give: the file was changed"));
    }
    tb_text_free(&again);
    return rc;
}

/* The cheap checks first; pages are drawn last, and only where they can come out alike. */
tb_rc tb_case_prove(struct tb_case_proof *out, const char *path, struct tb_book *against, struct tb_err *err)
{
    struct tb_text pdf = { 0 };
    struct story s;
    json_t *data = NULL;
    tb_rc rc = read_file(&pdf, path, err);

    *out = (struct tb_case_proof){ .ratio = NAN, .recorded = NAN };
    if (rc != TB_OK) {
        tb_text_free(&pdf);
        return rc;
    }
    if ((rc = data_of(&data, &pdf, err)) == TB_OK && (rc = tb_story_open(&s, data, err)) == TB_OK) {
        (void)snprintf(out->lot, sizeof out->lot, "%s", s.lot.ref);
        (void)snprintf(out->made, sizeof out->made, "%s", s.made);
        (void)snprintf(out->data, sizeof out->data, "%s", s.sha256);
        if ((rc = facts(out, data, against, err)) == TB_OK && (rc = verdict(out, &s, err)) == TB_OK)
            rc = pages(out, &s, &pdf, err);
        tb_story_close(&s);
    }
    if (rc != TB_OK)
        rc = tb_within(err, rc, "%s", path);
    json_decref(data);
    tb_text_free(&pdf);
    return rc;
}

void tb_case_proof_free(struct tb_case_proof *p)
{
    tb_text_free(&p->wrong);
    tb_text_free(&p->notes);
}
