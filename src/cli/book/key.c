/* key: the key that signs the journal: which one counts, whether it is at hand, and another one in its place. */
#include "cli/show.h"
#include "tenterbook/anchor.h"
#include "terminal/pass.h"

#include <sodium.h>

static tb_rc show(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_key_state k;
    tb_rc rc = tb_ctx_book(ctx, err);

    if (rc == TB_OK)
        rc = tb_key_state_of(&k, ctx->book, &ctx->mem, err);
    if (rc != TB_OK)
        return rc;
    if (ctx->json)
        return tb_print_json(
            ctx,
            json_pack("{s:s, s:o, s:b}", "key", k.public, "file", tb_json_text(k.file), "at_hand", k.at_hand),
            err);
    if (!*k.public)
        tb_say(ctx->out, "The book has no signing key yet: the next record makes one in %s.\n",
               tb_shown(ctx, k.file));
    else if (k.at_hand)
        tb_say(ctx->out, "Signing key %s\nIt is in %s: what is recorded is signed.\n", k.public,
               tb_shown(ctx, k.file));
    else if (*k.why)
        tb_say(ctx->out, "Signing key %s\nIt is not at hand, and what is recorded is not signed: %s.\n",
               k.public, tb_shown(ctx, k.why));
    else
        tb_say(
            ctx->out,
            "Signing key %s\nIt is not at hand, and what is recorded is not signed: %s holds another one.\n",
            k.public, tb_shown(ctx, k.file));
    return TB_OK;
}

static tb_rc make(struct tb_ctx *ctx, const char *file, struct tb_err *err)
{
    char public[65], pass[TB_PASS_MOST + 1];
    bool locked = tb_opt_on(ctx, "locked");
    tb_rc rc;

    if (locked && !tb_pass_new(pass, sizeof pass, file))
        return tb_fail(err, TB_EINVAL, "no pass phrase was given; no key is made");
    rc = tb_key_make(public, file, locked ? pass : NULL, err);
    sodium_memzero(pass, sizeof pass);
    if (rc != TB_OK)
        return rc;
    ctx->done = true;
    if (ctx->json)
        return tb_print_json(ctx, json_pack("{s:s, s:o}", "key", public, "file", tb_json_text(file)), err);
    tb_say(ctx->out,
           "Made the signing key %s in %s. No book is signed with it before it takes it (--take).\n", public,
           tb_shown(ctx, file));
    return TB_OK;
}

static tb_rc take(struct tb_ctx *ctx, const char *file, struct tb_err *err)
{
    struct tb_key_state k;
    bool vouched = false;
    tb_rc rc = tb_ctx_book(ctx, err);

    if (rc == TB_OK && (rc = tb_key_take(&vouched, ctx->book, ctx->who, file, err)) == TB_OK)
        rc = tb_key_state_of(&k, ctx->book, &ctx->mem, err);
    if (rc != TB_OK)
        return rc;
    if (ctx->json)
        return tb_print_json(ctx, json_pack("{s:s, s:b}", "key", k.public, "vouched", vouched), err);
    tb_say(ctx->out,
           vouched
               ? N_("The book is signed with %s from here on; the key before it vouched for it.\n")
               : N_("The book is signed with %s from here on. The key before it was not at hand and did not "
                    "vouch for it: tell those who know that one.\n"),
           k.public);
    tb_say(ctx->out, "The program looks for it in %s: put %s there.\n", tb_shown(ctx, k.file),
           tb_shown(ctx, file));
    return TB_OK;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    if (tb_opt_on(ctx, "make") && tb_opt_on(ctx, "take"))
        return tb_misuse(err, "--make comes first, then --take the file it made");
    if (tb_opt_on(ctx, "locked") && !tb_opt_on(ctx, "make"))
        return tb_misuse(err, "--locked goes with --make");
    if (tb_opt_on(ctx, "make"))
        return make(ctx, tb_opt(ctx, "make"), err);
    return tb_opt_on(ctx, "take") ? take(ctx, tb_opt(ctx, "take"), err) : show(ctx, err);
}

static const struct tb_opt opts[] = {
    { "make", "FILE", "make another key in this file; no book is needed", false },
    { "locked", NULL, "--make: under a pass phrase, which each record then asks for", false },
    { "take", "FILE", "from here on the key in this file signs; the one before vouches for it if at hand",
      false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_key = {
    .name = "key",
    .args = "[--make FILE [--locked] | --take FILE]",
    .brief = "the key that signs the journal: show it, make another, take it",
    .about =
        "Each book has a signing key (Ed25519). Its secret half is made with the book, in BOOK.key beside "
        "it, "
        "which only its owner may read; the setting key_file or TENTERBOOK_KEY names another file, so that "
        "key and book can lie on different disks. Where it is at hand, each journal "
        "row "
        "is signed. Without it everything is recorded all the same, and prove says what is not signed.\n\n"
        "The public half stands in the book and is printed here: give it to those who are to check the book "
        "with "
        "prove --signed-by. Whoever has the file of the key can sign a rewritten book: keep a copy of it "
        "elsewhere, "
        "know who can read it, and follow the local rules on keeping keys.\n\n"
        "Where a key was lost or read by others: --make another, --take it, and put its file in the place of "
        "the "
        "old one.\n\n"
        "With --locked a pass phrase is asked for at the terminal; a program gives it as a line on the file "
        "descriptor that TENTERBOOK_PASS_FD names (0 is standard input). Where nobody gives it, what is "
        "recorded "
        "is not signed; a wrong one is refused.",
    .example = "tenterbook key\ntenterbook key --make next.key\ntenterbook key --take next.key",
    .opts = opts,
    .flags = TB_BOOK_MAYBE,
    .run = run,
};
