/* tags: labels for swatches and bolts. */
#include "tenterbook/tags.h"
#include "cli/show.h"
#include "tenterbook/anchor.h"

#include <stdlib.h>

/* Measures are checked before the book is read: a label that cannot be is a typing error. */
static tb_rc read_sheet(struct tb_tag_sheet *s, struct tb_ctx *ctx, struct tb_err *err)
{
    tb_rc rc;
    long holds;

    tb_tag_sheet_usual(s);
    if (tb_opt(ctx, "roll")) {
        if (tb_opt(ctx, "page") || tb_opt(ctx, "label") || tb_opt(ctx, "edge") || tb_opt(ctx, "gap"))
            return tb_misuse(err, "--roll says all measures: leave out --page, --label, --edge and --gap");
        if ((rc = tb_opt_pair(&s->page_width, &s->page_height, ctx, "roll", err)) != TB_OK)
            return rc;
        tb_tag_sheet_roll(s, s->page_width, s->page_height);
    }
    if ((rc = tb_opt_pair(&s->page_width, &s->page_height, ctx, "page", err)) != TB_OK ||
        (rc = tb_opt_pair(&s->label_width, &s->label_height, ctx, "label", err)) != TB_OK ||
        (rc = tb_opt_pair(&s->left, &s->top, ctx, "edge", err)) != TB_OK ||
        (rc = tb_opt_pair(&s->gap_x, &s->gap_y, ctx, "gap", err)) != TB_OK)
        return rc;
    s->skip = tb_opt_whole(ctx, "skip", 0, 0, 10000);
    s->dots = tb_opt_number(ctx, "dots", s->dots, TB_TAG_DOTS_LEAST, TB_TAG_DOTS_MOST);
    return ctx->rc == TB_OK ? tb_tag_sheet_holds(&holds, s, err) : ctx->rc;
}

/* A printer that fits the page to its margins moves every label off its place. */
static tb_rc print(struct tb_ctx *ctx, const struct tb_tag_list *tags, const char *path, bool anchored,
                   struct tb_err *err)
{
    json_t *numbers = json_array();
    struct tb_text t = { 0 };

    tb_text_addf(&t,
                 _n("Written: %s with %zu tag. Print it at 100 %%, not fitted to the page.\n",
                    "Written: %s with %zu tags. Print it at 100 %%, not fitted to the page.\n", tags->n),
                 path, tags->n);
    if (anchored)
        tb_text_say(&t,
                    "The label behind the last tag bears the anchor of the book, for whoever keeps it.\n");
    for (size_t i = 0; i < tags->n; i++)
        tb_json_push(numbers, json_string(tags->tag[i].number));
    return tb_print(ctx, json_pack("{s:s, s:o}", "file", path, "swatches", numbers), &t, err);
}

/* A label that says how a bolt stands says of which day: it is stuck on, and the bolt stands otherwise later. */
static const char *day(struct tb_ctx *ctx)
{
    char today[TB_DAY_LEN + 1];

    if (!tb_opt_on(ctx, "standing"))
        return NULL;
    tb_today(today);
    return tb_arena_strdup(&ctx->mem, today);
}

/* All of one state of the book, and with --anchor the end of its journal in that state. */
static tb_rc find(struct tb_tag_list *list, struct tb_text *anchor, struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_anchor a;
    tb_rc rc = tb_book_look(ctx->book, err);

    if (rc != TB_OK)
        return rc;
    for (size_t i = 0; i < ctx->argc && rc == TB_OK; i++)
        rc = tb_opt_on(ctx, "bolts") ? tb_tags_bolts(list, ctx->book, ctx->argv[i], day(ctx), &ctx->mem, err)
                                     : tb_tags_find(list, ctx->book, ctx->argv[i], &ctx->mem, err);
    if (rc == TB_OK && tb_opt_on(ctx, "known"))
        rc = tb_tags_find(list, ctx->book, NULL, &ctx->mem, err);
    if (rc == TB_OK && tb_opt_on(ctx, "anchor") && (rc = tb_anchor_of_look(&a, ctx->book, err)) == TB_OK)
        tb_anchor_line(anchor, &a);
    tb_book_look_away(ctx->book);
    return rc;
}

static tb_rc write(struct tb_ctx *ctx, struct tb_tag_list *list, const struct tb_tag_sheet *sheet,
                   struct tb_err *err)
{
    struct tb_outset files = { .replace = tb_opt_on(ctx, "replace") };
    const char *path = tb_opt(ctx, "out") ? tb_opt(ctx, "out") : "tags.pdf";
    struct tb_text anchor = { 0 };
    tb_rc rc = find(list, &anchor, ctx, err);

    if (rc == TB_OK)
        rc = tb_tags_write(&files, path, list->tag, list->n, sheet, anchor.n ? anchor.s : NULL, NULL, err);
    rc = tb_outset_end(&files, rc, err);
    ctx->done = rc == TB_OK;
    if (rc == TB_OK)
        rc = print(ctx, list, path, anchor.n > 0, err);
    tb_text_free(&anchor);
    return rc;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_tag_sheet sheet;
    struct tb_tag_list list = { 0 };
    tb_rc rc = read_sheet(&sheet, ctx, err);

    if (rc == TB_OK && tb_opt_on(ctx, "standing") && !tb_opt_on(ctx, "bolts"))
        rc = tb_misuse(err, "--standing is about bolts: it goes with --bolts");
    if (rc == TB_OK && !ctx->argc && !tb_opt_on(ctx, "known"))
        rc = tb_misuse(err, "name the lots or swatches, or give --known");
    if (rc == TB_OK)
        rc = write(ctx, &list, &sheet, err);
    tb_tag_list_free(&list);
    return rc;
}

static const struct tb_opt opts[] = {
    { "known", NULL, "the swatches of known cloth", false },
    { "bolts", NULL,
      "the bolts of these lots, with the number the book has of each: for bolts that came without", false },
    { "standing", NULL, "with --bolts: in large letters how each bolt stands today: HELD, RELEASED, ...",
      false },
    { "roll", "WxH",
      "for a printer of labels on a roll: one label a page of this size in mm, no margins: 62x29", false },
    { "dots", "N", "dots an inch of the printer, for the bars; 203 with --roll, else 300", false },
    { "label", "WxH", "size of a label in mm; 70x37", false },
    { "page", "WxH", "size of the sheet in mm; 210x297", false },
    { "edge", "LEFTxTOP", "edge of the sheet to the first label in mm; 0x0.5", false },
    { "gap", "XxY", "between labels in mm; 0x0", false },
    { "anchor", NULL, "one more label, with the anchor of the book as a QR code", false },
    { "skip", "N", "labels of the first sheet that are gone already", false },
    { "out", "FILE.pdf", "where to write; tags.pdf", false },
    { "replace", NULL, "write over a paper that is there already", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_tags = {
    .name = "tags",
    .args = "LOT|SWATCH... [--label WxH] [--out FILE.pdf]",
    .brief = "print tags for swatches or bolts on label stock",
    .about =
        "Writes sheets of labels as PDF: the swatch's number in words, as QR code and as Code 128, the "
        "part of the cloth with an arrow for warp or weft, what was declared, when it was cut, and a "
        "caution mark when it was burnt.\n\n"
        "The measures of the label stock are given in millimetres. Bars are whole dots of the printer wide; "
        "where a label is too narrow for them, the QR code stands alone.\n\n"
        "With --anchor one more label follows the last tag: the end of the journal as a QR code, to go with "
        "swatches that are handed to somebody (prove --since takes what a scanner reads).",
    .example = "tenterbook tags W26-014.02\n"
               "tenterbook tags W26-014.02 --label 63.5x38.1 --edge 7.2x15.1 --gap 2.5x0 --skip 4\n"
               "tenterbook tags W26-014.02 --bolts --standing --roll 62x29",
    .opts = opts,
    .max = 1000,
    .flags = TB_BOOK,
    .run = run,
};
