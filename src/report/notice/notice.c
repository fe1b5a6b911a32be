/* notice.c - what a notice says, from the book. */
#include "report/notice/notice_impl.h"

#include "tenterbook/analysis.h"
#include "tenterbook/evidence.h"
#include "tenterbook/lot_claim.h"

#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Everything of the lot that a notice draws on. */
struct facts {
    struct tb_lot lot;
    struct tb_delivery delivery;
    struct tb_claim claim;
    struct tb_declared *declared;
    struct tb_bolt *bolt;
    struct tb_burn *burn;
    struct tb_bench_test *test;
    struct tb_analysis *analysis;
    struct tb_judged judged;
    struct tb_joint_sample *joint;
    size_t declareds, bolts, burns, tests, analyses, joints;
    bool is_judged;
};

static const char *put(struct tb_notice *n, const char *fmt, ...) TB_PRINTF(2, 3);
static const char *put(struct tb_notice *n, const char *fmt, ...)
{
    struct tb_text t = { 0 };
    const char *s;
    va_list ap;

    va_start(ap, fmt);
    tb_text_vaddf(&t, fmt, ap);
    va_end(ap);
    s = tb_arena_strdup(&n->mem, tb_text_str(&t));
    tb_text_free(&t);
    return s;
}

static void before(struct tb_notice *n, enum notice_kind kind, const char *label, const char *text)
{
    TB_PUSH_ROOM(n->head, n->heads, n->head_cap);
    n->head[n->heads++] = (struct notice_block){ kind, label, text };
}

static void after(struct tb_notice *n, enum notice_kind kind, const char *label, const char *text)
{
    TB_PUSH_ROOM(n->tail, n->tails, n->tail_cap);
    n->tail[n->tails++] = (struct notice_block){ kind, label, text };
}

static bool is(const char *a, const char *b)
{
    return strcmp(a, b) == 0;
}

/* --- reading ---------------------------------------------------------------------------------------------------- */

static tb_rc load(struct facts *f, struct tb_book *b, const struct tb_notice_plan *plan, struct tb_arena *mem,
                  struct tb_err *err)
{
    tb_rc rc = tb_lot_find(&f->lot, b, plan->lot, mem, err);
    const char *id = f->lot.id;

    if (rc != TB_OK || (rc = tb_delivery_find(&f->delivery, b, f->lot.delivery_ref, mem, err)) != TB_OK ||
        (rc = tb_claim_of_lot(&f->claim, b, &f->lot, plan->day, mem, err)) != TB_OK ||
        (rc = tb_declaration_list(&f->declared, &f->declareds, b, id, mem, err)) != TB_OK ||
        (rc = tb_bolt_list(&f->bolt, &f->bolts, b, id, mem, err)) != TB_OK ||
        (rc = tb_burn_list(&f->burn, &f->burns, b, id, mem, err)) != TB_OK ||
        (rc = tb_bench_test_list(&f->test, &f->tests, b, id, mem, err)) != TB_OK ||
        (rc = tb_analysis_list(&f->analysis, &f->analyses, b, id, mem, err)) != TB_OK ||
        (rc = tb_joint_sample_list(&f->joint, &f->joints, b, id, mem, err)) != TB_OK)
        return rc;
    rc = tb_judged_latest(&f->judged, b, id, mem, err);
    f->is_judged = rc == TB_OK;
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

/* The supplier's own words: what we put on a label ourselves is not theirs. */
static const char *their_words(const struct facts *f)
{
    for (size_t i = f->declareds; i > 0; i--)
        if (!is(f->declared[i - 1].origin, "relabel"))
            return f->declared[i - 1].text;
    return "";
}

static bool laboratory_against(const struct facts *f)
{
    for (size_t i = 0; i < f->analyses; i++)
        if (strstr(f->analysis[i].answers, ":does_not_conform"))
            return true;
    return false;
}

static bool fault_shown(const struct facts *f)
{
    return (f->is_judged && f->judged.verdict == TB_CONTRADICTS) || laboratory_against(f);
}

static tb_rc check_plan(const struct tb_notice_plan *p, struct tb_err *err)
{
    if (!p->day || !tb_day_valid(p->day))
        return tb_fail(err, TB_EINVAL, "the day of the notice '%s' is none (YYYY-MM-DD)",
                       p->day ? p->day : "");
    if (p->answer_by && !tb_day_valid(p->answer_by))
        return tb_fail(err, TB_EINVAL, "the day of the answer '%s' is none (YYYY-MM-DD)", p->answer_by);
    if (p->answer_by && strcmp(p->answer_by, p->day) < 0)
        return tb_fail(err, TB_EINVAL, "an answer by %s is asked in a notice of %s", p->answer_by, p->day);
    if (p->asked && strlen(p->asked) > TB_NOTICE_ASK_MOST)
        return tb_fail(err, TB_EINVAL, "what is asked takes %zu bytes; a notice has room for %d",
                       strlen(p->asked), TB_NOTICE_ASK_MOST);
    return TB_OK;
}

/* A notice without particulars may count as none, and one against the evidence is worse than none. */
static tb_rc check_particulars(const struct facts *f, const struct tb_notice_plan *plan, struct tb_err *err)
{
    const char *ref = f->lot.ref;
    bool against = laboratory_against(f);

    if (strcmp(plan->day, f->lot.arrived) < 0)
        return tb_fail(err, TB_EINVAL, "a notice of %s comes before the goods of lot %s, which arrived on %s",
                       plan->day, ref, f->lot.arrived);
    if (!*their_words(f))
        return tb_fail(err, TB_EREFUSED,
                       "lot %s has no declaration: there is nothing the goods could differ from", ref);
    if (!f->burns && !f->tests && !f->analyses)
        return tb_fail(
            err, TB_EREFUSED,
            "lot %s was neither burnt, tested nor analysed: a notice without particulars may count as none",
            ref);
    if (f->is_judged && f->judged.verdict == TB_FITS && !against)
        return tb_fail(err, TB_EREFUSED,
                       "what was seen of lot %s fits its declaration: there is nothing to give notice of",
                       ref);
    return TB_OK;
}

/* --- the goods -------------------------------------------------------------------------------------------------- */

/* The lot by its number and by what the packing list says of it; what the list does not say is not mentioned. */
static const char *lot_words(struct tb_notice *n, const struct tb_lot *l)
{
    const char *const said[] = { l->article, l->colour, l->dye_lot };
    const char *const as[] = { _("article %s"), _("colour %s"), _("dye lot %s") };
    struct tb_text t = { 0 };
    const char *sign = ": ", *all;

    tb_text_add(&t, l->ref);
    for (size_t i = 0; i < TB_COUNT(said); i++)
        if (*said[i]) {
            tb_text_add(&t, sign);
            tb_text_addf(&t, as[i], said[i]);
            sign = ", ";
        }
    all = tb_arena_strdup(&n->mem, tb_text_str(&t));
    tb_text_free(&t);
    return all;
}

static void goods(struct tb_notice *n, const struct facts *f, const struct tb_notice_plan *plan,
                  const struct tb_site *site)
{
    const struct tb_delivery *d = &f->delivery;
    const struct tb_lot *l = &f->lot;

    before(n, NOTICE_TITLE, NULL,
           fault_shown(f) ? _("Notice: goods not as declared")
                          : _("Notice: doubt whether goods are as declared"));
    before(n, NOTICE_PAIR, _("To"), l->supplier_name);
    before(n, NOTICE_PAIR, _("From"), put(n, *site->country ? "%s, %s" : "%s", site->name, site->country));
    before(n, NOTICE_PAIR, _("Given by, on"), put(n, "%s, %s", plan->by ? plan->by : "-", plan->day));
    before(n, NOTICE_PAIR, _("Your delivery note"),
           put(n, d->note_day ? _("%s of %s") : "%s", *d->note ? d->note : "-", d->note_day));
    before(n, NOTICE_PAIR, _("Our order"), d->order_no);
    before(n, NOTICE_PAIR, _("Arrived"), put(n, _("%s, our delivery %s; %s"), d->arrived, d->ref, d->remark));
    before(n, NOTICE_PAIR, _("Lot"), lot_words(n, l));
    before(n, NOTICE_PAIR, _("Quantity"),
           put(n, l->bolts == 1 ? _("%lld bolt, %.2f m") : _("%lld bolts, %.2f m"), (long long)l->bolts,
               l->metres));
    before(n, NOTICE_HEADING, NULL, _("Declared, in your words"));
    before(n, NOTICE_QUOTE, NULL, their_words(f));
}

/* --- what was seen ---------------------------------------------------------------------------------------------- */

static void see(struct tb_notice *n, const char *text, size_t records)
{
    TB_PUSH_ROOM(n->seen, n->seens, n->seen_cap);
    n->seen[n->seens++] = (struct notice_item){ text, records };
}

static void cue_list(struct tb_text *t, const struct tb_burn *u, bool seen)
{
    size_t k = 0;

    for (size_t i = 0; i < u->cues; i++) {
        int at = tb_cue_by_key(u->cue[i].cue);
        struct tb_cue cue = { .meaning = u->cue[i].cue };

        if (u->cue[i].seen != seen)
            continue;
        if (at >= 0)
            tb_cue_at(&cue, at);
        tb_text_addf(t, "%s%s", k++ ? "; " : seen ? "" : _(" Not there: "), cue.meaning);
    }
    if (k)
        tb_text_add(t, ".");
}

/* Burns of one part on one day by one person that showed the same. */
struct alike {
    const struct tb_burn *first;
    struct tb_text seen, bolts, tags;
    size_t n, bolted, tagged; /* burns, the bolts and the swatches they were of */
};

#define ALIKE_MOST 25 /* swatches in one sentence */

static void what_was_seen(struct tb_text *t, const struct tb_burn *u)
{
    cue_list(t, u, true);
    cue_list(t, u, false);
    if (!u->cues)
        tb_text_addf(t, _("looked at %s, nothing named."), u->looked);
}

static struct alike *find_alike(struct alike *a, size_t n, const struct tb_burn *u, const char *seen)
{
    for (size_t i = 0; i < n; i++)
        if (a[i].n < ALIKE_MOST && is(a[i].first->part, u->part) && is(a[i].first->burned_by, u->burned_by) &&
            strncmp(a[i].first->burned_at, u->burned_at, TB_DAY_LEN) == 0 &&
            is(tb_text_str(&a[i].seen), seen))
            return &a[i];
    return NULL;
}

/* Burns of one bolt, or of one swatch, name it once. */
static void add_once(struct tb_text *list, size_t *n, const char *name)
{
    size_t len = strlen(name);

    for (const char *at = tb_text_str(list); (at = strstr(at, name)) != NULL; at++)
        if ((at == list->s || (at >= list->s + 2 && at[-2] == ',' && at[-1] == ' ')) &&
            (at[len] == '\0' || at[len] == ','))
            return;
    tb_text_addf(list, "%s%s", list->n ? ", " : "", name);
    ++*n;
}

static void say_alike(struct tb_notice *n, struct alike *a)
{
    see(n,
        put(n,
            a->tagged == 1   ? _("Bolt %s, %s, swatch %s, burnt %.10s by %s: %s")
            : a->bolted == 1 ? _("Bolt %s, %s, swatches %s, burnt %.10s by %s: %s")
                             : _("Bolts %s, %s, swatches %s, burnt %.10s by %s: %s"),
            a->bolts.s, a->first->part, a->tags.s, a->first->burned_at, a->first->burned_by,
            tb_text_str(&a->seen)),
        a->n);
    tb_text_free(&a->seen);
    tb_text_free(&a->bolts);
    tb_text_free(&a->tags);
}

static void burns(struct tb_notice *n, const struct facts *f)
{
    struct alike *a = tb_array(struct alike, f->burns + 1);
    size_t groups = 0;

    for (size_t i = 0; i < f->burns; i++) {
        const struct tb_burn *u = &f->burn[i];
        struct tb_text seen = { 0 };
        struct alike *g;

        what_was_seen(&seen, u);
        if (!(g = find_alike(a, groups, u, tb_text_str(&seen)))) {
            g = &a[groups++];
            g->first = u;
            g->seen = seen;
        } else {
            tb_text_free(&seen);
        }
        add_once(&g->bolts, &g->bolted, u->bolt_number);
        add_once(&g->tags, &g->tagged, u->tag);
        g->n++;
    }
    for (size_t i = 0; i < groups; i++)
        say_alike(n, &a[i]);
    free(a);
}

static void bench_tests(struct tb_notice *n, const struct facts *f)
{
    for (size_t i = 0; i < f->tests; i++) {
        const struct tb_bench_test *x = &f->test[i];
        struct tb_cue cue = { .meaning = x->result };
        int at = tb_cue_by_key(put(n, "%s:%s", x->test, x->result));

        if (at >= 0)
            tb_cue_at(&cue, at);
        see(n,
            put(n, _("Swatch %s, %s, tested %.10s by %s: %s, %s."), x->tag, x->part, x->tested_at,
                x->tested_by, x->test, cue.meaning),
            1);
    }
}

/* Laboratory first: it proves more than a burn. */
static void laboratory(struct tb_notice *n, const struct facts *f)
{
    for (size_t i = 0; i < f->analyses; i++) {
        const struct tb_analysis *a = &f->analysis[i];

        see(n,
            put(n, _("Laboratory %s, report %s, %s, %s: found %s."), *a->laboratory ? a->laboratory : "-",
                *a->report ? a->report : "-", a->analysed_on, a->part, a->found),
            1);
    }
}

static void burnt_bolts(struct tb_notice *n, const struct facts *f)
{
    double metres = 0;

    for (size_t i = 0; i < f->bolts; i++) {
        bool burnt = false;

        for (size_t k = 0; k < f->burns && !burnt; k++)
            burnt = is(f->burn[k].bolt_number, f->bolt[i].number);
        if (!burnt)
            continue;
        metres += f->bolt[i].metres;
        TB_PUSH_ROOM(n->bolt, n->bolts, n->bolt_cap);
        n->bolt[n->bolts++] = put(n, "%s (%.2f m)", f->bolt[i].number, f->bolt[i].metres);
    }
    n->counted =
        f->burns ? put(n,
                       f->lot.bolts == 1 ? _("Swatches of %zu of %lld bolt, %.2f of %.2f m, were burnt:")
                                         : _("Swatches of %zu of %lld bolts, %.2f of %.2f m, were burnt:"),
                       n->bolts, (long long)f->lot.bolts, metres, f->lot.metres)
                 : put(n,
                       f->lot.bolts == 1 ? _("No swatch was burnt; the lot has %lld bolt, %.2f m.")
                                         : _("No swatch was burnt; the lot has %lld bolts, %.2f m."),
                       (long long)f->lot.bolts, f->lot.metres);
}

/* Bolts that contradict the declaration judged alone, where the verdict says so. */
static size_t alone_against(const struct facts *f)
{
    json_t *detail = f->is_judged ? json_loads(f->judged.detail, 0, NULL) : NULL, *bolt;
    size_t i, count = 0;

    json_array_foreach(json_object_get(detail, "by_bolt"), i, bolt)
    {
        const char *v = json_string_value(json_object_get(bolt, "verdict"));

        count += v && is(v, "contradicts");
    }
    json_decref(detail);
    return count;
}

static void conclude(struct tb_notice *n, const struct facts *f)
{
    size_t alone = alone_against(f);

    if (f->is_judged && f->judged.verdict == TB_CONTRADICTS)
        n->concluded =
            alone && n->bolts > 1
                ? put(n,
                      alone == 1
                          ? _("What was seen does not fit the declaration; judged alone, %zu of the %zu "
                              "bolts burnt does not fit it.")
                          : _("What was seen does not fit the declaration; judged alone, %zu of the %zu "
                              "bolts burnt do not fit it."),
                      alone, n->bolts)
                : _("What was seen does not fit the declaration.");
    else if (laboratory_against(f))
        n->concluded = _("What the laboratory found does not conform to the declaration.");
    else
        n->concluded = _("What was seen leaves a doubt about the declaration; the examination goes on.");
}

/* --- the goods now, and what is asked --------------------------------------------------------------------------- */

static void state_of_goods(struct tb_notice *n, const struct facts *f)
{
    struct tb_text t = { 0 };

    after(n, NOTICE_HEADING, NULL, _("The goods"));
    tb_text_addf(&t, _("Standing of the lot: %s."), tb_standing_key(f->lot.standing));
    if (!f->claim.uses)
        tb_text_add(&t, _(" No bolt is recorded as cut into."));
    for (size_t i = 0; i < f->claim.uses && i < 5; i++)
        tb_text_addf(&t, _(" Bolt %s was cut into on %.10s."), f->claim.use[i].bolt_number,
                     f->claim.use[i].used_at);
    if (f->claim.uses > 5)
        tb_text_addf(&t, _(" So were others, %zu cuts in all."), f->claim.uses);
    if (f->claim.found_on)
        tb_text_addf(&t, _(" The difference was found on %s."), f->claim.found_on);
    after(n, NOTICE_TEXT, NULL, put(n, "%s", t.s));
    tb_text_free(&t);
}

static void asked(struct tb_notice *n, const struct facts *f, const struct tb_notice_plan *plan)
{
    after(n, NOTICE_HEADING, NULL, _("What is asked"));
    after(n, NOTICE_TEXT, NULL,
          plan->asked && *plan->asked ? plan->asked
                                      : _("Please send your records of this lot (composition, yarn and dye "
                                          "lots, test reports), and take part in a "
                                          "joint sample: retained swatches are dealt at random to you, to a "
                                          "laboratory both sides name, and to "
                                          "our shelf."));
    after(n, NOTICE_PAIR, _("Please answer by"), plan->answer_by ? plan->answer_by : "");
    if (f->joints) {
        const struct tb_joint_sample *j = &f->joint[f->joints - 1];

        after(
            n, NOTICE_PAIR, _("Joint sample"),
            put(n, _("%lld for you, dealt %.10s by seed %s"), (long long)j->each_one, j->dealt_at, j->seed));
    }
    after(
        n, NOTICE_SMALL, NULL,
        _("A burn shows kinds of fibre, not percentages, and some fibres burn alike; a laboratory decides "
          "shares. What is "
          "said here is true of the swatches named. The case file with every record can be checked by you."));
}

static tb_rc make(struct tb_notice *n, struct tb_book *b, const struct tb_notice_plan *plan,
                  struct tb_err *err)
{
    struct facts f = { 0 };
    char digest[65];
    int64_t row;
    tb_rc rc = check_plan(plan, err);

    if (rc != TB_OK || (rc = load(&f, b, plan, &n->mem, err)) != TB_OK ||
        (rc = check_particulars(&f, plan, err)) != TB_OK ||
        (rc = tb_book_head(&row, digest, b, err)) != TB_OK)
        return rc;
    n->lot = f.lot.ref;
    n->supplier = f.lot.supplier_name;
    n->day = tb_arena_strdup(&n->mem, plan->day);
    n->state = put(n, _("journal row %lld, %.16s..."), (long long)row, digest);
    goods(n, &f, plan, tb_book_site(b));
    burnt_bolts(n, &f);
    conclude(n, &f);
    laboratory(n, &f);
    burns(n, &f);
    bench_tests(n, &f);
    state_of_goods(n, &f);
    asked(n, &f, plan);
    n->seen_shown = n->seens;
    n->bolts_shown = n->bolts;
    return TB_OK;
}

tb_rc tb_notice_make(struct tb_notice **out, struct tb_book *b, const struct tb_notice_plan *plan,
                     struct tb_err *err)
{
    struct tb_notice *n = tb_new(struct tb_notice);
    tb_rc rc = tb_book_look(b, err);

    if (rc == TB_OK) {
        rc = make(n, b, plan, err);
        tb_book_look_away(b);
    }
    if (rc != TB_OK) {
        tb_notice_free(n);
        return rc;
    }
    *out = n;
    return TB_OK;
}

void tb_notice_free(struct tb_notice *n)
{
    if (!n)
        return;
    free(n->head);
    free(n->tail);
    free(n->seen);
    free(n->bolt);
    tb_arena_free(&n->mem);
    free(n);
}

const char *tb_notice_lot(const struct tb_notice *n)
{
    return n->lot;
}

/* --- in order --------------------------------------------------------------------------------------------------- */

static void counts(const struct tb_notice *n, notice_fn *fn, void *arg)
{
    struct tb_text t = { 0 };

    tb_text_add(&t, n->counted);
    for (size_t i = 0; i < n->bolts_shown; i++)
        tb_text_addf(&t, "%s %s", i ? "," : "", n->bolt[i]);
    if (n->bolts_shown < n->bolts)
        tb_text_addf(&t, _(" and %zu more, each in the case file"), n->bolts - n->bolts_shown);
    if (n->bolts)
        tb_text_add(&t, ".");
    fn(arg, &(struct notice_block){ NOTICE_TEXT, NULL, t.s });
    tb_text_free(&t);
}

void tb_notice_walk(const struct tb_notice *n, notice_fn *fn, void *arg)
{
    struct tb_text more = { 0 };
    size_t left = 0;

    for (size_t i = 0; i < n->heads; i++)
        fn(arg, &n->head[i]);
    fn(arg, &(struct notice_block){ NOTICE_HEADING, NULL, _("What was seen") });
    counts(n, fn, arg);
    for (size_t i = 0; i < n->seen_shown; i++)
        fn(arg, &(struct notice_block){ NOTICE_ITEM, NULL, n->seen[i].text });
    for (size_t i = n->seen_shown; i < n->seens; i++)
        left += n->seen[i].records;
    if (left) {
        tb_text_addf(&more,
                     left == 1 ? _("and %zu record more, in the case file.")
                               : _("and %zu records more, each in the case file."),
                     left);
        fn(arg, &(struct notice_block){ NOTICE_ITEM, NULL, more.s });
    }
    tb_text_free(&more);
    fn(arg, &(struct notice_block){ NOTICE_TEXT, NULL, n->concluded });
    for (size_t i = 0; i < n->tails; i++)
        fn(arg, &n->tail[i]);
}
