/* What is left to do: the rows of each kind made into things a person can do, what is urgent first. */
#include "tenterbook/todo.h"
#include "tenterbook/concluded.h"
#include "tenterbook/date.h"
#include "tenterbook/label_lot.h"
#include "tenterbook/lot_claim.h"
#include "tenterbook/named.h"
#include "tenterbook/stored_verdict.h"
#include "tenterbook/work.h"
#include "work/reach.h"

#include <string.h>

TB_WORDS(tb_todo_words_of, TB_TODO_KINDS, "'%s' is not a kind of thing to do", "claim", "held", "held_bolt",
         "decide", "ground", "speaks_against", "undecided", "words", "unsettled", "unburnt", "uncut",
         "undrawn", "laboratory", "joint");

struct listing {
    const struct tb_todo_request *request;
    struct tb_todo *out;
    struct tb_book *book;
    struct tb_arena *mem;
    enum tb_todo_kind kind;
    size_t cap;
    struct tb_todo_item
        pile; /* rows of one pile come one after the other: the one that is being put together */
    struct tb_text what;
    const char *key;   /* of that pile; "" there is none */
    const char *asked; /* the lot of the row before, "" there is none, and what may be done to it */
    enum tb_handling handling;
    bool unburnable;
    struct tb_reach reach;
};

static bool wanted(const struct listing *l, const struct tb_todo_item *i)
{
    const struct tb_todo_request *r = l->request;

    return (!r->person || !*i->who || strcmp(r->person, i->who) == 0) &&
           (!r->day || strncmp(r->day, i->since, TB_DAY_LEN) == 0);
}

static void add(struct listing *l, const struct tb_todo_item *item)
{
    struct tb_todo *out = l->out;

    if (!wanted(l, item))
        return;
    TB_ARENA_ROOM(l->mem, out->item, out->n, l->cap);
    out->item[out->n++] = *item;
    out->of[item->kind]++;
}

/* The test that its verdict says to make next, as judge names it; where it names none, the first of those worth making. */
static const char *next_of(struct tb_arena *mem, const struct tb_stored_verdict *v, enum tb_todo_kind kind)
{
    bool named = v->confirm.test && *v->confirm.test;
    const struct tb_stored_next *n = !named && kind != TB_TODO_HELD && v->n_next ? &v->next[0] : &v->confirm;

    return !n->test || !*n->test || v->kind == TB_FITS ? "" : tb_stored_next_clause(n, mem);
}

/*
 * A stored verdict is long and one sentence of it is wanted, and whether it speaks against the words: the rest is let go of at once.
 */
static tb_rc find_next(struct tb_todo_item *item, bool *speaks, const struct listing *l, const char *detail,
                       struct tb_err *err)
{
    struct tb_arena passing = { 0 };
    struct tb_stored_verdict v = { 0 };
    tb_rc rc = tb_stored_verdict_parse(&v, detail, &passing, err);

    *speaks = rc == TB_OK && tb_grade_of(v.grade, v.kind) == TB_GRADE_SPEAKS_AGAINST;
    if (rc == TB_OK)
        item->next = next_of(l->mem, &v, item->kind);
    else if (rc != TB_ENOTFOUND)
        rc = tb_within(err, rc, "lot %s", item->lot);
    tb_arena_free(&passing);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

/*
 * Nobody who takes over may be told to cut or to burn what must not be: its words and burns are asked, once where its swatches
 * come one after the other.
 */
static tb_rc find_handling(struct tb_todo_item *item, struct listing *l, struct tb_err *err)
{
    struct tb_arena passing = { 0 };
    struct tb_lot lot;
    tb_rc rc = TB_OK;

    if (strcmp(l->asked, item->lot) != 0 &&
        (rc = tb_lot_find(&lot, l->book, item->lot, &passing, err)) == TB_OK &&
        (rc = tb_lot_handling(&l->handling, l->book, &lot, err)) == TB_OK &&
        (rc = tb_lot_unburnable(&l->unburnable, l->book, &lot, err)) == TB_OK)
        l->asked = item->lot;
    tb_arena_free(&passing);
    item->handling = l->handling;
    item->unburnable = l->unburnable;
    return rc;
}

/* Whether a draw would promise what it promises as a rule, or is refused. */
static tb_rc find_draw(struct tb_todo_item *item, struct listing *l, const char *declared, struct tb_err *err)
{
    const struct tb_lot lot = { .declared = declared };
    struct tb_plan plan;
    tb_rc rc =
        tb_reach_lot(&plan, &l->reach, l->book, &lot, (long)item->among, &(struct tb_plan_wish){ 0 }, err);

    item->every = rc == TB_OK && plan.cut < 0;
    return rc;
}

static void due(struct tb_todo_item *item, const char *day, const char *today)
{
    item->due = day;
    item->left = *day ? tb_day_number(day) - tb_day_number(today) : 0;
}

/* What the row says, kept. */
static struct tb_todo_item keep(const struct listing *l, const struct tb_todo_row *r)
{
    struct tb_todo_item i = { .kind = l->kind,
                              .lot = tb_arena_strdup(l->mem, r->lot),
                              .supplier = tb_arena_strdup(l->mem, r->supplier),
                              .since = tb_arena_strdup(l->mem, r->since),
                              .who = tb_arena_strdup(l->mem, r->who),
                              .what = "",
                              .bolt = "",
                              .part = "",
                              .next = "",
                              .due = "",
                              .now = "",
                              .conclusion = "",
                              .markets = "",
                              .pieces = r->pieces,
                              .among = r->among };

    due(&i, tb_arena_strdup(l->mem, r->until), l->request->today);
    return i;
}

/* What a laboratory answered for the lot outweighs the next test at the bench; false: none did. */
static tb_rc find_answer(bool *found, struct tb_todo_item *item, const struct listing *l, struct tb_err *err)
{
    struct tb_arena passing = { 0 };
    struct tb_concluded c = { 0 };
    struct tb_lot lot;
    tb_rc rc = tb_lot_find(&lot, l->book, item->lot, &passing, err);

    if (rc == TB_OK && (rc = tb_lot_concluded(&c, l->book, &lot, &passing, err)) == TB_OK &&
        (*found = c.by == TB_BY_LABORATORY)) {
        item->conclusion = tb_word(&tb_concluded_words, (int)c.kind);
        item->markets = tb_arena_strdup(l->mem, c.markets);
        item->disagree = c.open == TB_OPEN_DISAGREE;
        item->what = l->kind == TB_TODO_DECIDE ? tb_standing_key(lot.standing) : item->what;
        /* goods that were let go are to be thought of again only where that was wrong */
        *found = l->kind != TB_TODO_DECIDE || lot.standing == TB_WAITING || c.kind == TB_DOES_NOT ||
                 c.open == TB_OPEN_DISAGREE;
    }
    if (rc == TB_OK && l->kind == TB_TODO_DECIDE && lot.standing == TB_RELABELLED) {
        item->what = tb_standing_key(lot.standing);
        rc = tb_label_refuted(found, l->book, &lot, &passing, err);
    }
    tb_arena_free(&passing);
    return rc;
}

/* What a verdict held stays so until somebody settles it, also where a later burn says otherwise: both are told. */
static tb_rc find_now(struct tb_todo_item *item, const struct listing *l, struct tb_err *err)
{
    struct tb_arena passing = { 0 };
    struct tb_concluded c;
    struct tb_lot lot;
    tb_rc rc = tb_decided_by(item->what) == TB_DECIDED_BY_VERDICT
                   ? tb_lot_find(&lot, l->book, item->lot, &passing, err)
                   : TB_ENOTFOUND;

    if (rc == TB_OK && (rc = tb_lot_concluded(&c, l->book, &lot, &passing, err)) == TB_OK &&
        c.kind != TB_DOES_NOT) {
        item->now = tb_word(&tb_concluded_words, (int)c.kind);
        item->at_odds = c.told.at_odds;
    }
    tb_arena_free(&passing);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

/* A lot that is held, to be decided of, or undecided. */
static tb_rc take_lot(struct listing *l, struct tb_todo_item *item, const struct tb_todo_row *r,
                      struct tb_err *err)
{
    bool answered = false, speaks = false;
    bool open = l->kind == TB_TODO_SPEAKS || l->kind == TB_TODO_UNDECIDED;
    tb_rc rc = *r->pile ? find_answer(&answered, item, l, err) : TB_OK;

    item->released = r->done;
    if (rc == TB_OK && !answered && (l->kind == TB_TODO_HELD || open))
        rc = find_next(item, &speaks, l, r->detail, err);
    if (rc == TB_OK && !answered && l->kind == TB_TODO_HELD)
        rc = find_now(item, l, err);
    if (rc != TB_OK || (open && speaks != (l->kind == TB_TODO_SPEAKS)) ||
        (l->kind != TB_TODO_HELD && answered != (l->kind == TB_TODO_DECIDE)))
        return rc;
    if ((rc = find_handling(item, l, err)) == TB_OK)
        add(l, item);
    return rc;
}

static tb_rc take(void *arg, const struct tb_todo_row *r, struct tb_err *err)
{
    struct listing *l = arg;
    struct tb_todo_item item = keep(l, r);
    tb_rc rc = TB_OK;

    item.what = tb_arena_strdup(l->mem, r->what);
    if (l->kind == TB_TODO_HELD || l->kind == TB_TODO_DECIDE || l->kind == TB_TODO_SPEAKS ||
        l->kind == TB_TODO_UNDECIDED || l->kind == TB_TODO_UNSETTLED)
        return take_lot(l, &item, r, err);
    if (l->kind == TB_TODO_UNBURNT) {
        item.bolt = tb_arena_strdup(l->mem, r->detail);
        item.part = tb_arena_strdup(l->mem, r->part);
        rc = find_handling(&item, l, err);
    } else if (l->kind == TB_TODO_GROUND) {
        item.singles = r->done;
    } else if (l->kind == TB_TODO_HELD_BOLT) {
        item.bolt = tb_arena_strdup(l->mem, r->detail);
    } else if (l->kind == TB_TODO_UNDRAWN) {
        if ((rc = find_handling(&item, l, err)) == TB_OK && item.handling != TB_HANDLING_LABORATORY)
            rc = find_draw(&item, l, r->detail, err);
    }
    add(l, &item);
    return rc;
}

/* Drawn bolts that were cut only count in how many were drawn. */
static void end_pile(struct listing *l)
{
    if (*l->key && l->what.n) {
        l->pile.what = tb_arena_take(l->mem, &l->what);
        add(l, &l->pile);
    }
    tb_text_free(&l->what);
    l->key = "";
}

static tb_rc take_into_pile(void *arg, const struct tb_todo_row *r, struct tb_err *err)
{
    struct listing *l = arg;
    int64_t among;
    tb_rc rc = TB_OK;

    if (strcmp(l->key, r->pile) != 0 || strcmp(l->pile.lot, r->lot) != 0) {
        end_pile(l);
        l->key = tb_arena_strdup(l->mem, r->pile);
        l->pile = keep(l, r);
        l->pile.pieces = 0;
        l->pile.among = l->kind == TB_TODO_UNCUT ? 0 : r->among;
        if (l->kind == TB_TODO_UNCUT)
            rc = find_handling(&l->pile, l, err);
    }
    among = l->pile.among + (l->kind == TB_TODO_UNCUT);
    l->pile.among = among;
    if (r->done || rc != TB_OK)
        return rc;
    l->pile.pieces++;
    tb_text_addf(&l->what, *r->detail ? "%s%s (%s)" : "%s%s", l->what.n ? ", " : "", r->what, r->detail);
    return TB_OK;
}

/* Of a supplier without terms, telling him may be late already: nobody can say, and that is told too. */
static tb_rc take_claims(struct listing *l, struct tb_book *b, struct tb_err *err)
{
    struct tb_claim_open *o;
    size_t n;
    tb_rc rc = tb_claim_open_list(&o, &n, b, l->request->today, l->mem, err);

    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        struct tb_todo_item item = { .kind = TB_TODO_CLAIM,
                                     .lot = o[i].lot,
                                     .supplier = o[i].supplier,
                                     .since = o[i].opened_on ? o[i].opened_on : "",
                                     .who = "",
                                     .what = tb_claim_state_key(o[i].state),
                                     .bolt = "",
                                     .part = "",
                                     .next = "",
                                     .now = "",
                                     .conclusion = "",
                                     .markets = "",
                                     .due = o[i].due,
                                     .left = o[i].left,
                                     .pieces = o[i].bolts_used,
                                     .among = o[i].bolts };

        add(l, &item);
    }
    return rc;
}

static tb_rc read_all(struct listing *l, struct tb_book *b, struct tb_err *err)
{
    tb_rc rc = take_claims(l, b, err);

    for (l->kind = TB_TODO_HELD; l->kind < TB_TODO_KINDS && rc == TB_OK; l->kind++) {
        bool piles = l->kind == TB_TODO_UNCUT || l->kind == TB_TODO_JOINT;

        rc = tb_todo_each(b, l->kind, l->request->today, piles ? take_into_pile : take, l, err);
        end_pile(l);
    }
    return rc;
}

tb_rc tb_todo_read(struct tb_todo *out, struct tb_book *b, const struct tb_todo_request *request,
                   struct tb_arena *mem, struct tb_err *err)
{
    struct tb_person by = { 0 };
    struct tb_todo_request asked = *request;
    struct listing l = {
        .request = &asked, .out = out, .book = b, .mem = mem, .key = "", .asked = "", .reach = { .mem = mem }
    };
    tb_rc rc;

    *out = (struct tb_todo){ .today = request->today, .part = request->person || request->day };
    if (!tb_day_valid(request->today))
        return tb_fail(err, TB_EINVAL, "'%s' is not a valid date (YYYY-MM-DD)", request->today);
    if ((rc = tb_book_look(b, err)) == TB_OK && request->person) {
        rc = tb_person_find(&by, b, request->person, mem, err);
        asked.person = by.name; /* as it is written with what that person began */
    }
    if (rc == TB_OK)
        rc = read_all(&l, b, err);
    tb_book_look_away(b);
    tb_text_free(&l.what);
    tb_reach_free(&l.reach);
    return rc;
}
