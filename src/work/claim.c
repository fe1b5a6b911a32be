/* The clock of a lot: terms, discovery and disputes from the book, counted by claim.h. */
#include "base/say.h"
#include "tenterbook/lot_claim.h"
#include "tenterbook/setting.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* --- terms ------------------------------------------------------------------------------------------------------ */

static bool named(const struct tb_claim *c, const char *key)
{
    for (size_t i = 0; i < c->terms; i++)
        if (strcmp(c->term[i].key, key) == 0)
            return true;
    return false;
}

/* The site's own term: what contract or order say. */
static void add_own(struct tb_claim *c, const struct tb_supplier_term *t, struct tb_arena *mem)
{
    const char *whose = t->supplier ? t->supplier_name : *t->country ? t->country : _("all suppliers");

    if (t->open_days == TB_CLAIM_NO_TERM && t->hidden_days == TB_CLAIM_NO_TERM && !t->before_cutting)
        return;
    c->term[c->terms++] = (struct tb_claim_term){
        .key = "",
        .country = t->country,
        .name = tb_arena_printf(mem, *t->stands_in ? _("own term with %s (%s)") : _("own term with %s"),
                                whose, t->stands_in),
        .open_days = t->open_days,
        .hidden_days = t->hidden_days,
        .working = t->working,
        .before_cutting = t->before_cutting,
        .last_months = TB_CLAIM_NO_TERM,
        .last_of = "",
        .last_status = "",
        .says = "",
        .source = t->stands_in,
        .status = "own"
    };
}

/* The same law named by the supplier's terms and by its country's counts once. */
static tb_rc add_laws(struct tb_claim *c, const char *laws, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (const char *p = laws + strspn(laws, " "); *p && rc == TB_OK; p += strspn(p, " ")) {
        size_t n = strcspn(p, " ");
        char *key = tb_strndup(p, n);

        if (!named(c, key) && (rc = tb_claim_law_find(&c->term[c->terms], key, err)) == TB_OK)
            c->terms++;
        free(key);
        p += n;
    }
    return rc;
}

static size_t words_in(const char *s)
{
    size_t n = 0;

    for (s += strspn(s, " "); *s; s += strspn(s, " ")) {
        s += strcspn(s, " ");
        n++;
    }
    return n;
}

/* Terms of a supplier, of its country and of everybody count together; the clock finds the earliest. */
static tb_rc load_terms(struct tb_claim *c, struct tb_book *b, const char *supplier_id, struct tb_arena *mem,
                        struct tb_err *err)
{
    size_t most = 0;
    tb_rc rc = tb_supplier_terms(&c->set, &c->sets, b, supplier_id, mem, err);

    for (size_t i = 0; rc == TB_OK && i < c->sets; i++)
        most += 1 + words_in(c->set[i].laws);
    c->term = tb_arena_alloc(mem, (most + 1) * sizeof *c->term);
    c->country = rc == TB_OK && c->sets && c->set[0].supplier ? c->set[0].country : "";
    for (size_t i = 0; rc == TB_OK && i < c->sets; i++) {
        add_own(c, &c->set[i], mem);
        rc = add_laws(c, c->set[i].laws, err);
    }
    return rc;
}

/* --- the lot ---------------------------------------------------------------------------------------------------- */

/* What somebody wrote into the dispute comes before what the book concludes from verdicts. */
static tb_rc load_discovery(struct tb_claim *c, struct tb_book *b, const struct tb_lot *lot,
                            struct tb_arena *mem, struct tb_err *err)
{
    const struct tb_dispute *last = c->disputes ? &c->dispute[c->disputes - 1] : NULL;
    struct tb_discovery found;
    tb_rc rc = tb_lot_discovered(&found, b, lot->id, mem, err);

    c->found_on = found.day;
    c->found_by = found.by;
    c->found_typed = found.typed;

    if (last && last->found_on) {
        c->found_on = last->found_on;
        c->found_by = "dispute";
        c->found_typed = NULL;
    } else if (last && !c->found_on) {
        c->found_on = last->step[0].day;
        c->found_by = "dispute";
    }
    /* a clock that went wrong at the bench does not stop the count */
    if (c->found_on && strcmp(c->found_on, lot->arrived) < 0)
        c->found_on = lot->arrived;
    return rc;
}

/* Working days depend on the site: where the week ends is a setting, public holidays are not known. */
static tb_rc weekend_of(enum tb_weekend *out, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    const char *text;
    tb_rc rc = tb_setting_text(&text, b, "weekend", TB_BOOK_NOW, mem, err);

    if (rc == TB_OK && !tb_weekend_read(out, text))
        rc = tb_fail(err, TB_EFORMAT, "the setting weekend is '%s'; it takes sat-sun, fri-sat or sun", text);
    return rc;
}

tb_rc tb_claim_of_lot(struct tb_claim *out, struct tb_book *b, const struct tb_lot *lot, const char *today,
                      struct tb_arena *mem, struct tb_err *err)
{
    struct tb_claim c = { 0 };
    struct tb_claim_question q = { .arrived = lot->arrived, .today = today };
    const struct tb_dispute_step *told;
    tb_rc rc = TB_OK;

    if (!lot->voided) /* what counts nowhere is under no term */
        rc = load_terms(&c, b, lot->supplier, mem, err);
    if (rc != TB_OK || (rc = tb_dispute_list(&c.dispute, &c.disputes, b, lot->id, mem, err)) != TB_OK ||
        (rc = tb_bolt_use_list(&c.use, &c.uses, b, lot->id, mem, err)) != TB_OK ||
        (rc = load_discovery(&c, b, lot, mem, err)) != TB_OK ||
        (rc = weekend_of(&q.weekend, b, mem, err)) != TB_OK)
        return rc;
    if (c.disputes) {
        const struct tb_dispute *last = &c.dispute[c.disputes - 1];

        told = tb_dispute_last(last, TB_NOTIFIED);
        c.open = tb_dispute_last(last, TB_CLOSED) ? NULL : last;
        c.notified = told ? told->day : NULL;
    }
    q.found = c.found_on;
    q.term = c.term;
    q.n = c.terms;
    if ((rc = tb_claim_clock(&c.clock, &q, err)) != TB_OK)
        return tb_within(err, rc, "lot %s", lot->ref);
    *out = c;
    return TB_OK;
}
