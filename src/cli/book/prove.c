/* prove: walk the journal and compute every digest again. */
#include "cli/book/prove.h"
#include "cli/show.h"

/* The last digest is printed because a shortened journal proves too: only who kept it elsewhere notices. */
static tb_rc print(struct tb_ctx *ctx, const struct tb_proof *p, struct tb_err *err)
{
    char rows[TB_COUNTED], facts[TB_COUNTED];

    if (ctx->json)
        return tb_print_json(ctx,
                             json_pack("{s:b, s:I, s:I, s:I, s:I, s:s, s:o}", "fits", p->fits, "rows",
                                       (json_int_t)p->rows, "rows_by_table", (json_int_t)p->by_table, "facts",
                                       (json_int_t)p->facts, "first_bad", (json_int_t)p->first_bad, "digest",
                                       p->digest, "why", p->fits ? json_null() : tb_json_text(p->why)),
                             err);
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
    if (p->fits)
        tb_say(
            ctx->out,
            "Everything fits. Last row %lld, digest %s: kept elsewhere, it shows a shortened journal too.\n",
            (long long)p->rows, p->digest);
    return TB_OK;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_proof p;
    tb_rc rc;

    if (tb_opt(ctx, "case"))
        return tb_prove_case(ctx, tb_opt(ctx, "case"), err);
    if (tb_opt(ctx, "against"))
        return tb_misuse(err, "--against goes with --case");
    if ((rc = tb_ctx_book(ctx, err)) == TB_OK)
        rc = tb_book_prove(&p, ctx->book, err);
    if (rc == TB_OK)
        rc = print(ctx, &p, err);
    if (rc == TB_OK && !p.fits)
        return tb_fail(err, TB_EFORMAT, "the book does not fit its journal: %s", p.why);
    return rc;
}

static const struct tb_opt opts[] = {
    { "case", "FILE.pdf", "check a case file instead: no book is needed", false },
    { "against", "BOOK", "compare the case file with this book too", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_prove = {
    .name = "prove",
    .args = "[--case FILE.pdf [--against BOOK]]",
    .brief = "check the journal and every fact against it",
    .about =
        "Walks the journal from its first row and computes every digest again from the facts as they stand; "
        "compares tables, views, triggers and indexes with what the program makes; checks the pages of the "
        "file "
        "and every reference. Names the first thing that does not fit and exits 1.\n\n"
        "Whoever can write the file can write a whole other journal, which proves too: keep the last digest "
        "elsewhere.\n\n"
        "With --case, a case file is checked: its digests are computed again from the records attached to "
        "it, its verdict is judged again and its pages are drawn again; what does not agree is named, and "
        "what "
        "could not be checked is counted in the last line. With --against, every record is compared with a "
        "book too.",
    .example = "tenterbook prove\ntenterbook prove --case case-M26-003.02.pdf",
    .opts = opts,
    .flags = TB_BOOK_MAYBE,
    .run = run,
};
