/* The day at the bench: lots that wait, what each is worth, and which of them fit into the hours there are. */
#include "tenterbook/act_draw.h"
#include "tenterbook/bench_day.h"
#include "tenterbook/concluded.h"
#include "tenterbook/date.h"
#include "tenterbook/fibre.h"
#include "tenterbook/money_rate.h"
#include "tenterbook/setting.h"
#include "tenterbook/sheet.h"
#include "tenterbook/todo.h"
#include "tenterbook/work.h"
#include "work/day_stake.h"
#include "work/reach.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

struct planning {
    const struct tb_bench_day_request *request;
    struct tb_bench_day *out;
    struct tb_book *book;
    struct tb_arena *mem;
    struct tb_bench_pick *lot; /* all that could be burned */
    size_t n, cap;
    const struct tb_supplier_tally *tally;
    size_t tallies;
    struct tb_belief belief;
    struct tb_reach reach;
    const char **away; /* references of the lots of which a laboratory has a sample */
    size_t aways, away_cap;
};

/* The gain is kept beside the task: whoever reads the plan wants to see it, and it is computed once. */
static void add(struct planning *p, const char *lot, const char *supplier, const struct tb_task *task,
                const char *currency)
{
    TB_ARENA_ROOM(p->mem, p->lot, p->n, p->cap);
    p->lot[p->n++] = (struct tb_bench_pick){ .lot = tb_arena_strdup(p->mem, lot),
                                             .supplier = tb_arena_strdup(p->mem, supplier),
                                             .task = *task,
                                             .currency = tb_arena_strdup(p->mem, currency),
                                             .gain = task->value * task->chance * task->catch_ };
}

/* --- from a table ----------------------------------------------------------------------------------------------- */

/* A value a person typed wrong would plan the whole day wrong: the row is refused by its line. */
static tb_rc take_row(struct planning *p, const struct tb_named_row *row, struct tb_err *err)
{
    static const char *const names[] = { "a value", "a chance", "a chance of a catch",
                                         "a number of minutes" };
    double v[TB_COUNT(names)];

    for (size_t i = 0; i < TB_COUNT(names); i++) {
        const char *text = row->field[i + 1];
        bool chance = i == 1 || i == 2, minutes = i == 3;
        char *end;

        v[i] = strtod(text, &end);
        if (!*text || *end || !isfinite(v[i]) || v[i] < 0 || (minutes && v[i] == 0) || (chance && v[i] > 1))
            return tb_fail(err, TB_EINVAL, "%s: line %zu: '%s' is not %s", p->request->table, row->line, text,
                           names[i]);
    }
    add(p, row->field[0], "", &(struct tb_task){ v[0], v[1], v[2], v[3] }, "");
    return TB_OK;
}

static tb_rc from_table(struct planning *p, struct tb_err *err)
{
    static const struct tb_named_column column[] = {
        { "lot", true }, { "value", true }, { "chance", true }, { "catch", true }, { "minutes", true },
    };
    struct tb_named_row *row;
    size_t n = 0;
    tb_rc rc = tb_named_rows_read(&row, &n, p->request->table, column, TB_COUNT(column), true, p->mem, err);

    for (size_t i = 0; i < n && rc == TB_OK; i++)
        rc = take_row(p, &row[i], err);
    return rc;
}

/* --- from the book: lots that wait ------------------------------------------------------------------------------ */

/* The supplier's own record, drawn towards what is usual at this site; without one, what is usual. */
static double chance_false(const struct planning *p, const char *supplier)
{
    struct tb_err err = { 0 };

    for (size_t i = 0; i < p->tallies; i++) {
        const struct tb_supplier_tally *t = &p->tally[i];
        struct tb_tally own = { (long)(t->right_lots + t->wrong_lots), (long)t->wrong_lots };
        struct tb_posterior posterior;

        if (strcmp(t->supplier, supplier) == 0 &&
            tb_belief_posterior(&posterior, &p->belief, &own, 0.95, &err) == TB_OK)
            return posterior.mean;
    }
    return p->belief.fit.a / (p->belief.fit.a + p->belief.fit.b);
}

/* Warp and weft that are declared apart are burned apart; 0: cloth of the lot must not be burned. */
static tb_rc parts_of(long *n, struct tb_book *b, const struct tb_lot *lot, struct tb_err *err)
{
    struct tb_declaration d;
    enum tb_handling handling = TB_HANDLING_ANY;
    tb_rc rc = tb_lot_handling(&handling, b, lot, err);

    tb_declaration_read(&d, lot->declared, strlen(lot->declared));
    *n = handling != TB_HANDLING_ANY ? 0 : d.comp.n ? (long)d.comp.n : 1;
    tb_declaration_free(&d);
    return rc;
}

/* The report of a laboratory weighs more than any burn, and is on its way. */
static bool is_away(const struct planning *p, const struct tb_lot *lot)
{
    for (size_t i = 0; i < p->aways; i++)
        if (strcmp(p->away[i], lot->ref) == 0)
            return true;
    return false;
}

static tb_rc take_away(void *arg, const struct tb_todo_row *row, struct tb_err *err)
{
    struct planning *p = arg;

    (void)err;
    TB_ARENA_ROOM(p->mem, p->away, p->aways, p->away_cap);
    p->away[p->aways++] = tb_arena_strdup(p->mem, row->lot);
    return TB_OK;
}

/* Lots of which nothing was found yet, or nothing that decides, and that have bolts to burn. */
static tb_rc is_open(bool *out, struct tb_measured *left, const struct planning *p, const struct tb_lot *lot,
                     struct tb_arena *passing, struct tb_err *err)
{
    struct tb_concluded c = { 0 };
    tb_rc rc = tb_lot_concluded(&c, p->book, lot, passing, err);

    *out = false;
    if (rc == TB_OK && (rc = tb_left_find(left, p->book, lot, passing, err)) == TB_OK)
        *out = ((lot->burns == 0 && c.by == TB_BY_NOTHING) || (c.kind == TB_OPEN && c.by == TB_BY_BURNING)) &&
               left->bolts > 0;
    return rc;
}

/* A lot that is not weighed is counted with why; false: it is weighed. */
static bool left_out(const struct planning *p, const struct tb_lot *lot, const struct tb_stake *stake,
                     long parts)
{
    const struct tb_bench_day_request *r = p->request;

    if (parts == 0)
        p->out->spared++;
    else if (is_away(p, lot))
        p->out->awaited++;
    else if (isnan(stake->value))
        p->out->unmeasured++;
    else if (r->currency && !tb_stake_is_money(stake->currency))
        p->out->unpriced++;
    else
        return r->currency && strcasecmp(r->currency, stake->currency) != 0;
    return true;
}

static tb_rc plan_lot(struct planning *p, const struct tb_lot *lot, struct tb_arena *passing,
                      struct tb_err *err)
{
    const struct tb_bench_day_request *r = p->request;
    struct tb_bench_pick *pick;
    struct tb_stake stake;
    struct tb_plan plan;
    struct tb_measured left;
    long burns, parts;
    bool open;
    tb_rc rc;

    if ((rc = is_open(&open, &left, p, lot, passing, err)) != TB_OK || !open)
        return rc;
    if ((rc = parts_of(&parts, p->book, lot, err)) != TB_OK ||
        (rc = tb_stake_find(&stake, p->book, lot, &left, r->metres, passing, err)) != TB_OK ||
        left_out(p, lot, &stake, parts))
        return rc;
    if ((rc = tb_reach_lot(&plan, &p->reach, p->book, lot, (long)left.bolts, &r->want, err)) != TB_OK)
        return rc;
    /* what was begun is not paid for again */
    burns = ((plan.cut < 0 ? plan.bolts : plan.cut) - (long)lot->bolts_burnt) * parts;
    if (burns <= 0)
        return TB_OK;
    add(p, lot->ref, lot->supplier_name,
        &(struct tb_task){ stake.value, chance_false(p, lot->supplier), plan.chance,
                           (double)burns * r->burn_minutes },
        stake.currency);
    pick = &p->lot[p->n - 1];
    pick->derived = left.derived > 0 && strcmp(stake.currency, TB_STAKE_KILOGRAMS) != 0;
    pick->every = plan.cut < 0;
    return TB_OK;
}

static tb_rc take_lot(void *arg, const struct tb_lot *lot, struct tb_err *err)
{
    struct tb_arena passing = { 0 };
    tb_rc rc = plan_lot(arg, lot, &passing, err);

    tb_arena_free(&passing);
    return rc;
}

static tb_rc read_prior(struct planning *p, struct tb_book *b, struct tb_err *err)
{
    struct tb_supplier_tally *tally = NULL;
    struct tb_tally *own;
    tb_rc rc = tb_supplier_tallies(&tally, &p->tallies, b, p->mem, err);

    if (rc != TB_OK)
        return rc;
    p->tally = tally;
    own = tb_arena_alloc(p->mem, (p->tallies + 1) * sizeof *own);
    for (size_t i = 0; i < p->tallies; i++)
        own[i] =
            (struct tb_tally){ (long)(tally[i].right_lots + tally[i].wrong_lots), (long)tally[i].wrong_lots };
    return tb_record_belief(&p->belief, own, p->tallies, p->mem, err);
}

/* --- money ------------------------------------------------------------------------------------------------------ */

/* Each money once, in the order of the lots; metres and kilograms are none. */
struct monies {
    const char **name;
    struct tb_rate *rate; /* what one of it is worth in the site's money, and since when; 0: not known */
    size_t n, cap;
};

static void add_money(struct monies *m, const char *name, struct tb_arena *mem)
{
    for (size_t i = 0; i < m->n; i++)
        if (strcmp(m->name[i], name) == 0)
            return;
    TB_ARENA_ROOM(mem, m->name, m->n, m->cap);
    m->name[m->n++] = name;
}

/* Those in force today: what is planned is of today. */
static tb_rc find_rates(struct monies *m, const char *own, struct tb_book *b, struct tb_arena *mem,
                        struct tb_err *err)
{
    char today[TB_DAY_LEN + 1];
    tb_rc rc = TB_OK;

    tb_today(today);
    m->rate = tb_arena_alloc(mem, (m->n + 1) * sizeof *m->rate);
    for (size_t i = 0; i < m->n && rc == TB_OK; i++) {
        struct tb_rates all;
        const struct tb_rate *r;

        m->rate[i] = (struct tb_rate){ "", 1 };
        if (strcmp(m->name[i], own) == 0)
            continue;
        rc = tb_rates_read(&all, b, m->name[i], mem, err);
        r = rc == TB_OK ? tb_rate_on(&all, today) : NULL;
        m->rate[i] = r ? *r : (struct tb_rate){ "", 0 };
    }
    return rc;
}

/* What has no rate keeps its own money and its own plan. */
static void convert(struct planning *p, const struct monies *m, const char *own)
{
    struct tb_text said = { 0 }, missing = { 0 };

    for (size_t i = 0; i < m->n; i++)
        if (!(m->rate[i].rate > 0))
            tb_text_addf(&missing, "%s%s", missing.n ? ", " : "", m->name[i]);
        else if (strcmp(m->name[i], own) != 0)
            tb_text_addf(&said, "%s1 %s = %g %s from %s on", said.n ? "; " : "", m->name[i], m->rate[i].rate,
                         own, m->rate[i].from);
    for (size_t i = 0; i < p->n; i++)
        for (size_t k = 0; k < m->n; k++)
            if (m->rate[k].rate > 0 && strcmp(p->lot[i].currency, m->name[k]) == 0) {
                p->lot[i].task.value *= m->rate[k].rate;
                p->lot[i].gain *= m->rate[k].rate;
                p->lot[i].currency = own;
                break;
            }
    p->out->rates = tb_arena_take(p->mem, &said);
    p->out->without_rate = tb_arena_take(p->mem, &missing);
    p->out->money = own;
}

static tb_rc one_money(struct planning *p, struct tb_book *b, struct tb_err *err)
{
    struct monies m = { 0 };
    const char *own;
    tb_rc rc;

    for (size_t i = 0; i < p->n; i++)
        if (tb_stake_is_money(p->lot[i].currency))
            add_money(&m, p->lot[i].currency, p->mem);
    if (m.n < 2 || (rc = tb_setting_text(&own, b, "money", TB_BOOK_NOW, p->mem, err)) != TB_OK)
        return m.n < 2 ? TB_OK : rc;
    if (!*own || (rc = find_rates(&m, own, b, p->mem, err)) != TB_OK)
        return !*own ? TB_OK : rc;
    convert(p, &m, own);
    return TB_OK;
}

/* One state of the book: a lot that is burned meanwhile is in the plan or not in it, never half. */
static tb_rc from_book(struct planning *p, struct tb_book *b, struct tb_err *err)
{
    const struct tb_lot_filter waiting = { .standing = TB_WAITING };
    tb_rc rc = tb_book_look(b, err);

    char today[TB_DAY_LEN + 1];

    tb_today(today);
    if (rc == TB_OK && (rc = read_prior(p, b, err)) == TB_OK &&
        (rc = tb_todo_each(b, TB_TODO_LABORATORY, today, take_away, p, err)) == TB_OK)
        rc = tb_lot_each(b, &waiting, take_lot, p, err);
    if (rc == TB_OK)
        rc = one_money(p, b, err);
    tb_book_look_away(b);
    return rc;
}

/* --- what to do ------------------------------------------------------------------------------------------------- */

/* The lots of one money, or those weighed by metres, or by kilograms. */
static tb_rc choose(struct tb_bench_day *out, const struct planning *p, const char *currency,
                    struct tb_err *err)
{
    struct tb_task *task = tb_array(struct tb_task, p->n + 1);
    size_t *of = tb_array(size_t, p->n + 1);
    struct tb_day day = { 0 };
    tb_rc rc;

    for (size_t i = 0; i < p->n; i++)
        if (strcmp(p->lot[i].currency, currency) == 0) {
            of[out->lots] = i;
            task[out->lots++] = p->lot[i].task;
        }
    out->currency = currency;
    if ((rc = tb_day_plan(&day, task, out->lots, out->minutes, err)) == TB_OK) {
        out->pick = tb_arena_alloc(p->mem, (day.n + 1) * sizeof *out->pick);
        for (size_t i = 0; i < day.n && p->lot; i++) /* without a lot nothing is picked */
            out->pick[i] = p->lot[of[day.order[i]]];
        out->n = day.n;
        out->used = day.minutes;
        out->gain = day.gain;
        out->most = day.most;
    }
    tb_day_free(&day);
    free(task);
    free(of);
    return rc;
}

/* Priced lots come before those whose worth nobody knows. */
static tb_rc choose_each(struct planning *p, struct tb_err *err)
{
    struct tb_bench_day *out = p->out;
    struct monies m = { 0 };
    tb_rc rc;

    for (int priced = 1; priced >= 0; priced--)
        for (size_t i = 0; i < p->n; i++)
            if (tb_stake_is_money(p->lot[i].currency) == priced)
                add_money(&m, p->lot[i].currency, p->mem);
    rc = choose(out, p, m.n ? m.name[0] : "", err);
    out->other = tb_arena_alloc(p->mem, (m.n + 1) * sizeof *out->other);
    for (size_t i = 1; i < m.n && rc == TB_OK; i++) {
        out->other[out->others] = (struct tb_bench_day){ .minutes = out->minutes, .rates = "" };
        rc = choose(&out->other[out->others++], p, m.name[i], err);
    }
    return rc;
}

tb_rc tb_bench_day_plan(struct tb_bench_day *out, struct tb_book *b,
                        const struct tb_bench_day_request *request, struct tb_arena *mem, struct tb_err *err)
{
    struct planning p = { .request = request, .out = out, .book = b, .mem = mem, .reach = { .mem = mem } };
    tb_rc rc;

    *out = (struct tb_bench_day){
        .minutes = 60 * request->hours, .currency = "", .rates = "", .without_rate = "", .money = ""
    };
    if (!request->table && !(request->burn_minutes > 0))
        return tb_fail(err, TB_EINVAL, "a burn of %g minutes is not possible", request->burn_minutes);
    if (!(request->hours > 0))
        return tb_fail(err, TB_EINVAL, "no hours at the bench leave nothing to plan");
    rc = request->table ? from_table(&p, err) : from_book(&p, b, err);
    tb_reach_free(&p.reach);
    return rc == TB_OK ? choose_each(&p, err) : rc;
}
