/* An analysis of a lot: computed, compared with what the lot declares, recorded. */
#include "work/assay.h"
#include "base/say.h"
#include "tenterbook/act_lab.h"
#include "tenterbook/dispute.h"
#include "tenterbook/law.h"
#include "tenterbook/said.h"
#include "tenterbook/setting.h"
#include "tenterbook/utf8.h"
#include "work/act.h"
#include "work/hold.h"
#include "work/moment.h"
#include "work/send.h"
#include "work/verdict.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What these words claim of the part that was analysed; what cannot be read for certain claims nothing. */
static void read_claim(struct tb_assay *a, const char *words, bool clear, enum tb_part_kind part)
{
    tb_declaration_read(&a->declared, words, strlen(words));
    for (size_t i = 0; clear && i < a->declared.comp.n; i++)
        if (a->declared.comp.part[i].kind == part)
            a->claim = &a->declared.comp.part[i];
}

/* The words of the supplier: under a label of ours the last that were theirs. */
static tb_rc find_said(struct tb_assay_lot_outcome *out, struct tb_job *j)
{
    const struct tb_lot *lot = &out->lot;
    struct tb_declared *all;
    size_t n;
    tb_rc rc;

    out->said = (struct tb_declared){ .id = lot->declaration, .text = lot->declared, .clear = lot->clear };
    if (!lot->own_words)
        return TB_OK;
    out->said = (struct tb_declared){ .text = "" };
    rc = tb_declaration_list(&all, &n, j->b, lot->id, j->mem, j->err);
    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if (all[i].origin != TB_ORIGIN_RELABEL)
            out->said = all[i];
    return rc;
}

/* The claim of the lot for the part that was analysed. Without clear words nothing is compared. */
static tb_rc take_claim(struct tb_assay_lot_outcome *out, struct tb_job *j, enum tb_part_kind part)
{
    tb_rc rc = find_said(out, j);

    if (rc != TB_OK)
        return rc;
    read_claim(&out->assay, out->said.text, out->said.clear, part);
    if (out->lot.own_words)
        read_claim(&out->label, out->lot.declared, out->lot.clear, part);
    if (!out->assay.claim && out->said.clear)
        return tb_about(j->err,
                        tb_fail(j->err, TB_EINVAL,
                                "lot %s declares \"%s\": there is no %s in it; say which part was analysed",
                                out->lot.ref, out->said.text, tb_part_key(part)),
                        "part");
    return TB_OK;
}

/* "analysed on ..., but ...": the day is asked about. */
static tb_rc check_dealt(struct tb_job *j, const struct tb_analysis *x, const struct tb_lot *lot)
{
    struct tb_joint_sample *sample;
    size_t n;
    tb_rc rc = tb_joint_sample_list(&sample, &n, j->b, lot->id, j->mem, j->err);

    if (rc != TB_OK || n == 0 || strncmp(x->analysed_on, sample[0].dealt_at, TB_DAY_LEN) >= 0)
        return rc;
    return tb_about(
        j->err,
        tb_fail(j->err, TB_EREFUSED,
                "analysed on %s, but the joint sample of lot %s was dealt on %.10s: say that this is "
                "known, where the day is right",
                x->analysed_on, lot->ref, sample[0].dealt_at),
        "on anyway");
}

/* Before the first swatch was cut there was nothing to send. A laboratory may have had cloth that the book knows no swatch of: that is asked. */
static tb_rc check_cut(struct tb_job *j, const struct tb_analysis *x, const struct tb_lot *lot)
{
    const struct tb_swatch *first = NULL;
    struct tb_swatch *swatch;
    size_t n;
    tb_rc rc = tb_swatch_list(&swatch, &n, j->b, lot->id, j->mem, j->err);

    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if (!first || strcmp(swatch[i].cut_at, first->cut_at) < 0)
            first = &swatch[i];
    if (!first || strncmp(x->analysed_on, first->cut_at, TB_DAY_LEN) >= 0)
        return rc;
    return tb_about(j->err,
                    tb_fail(j->err, TB_EREFUSED,
                            "analysed on %s, but the first swatch of lot %s was cut on %.10s: say that this "
                            "is known, where the day is right",
                            x->analysed_on, lot->ref, first->cut_at),
                    "on anyway");
}

static tb_rc check_sent(struct tb_job *j, const struct tb_analysis *x, const struct tb_lot *lot)
{
    struct tb_sending sent;
    tb_rc rc;

    if (x->replaces) /* what was sent since has its own report to come */
        return TB_OK;
    if ((rc = tb_sent_later(&sent, j, lot->id, x->laboratory, x->analysed_on)) != TB_OK || !sent.sent_on)
        return rc;
    return tb_about(j->err,
                    tb_fail(j->err, TB_EREFUSED,
                            "analysed on %s, but the sample of lot %s went to %s on %s: say that this is "
                            "known, where the day is right",
                            x->analysed_on, lot->ref, sent.laboratory, sent.sent_on),
                    "on anyway");
}

/* Cloth that was not here yet, or that the laboratory had not got, was hardly what it analysed. */
static tb_rc check_day(struct tb_job *j, const struct tb_analysis *x, const struct tb_lot *lot)
{
    const struct tb_assay_lot_request *r = j->request;
    tb_rc rc;

    if (r->anyway || !tb_day_valid(x->analysed_on)) /* which the book refuses */
        return TB_OK;
    if (strcmp(x->analysed_on, lot->arrived) < 0)
        return tb_about(j->err,
                        tb_fail(j->err, TB_EREFUSED,
                                "analysed on %s, but lot %s arrived on %s: say that this is known, where the "
                                "day is right",
                                x->analysed_on, lot->ref, lot->arrived),
                        "on anyway");
    if ((rc = check_cut(j, x, lot)) != TB_OK || (rc = check_dealt(j, x, lot)) != TB_OK)
        return rc;
    return check_sent(j, x, lot);
}

/* --- the record ------------------------------------------------------------------------------------------------- */

/* What was found, as a composition a person reads. */
static const char *found_words(const struct tb_assay *a, struct tb_arena *mem)
{
    enum tb_lab_basis b = tb_assay_main_basis(a);
    struct tb_composition c = { 0 };
    struct tb_part *part = tb_composition_add_part(&c, TB_PART_WHOLE);
    struct tb_text t = { 0 };

    for (size_t i = 0; i < a->fibres; i++)
        (void)tb_part_add_share(part, a->found[b][i].fibre,
                                a->reported ? a->found[b][i].percent : a->result.share[b][i].rounded);
    tb_composition_print(&t, &c);
    tb_composition_free(&c);
    return tb_arena_take(mem, &t);
}

/* "us:conforms eu:cannot_be_said": the book keeps keys, which stay the same in every language. */
static const char *answers_words(const struct tb_assay *a, struct tb_arena *mem)
{
    struct tb_text t = { 0 };

    for (size_t i = 0; i < a->markets; i++)
        tb_text_addf(&t, "%s%s:%s", i ? " " : "", a->conform[i].market,
                     tb_lab_answer_key(a->conform[i].answer));
    return tb_arena_take(mem, &t);
}

static const char *methods_words(const struct tb_assay *a, struct tb_arena *mem)
{
    struct tb_text t = { 0 };

    for (size_t k = 0; k < 2 && a->setup.method[k]; k++)
        tb_text_addf(&t, "%s%d", k ? " " : "", a->setup.method[k]);
    return tb_arena_take(mem, &t);
}

/* The list of analyses shows one figure: the least certain share tells how far the whole can be trusted. */
static double largest_u(const struct tb_assay *a)
{
    enum tb_lab_basis b = tb_assay_main_basis(a);
    double u = 0;

    for (size_t i = 0; i < a->fibres; i++)
        u = fmax(u, a->found[b][i].u);
    return u;
}

/* Seventeen digits: what is read back from the record is the same number. */
static tb_rc detail_text(const char **out, const struct tb_assay *a, struct tb_arena *mem, struct tb_err *err)
{
    json_t *j = tb_assay_json(a);
    char *text = json_dumps(j, JSON_COMPACT | JSON_REAL_PRECISION(17));

    json_decref(j);
    if (!text)
        return tb_fail(err, TB_EINVAL, "what is said of the analysis holds bytes that are not UTF-8");
    *out = tb_arena_strdup(mem, text);
    free(text);
    return TB_OK;
}

/* What the record says besides the figures can be read without them; the detail holds everything. */
static tb_rc make_record(struct tb_assay_lot_outcome *out, struct tb_arena *mem, struct tb_err *err)
{
    const struct tb_assay *a = &out->assay;
    struct tb_analysis *x = &out->analysis;

    x->lot = out->lot.id;
    x->declaration = a->claim ? out->said.id : NULL;
    x->declared = a->claim ? out->said.text : "";
    x->route = a->reported ? "reported" : tb_lab_route_key(a->setup.task.route);
    x->methods = methods_words(a, mem);
    x->found = found_words(a, mem);
    x->u = largest_u(a);
    x->answers = answers_words(a, mem);
    return detail_text(&x->detail, a, mem, err);
}

/* --- beside what is recorded already ------------------------------------------------------------------------------ */

/* A report typed twice, or for the wrong lot, would decide of the lot without a word: whoever types it says that it is right. */
static tb_rc check_others(struct tb_job *j, const struct tb_assay_lot_outcome *out)
{
    const struct tb_assay_lot_request *r = j->request;
    const struct tb_analysis *x = &out->analysis;
    struct tb_analysis *old;
    size_t n;
    tb_rc rc = tb_analysis_list(&old, &n, j->b, out->lot.id, j->mem, j->err);

    for (size_t i = 0; i < n && rc == TB_OK && !r->anyway; i++) {
        if (old[i].part != x->part || (r->corrects && strcmp(r->corrects, old[i].id) == 0))
            continue;
        if (r->report && *r->report && strcmp(r->report, old[i].report) == 0 && r->laboratory &&
            tb_fold_same(r->laboratory, old[i].laboratory))
            return tb_about(
                j->err,
                tb_fail(j->err, TB_EEXISTS,
                        "lot %s: report %s of %s is recorded already, with %s; what is wrong in it is "
                        "corrected",
                        out->lot.ref, old[i].report, old[i].laboratory, old[i].found),
                "corrects anyway");
        if (tb_analysis_opposed(x, &old[i]))
            return tb_about(
                j->err,
                tb_fail(
                    j->err, TB_EREFUSED,
                    !tb_analysis_opposite(x, &old[i])
                        ? "lot %s: an analysis of %s found %s, which is further from this one than the "
                          "uncertainties of both allow. Correct the earlier one, where this one takes its "
                          "place: it was wrong, or the same cloth was analysed again. Where both are right, "
                          "say "
                          "so: laboratories then disagree, and the lot stays open"
                        : "lot %s: an analysis of %s found %s, and this one says the opposite. Correct the "
                          "earlier one, where this one takes its place: it was wrong, or the same cloth was "
                          "analysed again. Where both are right, say so: laboratories then disagree, and the "
                          "lot stays open",
                    out->lot.ref, old[i].analysed_on, old[i].found),
                "corrects anyway");
    }
    return rc;
}

/* --- the act ---------------------------------------------------------------------------------------------------- */

/* What the laboratory's desk says stands in the record of the analysis. */
static tb_rc check_texts(const struct tb_assay_request *r, struct tb_err *err)
{
    const char *const text[] = { r->mixture, r->dissolved, r->factors, r->table, r->found, r->basis };
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < TB_COUNT(text) && rc == TB_OK; i++)
        if (text[i])
            rc = tb_said_check(_("what is said of the analysis"), text[i], err);
    for (size_t i = 0; i < r->conditions && rc == TB_OK; i++)
        rc = tb_said_check(_("what is said of the analysis"), r->condition[i], err);
    return rc;
}

/* Where no market is named, those the site sells to: another may allow less, and nobody asked about it. */
static tb_rc take_markets(struct tb_market_list *list, struct tb_assay_request *r, struct tb_job *j)
{
    tb_rc rc = r->markets ? TB_OK : tb_setting_markets(list, j->b, j->err);

    if (rc == TB_OK && list->n) {
        r->market = list->key;
        r->markets = list->n;
    }
    return rc;
}

static tb_rc plan(struct tb_job *j)
{
    const struct tb_assay_lot_request *r = j->request;
    struct tb_assay_lot_outcome *out = j->out;
    struct tb_assay *a = &out->assay;
    struct tb_analysis *x = &out->analysis;
    struct tb_assay_request asked = *r->assay;
    struct tb_market_list sold = { .n = 0 };
    tb_rc rc;

    tb_assay_lot_outcome_free(out);
    *x = (struct tb_analysis){
        .part = r->part, .laboratory = r->laboratory, .report = r->report, .replaces = r->corrects
    };
    if ((rc = check_texts(r->assay, j->err)) != TB_OK ||
        (rc = tb_past_day(&x->analysed_on, r->analysed_on, j->mem, j->err)) != TB_OK ||
        (rc = tb_job_lot(&out->lot, j, r->lot)) != TB_OK ||
        (rc = tb_laboratory_of_sendings(&x->laboratory, j, out->lot.id)) != TB_OK ||
        (rc = check_day(j, x, &out->lot)) != TB_OK || (rc = take_claim(out, j, x->part)) != TB_OK ||
        (rc = take_markets(&sold, &asked, j)) != TB_OK || (rc = tb_assay_run(a, &asked, j->err)) != TB_OK)
        return rc;
    if (out->label.claim && (rc = tb_assay_run(&out->label, &asked, j->err)) != TB_OK)
        return rc;
    rc = make_record(out, j->mem, j->err);
    return rc == TB_OK ? check_others(j, out) : rc;
}

static tb_rc write(struct tb_job *j)
{
    struct tb_assay_lot_outcome *out = j->out;
    tb_rc rc = tb_analysis_add(&out->analysis, j->b, j->mem, j->err);

    if (rc == TB_OK && out->analysis.replaces)
        rc = tb_hold_ends(&out->lifted, j, &out->lot);
    if (rc == TB_OK)
        rc = tb_hold_by_laboratory(&out->held, j, &out->lot, &out->analysis);
    return rc == TB_OK ? tb_sending_list(&out->sending, &out->sendings, j->b, out->lot.id, j->mem, j->err)
                       : rc;
}

static const struct tb_said said[] = {
    TB_SAYS(tb_assay_lot_request, lot, N_("the lot")),
    TB_SAYS(tb_assay_lot_request, laboratory, N_("the laboratory")),
    TB_SAYS(tb_assay_lot_request, report, N_("the number of the report")),
    TB_SAYS(tb_assay_lot_request, analysed_on, N_("the day of the analysis")),
    TB_SAYS(tb_assay_lot_request, corrects, N_("the analysis to correct")),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_assay(struct tb_assay_lot_outcome *out, const struct tb_actor *actor,
                   const struct tb_assay_lot_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { .verb = TB_VERB_ASSAY,
                                       .plan = plan,
                                       .write = write,
                                       .size = sizeof(struct tb_assay_lot_request),
                                       .said = said };

    *out = (struct tb_assay_lot_outcome){ 0 };
    return tb_act_do(&act, &(struct tb_job){ .request = request, .out = out, .mem = mem }, actor, err);
}

void tb_assay_lot_outcome_free(struct tb_assay_lot_outcome *out)
{
    tb_assay_free(&out->assay);
    tb_assay_free(&out->label);
    *out = (struct tb_assay_lot_outcome){ 0 };
}
