#include "cli/show.h"

static tb_rc print(struct tb_ctx *ctx, const struct tb_proof *p, struct tb_err *err)
{
    if (ctx->json)
        return tb_print_json(ctx,
                             json_pack("{s:b, s:I, s:I, s:I, s:s, s:o}", "fits", p->first_bad == 0, "rows",
                                       (json_int_t)p->rows, "facts", (json_int_t)p->facts, "first_bad",
                                       (json_int_t)p->first_bad, "digest", p->digest, "why",
                                       p->first_bad ? tb_json_text(p->why) : json_null()),
                             err);
    (void)fprintf(ctx->out, _("%lld journal rows and %lld facts were walked.\n"), (long long)p->rows,
                  (long long)p->facts);
    if (!p->first_bad)
        (void)fprintf(ctx->out,
                      _("Everything fits. Last row %lld, digest %s: kept elsewhere, it shows a shortened "
                        "journal too.\n"),
                      (long long)p->rows, p->digest);
    return TB_OK;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_proof p;
    tb_rc rc = tb_book_prove(&p, ctx->book, err);

    if (rc == TB_OK)
        rc = print(ctx, &p, err);
    if (rc == TB_OK && p.first_bad)
        return tb_fail(err, TB_EFORMAT, "the book does not fit its journal: %s", p.why);
    return rc;
}

const struct tb_cmd tb_cmd_prove = {
    .name = "prove",
    .args = "",
    .brief = "check the journal and every fact against it",
    .about =
        "Walks the journal from its first row and computes every digest again from the facts as they stand. "
        "Names the first row that does not fit and exits 1. What was changed behind the program's back "
        "shows.",
    .example = "tenterbook prove",
    .flags = TB_BOOK,
    .run = run,
};
