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
    struct tb_text name = { 0 };

    if (t->open_days == TB_CLAIM_NO_TERM && t->hidden_days == TB_CLAIM_NO_TERM && !t->before_cutting)
        return;
    tb_text_addf(&name, *t->stands_in ? _("own term with %s (%s)") : _("own term with %s"), whose,
                 t->stands_in);
    c->term[c->terms++] = (struct tb_claim_term){ .key = "",
                                                  .country = t->country,
                                                  .name = tb_arena_strdup(mem, tb_text_str(&name)),
                                                  .open_days = t->open_days,
                                                  .hidden_days = t->hidden_days,
                                                  .working = t->working,
                                                  .before_cutting = t->before_cutting,
                                                  .last_months = TB_CLAIM_NO_TERM,
                                                  .last_of = "",
                                                  .last_status = "",
                                                  .says = "",
                                                  .source = t->stands_in,
                                                  .status = "own" };
    tb_text_free(&name);
}

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
    tb_rc rc = tb_lot_discovered(&c->found_on, &c->found_by, b, lot->id, mem, err);

    if (last && last->found_on) {
        c->found_on = last->found_on;
        c->found_by = "dispute";
    } else if (last && !c->found_on) {
        c->found_on = last->step[0].day;
        c->found_by = "dispute";
    }
    /* a clock that went wrong at the bench does not stop the count */
    if (c->found_on && strcmp(c->found_on, lot->arrived) < 0)
        c->found_on = lot->arrived;
    return rc;
}

static tb_rc weekend_of(enum tb_weekend *out, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    const char *text;
    tb_rc rc = tb_setting_text(&text, b, "weekend", TB_BOOK_NOW, mem, err);

    if (rc == TB_OK && !tb_weekend_read(out, text))
        rc = tb_fail(err, TB_EFORMAT, "the setting weekend is '%s', which is none", text);
    return rc;
}

tb_rc tb_claim_of_lot(struct tb_claim *out, struct tb_book *b, const struct tb_lot *lot, const char *today,
                      struct tb_arena *mem, struct tb_err *err)
{
    struct tb_claim c = { 0 };
    struct tb_claim_question q = { .arrived = lot->arrived, .today = today };
    const struct tb_dispute_step *told;
    tb_rc rc = load_terms(&c, b, lot->supplier, mem, err);

    if (rc != TB_OK || (rc = tb_dispute_list(&c.dispute, &c.disputes, b, lot->id, mem, err)) != TB_OK ||
        (rc = tb_bolt_use_list(&c.use, &c.uses, b, lot->id, mem, err)) != TB_OK ||
        (rc = load_discovery(&c, b, lot, mem, err)) != TB_OK ||
        (rc = weekend_of(&q.weekend, b, mem, err)) != TB_OK)
        return rc;
    if (c.disputes) {
        const struct tb_dispute *last = &c.dispute[c.disputes - 1];

        told = tb_dispute_last(last, "notified");
        c.open = tb_dispute_last(last, "closed") ? NULL : last;
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

/* --- what is open ----------------------------------------------------------------------------------------------- */

const char *tb_claim_state_key(enum tb_claim_state s)
{
    static const char *const key[] = { "", "tell", "answer", "agree", "do" };

    return key[s];
}

/* Whose turn it is: the last step says so, but what was agreed stays agreed. */
static enum tb_claim_state state_of(const struct tb_claim *c, const struct tb_lot *lot)
{
    const char *last;

    if (!c->open)
        return strcmp(lot->standing, "held") == 0 && !c->disputes ? TB_CLAIM_TELL : TB_CLAIM_NOTHING;
    if (tb_dispute_last(c->open, "agreed"))
        return TB_CLAIM_DO;
    last = c->open->step[c->open->steps - 1].step;
    return strcmp(last, "answered") == 0   ? TB_CLAIM_AGREE
           : strcmp(last, "notified") == 0 ? TB_CLAIM_ANSWER
                                           : TB_CLAIM_TELL;
}

/* The latest amount that was named. */
static void amount_of(struct tb_claim_open *out, const struct tb_dispute *d)
{
    for (size_t i = d->steps; i > 0 && isnan(out->amount); i--) {
        out->amount = d->step[i - 1].amount;
        out->amount_currency = d->step[i - 1].currency;
    }
}

static void due_of(struct tb_claim_open *out, const struct tb_claim *c)
{
    const struct tb_dispute_step *s;

    if (out->state == TB_CLAIM_TELL && c->clock.first.day[0]) {
        out->due = c->clock.first.day;
        out->due_by = c->term[c->clock.first.by].name;
    } else if (out->state == TB_CLAIM_ANSWER && (s = tb_dispute_last(c->open, "notified")) && s->due) {
        out->due = s->due;
        out->due_by = "answer";
    } else if (out->state == TB_CLAIM_DO && (s = tb_dispute_last(c->open, "agreed")) && s->due) {
        out->due = s->due;
        out->due_by = "agreement";
    }
}

static int64_t bolts_in_use(const struct tb_claim *c)
{
    int64_t n = 0;

    for (size_t i = 0; i < c->uses; i++) {
        bool again = false;

        for (size_t k = 0; k < i && !again; k++)
            again = strcmp(c->use[k].bolt, c->use[i].bolt) == 0;
        n += !again;
    }
    return n;
}

void tb_claim_open_of(struct tb_claim_open *out, const struct tb_claim *c, const struct tb_lot *lot,
                      const char *today)
{
    *out = (struct tb_claim_open){ .lot = lot->ref,
                                   .supplier = lot->supplier_name,
                                   .declared = lot->declared,
                                   .standing = lot->standing,
                                   .verdict = lot->verdict,
                                   .arrived = lot->arrived,
                                   .bolts = lot->bolts,
                                   .bolts_burnt = lot->bolts_burnt,
                                   .bolts_used = bolts_in_use(c),
                                   .metres = lot->metres,
                                   .unit_price = lot->unit_price,
                                   .currency = lot->currency,
                                   .state = state_of(c, lot),
                                   .due = "",
                                   .due_by = "",
                                   .amount = NAN,
                                   .amount_currency = "" };
    if (c->open) {
        out->opened_on = c->open->step[0].day;
        amount_of(out, c->open);
    }
    due_of(out, c);
    if (*out->due) {
        out->left = tb_day_number(out->due) - tb_day_number(today);
        out->overdue = out->left < 0;
    }
}

/* What is due first comes first; without a day, last; then as they arrived. */
static int by_due(const void *a, const void *b)
{
    const struct tb_claim_open *x = a, *y = b;
    int c = (*x->due == '\0') - (*y->due == '\0');

    if (c == 0)
        c = strcmp(x->due, y->due);
    if (c == 0)
        c = strcmp(x->arrived, y->arrived);
    return c ? c : strcmp(x->lot, y->lot);
}

static tb_rc one_open(struct tb_claim_open *out, struct tb_book *b, const char *ref, const char *today,
                      struct tb_arena *mem, struct tb_err *err)
{
    struct tb_claim *c = tb_arena_alloc(mem, sizeof *c); /* out->due points into it */
    struct tb_lot lot;
    tb_rc rc = tb_lot_find(&lot, b, ref, mem, err);

    if (rc == TB_OK)
        rc = tb_claim_of_lot(c, b, &lot, today, mem, err);
    if (rc == TB_OK)
        tb_claim_open_of(out, c, &lot, today);
    return rc;
}

tb_rc tb_claim_open_list(struct tb_claim_open **out, size_t *n, struct tb_book *b, const char *today,
                         struct tb_arena *mem, struct tb_err *err)
{
    const char **ref;
    size_t refs, found = 0;
    struct tb_claim_open *list;
    tb_rc rc;

    if (!tb_day_valid(today))
        return tb_fail(err, TB_EINVAL, "'%s' is no day (YYYY-MM-DD)", today);
    if ((rc = tb_claim_lots(&ref, &refs, b, mem, err)) != TB_OK)
        return rc;
    list = tb_arena_alloc(mem, (refs + 1) * sizeof *list);
    for (size_t i = 0; i < refs && rc == TB_OK; i++)
        if ((rc = one_open(&list[found], b, ref[i], today, mem, err)) == TB_OK)
            found += list[found].state != TB_CLAIM_NOTHING;
    if (rc != TB_OK)
        return rc;
    if (found)
        qsort(list, found, sizeof *list, by_due);
    *out = list;
    *n = found;
    return TB_OK;
}
