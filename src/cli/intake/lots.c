/* lots: the lots there are, with what is concluded of them, standings and open claims. */
#include "cli/show.h"
#include "tenterbook/label_lot.h"
#include "tenterbook/lot_claim.h"
#include "tenterbook/stored_verdict.h"
#include "tenterbook/todo.h"

#include <math.h>
#include <string.h>

struct listing {
    struct tb_table table;
    json_t *json; /* one object a lot; NULL: a table is asked for */
    struct tb_ctx *ctx;
    struct tb_text held;         /* of every lot that is held: the test that would end it, a line each */
    struct tb_claim_open *claim; /* open claims; the table has a column for them when there are any */
    size_t claims;
    struct tb_outdated outdated, again; /* of the book; those of them that are listed */
    bool argued; /* a ratio is listed that comes to a limit no tested cloth stands behind */
};

/* Few claims are open at a time, however many lots there are. */
static const struct tb_claim_open *claim_on(const struct listing *l, const struct tb_lot *lot)
{
    for (size_t i = 0; i < l->claims; i++)
        if (strcmp(l->claim[i].lot, lot->ref) == 0)
            return &l->claim[i];
    return NULL;
}

static void claim_cell(struct tb_table *t, const struct tb_claim_open *c)
{
    if (!c)
        tb_table_texts(t, "");
    else
        tb_table_cell(t, "%s%s%s%s", tb_claim_state_words(c->state), *c->due ? " " : "", c->due,
                      c->overdue  ? _(" OVERDUE")
                      : c->unsaid ? c->undated == TB_NO_TERMS ? _(", no terms set") : _(", without delay")
                                  : "");
}

/* What may be done to the cloth of a lot, and whether it neither burned nor melted. */
struct handled {
    enum tb_handling handling;
    bool unburnable;
    bool refuted; /* it is under a label of ours, and a laboratory found otherwise */
};

/* `said`: what the supplier declared, also where a label of ours says otherwise: what is concluded is of those words. */
static void row(struct listing *l, const struct tb_lot *lot, const char *said,
                const struct tb_concluded *concluded, const struct handled *h, const struct tb_claim_open *c)
{
    struct tb_table *t = &l->table;
    struct tb_text rests = { 0 };
    char standing[TB_COUNTED];

    if (h->handling == TB_HANDLING_LABORATORY)
        tb_text_add(&rests, _("may be asbestos: do not cut"));
    else if (h->unburnable)
        tb_text_addf(&rests, "%s; ", _("may be asbestos where it is old"));
    if (h->handling != TB_HANDLING_LABORATORY)
        tb_concluded_rests(&rests, concluded);
    if (h->handling == TB_HANDLING_FLAMELESS)
        tb_text_addf(&rests, "%s%s", rests.n ? "; " : "", _("do not burn"));
    tb_table_texts(t, lot->ref, lot->arrived, lot->supplier_name, lot->article, lot->colour,
                   *said ? said : _("(nothing declared)"));
    tb_table_cell(t, _("%lld of %lld"), (long long)lot->bolts_tested, (long long)lot->bolts);
    tb_table_texts(t, tb_word(&tb_concluded_words, (int)concluded->kind), tb_text_str(&rests));
    if (l->claims)
        claim_cell(t, c);
    tb_table_cell(t, h->refuted ? _("%s, our label is refuted") : "%s",
                  tb_lot_standing_words(standing, TB_READER, lot));
    tb_text_free(&rests);
}

/* Beside the verdict on the words that count now stands what is concluded of the supplier's. */
static tb_rc lot_json(struct listing *l, const struct tb_lot *lot, const struct tb_concluded *concluded,
                      const struct handled *h, const char *confirm, struct tb_err *err)
{
    const struct tb_claim_open *c = claim_on(l, lot);
    struct tb_told_verdict told;
    tb_rc rc = tb_lot_told(&told, l->ctx->book, lot, err);
    json_t *j;

    if (rc != TB_OK)
        return rc;
    j = tb_json_lot(lot);
    tb_json_put_told(j, &told);
    tb_json_put(j, "conclusion", tb_json_concluded(concluded));
    tb_json_put(j, "handling", tb_json_text(tb_word(&tb_handling_keys, (int)h->handling)));
    tb_json_put(j, "neither_burned_nor_melted", json_boolean(h->unburnable));
    tb_json_put(j, "label_refuted", json_boolean(h->refuted));
    tb_json_put(j, "confirm", *confirm ? tb_json_text(confirm) : json_null());
    tb_json_put(j, "claim", c ? tb_json_claim_open(c) : json_null());
    tb_json_put(j, "judge_again", tb_json_outdated_lot(&l->outdated, lot->ref));
    tb_json_push(l->json, j);
    return TB_OK;
}

/* Only those that are listed are told of: a list of one month says nothing of another. */
static void take_outdated(struct listing *l, const char *ref)
{
    const struct tb_outdated_lot *found = tb_outdated_find(&l->outdated, ref);

    if (!found)
        return;
    l->again.lot[l->again.n++] = *found;
    l->again.otherwise += !found->unseen;
}

static tb_rc one(void *arg, const struct tb_lot *lot, struct tb_err *err)
{
    struct listing *l = arg;
    struct tb_arena passing = { 0 };
    struct tb_concluded concluded = { 0 };
    const char *confirm = "";
    struct handled h = { .handling = TB_HANDLING_ANY };
    struct tb_todo_row ground;
    struct tb_lot_said said = { .said = lot->declared };
    tb_rc rc = tb_lot_concluded(&concluded, l->ctx->book, lot, &passing, err);

    take_outdated(l, lot->ref);
    l->argued |= concluded.by != TB_BY_LABORATORY &&
                 tb_bounds_argued(&concluded.told.bounds, concluded.told.log_ratio);
    if (rc == TB_OK && lot->own_words)
        rc = tb_said_of_lot(&said, l->ctx->book, lot->id, &passing, err);
    if (rc == TB_OK && lot->standing == TB_HELD)
        rc = tb_lot_confirming(&confirm, l->ctx->book, lot->id, &passing, err);
    if (rc == TB_OK && *confirm)
        tb_text_say(&l->held, "%s is held; the confirming test: %s.\n", lot->ref, confirm);
    if (rc == TB_OK && (rc = tb_ground_gone(&ground, l->ctx->book, lot->ref, &passing, err)) == TB_OK)
        tb_ground_gone_words(&l->held, &ground);
    rc = rc == TB_ENOTFOUND ? TB_OK : rc;
    if (rc == TB_OK && (rc = tb_lot_handling(&h.handling, l->ctx->book, lot, err)) == TB_OK)
        rc = tb_lot_unburnable(&h.unburnable, l->ctx->book, lot, err);
    if (rc == TB_OK)
        rc = tb_label_refuted(&h.refuted, l->ctx->book, lot, &passing, err);
    if (rc == TB_OK && l->json)
        rc = lot_json(l, lot, &concluded, &h, confirm, err);
    else if (rc == TB_OK)
        row(l, lot, said.said, &concluded, &h, claim_on(l, lot));
    tb_arena_free(&passing);
    return rc;
}

/* Without an open claim the column would be empty in every row. */
static void heading(struct tb_table *t, bool claims)
{
    const char *const head[] = { _("LOT"),      _("ARRIVED"),      _("SUPPLIER"),   _("ARTICLE"), _("COLOUR"),
                                 _("DECLARED"), _("BOLTS TESTED"), _("CONCLUSION"), _("RESTS ON") };

    tb_table_begin(t, TB_COUNT(head) + 1 + claims);
    tb_table_add(t, head, TB_COUNT(head));
    if (claims)
        tb_table_texts(t, _("CLAIM"));
    tb_table_texts(t, _("STANDING"));
}

static tb_rc read_filter(struct tb_lot_filter *f, char span[2][TB_DAY_LEN + 1], struct tb_ctx *ctx,
                         struct tb_err *err)
{
    const char *month = tb_opt_month(ctx, "month"), *supplier = tb_opt(ctx, "supplier");
    struct tb_supplier s;
    tb_rc rc;

    f->standing = (enum tb_standing_kind)tb_opt_word(ctx, "standing", TB_STANDING_NONE, &tb_standing_words);
    if ((rc = ctx->rc) != TB_OK)
        return rc;
    if (month) {
        tb_month_span(span[0], span[1], month);
        f->from = span[0];
        f->until = span[1];
    }
    if (supplier && (rc = tb_supplier_find(&s, ctx->book, supplier, &ctx->mem, err)) == TB_OK)
        f->supplier = s.id;
    return rc;
}

static tb_rc list(struct listing *l, struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_lot_filter f = { 0 };
    char span[2][TB_DAY_LEN + 1], today[TB_DAY_LEN + 1];
    tb_rc rc;

    tb_today(today);
    if ((rc = read_filter(&f, span, ctx, err)) != TB_OK ||
        (rc = tb_claim_open_list(&l->claim, &l->claims, ctx->book, today, &ctx->mem, err)) != TB_OK ||
        (rc = tb_outdated_read(&l->outdated, ctx->book, NULL, &ctx->mem, err)) != TB_OK)
        return rc;
    l->again.lot = tb_arena_alloc(&ctx->mem, (l->outdated.n + 1) * sizeof *l->again.lot);
    heading(&l->table, l->claims > 0);
    if ((rc = tb_lot_each(ctx->book, &f, one, l, err)) != TB_OK)
        return rc;
    if (l->json)
        return tb_print_json(ctx, json_incref(l->json), err);
    if (l->table.cells == l->table.columns) {
        tb_say(ctx->out, "No lots.\n");
        return TB_OK;
    }
    tb_table_print(&l->table, ctx->out, l->claims ? "llllllrlllL" : "llllllrllL", 52);
    tb_say(
        ctx->out,
        "\"no finding against it\" means that burning and testing found nothing against the words; it never "
        "confirms them.\n");
    if (l->argued)
        tb_say(ctx->out, "\"limit not tested\": no set of burns of such cloth, a blend or finished, has been "
                         "published.\n");
    tb_outdated_words(&l->held, &l->again);
    (void)fputs(tb_text_str(&l->held), ctx->out);
    return TB_OK;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct listing l = { .json = ctx->json ? json_array() : NULL, .ctx = ctx };
    tb_rc rc = list(&l, ctx, err);

    tb_table_drop(&l.table);
    tb_text_free(&l.held);
    json_decref(l.json);
    return rc;
}

static const struct tb_opt opts[] = {
    { "month", "YYYY-MM", "lots that arrived in this month", false },
    { "supplier", "NAME", "lots of this supplier", false },
    { "standing", "STANDING", "waiting, held, released, relabelled or returned", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_lots = {
    .name = "lots",
    .args = "[--month YYYY-MM] [--supplier NAME] [--standing STANDING]",
    .brief = "list lots with their conclusions and standings",
    .about =
        "Lists lots in the order they arrived: article and colour, what is declared, how many of the bolts "
        "were tested, what is concluded of the supplier's words and on what it rests (a laboratory, or the "
        "verdict with its "
        "evidence), and the standing; of a lot that is held, the test that would confirm the "
        "verdict or lift it; where a claim is open, what is next and by when.",
    .example = "tenterbook lots --month 2026-10\ntenterbook lots --standing held",
    .opts = opts,
    .flags = TB_BOOK,
    .run = run,
};
