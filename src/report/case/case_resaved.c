/*
 * case_resaved.c - a case file whose bytes are not those its data give: was it only saved anew, or are its pages others?
 *
 * Somebody else made it, so the two are compared in a process apart.
 */
#include "report/case/case_impl.h"

#include "base/apart.h"
#include "report/draw/pdf_compare.h"

#include <string.h>

struct answer {
    int32_t likeness, page;
};

struct question {
    struct pdf_pair pair;
    struct answer answer;
    bool answered;
};

static tb_rc compare(struct tb_apart *to, void *arg, struct tb_err *err)
{
    const struct question *q = arg;
    enum pdf_likeness likeness = PDF_OTHER;
    int page = 0;
    tb_rc rc = tb_pdf_compare(&likeness, &page, &q->pair, err);
    const struct answer a = { (int32_t)likeness, page };

    if (rc == TB_OK)
        tb_apart_send(to, &a, sizeof a);
    return rc;
}

static tb_rc take(void *arg, const unsigned char *part, size_t n, bool *yes, struct tb_err *err)
{
    struct question *q = arg;

    (void)yes;
    if (n != sizeof q->answer)
        return tb_fail(err, TB_EFORMAT, "what was read of the file does not make sense");
    memcpy(&q->answer, part, n);
    q->answered = true;
    return TB_OK;
}

/* Where the pages say something else, which of them; where they could not be compared, why. */
void tb_case_resaved(struct tb_case_proof *out, const struct tb_text *pdf, const struct tb_text *again)
{
    struct question q = { .pair = { pdf->s, again->s, pdf->n, again->n } };
    const struct tb_apart_job job = {
        .read = compare, .take = take, .arg = &q, .before = tb_pdf_compare_before, .file = -1
    };
    struct tb_err why = { 0 };

    if (tb_apart(&job, &why) != TB_OK || !q.answered) {
        tb_case_line(&out->notes,
                     _("the file is not as it was made, and its pages could not be compared: %s"), why.msg);
    } else if (q.answer.likeness == PDF_SAME_PAGES) {
        out->pages = out->saved_anew = true;
    } else if (q.answer.likeness == PDF_LOOKS) {
        out->saved_anew = true;
        tb_case_line(&out->notes,
                     _("the file was saved anew by a program that draws pages in its own way: on every page "
                       "the words are those that the data give, and it looks the same at a dot a point; what "
                       "is finer than that could not be compared"));
    } else if (q.answer.likeness == PDF_WORDS) {
        out->looks = true;
        tb_case_line(
            &out->wrong,
            _("page %d does not look as the data give it: something lies over it, or a picture is another or "
              "was made coarser; on every page each word is the one that the data give, at its place"),
            (int)q.answer.page);
    } else if (q.answer.page > 0) {
        tb_case_line(&out->wrong,
                     _("the pages are not those that the data give: the file was changed, first on page %d"),
                     (int)q.answer.page);
    } else {
        tb_case_line(&out->wrong,
                     _("the pages are not those that the data give: there are more or fewer of them"));
    }
}
