/* amend: what was written down wrongly of a delivery. */
#include "cli/show.h"

static tb_rc print(struct tb_ctx *ctx, const struct tb_amend_outcome *done, struct tb_err *err)
{
    struct tb_text t = { 0 };

    tb_text_say(&t, "Delivery %s: amended, for each of its lots.\n", done->delivery.ref);
    tb_amended_words(&t, done->amendment, done->amendments);
    if (done->unit)
        tb_text_say(&t,
                    "The lengths of the delivery come to %.2f m; they came to %.2f m. Prices of a unit "
                    "follow, so that its value stays.\n",
                    done->metres, done->metres_was);
    if (done->odds)
        tb_text_say(&t, "Note: %s. One of the two may be a slip.\n", done->odds);
    if (done->fresh && !done->seen.near)
        tb_text_say(&t,
                    "Note: %s is a new supplier: nothing came from them before, and no terms are theirs.\n",
                    done->delivery.supplier_name);
    tb_name_noticed_words(&t, &done->seen, _("Note: "));
    tb_note_late_words(&t, done->delivery.note, done->delivery.note_day, done->delivery.arrived, _("Note: "));
    return tb_print(ctx, tb_json_amended(done), &t, err);
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    const bool none = tb_opt_on(ctx, "note-date") && !*tb_opt(ctx, "note-date");
    const struct tb_amend_request request = { .delivery = ctx->argv[0],
                                              .why = tb_opt(ctx, "why"),
                                              .arrived = tb_opt_day(ctx, "on"),
                                              .note = tb_opt(ctx, "note"),
                                              .order = tb_opt(ctx, "order"),
                                              .note_day = none ? "" : tb_opt_day(ctx, "note-date"),
                                              .remark = tb_opt(ctx, "remark"),
                                              .supplier = tb_opt(ctx, "supplier"),
                                              .another = tb_opt_on(ctx, "another-supplier"),
                                              .again = tb_opt_on(ctx, "again"),
                                              .unit = tb_opt(ctx, "unit"),
                                              .knowing = tb_opt_on(ctx, "yes") };
    struct tb_amend_outcome done;
    tb_rc rc;

    if (!request.why || !*request.why)
        return tb_misuse(err, "amend needs --why with the reason");
    if ((rc = ctx->rc) != TB_OK)
        return rc;
    if ((rc = tb_act_amend(&done, &ctx->actor, &request, &ctx->mem, err)) == TB_OK)
        rc = print(ctx, &done, err);
    return rc;
}

static const struct tb_opt opts[] = {
    { "why", "TEXT", "why it stood there wrongly, in a sentence", false },
    { "on", "DAY", "day the goods arrived", false },
    { "supplier", "NAME", "who sent them", false },
    { "another-supplier", NULL, "another one than the supplier whose name looks or is nearly the same",
      false },
    { "note", "NUMBER", "number of the delivery note; \"\" for none", false },
    { "again", NULL, "the supplier has another delivery with this note, and this is another one", false },
    { "note-date", "DAY", "day of the delivery note; \"\" for none", false },
    { "order", "NUMBER", "order number; \"\" for none", false },
    { "remark", "TEXT",
      "what was seen at the door, in place of what was said of it; that it came unexamined stays", false },
    { "unit", "UNIT",
      "what the figures of the list are of, as they are written there: yd, m; read: as they were read",
      false },
    { "yes", NULL,
      "with --unit: it is known what the lengths come to then; with --on: that something was done before "
      "that day",
      false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_amend = {
    .name = "amend",
    .args = "DELIVERY --why TEXT [--on DAY] [--supplier NAME] ...",
    .brief = "put right what was written down of a delivery",
    .about = "What was written down wrongly of a delivery and is not of the cloth: the day it arrived, its "
             "note and order, "
             "the remark, the supplier, the unit its lengths were taken in. What stood there stays in the "
             "book and on the "
             "page of each lot; lists, sheets, terms of claims and records go by what stands there now. The "
             "reference of "
             "the delivery stays.\n\n"
             "--unit says what the figures of the list are of. Lengths and prices a unit of length are "
             "computed anew "
             "from the figures as they are written there, of every lot; --unit read takes that back. Where "
             "the list was "
             "read in another unit, the command first says what the lengths come to, and --yes does it.\n\n"
             "What a lot is declared to be: tenterbook declare. A delivery that should not be there: "
             "tenterbook void.",
    .example = "tenterbook amend W26-014 --on 2026-10-05 --why \"typed the day of the note\"\n"
               "tenterbook amend W26-014 --unit yd --yes --why \"the list was in yards\"",
    .opts = opts,
    .min = 1,
    .max = 1,
    .flags = TB_WRITES,
    .run = run,
};
