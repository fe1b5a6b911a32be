/* prove: walk the journal and compute every digest again. */
#include "cli/book/prove.h"

void tb_json_held(json_t *j, const struct tb_held *held)
{
    json_t *since = json_array();

    for (size_t i = 0; i < held->anchors; i++)
        (void)json_array_append_new(since, json_integer((json_int_t)held->anchor[i].number));
    tb_json_put(j, "held_since", since);
}

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
    tb_json_put(j, "time_stamps", json_integer((json_int_t)p->stamps));
    if (p->stamps)
        tb_json_put(j, "last_time_stamp",
                    json_pack("{s:I, s:s, s:s, s:b}", "row", (json_int_t)p->last_stamp.number, "at",
                              p->last_stamp.at, "by", p->last_stamp.by, "signature_checked",
                              held->authority != NULL));
    if (held->anchors)
        tb_json_held(j, held);
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

/* The last one says most: every row up to it was there then. */
static void print_stamps(FILE *out, const struct tb_proof *p, const struct tb_held *held)
{
    if (!p->stamps && held->authority)
        tb_say(out, "The book holds no time stamp: the certificates in %s show nothing.\n", held->authority);
    if (!p->stamps)
        return;
    (void)fprintf(
        out,
        _n("%lld time stamp: journal row %lld, and every row before it, was there at %s, says %s.\n",
           "%lld time stamps: journal row %lld, and every row before it, was there at %s, says %s.\n",
           p->stamps),
        (long long)p->stamps, (long long)p->last_stamp.number, p->last_stamp.at,
        *p->last_stamp.by ? p->last_stamp.by : _("an authority without a name"));
    if (p->stamps > 1)
        tb_say(out, "The first of them is of row %lld, at %s.\n", (long long)p->first_stamp.number,
               p->first_stamp.at);
    if (p->ahead.number)
        tb_say(
            out,
            "Journal row %lld says that it was written at %s, and its time stamp shows %s: the clock of the "
            "computer was ahead.\n",
            (long long)p->ahead.number, p->ahead_said, p->ahead.at);
    if (held->authority)
        tb_say(out, "Each is signed under a certificate in %s.\n", held->authority);
    else
        tb_say(out,
               "Not checked: who signed the time stamps, since no certificates are named (--authority)\n");
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
    print_stamps(ctx->out, p, held);
    print_held(ctx->out, p, held);
    tb_say(ctx->out,
           "Everything fits. The journal ends with %lld:%s\n"
           "Noted elsewhere, this shows later that nothing was cut off or rewritten: prove --since\n",
           (long long)p->rows, p->digest);
    return TB_OK;
}

/* --- a book --- */

static tb_rc read_held(struct tb_held *out, struct tb_ctx *ctx, struct tb_err *err)
{
    size_t n = tb_opt_count(ctx, "since");
    struct tb_anchor *a = tb_arena_alloc(&ctx->mem, (n + 1) * sizeof *a);
    char *key = tb_arena_alloc(&ctx->mem, 65);
    tb_rc rc = TB_OK;

    *out = (struct tb_held){ .anchor = a,
                             .anchors = n,
                             .key = tb_opt_on(ctx, "signed-by") ? key : NULL,
                             .authority = tb_opt(ctx, "authority") };
    if (out->key && (rc = tb_key_public(key, tb_opt(ctx, "signed-by"), err)) != TB_OK)
        return tb_within(err, rc, "--signed-by");
    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if ((rc = tb_anchor_read(&a[i], tb_opt_nth(ctx, "since", i), err)) != TB_OK)
            rc = tb_within(err, rc, "--since");
    return rc;
}

tb_rc tb_prove_a_book(struct tb_proof *out, struct tb_book *b, const struct tb_held *held, struct tb_err *err)
{
    tb_rc rc = tb_book_prove_held(out, b, held, err);

    if (rc != TB_OK || out->fits)
        return rc;
    return tb_fail(err, TB_EFORMAT,
                   out->elsewhere ? N_("the book is not what was noted of it elsewhere: %s")
                                  : N_("the book does not fit its journal: %s"),
                   out->why);
}

/* What was walked is told also where something does not fit. */
static tb_rc prove_book(struct tb_ctx *ctx, const struct tb_held *held, struct tb_err *err)
{
    struct tb_err later = { 0 };
    struct tb_proof p = { 0 };
    tb_rc rc = tb_ctx_book(ctx, err), told;

    if (rc != TB_OK)
        return rc;
    rc = tb_prove_a_book(&p, ctx->book, held, err);
    if (rc != TB_OK && p.fits)
        return rc;
    told = print(ctx, &p, held, rc == TB_OK ? err : &later);
    return rc == TB_OK ? told : rc;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    bool of_case = tb_opt_on(ctx, "case");
    struct tb_held held;
    tb_rc rc;

    if (!of_case && tb_opt_on(ctx, "against"))
        return tb_misuse(err, "--against goes with --case");
    if ((rc = read_held(&held, ctx, err)) != TB_OK)
        return rc;
    return of_case ? tb_prove_a_case(ctx, tb_opt(ctx, "case"), &held, err) : prove_book(ctx, &held, err);
}

static const struct tb_opt opts[] = {
    { "case", "FILE.pdf", "check a case file instead: no book is needed", false },
    { "against", "BOOK", "compare the case file with this book too", false },
    { "since", "NUMBER:DIGEST", "a journal row noted elsewhere, which the book or case must hold", true },
    { "authority", "CERTS.pem", "certificates under which each time stamp in the book or case must be signed",
      false },
    { "signed-by", "KEY", "the public key, or the file of a key, that must have signed the last row", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_prove = {
    .name = "prove",
    .args = "[--case FILE.pdf [--against BOOK]] [--since NUMBER:DIGEST] [--signed-by KEY] "
            "[--authority CERTS.pem]",
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
        "Time stamps that anchor --stamp took in are checked too: each must be of its row, and later rows "
        "must not show "
        "earlier moments. Who signed them is checked with --authority, and said to be unchecked without.\n\n"
        "With --case, a case file is checked: its digests are computed again from the records attached to "
        "it, its verdict is judged again and its pages are drawn again; what does not agree is named, and "
        "what "
        "could not be checked is counted in the last line. With --against, every record is compared with a "
        "book too. A case tells the whole chain of the journal up to the moment it was made, so --since and "
        "--signed-by hold it against a noted row or a key without the book, and the time stamps in it show "
        "by "
        "when its records were there (--authority).",
    .example = "tenterbook prove\ntenterbook prove --since 7:(the 64 digits that were noted)\ntenterbook "
               "prove --case case-M26-003.02.pdf",
    .opts = opts,
    .flags = TB_BOOK_MAYBE,
    .run = run,
};
