/*
 * case_prove.c - does a case file agree with itself: digests, pages, verdict; and with the book it came from.
 *
 * What does not agree is an answer and is collected, sentence by sentence; only a file that cannot be read is a failure.
 * What cannot be checked here, because another program or model made the file, is told apart from what is wrong.
 */
#include "report/case/case_impl.h"

#include "report/draw/pen.h"
#include "tenterbook/extract.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void tb_case_line(struct tb_text *t, const char *fmt, ...)
{
    va_list ap;

    va_start(ap, fmt);
    tb_text_vaddf(t, fmt, ap);
    va_end(ap);
    tb_text_addc(t, '\n');
}

/* What the facts of the file prove, of themselves and against the book. */
static tb_rc facts(struct tb_case_proof *out, const json_t *data, struct tb_book *against,
                   const struct tb_held *held, struct tb_err *err)
{
    struct tb_extract_proof p;
    const json_t *extract = json_object_get(data, "extract");
    tb_rc rc = tb_extract_prove(&p, extract, out->lot, err);

    if (rc == TB_OK && against)
        rc = tb_extract_against(&p, &out->later, extract, out->lot, out->made, against, err);
    if (rc == TB_OK)
        rc = tb_extract_held(&p, extract, held, err);
    tb_text_add(&out->wrong, tb_text_str(&p.wrong));
    out->journal = p.journal;
    out->facts = p.facts;
    out->partly = p.partly;
    out->shared = p.shared;
    out->named = p.named;
    out->absent = p.absent;
    out->kept_back = p.kept_back;
    out->ours = p.ours;
    out->misnamed = p.misnamed;
    out->compared = p.compared;
    out->beyond = p.beyond;
    out->last = p.last;
    out->newer_rows = p.newer_rows;
    out->newer = p.newer;
    p.newer = (struct tb_text){ 0 };
    out->stamp = p.stamp;
    out->stamps = p.stamps;
    p.stamp = NULL;
    (void)snprintf(out->digest, sizeof out->digest, "%s", p.digest);
    tb_extract_proof_free(&p);
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
        tb_case_line(
            &out->notes,
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
        if (!out->pages && s->form < TB_EXTRACT_FORM_STAMPS)
            tb_case_line(
                &out->notes,
                _("the pages were drawn by an older program, and here they come out otherwise: they could "
                  "not be compared"));
        else if (!out->pages)
            tb_case_resaved(out, pdf, &again);
    }
    tb_text_free(&again);
    return rc;
}

/* The cheap checks first; pages are drawn last, and only where they can come out alike. */
tb_rc tb_case_prove(struct tb_case_proof *out, const char *path, struct tb_book *against,
                    const struct tb_held *held, struct tb_err *err)
{
    struct tb_text pdf = { 0 };
    struct story s;
    json_t *data = NULL;
    tb_rc rc = tb_case_read(&pdf, path, err);

    *out = (struct tb_case_proof){ .ratio = NAN, .recorded = NAN };
    if (rc != TB_OK) {
        tb_text_free(&pdf);
        return rc;
    }
    if ((rc = tb_case_attached(&data, &pdf, err)) == TB_OK && (rc = tb_story_open(&s, data, err)) == TB_OK) {
        (void)snprintf(out->lot, sizeof out->lot, "%s", s.of.lot.ref);
        (void)snprintf(out->made, sizeof out->made, "%s", s.made);
        (void)snprintf(out->data, sizeof out->data, "%s", s.sha256);
        if ((rc = facts(out, data, against, held, err)) == TB_OK &&
            (rc = tb_case_judge_again(out, &s, err)) == TB_OK)
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
    tb_text_free(&p->newer);
    free(p->stamp);
}
