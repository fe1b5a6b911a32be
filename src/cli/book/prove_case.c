/* prove --case: does a case file agree with itself, and with the book it came from. */
#include "cli/book/prove.h"
#include "cli/show.h"
#include "tenterbook/case.h"

#include <math.h>
#include <string.h>

static tb_rc print_json(struct tb_ctx *ctx, const struct tb_case_proof *p, bool against, struct tb_err *err)
{
    json_t *j = json_pack(
        "{s:b, s:s, s:s, s:s, s:I, s:I, s:I, s:I, s:s, s:b, s:b, s:o, s:o}", "agrees", !p->wrong.n, "lot",
        p->lot, "made", p->made, "data_sha256", p->data, "journal_rows", (json_int_t)p->journal, "facts",
        (json_int_t)p->facts, "facts_with_others", (json_int_t)p->partly, "last_row", (json_int_t)p->last,
        "last_digest", p->digest, "pages", p->pages, "verdict_computed", p->judged, "wrong",
        tb_json_lines(tb_text_str(&p->wrong)), "notes", tb_json_lines(tb_text_str(&p->notes)));

    if (against)
        tb_json_put(j, "later_rows", json_integer((json_int_t)p->later));
    return tb_print_json(ctx, j, err);
}

/* What was checked is told before what does not agree, and what could not be checked beside it. */
static void print_words(FILE *out, const struct tb_case_proof *p, bool against)
{
    tb_say(out, "Case %s, made %s; data SHA-256 %s\n", p->lot, p->made, p->data);
    (void)fprintf(out,
                  _n("%lld journal row computed again, the last is %lld, %s\n",
                     "%lld journal rows computed again, the last is %lld, %s\n", p->journal),
                  (long long)p->journal, (long long)p->last, p->digest);
    (void)fprintf(out,
                  _n("%lld record is covered by digests computed again; %lld were recorded together with "
                     "other lots' and are covered only by the book\n",
                     "%lld records are covered by digests computed again; %lld were recorded together with "
                     "other lots' and are covered only by the book\n",
                     p->facts),
                  (long long)p->facts, (long long)p->partly);
    if (p->judged)
        tb_say(out, "verdict computed again: evidence ratio %.6g, the file says %.6g\n", exp(p->ratio),
               exp(p->recorded));
    if (p->pages)
        tb_say(out, "the pages are those that the data give\n");
    if (against)
        (void)fprintf(out,
                      _n("compared with the book, which has %lld journal row after these\n",
                         "compared with the book, which has %lld journal rows after these\n", p->later),
                      (long long)p->later);
    if (p->notes.n)
        tb_say(out, "Not checked: %s", tb_text_str(&p->notes));
    if (p->wrong.n)
        tb_say(out, "Does not agree:\n%s", tb_text_str(&p->wrong));
    else
        tb_say(out, "Everything that was checked agrees.\n");
}

/* The command fails with the first difference in its sentence, so that a script sees it. */
static tb_rc first_wrong(const struct tb_case_proof *p, struct tb_err *err)
{
    const char *s = tb_text_str(&p->wrong);

    return *s ? tb_fail(err, TB_EFORMAT, "the case file does not agree with itself or with the book: %.*s",
                        (int)strcspn(s, "\n"), s)
              : TB_OK;
}

tb_rc tb_prove_case(struct tb_ctx *ctx, const char *path, struct tb_err *err)
{
    const char *book = tb_opt(ctx, "against");
    struct tb_book *against = NULL;
    struct tb_case_proof p = { 0 };
    tb_rc rc = book ? tb_book_open(&against, book, NULL, err) : TB_OK;

    if (rc == TB_OK)
        rc = tb_case_prove(&p, path, against, err);
    if (rc == TB_OK && ctx->json)
        rc = print_json(ctx, &p, against != NULL, err);
    else if (rc == TB_OK)
        print_words(ctx->out, &p, against != NULL);
    if (rc == TB_OK)
        rc = first_wrong(&p, err);
    tb_case_proof_free(&p);
    tb_book_close(against);
    return rc;
}
