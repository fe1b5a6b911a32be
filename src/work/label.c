/* A label's words before the law of each market: those somebody gives, or those of a lot with what was found of it. */
#include "tenterbook/label_lot.h"

#include "tenterbook/analysis.h"
#include "tenterbook/names.h"
#include "tenterbook/setting.h"

#include <stdlib.h>
#include <string.h>

struct labelling {
    const struct tb_label_request *request;
    struct tb_label_outcome *out;
    struct tb_law_question q;
    struct tb_market_list markets;
    struct tb_declaration actual;
    bool refuted; /* the lot is under a label of ours, and a laboratory found otherwise */
};

/* The doubt that stands in the way, or any; NULL: there is none. */
static const struct tb_doubt *worst_doubt(const struct tb_declaration *d)
{
    for (size_t i = 0; i < d->n; i++)
        if (tb_doubt_blocks(d->doubt[i].kind))
            return &d->doubt[i];
    return d->n ? &d->doubt[0] : NULL;
}

static tb_rc read_actual(struct labelling *w, const char *text, struct tb_err *err)
{
    const struct tb_doubt *d;

    tb_declaration_read(&w->actual, text, strlen(text));
    w->q.found = &w->actual.comp;
    if (tb_declaration_clear(&w->actual) && w->actual.comp.n > 0)
        return TB_OK;
    d = worst_doubt(&w->actual);
    return tb_about(err,
                    d ? tb_fail(err, TB_EINVAL, "'%.80s' gives no composition: %s", text, d->say)
                      : tb_fail(err, TB_EINVAL, "'%.80s' gives no composition: no fibre is named", text),
                    "actual");
}

/* What the lot says where the request says nothing. */
static tb_rc take_lot(struct labelling *w, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_lot *lot = &w->out->lot;
    struct tb_analysis *x = NULL;
    struct tb_text found = { 0 };
    size_t n = 0;
    tb_rc rc;

    if ((rc = tb_lot_find(lot, b, w->request->lot, mem, err)) != TB_OK ||
        (rc = tb_analysis_list(&x, &n, b, lot->id, mem, err)) != TB_OK)
        return rc;
    if (!w->q.text)
        w->q.text = lot->declared;
    if (!w->q.text[0])
        return tb_about(
            err, tb_fail(err, TB_EINVAL, "lot %s has no declaration; give the words of the label", lot->ref),
            "text");
    if (!w->q.facts.origin && lot->origin[0])
        w->q.facts.origin = lot->origin;
    for (size_t i = 0; i < n && !w->request->actual; i++)
        for (size_t k = 0; k < i; k++)
            if (tb_analysis_opposed(&x[i], &x[k]) || tb_analysis_apart(&x[i], &x[k]))
                return tb_about(err,
                                tb_fail(err, TB_EREFUSED,
                                        "laboratories disagree about lot %s, of which one found %s and "
                                        "another %s: say what it is",
                                        lot->ref, x[k].found, x[i].found),
                                "actual");
    if (!w->request->actual && n) {
        tb_analysis_words(&found, x, n);
        w->out->found = tb_arena_take(mem, &found);
    }
    return w->markets.n ? TB_OK : tb_setting_markets(&w->markets, b, err);
}

/* How the goods stand in the market of the answer that comes next. */
static tb_rc ask_goods(struct labelling *w, const struct tb_known *k, struct tb_arena *mem,
                       struct tb_err *err)
{
    const struct tb_lot *lot = &w->out->lot;
    const struct tb_goods_stand stand = { .standing = lot->standing,
                                          .held_in_part = lot->held_in_part > 0,
                                          .released_in_part = lot->released_in_part > 0,
                                          .own_words = lot->own_words,
                                          .refuted = w->refuted };
    struct tb_concluded here;
    tb_rc rc;

    if (!lot->ref)
        return TB_OK;
    if ((rc = tb_conclude_in(&here, k, w->q.market, mem, err)) != TB_OK)
        return tb_within(err, rc, "lot %s", lot->ref);
    w->out->goods[w->out->n] = tb_label_goods_of(&stand, &here);
    return TB_OK;
}

static tb_rc ask_lot(struct labelling *w, struct tb_known *k, struct tb_book *b, struct tb_arena *mem,
                     struct tb_err *err)
{
    tb_rc rc = tb_lot_known(k, b, &w->out->lot, mem, err);

    if (rc != TB_OK)
        return rc;
    rc = tb_conclude(&w->out->concluded, k, mem, err);
    if (rc == TB_OK)
        rc = tb_label_refuted(&w->refuted, b, &w->out->lot, mem, err);
    return rc == TB_OK ? TB_OK : tb_within(err, rc, "lot %s", w->out->lot.ref);
}

static tb_rc ask_markets(struct labelling *w, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_known known = { 0 };
    struct tb_law *law;
    tb_rc rc = TB_OK;

    if (w->markets.n == 0)
        return tb_about(
            err,
            w->out->lot.ref
                ? tb_fail(err, TB_EUSAGE,
                          "name the market of the label (us, ca, eu, gb, ...), or the setting market")
                : tb_fail(err, TB_EUSAGE, "name the market of the label (us, ca, eu, gb, ...)"),
            "market");
    if (w->out->lot.ref && (rc = ask_lot(w, &known, b, mem, err)) != TB_OK)
        return rc;
    if ((rc = tb_names_law(&law, b, err)) != TB_OK)
        return rc;
    w->out->answer = tb_array(struct tb_law_answer, w->markets.n);
    w->out->goods = tb_array(enum tb_label_goods, w->markets.n);
    for (size_t i = 0; i < w->markets.n && rc == TB_OK; i++) {
        w->q.market = w->markets.key[i];
        if ((rc = ask_goods(w, &known, mem, err)) == TB_OK)
            rc = tb_law_check(&w->out->answer[w->out->n++], law, &w->q, err);
    }
    tb_law_free(law);
    return rc;
}

static tb_rc check(struct labelling *w, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    const char *actual = w->request->actual;
    tb_rc rc = TB_OK;

    if (!w->request->lot && !w->q.text)
        return tb_fail(err, TB_EINVAL, "a label needs its words, or a lot");
    if (w->request->lot)
        rc = take_lot(w, b, mem, err);
    if (!actual)
        actual = w->out->found;
    if (rc == TB_OK && actual)
        rc = read_actual(w, actual, err);
    if (rc != TB_OK)
        return rc;
    w->out->text = w->q.text;
    w->q.text_len = strlen(w->q.text);
    return ask_markets(w, b, mem, err);
}

tb_rc tb_label_check(struct tb_label_outcome *out, struct tb_book *b, const struct tb_label_request *request,
                     struct tb_arena *mem, struct tb_err *err)
{
    struct labelling w = { .request = request,
                           .out = out,
                           .q = { .text = request->text, .facts = request->facts },
                           .markets = request->markets };
    tb_rc rc = b ? tb_book_look(b, err) : TB_OK;

    *out = (struct tb_label_outcome){ .anyway = request->anyway };
    if (rc != TB_OK)
        return rc;
    rc = check(&w, b, mem, err);
    if (b)
        tb_book_look_away(b);
    tb_declaration_free(&w.actual);
    return rc;
}

void tb_label_outcome_free(struct tb_label_outcome *out)
{
    for (size_t i = 0; i < out->n; i++)
        tb_law_answer_free(&out->answer[i]);
    free(out->answer);
    free(out->goods);
    *out = (struct tb_label_outcome){ 0 };
}
