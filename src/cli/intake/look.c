/* Everything the book holds about one delivery, one lot, or one swatch. */
#include "cli/show.h"
#include "tenterbook/named.h"

#include <string.h>

/* Who asks for a bolt that is void wants to know that before all of its lot. */
static void gone_bolt_words(struct tb_text *t, const struct tb_lot_story *s, const char *number)
{
    struct tb_voidings gone = { .n = 1 };

    for (size_t i = 0; i < s->gone.n; i++) {
        gone.voiding = &s->gone.voiding[i];
        if (strcmp(gone.voiding->about, "bolt") == 0 && strcmp(gone.voiding->ref, number) == 0 &&
            !gone.voiding->back_at)
            tb_voidings_words(t, TB_READER, &gone);
    }
}

static tb_rc show_lot(struct tb_ctx *ctx, const char *ref, const char *gone_bolt, struct tb_err *err)
{
    struct tb_lot_story s;
    struct tb_outdated outdated;
    struct tb_text t = { 0 };
    json_t *story;
    char today[TB_DAY_LEN + 1];
    tb_rc rc;

    tb_today(today);
    if ((rc = tb_lot_story_read(&s, ctx->book, ref, today, &ctx->mem, err)) != TB_OK ||
        (rc = tb_outdated_read(&outdated, ctx->book, s.lot.ref, &ctx->mem, err)) != TB_OK)
        return rc;
    if (gone_bolt)
        gone_bolt_words(&t, &s, gone_bolt);
    tb_story_words(&t, &s, &ctx->mem);
    tb_outdated_lot_words(&t, &outdated, s.lot.ref);
    story = tb_json_story(&s);
    tb_json_put(story, "judge_again", tb_json_outdated_lot(&outdated, s.lot.ref));
    return tb_print(ctx, story, &t, err);
}

static tb_rc show_swatch(struct tb_ctx *ctx, const char *tag, struct tb_err *err)
{
    struct tb_swatch_story s;
    struct tb_text t = { 0 };
    tb_rc rc = tb_swatch_story_read(&s, ctx->book, tag, &ctx->mem, err);

    if (rc != TB_OK)
        return rc;
    tb_swatch_story_words(&t, &s);
    return tb_print(ctx, tb_json_swatch_story(&s), &t, err);
}

static tb_rc show_delivery(struct tb_ctx *ctx, const char *ref, struct tb_err *err)
{
    struct tb_delivery_story s;
    struct tb_text t = { 0 };
    tb_rc rc = tb_delivery_story_read(&s, ctx->book, ref, &ctx->mem, err);

    if (rc != TB_OK)
        return rc;
    tb_delivery_story_words(&t, &s);
    return tb_print(ctx, tb_json_delivery_story(&s), &t, err);
}

static tb_rc list_known(struct tb_ctx *ctx, struct tb_err *err)
{
    const char *const head[] = { _("SWATCH"), _("KNOWN CLOTH"), _("CUT"), _("BY"), _("KEPT") };
    struct tb_swatch *s;
    struct tb_table t;
    size_t n;
    tb_rc rc = tb_swatch_list(&s, &n, ctx->book, NULL, &ctx->mem, err);

    if (rc != TB_OK)
        return rc;
    if (ctx->json)
        return tb_print_json(ctx, tb_json_swatches(s, n), err);
    if (!n) {
        tb_say(ctx->out, "There is no known cloth in this book.\n");
        return TB_OK;
    }
    tb_table_head(&t, head, TB_COUNT(head));
    for (size_t i = 0; i < n; i++) {
        tb_table_texts(&t, s[i].tag, s[i].known);
        tb_table_cell(&t, "%.*s", TB_DAY_LEN, s[i].cut_at);
        tb_table_texts(&t, s[i].cut_by, s[i].kept);
    }
    tb_table_print(&t, ctx->out, "lllll", 44);
    return TB_OK;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    const char *what = ctx->argc ? ctx->argv[0] : NULL;
    bool known = tb_opt_on(ctx, "known");
    struct tb_named named;
    tb_rc rc;

    if (known == (what != NULL))
        return tb_misuse(err, "look takes a delivery, a lot, a bolt or a swatch, or --known");
    if (known)
        return list_known(ctx, err);
    if ((rc = tb_named(&named, ctx->book, what, &ctx->mem, err)) != TB_OK)
        return rc;
    if (strcmp(named.about, "delivery") == 0)
        return show_delivery(ctx, named.ref, err);
    if (strstr(named.about, "swatch"))
        return show_swatch(ctx, named.ref, err);
    return show_lot(ctx, named.ref, strcmp(named.about, "void bolt") == 0 ? what : NULL, err);
}

static const struct tb_opt opts[] = {
    { "known", NULL, "list the swatches of known cloth", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_look = {
    .name = "look",
    .args = "LOT | BOLT | SWATCH | DELIVERY | --known",
    .brief = "show all the book holds about a lot, swatch or delivery",
    .about = "Shows a lot, found by its reference or by the number of one of its bolts: what was seen at the "
             "door, widths and masses, what was declared and how it was read, draws, swatches that were cut "
             "and neither burnt nor tested, every burn and bench test, what laboratories found, the "
             "verdicts, the standings, joint samples and disputes, each with its moment and person, and by "
             "when the supplier must be told that the goods are not as declared. A record that was corrected "
             "follows the one that stands in its place.\n\nA swatch is found by the number on its tag: where "
             "it was cut, and what was done with it. A delivery, by its reference: its lots and bolts, what "
             "they come to, and what was written about them. What is void is shown as void, with who voided "
             "it, when and why. --known lists the swatches of known cloth.",
    .example = "tenterbook look W26-014.02\ntenterbook look 00412\ntenterbook look W26-014.02.01\n"
               "tenterbook look W26-014\n"
               "tenterbook look --known",
    .opts = opts,
    .min = 0,
    .max = 1,
    .flags = TB_BOOK,
    .run = run,
};
