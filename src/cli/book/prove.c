/* prove: walk the journal and compute every digest again. */
#include "cli/show.h"
#include "tenterbook/anchor.h"
#include "tenterbook/case.h"

#include <math.h>
#include <string.h>

static tb_rc print_book_json(struct tb_ctx *ctx, const struct tb_proof *p, const struct tb_held *held,
                             struct tb_err *err)
{
    json_t *j = json_pack("{s:b, s:I, s:I, s:I, s:I, s:s, s:o}", "fits", p->fits, "rows", (json_int_t)p->rows,
                          "rows_by_table", (json_int_t)p->by_table, "facts", (json_int_t)p->facts,
                          "first_bad", (json_int_t)p->first_bad, "digest", p->digest, "why",
                          p->fits ? json_null() : tb_json_text(p->why));
    tb_json_put(j, "written", tb_json_circumstances(&p->circumstances));

    tb_json_put(j, "signed_rows", json_integer((json_int_t)p->signed_rows));
    tb_json_put(j, "last_signed", json_integer((json_int_t)p->last_signed));
    tb_json_put(j, "key", tb_json_text(p->key));
    if (held->anchors) {
        json_t *since = json_array();

        for (size_t i = 0; i < held->anchors; i++)
            (void)json_array_append_new(since, json_integer((json_int_t)held->anchor[i].number));
        tb_json_put(j, "held_since", since);
    }
    if (held->anchors || held->key)
        tb_json_put(j, "differs_from_notes", json_boolean(p->elsewhere));
    return tb_print_json(ctx, j, err);
}

static void print_held(FILE *out, const struct tb_proof *p, const struct tb_held *held)
{
    for (size_t i = 0; i < held->anchors; i++) {
        int64_t n = held->anchor[i].number, after = p->rows - n;

        (void)fprintf(
            out,
            _n("Journal row %lld has the digest that was noted: nothing up to it was cut off or rewritten. "
               "%lld row came after it.\n",
               "Journal row %lld has the digest that was noted: nothing up to it was cut off or rewritten. "
               "%lld rows came after it.\n",
               after),
            (long long)n, (long long)after);
    }
}

/* One signature covers all rows before it; what counts is whether the end is signed. */
static void print_signed(FILE *out, const struct tb_proof *p, const struct tb_held *held)
{
    if (!p->key[0])
        tb_say(out, "No row is signed: the book has no signing key yet.\n");
    else if (p->last_signed < p->rows)
        tb_say(out, "From row %lld on no row is signed: the key %s was not at hand.\n",
               (long long)p->last_signed + 1, p->key);
    else
        tb_say(out, "The last row is signed, and with it every row before it: key %s\n", p->key);
    if (held->key)
        tb_say(out, "The key that is known signed it, or vouched for the one that did.\n");
}

/* The last digest is printed because a shortened journal proves too: only who noted it elsewhere notices. */
static tb_rc print(struct tb_ctx *ctx, const struct tb_proof *p, const struct tb_held *held,
                   struct tb_err *err)
{
    char rows[TB_COUNTED], facts[TB_COUNTED];
    struct tb_text written = { 0 };

    if (ctx->json)
        return print_book_json(ctx, p, held, err);
    tb_say(ctx->out, "%s and %s were walked.\n",
           tb_counted(rows, (size_t)p->rows, _n("journal row", "journal rows", p->rows)),
           tb_counted(facts, (size_t)p->facts, _n("fact", "facts", p->facts)));
    if (p->by_table)
        (void)fprintf(ctx->out,
                      _n("%lld of the journal rows has one digest for each table, as older programs made "
                         "them; the rest "
                         "have one for each fact.\n",
                         "%lld of the journal rows have one digest for each table, as older programs made "
                         "them; the rest "
                         "have one for each fact.\n",
                         p->by_table),
                      (long long)p->by_table);
    tb_circumstances_words(&written, &p->circumstances);
    (void)fputs(tb_text_str(&written), ctx->out);
    tb_text_free(&written);
    if (!p->fits)
        return TB_OK;
    print_signed(ctx->out, p, held);
    print_held(ctx->out, p, held);
    tb_say(ctx->out,
           "Everything fits. The journal ends with %lld:%s\n"
           "Noted elsewhere, this shows later that nothing was cut off or rewritten: prove --since\n",
           (long long)p->rows, p->digest);
    return TB_OK;
}

/* --- a case file: does it agree with itself, and with the book it came from --- */

/* Things of the file that could be checked by nothing that is here. */
static int64_t unchecked(const struct tb_case_proof *p)
{
    return p->named + p->partly + p->absent + p->unjudged + !p->pages;
}

static tb_rc print_json(struct tb_ctx *ctx, const struct tb_case_proof *p, bool against, struct tb_err *err)
{
    json_t *j =
        json_pack("{s:b, s:s, s:s, s:s, s:I, s:I, s:I, s:s, s:b, s:b, s:o, s:o}", "agrees", !p->wrong.n,
                  "lot", p->lot, "made", p->made, "data_sha256", p->data, "journal_rows",
                  (json_int_t)p->journal, "facts", (json_int_t)p->facts, "last_row", (json_int_t)p->last,
                  "last_digest", p->digest, "pages", p->pages, "verdict_computed", p->judged, "wrong",
                  tb_json_lines(tb_text_str(&p->wrong)), "notes", tb_json_lines(tb_text_str(&p->notes)));

    tb_json_put(j, "facts_with_others", json_integer((json_int_t)p->partly));
    tb_json_put(j, "unchecked",
                json_pack("{s:I, s:I, s:I, s:b, s:b}", "journal_rows", (json_int_t)p->named, "facts",
                          (json_int_t)p->partly, "attachments_left_out", (json_int_t)p->absent, "verdict",
                          p->unjudged, "pages", !p->pages));
    if (against) {
        tb_json_put(j, "facts_compared", json_integer((json_int_t)p->compared));
        tb_json_put(j, "later_rows", json_integer((json_int_t)p->later));
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
    if (p->judged)
        tb_say(out, "verdict computed again: evidence ratio %.6g, the file says %.6g\n", exp(p->ratio),
               exp(p->recorded));
    if (p->pages)
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
}

/* Each kind of thing that was not checked, with the reason; the last line of all counts them. */
static void print_unchecked(FILE *out, const struct tb_case_proof *p)
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
    if (p->absent)
        (void)fprintf(out,
                      _n("Not checked: %lld photograph or paper was left out for its size\n",
                         "Not checked: %lld photographs or papers were left out for their size\n", p->absent),
                      (long long)p->absent);
    if (p->notes.n)
        tb_say(out, "Not checked: %s", tb_text_str(&p->notes));
}

static void print_words(FILE *out, const struct tb_case_proof *p, bool against)
{
    print_checked(out, p, against);
    print_unchecked(out, p);
    if (p->wrong.n)
        tb_say(out, "Does not agree:\n%s", tb_text_str(&p->wrong));
    else if (unchecked(p))
        (void)fprintf(out,
                      _n("What was checked agrees; %lld thing could not be checked here.\n",
                         "What was checked agrees; %lld things could not be checked here.\n", unchecked(p)),
                      (long long)unchecked(p));
    else if (against)
        tb_say(out, "Everything that was checked agrees, and the book holds nothing else of this lot.\n");
    else
        tb_say(out,
               "Everything that was checked agrees. Whether records were left out whole, only the book can "
               "show: --against BOOK\n");
}

/* The command fails with the first difference in its sentence, so that a script sees it. */
static tb_rc first_wrong(const struct tb_case_proof *p, struct tb_err *err)
{
    const char *s = tb_text_str(&p->wrong);

    return *s ? tb_fail(err, TB_EFORMAT, "the case file does not agree with itself or with the book: %.*s",
                        (int)strcspn(s, "\n"), s)
              : TB_OK;
}

static tb_rc prove_case(struct tb_ctx *ctx, const char *path, struct tb_err *err)
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

/* --- a book --- */

static tb_rc read_held(struct tb_held *out, struct tb_ctx *ctx, struct tb_err *err)
{
    size_t n = tb_opt_count(ctx, "since");
    struct tb_anchor *a = tb_arena_alloc(&ctx->mem, (n + 1) * sizeof *a);
    char *key = tb_arena_alloc(&ctx->mem, 65);
    tb_rc rc = TB_OK;

    *out = (struct tb_held){ .anchor = a, .anchors = n, .key = tb_opt_on(ctx, "signed-by") ? key : NULL };
    if (out->key && (rc = tb_key_public(key, tb_opt(ctx, "signed-by"), err)) != TB_OK)
        return tb_within(err, rc, "--signed-by");
    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if ((rc = tb_anchor_read(&a[i], tb_opt_nth(ctx, "since", i), err)) != TB_OK)
            rc = tb_within(err, rc, "--since");
    return rc;
}

static tb_rc prove_book(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_held held;
    struct tb_proof p = { 0 };
    tb_rc rc = read_held(&held, ctx, err);

    if (rc == TB_OK && (rc = tb_ctx_book(ctx, err)) == TB_OK)
        rc = tb_book_prove_held(&p, ctx->book, &held, err);
    if (rc == TB_OK)
        rc = print(ctx, &p, &held, err);
    if (rc != TB_OK || p.fits)
        return rc;
    return tb_fail(err, TB_EFORMAT,
                   p.elsewhere ? N_("the book is not what was noted of it elsewhere: %s")
                               : N_("the book does not fit its journal: %s"),
                   p.why);
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    bool of_case = tb_opt_on(ctx, "case");

    if (of_case && tb_opt_among(ctx, "since signed-by"))
        return tb_misuse(err, "--%s is about a book; --case --against BOOK holds a case file against one",
                         tb_opt_among(ctx, "since signed-by"));
    if (!of_case && tb_opt_on(ctx, "against"))
        return tb_misuse(err, "--against goes with --case");
    return of_case ? prove_case(ctx, tb_opt(ctx, "case"), err) : prove_book(ctx, err);
}

static const struct tb_opt opts[] = {
    { "case", "FILE.pdf", "check a case file instead: no book is needed", false },
    { "against", "BOOK", "compare the case file with this book too", false },
    { "since", "NUMBER:DIGEST", "a journal row noted elsewhere, which the book must hold", true },
    { "signed-by", "KEY", "the public key, or the file of a key, that must have signed the last row", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_prove = {
    .name = "prove",
    .args = "[--since NUMBER:DIGEST] [--signed-by KEY] | --case FILE.pdf [--against BOOK]",
    .brief = "check the journal and every fact against it",
    .about =
        "Walks the journal from its first row and computes every digest again from the facts as they stand; "
        "compares tables, views, triggers and indexes with what the program makes; checks the pages of the "
        "file "
        "and every reference. Names the first thing that does not fit and exits 1.\n\n"
        "Whoever can write the file can write a whole other journal, or cut off its end, and that proves "
        "too. "
        "Against it stands what somebody else holds: number and digest of a journal row, as prove, keep and "
        "every "
        "case print them. With --since the book must hold that row; then it and every row before it are as "
        "they were "
        "when it was noted. With --signed-by the last row must be signed by that key, or by one that it "
        "vouched for: "
        "that holds against whoever has the file and not the key. Every signature is checked in any case.\n\n"
        "With --case, a case file is checked: its digests are computed again from the records attached to "
        "it, its verdict is judged again and its pages are drawn again; what does not agree is named, and "
        "what "
        "could not be checked is counted in the last line. With --against, every record is compared with a "
        "book too.",
    .example = "tenterbook prove\ntenterbook prove --since 7:(the 64 digits that were noted)\ntenterbook "
               "prove --case case-M26-003.02.pdf",
    .opts = opts,
    .flags = TB_BOOK_MAYBE,
    .run = run,
};
