#include "cli/claim/claim_say.h"

#include <math.h>
#include <string.h>

struct listing {
    struct tb_table table;
    json_t *json;
    size_t n;
    struct tb_claim_open *claim; /* open claims; the table has a column for them when there are any */
    size_t claims;
};

static const struct tb_claim_open *claim_on(const struct listing *l, const struct tb_lot *lot)
{
    for (size_t i = 0; i < l->claims; i++)
        if (strcmp(l->claim[i].lot, lot->ref) == 0)
            return &l->claim[i];
    return NULL;
}

static void claim_cell(struct listing *l, const struct tb_claim_open *c)
{
    struct tb_text t = { 0 };

    if (c && *c->due)
        tb_text_addf(&t, "%s %s%s", tb_claim_state_words(c->state), c->due, c->overdue ? _(" OVERDUE") : "");
    else if (c)
        tb_text_add(&t, tb_claim_state_words(c->state));
    tb_table_cell(&l->table, "%s", tb_text_str(&t));
    tb_text_free(&t);
}

static tb_rc one(void *arg, const struct tb_lot *lot, struct tb_err *err)
{
    struct listing *l = arg;
    struct tb_text ratio = { 0 };

    (void)err;
    l->n++;
    if (l->json) {
        json_t *j = tb_json_lot(lot);
        const struct tb_claim_open *c = claim_on(l, lot);

        (void)json_object_set_new(j, "claim", c ? tb_json_claim_open(c) : json_null());
        (void)json_array_append_new(l->json, j);
        return TB_OK;
    }
    if (lot->verdict != TB_UNJUDGED && lot->burns > 0)
        tb_ratio_words(&ratio, lot->log_ratio);
    tb_table_cell(&l->table, "%s", lot->ref);
    tb_table_cell(&l->table, "%s", lot->arrived);
    tb_table_cell(&l->table, "%s", lot->supplier_name);
    tb_table_cell(&l->table, "%s", *lot->declared ? lot->declared : _("(nothing declared)"));
    tb_table_cell(&l->table, _("%lld of %lld"), (long long)lot->bolts_burnt, (long long)lot->bolts);
    tb_table_cell(&l->table, "%s",
                  lot->verdict != TB_UNJUDGED ? tb_verdict_key(lot->verdict)
                  : lot->clear                ? "-"
                                              : _("doubtful words"));
    tb_table_cell(&l->table, "%s", tb_text_str(&ratio));
    if (l->claims)
        claim_cell(l, claim_on(l, lot));
    tb_table_cell(&l->table, "%s", tb_standing_key(lot->standing));
    tb_text_free(&ratio);
    return TB_OK;
}

static void heading(struct tb_table *t, bool claims)
{
    const char *const head[] = { _("LOT"),     _("ARRIVED"),  _("SUPPLIER"), _("DECLARED"), _("BOLTS BURNT"),
                                 _("VERDICT"), _("EVIDENCE"), _("CLAIM"),    _("STANDING") };

    tb_table_begin(t, TB_COUNT(head) - !claims);
    for (size_t i = 0; i < TB_COUNT(head); i++)
        if (claims || i + 2 != TB_COUNT(head))
            tb_table_cell(t, "%s", head[i]);
}

static tb_rc filter_from(struct tb_lot_filter *f, char span[2][TB_DAY_LEN + 1], struct tb_ctx *ctx,
                         struct tb_arena *mem, struct tb_err *err)
{
    const char *month = tb_opt(ctx, "month"), *supplier = tb_opt(ctx, "supplier");
    int standing = TB_STANDING_NONE;
    struct tb_supplier s;
    tb_rc rc = TB_OK;

    if ((rc = tb_opt_word(&standing, ctx, "standing", &tb_standing_words, err)) != TB_OK)
        return rc;
    f->standing = (enum tb_standing_kind)standing;
    if (month) {
        if (!tb_month_valid(month))
            return tb_fail(err, TB_EINVAL, "--month is '%s'; it takes a month like 2026-10", month);
        tb_month_span(span[0], span[1], month);
        f->from = span[0];
        f->until = span[1];
    }
    if (supplier && (rc = tb_supplier_find(&s, ctx->book, supplier, mem, err)) == TB_OK)
        f->supplier = s.id;
    return rc;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_lot_filter f = { 0 };
    struct listing l = { .json = ctx->json ? json_array() : NULL };
    char span[2][TB_DAY_LEN + 1];
    struct tb_arena mem = { 0 };
    char today[TB_DAY_LEN + 1];
    tb_rc rc = filter_from(&f, span, ctx, &mem, err);

    tb_today(today);
    if (rc == TB_OK)
        rc = tb_claim_open_list(&l.claim, &l.claims, ctx->book, today, &mem, err);
    heading(&l.table, l.claims > 0);
    if (rc == TB_OK)
        rc = tb_lot_each(ctx->book, &f, one, &l, err);
    if (rc == TB_OK && l.json)
        rc = tb_print_json(ctx, json_incref(l.json), err);
    else if (rc == TB_OK && l.n == 0)
        tb_say(ctx->out, "No lots.\n");
    else if (rc == TB_OK) {
        tb_table_print(&l.table, ctx->out, "llllrllll", 44);
        tb_say(ctx->out,
               "\"fits\" means that burning found nothing against the words; it never confirms them.\n");
    }
    tb_table_drop(&l.table);
    json_decref(l.json);
    tb_arena_free(&mem);
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
    .brief = "list lots with their verdicts and standings",
    .about = "Lists lots in the order they arrived: what is declared, how many of the bolts were burnt, the "
             "verdict with its evidence, and the standing; where a claim is open, what is next and by when.",
    .example = "tenterbook lots --month 2026-10\ntenterbook lots --standing held",
    .opts = opts,
    .flags = TB_BOOK,
    .run = run,
};
