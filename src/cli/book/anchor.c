/* anchor: the last journal row as a line that others keep; time stamps of it asked for and taken in. */
#include "tenterbook/anchor.h"
#include "cli/show.h"
#include "tenterbook/outfile.h"

static tb_rc print_line(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_text line = { 0 };
    struct tb_anchor a;
    tb_rc rc = tb_anchor_now(&a, ctx->book, err);

    if (rc != TB_OK)
        return rc;
    if (tb_opt_on(ctx, "spell"))
        tb_anchor_spell(&line, &a);
    else
        tb_anchor_line(&line, &a);
    if (ctx->json)
        rc = tb_print_json(ctx,
                           json_pack("{s:s, s:s, s:I, s:s, s:s, s:s}", "line", tb_text_str(&line), "site",
                                     a.site, "number", (json_int_t)a.number, "digest", a.digest, "key", a.key,
                                     "signature", a.signature),
                           err);
    else
        (void)fprintf(ctx->out, "%s\n", tb_text_str(&line));
    tb_text_free(&line);
    return rc;
}

/* --- time stamps ------------------------------------------------------------------------------------------------ */

static tb_rc write_request(const char *path, const struct tb_text *bytes, bool replace, struct tb_err *err)
{
    struct tb_outset files = { .replace = replace };
    struct tb_outfile *out = NULL;
    tb_rc rc = tb_outset_add(&out, &files, path, ".tsq", err);

    if (rc == TB_OK && fwrite(bytes->s, 1, bytes->n, out->f) != bytes->n)
        rc = tb_fail(err, TB_EIO, "%s cannot be written", path);
    return tb_outset_end(&files, rc, err);
}

static tb_rc request(struct tb_ctx *ctx, const char *path, struct tb_err *err)
{
    struct tb_text bytes = { 0 };
    struct tb_anchor a;
    tb_rc rc = tb_anchor_request(&bytes, &a, ctx->book, err);

    if (rc == TB_OK)
        rc = write_request(path, &bytes, tb_opt_on(ctx, "replace"), err);
    tb_text_free(&bytes);
    if (rc != TB_OK)
        return rc;
    ctx->done = true;
    if (ctx->json)
        return tb_print_json(ctx,
                             json_pack("{s:I, s:s, s:o}", "number", (json_int_t)a.number, "digest", a.digest,
                                       "request", tb_json_text(path)),
                             err);
    tb_say(ctx->out, "Written: %s, a request for a time stamp of journal row %lld.\n", path,
           (long long)a.number);
    tb_say(
        ctx->out,
        "Send it to an authority you trust and keep it: the reply is taken in together with it (--stamp).\n");
    return TB_OK;
}

static tb_rc stamp(struct tb_ctx *ctx, struct tb_err *err)
{
    const struct tb_stamp_files files = { tb_opt(ctx, "stamp"), tb_opt(ctx, "request"),
                                          tb_opt(ctx, "authority") };
    struct tb_stamped s;
    tb_rc rc = tb_anchor_stamp(&s, ctx->book, ctx->who, &files, err);

    if (rc != TB_OK)
        return rc;
    if (ctx->json)
        return tb_print_json(
            ctx, json_pack("{s:I, s:s, s:s}", "number", (json_int_t)s.number, "at", s.at, "by", s.by), err);
    tb_say(ctx->out,
           "Took in a time stamp: journal row %lld, and every row before it, was there at %s, says %s.\n",
           (long long)s.number, s.at, *s.by ? s.by : _("an authority without a name"));
    return TB_OK;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    bool of_stamp = tb_opt_on(ctx, "stamp");

    if (of_stamp && !(tb_opt_on(ctx, "request") && tb_opt_on(ctx, "authority")))
        return tb_misuse(
            err,
            "--stamp goes with --request, the request it answers, and --authority, certificates you trust");
    if (!of_stamp && tb_opt_on(ctx, "authority"))
        return tb_misuse(err, "--authority goes with --stamp");
    if (tb_opt_on(ctx, "spell") && (of_stamp || tb_opt_on(ctx, "request")))
        return tb_misuse(err, "--spell is about the line, not about time stamps");
    if (of_stamp)
        return stamp(ctx, err);
    return tb_opt_on(ctx, "request") ? request(ctx, tb_opt(ctx, "request"), err) : print_line(ctx, err);
}

static const struct tb_opt opts[] = {
    { "spell", NULL, "number and digest alone, in groups of four digits, to be read out or written down",
      false },
    { "request", "FILE.tsq", "write a request for a time stamp; with --stamp: the request that was sent",
      false },
    { "stamp", "FILE.tsr", "take in the reply of a time-stamping authority", false },
    { "authority", "CERTS.pem", "--stamp: certificates you trust, one of which must vouch for the authority",
      false },
    { "replace", NULL, "write over a request that is there already", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_anchor = {
    .name = "anchor",
    .args = "[--spell | --request FILE.tsq | --stamp FILE.tsr --request FILE.tsq --authority CERTS.pem]",
    .brief = "the end of the journal as one line that others keep",
    .about = "Prints site, number and digest of the last journal row, and where it is signed the public key "
             "and the "
             "signature, as one line. Send it to somebody who does not work for you, print it, read it out: "
             "it says "
             "nothing of what is in the book, and later shows that nothing up to that row was cut off or "
             "rewritten "
             "(prove --since).\n\n"
             "The book is not proved by this; prove does that.\n\n"
             "With --request a file is written that a time-stamping authority (RFC 3161) answers. The "
             "program sends "
             "nothing: any program that posts a file does (docs/proof.md shows curl). With --stamp the reply "
             "is checked "
             "against that request and the certificates you trust, and recorded; prove checks it again each "
             "time. It shows "
             "that the row, and every row before it, was there at that moment.",
    .example = "tenterbook anchor\ntenterbook anchor --spell\ntenterbook anchor --request head.tsq\n"
               "tenterbook anchor --stamp head.tsr --request head.tsq --authority tsa.pem",
    .opts = opts,
    .flags = TB_BOOK,
    .run = run,
};
