/* prove --case: does a case file agree with itself, with the book it came from, and with what was noted of that book. */
#include "cli/book/prove.h"
#include "tenterbook/case.h"

#include <math.h>
#include <string.h>

/* Time stamps of which nobody looked who signed them. */
static int64_t untrusted(const struct tb_case_proof *p)
{
    int64_t n = 0;

    for (size_t i = 0; i < p->stamps; i++)
        n += !p->stamp[i].trusted;
    return n;
}

/* Certificates are named, and the file brings nothing that they could vouch for. */
static bool unstamped(const struct tb_case_proof *p, const struct tb_held *held)
{
    return held->authority && !p->stamps && !p->wrong.n;
}

/* Things of the file that could be checked by nothing that is here; pages and verdict have a note each. */
static int64_t unchecked(const struct tb_case_proof *p, const struct tb_held *held)
{
    int64_t n = p->named + p->partly + p->shared + p->absent + p->kept_back + p->beyond + untrusted(p) +
                unstamped(p, held);

    for (const char *s = tb_text_str(&p->notes); *s; s++)
        n += *s == '\n';
    return n;
}

static json_t *stamps_json(const struct tb_case_proof *p)
{
    json_t *list = json_array();

    for (size_t i = 0; i < p->stamps; i++) {
        const struct tb_extract_stamp *s = &p->stamp[i];

        tb_json_push(list, json_pack("{s:I, s:s, s:s, s:s, s:I, s:b}", "row", (json_int_t)s->shown.number,
                                     "at", s->shown.at, "by", s->shown.by, "serial", s->shown.serial, "facts",
                                     (json_int_t)s->facts, "signature_checked", s->trusted));
    }
    return list;
}

static tb_rc print_json(struct tb_ctx *ctx, const struct tb_case_proof *p, bool against,
                        const struct tb_held *held, struct tb_err *err)
{
    json_t *j =
        json_pack("{s:b, s:s, s:s, s:s, s:I, s:I, s:I, s:s, s:b, s:b, s:o, s:o}", "agrees", !p->wrong.n,
                  "lot", p->lot, "made", p->made, "data_sha256", p->data, "journal_rows",
                  (json_int_t)p->journal, "facts", (json_int_t)p->facts, "last_row", (json_int_t)p->last,
                  "last_digest", p->digest, "pages", p->pages, "verdict_computed", p->judged, "wrong",
                  tb_json_lines(tb_text_str(&p->wrong)), "notes", tb_json_lines(tb_text_str(&p->notes)));

    tb_json_put(j, "facts_with_others", json_integer((json_int_t)p->partly));
    tb_json_put(j, "unchecked",
                json_pack("{s:I, s:I, s:I, s:I, s:I, s:I, s:I, s:b, s:b}", "journal_rows",
                          (json_int_t)p->named, "facts", (json_int_t)p->partly, "rows_of_several_lots",
                          (json_int_t)p->shared, "attachments_left_out", (json_int_t)p->absent,
                          "dispute_records_kept_back", (json_int_t)p->kept_back, "noted_rows",
                          (json_int_t)p->beyond, "time_stamps",
                          (json_int_t)(untrusted(p) + unstamped(p, held)), "verdict", p->unjudged, "pages",
                          !p->pages));
    tb_json_put(j, "own_label_kept_back", json_integer((json_int_t)p->ours));
    tb_json_put(j, "other_supplier_kept_back", json_integer((json_int_t)p->misnamed));
    tb_json_put(j, "saved_anew", json_boolean(p->saved_anew));
    tb_json_put(j, "time_stamps", stamps_json(p));
    if (held->anchors)
        tb_json_held(j, held);
    if (against) {
        tb_json_put(j, "facts_compared", json_integer((json_int_t)p->compared));
        tb_json_put(j, "later_rows", json_integer((json_int_t)p->later));
        tb_json_put(j, "later_rows_of_lot", tb_json_lines(tb_text_str(&p->newer)));
    }
    return tb_print_json(ctx, j, err);
}

/* What was checked, before what does not agree. */
static void print_checked(FILE *out, const struct tb_case_proof *p, bool against)
{
    tb_say(out, "Case %s, made %s; data SHA-256 %s\n", p->lot, p->made, p->data);
    (void)fprintf(out,
                  _n("%lld journal row computed again, the last is %lld, %s\n",
                     "%lld journal rows computed again, the last is %lld, %s\n", p->journal),
                  (long long)p->journal, (long long)p->last, p->digest);
    (void)fprintf(out,
                  _n("%lld record is covered by digests computed again\n",
                     "%lld records are covered by digests computed again\n", p->facts),
                  (long long)p->facts);
    if (p->ours)
        (void)fprintf(out,
                      _n("%lld of them, of the label that the buyer gave the lot and of verdicts on it, is "
                         "there by its "
                         "digest alone\n",
                         "%lld of them, of the label that the buyer gave the lot and of verdicts on it, are "
                         "there by their "
                         "digests alone\n",
                         p->ours),
                      (long long)p->ours);
    if (p->misnamed)
        (void)fprintf(
            out,
            _n("%lld of them, of another supplier under whom the delivery was booked by mistake, is "
               "there by its digest alone\n",
               "%lld of them, of another supplier under whom the delivery was booked by mistake, are "
               "there by their digests alone\n",
               p->misnamed),
            (long long)p->misnamed);
    if (p->judged && !isfinite(p->ratio) && !isfinite(p->recorded))
        tb_say(out, "verdict computed again: what was seen cannot be held against a declaration\n");
    else if (p->judged)
        tb_say(out, "verdict computed again: log ratio %.6g, the file says %.6g\n", p->ratio, p->recorded);
    if (p->pages && p->saved_anew)
        tb_say(out,
               "the pages are those that the data give: another program saved the file anew, and the data "
               "attached and what each page draws, its words, lines, type faces and pictures, did not "
               "change\n");
    else if (p->pages)
        tb_say(out, "the pages are those that the data give\n");
    if (against) {
        (void)fprintf(
            out,
            _n("%lld record compared with the book\n", "%lld records compared with the book\n", p->compared),
            (long long)p->compared);
        (void)fprintf(out,
                      _n("compared with the book, which has %lld journal row after these\n",
                         "compared with the book, which has %lld journal rows after these\n", p->later),
                      (long long)p->later);
    }
    for (const char *s = tb_text_str(&p->newer); *s; s += strcspn(s, "\n") + 1)
        tb_say(out, "Later in the book, about this lot: %.*s\n", (int)strcspn(s, "\n"), s);
}

/* What a note or a key shows of a case, and what it does not. */
static void print_held(FILE *out, const struct tb_case_proof *p, const struct tb_held *held)
{
    for (size_t i = 0; i < held->anchors; i++) {
        int64_t n = held->anchor[i].number, after = p->last - n;

        if (after >= 0)
            (void)fprintf(
                out,
                _n("Journal row %lld has the digest that was noted: what the case tells of it and of "
                   "every row before is what stood in the book then. It tells %lld row after it.\n",
                   "Journal row %lld has the digest that was noted: what the case tells of it and of "
                   "every row before is what stood in the book then. It tells %lld rows after it.\n",
                   after),
                (long long)n, (long long)after);
    }
    if (held->key)
        tb_say(
            out,
            "The key that is known signed the last row of the case, or vouched for the one that did. It does "
            "not show whether the book went on after that row.\n");
}

/* What a time stamp covers, and where a clock was ahead. */
static void print_stamps(FILE *out, const struct tb_case_proof *p, const struct tb_held *held)
{
    const struct tb_extract_stamp *s = p->stamp;

    for (size_t i = 0; i < p->stamps; i++, s++) {
        (void)fprintf(
            out,
            _n("Time stamp of journal row %lld: %lld of the %lld covered records was in the book by "
               "%s, says %s (serial number %s).\n",
               "Time stamp of journal row %lld: %lld of the %lld covered records were in the book by "
               "%s, says %s (serial number %s).\n",
               s->facts),
            (long long)s->shown.number, (long long)s->facts, (long long)p->facts, s->shown.at,
            *s->shown.by ? s->shown.by : _("an authority without a name"), s->shown.serial);
        if (s->ahead)
            tb_say(out,
                   "Journal row %lld says that it was written at %s, after that moment: the clock of the "
                   "computer was ahead.\n",
                   (long long)s->ahead, s->ahead_said);
    }
    if (p->stamps && held->authority)
        tb_say(out, "Each time stamp is signed under a certificate in %s.\n", held->authority);
}

/* Each kind of thing that was not checked, with the reason; the last line of all counts them. */
static void print_unchecked(FILE *out, const struct tb_case_proof *p, const struct tb_held *held)
{
    if (p->named)
        (void)fprintf(
            out,
            _n("Not checked: %lld journal row of an older program stands here by its digest alone\n",
               "Not checked: %lld journal rows of an older program stand here by their digests alone\n",
               p->named),
            (long long)p->named);
    if (p->partly)
        (void)fprintf(
            out,
            _n("Not checked: %lld record was recorded by an older program together with other lots'\n",
               "Not checked: %lld records were recorded by an older program together with other lots'\n",
               p->partly),
            (long long)p->partly);
    if (p->shared)
        (void)fprintf(out,
                      _n("Not checked: %lld journal row of an older program recorded several lots, and does "
                         "not show whether "
                         "all it recorded of this one is here\n",
                         "Not checked: %lld journal rows of an older program recorded several lots, and do "
                         "not show whether "
                         "all they recorded of this one is here\n",
                         p->shared),
                      (long long)p->shared);
    if (p->absent)
        (void)fprintf(out,
                      _n("Not checked: %lld photograph or paper was left out for its size\n",
                         "Not checked: %lld photographs or papers were left out for their size\n", p->absent),
                      (long long)p->absent);
    if (p->kept_back)
        (void)fprintf(
            out,
            _n("Not checked: the file keeps back %lld record of a dispute about this lot, which its "
               "journal rows name\n",
               "Not checked: the file keeps back %lld records of disputes about this lot, which its "
               "journal rows name\n",
               p->kept_back),
            (long long)p->kept_back);
    if (p->beyond)
        (void)fprintf(out,
                      _n("Not checked: %lld noted row came after the last row of the case, which is %lld\n",
                         "Not checked: %lld noted rows came after the last row of the case, which is %lld\n",
                         p->beyond),
                      (long long)p->beyond, (long long)p->last);
    if (untrusted(p))
        (void)fprintf(
            out,
            _n("Not checked: who signed %lld time stamp, since no certificates are named (--authority)\n",
               "Not checked: who signed %lld time stamps, since no certificates are named "
               "(--authority)\n",
               untrusted(p)),
            (long long)untrusted(p));
    if (unstamped(p, held))
        tb_say(out, "Not checked: when the records were in the book; no time stamp in the file covers one\n");
    for (const char *s = tb_text_str(&p->notes); *s; s += strcspn(s, "\n") + 1)
        tb_say(out, "Not checked: %.*s\n", (int)strcspn(s, "\n"), s);
}

/* Nothing else is wrong: a gateway that makes pictures smaller does so, and so does who lays something over a page. */
static bool only_looks(const struct tb_case_proof *p)
{
    const char *s = tb_text_str(&p->wrong);

    return p->looks && s[strcspn(s, "\n")] && !s[strcspn(s, "\n") + 1];
}

static void print_words(FILE *out, const struct tb_case_proof *p, bool against, const struct tb_held *held)
{
    print_checked(out, p, against);
    if (!p->wrong.n) {
        print_held(out, p, held);
        print_stamps(out, p, held);
    }
    print_unchecked(out, p, held);
    if (p->wrong.n)
        tb_say(out,
               only_looks(p) ? "The data and every word agree; the look of a page does not:\n%s"
                             : "Does not agree:\n%s",
               tb_text_str(&p->wrong));
    else if (unchecked(p, held))
        (void)fprintf(out,
                      _n("What was checked agrees; %lld thing could not be checked here.\n",
                         "What was checked agrees; %lld things could not be checked here.\n",
                         unchecked(p, held)),
                      (long long)unchecked(p, held));
    else if (p->newer_rows)
        (void)fprintf(
            out,
            _n("Everything that was checked agrees; the book went on, and has %lld later journal row "
               "about this lot.\n",
               "Everything that was checked agrees; the book went on, and has %lld later journal rows "
               "about this lot.\n",
               p->newer_rows),
            (long long)p->newer_rows);
    else if (against)
        tb_say(out, "Everything that was checked agrees, and the book holds nothing else of this lot.\n");
    else
        tb_say(out,
               "Everything that was checked agrees. Whether settings, known cloth or another spelling of the "
               "supplier were left out, and whether the book went on after journal row %lld, only the book "
               "can show: --against BOOK\n",
               (long long)p->last);
}

/* The command fails with the first difference in its sentence, so that a script sees it. */
static tb_rc first_wrong(const struct tb_case_proof *p, struct tb_err *err)
{
    const char *s = tb_text_str(&p->wrong);

    if (!*s)
        return TB_OK;
    return tb_fail(
        err, TB_EFORMAT,
        only_looks(p)
            ? "the data and every word of the case file agree, and the look of a page does not: %.*s"
            : "the case file does not agree with itself or with the book: %.*s",
        (int)strcspn(s, "\n"), s);
}

/* What the case is compared with proves itself, or the comparing says nothing; and it answers for noted rows that the case does not
 * reach. */
static tb_rc prove_against(struct tb_case_proof *p, struct tb_book *against, const struct tb_held *held,
                           struct tb_err *err)
{
    struct tb_proof book;
    tb_rc rc;

    if (!against)
        return TB_OK;
    p->beyond = 0;
    if ((rc = tb_prove_a_book(&book, against, held, err)) != TB_OK)
        tb_text_addf(&p->wrong, "%s\n", err->msg);
    return rc;
}

static tb_rc print(struct tb_ctx *ctx, const struct tb_case_proof *p, bool against,
                   const struct tb_held *held, struct tb_err *err)
{
    if (ctx->json)
        return print_json(ctx, p, against, held, err);
    print_words(ctx->out, p, against, held);
    return TB_OK;
}

/* What is wrong with the case is told first, also where the book does not prove. */
tb_rc tb_prove_a_case(struct tb_ctx *ctx, const char *path, const struct tb_held *held, struct tb_err *err)
{
    const char *book = tb_opt(ctx, "against");
    struct tb_err of_book = { 0 };
    struct tb_book *against = NULL;
    struct tb_case_proof p = { 0 };
    tb_rc rc = book ? tb_book_open(&against, book, NULL, err) : TB_OK;

    if (rc == TB_OK && (rc = tb_case_prove(&p, path, against, held, err)) == TB_OK) {
        bool forged = p.wrong.n > 0;
        tb_rc proved = prove_against(&p, against, held, &of_book);

        if ((rc = print(ctx, &p, against != NULL, held, err)) == TB_OK && forged)
            rc = first_wrong(&p, err);
        else if (rc == TB_OK && (rc = proved) != TB_OK)
            *err = of_book;
    }
    tb_case_proof_free(&p);
    tb_book_close(against);
    return rc;
}
