/* month_open.c - the list of what is held or open, oldest first, and the first few of it for the page. */
#include "report/month/month_impl.h"
#include "tenterbook/fibre.h"
#include "tenterbook/tell.h"
#include "tenterbook/work.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct open_row {
    struct told of;
    int64_t days; /* since the arrival */
    const char *matter;
    struct standing_part
        open; /* what of it is not decided; metres NAN where the length of the lot is not known */
    double open_value;
    bool refuted;               /* it is under a label of ours that a laboratory refutes */
    char since[TB_DAY_LEN + 1]; /* day of the standing; "" never settled */
};
#define ROW(member) TB_FROM(struct open_row, member)
#define LOT(member) ROW(of.lot.member)

static const struct tb_column open_columns[] = {
    { "lot", N_("Lot"), NULL, TB_COL_TEXT, 0, 13, false, false, LOT(ref) },
    { "supplier", N_("Supplier"), NULL, TB_COL_TEXT, 0, 20, true, false, LOT(supplier) },
    { "arrived", N_("Arrived"), NULL, TB_COL_DAY, 0, 10.5, false, false, LOT(arrived) },
    { "days_open", N_("Days since"), NULL, TB_COL_COUNT, 0, 6, false, false, ROW(days) },
    { "matter", N_("What is open"), NULL, TB_COL_TEXT, 0, 24, true, false, ROW(matter) },
    { "standing", N_("Standing"), NULL, TB_COL_TEXT, 0, 10, true, false, ROW(of.standing) },
    { "conclusion", N_("Conclusion"), NULL, TB_COL_TEXT, 0, 12, true, false,
      TB_FROM_OF(struct open_row, of.concluded.kind, &tb_concluded_words) },
    { "proof", N_("What it rests on"), NULL, TB_COL_TEXT, 0, 17, true, false, ROW(of.proof) },
    { "declared", N_("Declared, in the supplier's words"), NULL, TB_COL_TEXT, 0, 24, true, false,
      LOT(declared) },
    { "open_bolts", N_("Open bolts"), NULL, TB_COL_COUNT, 0, 7, false, true, ROW(open.bolts) },
    { "open_m", N_("Open length"), "m", TB_COL_NUMBER, 1, 9, false, true, ROW(open.metres) },
    { "open_value", N_("Open value"), NULL, TB_COL_NUMBER, 2, 11, false, false, ROW(open_value) },
    { "currency", N_("Money"), NULL, TB_COL_TEXT, 0, 7, false, false, LOT(currency) },
    { "since", N_("Settled"), NULL, TB_COL_DAY, 0, 11, false, false, ROW(since) },
    { "why", N_("Reason given"), NULL, TB_COL_TEXT, 0, 40, true, false, LOT(why) },
    { "bolts", N_("Bolts of the lot"), NULL, TB_COL_COUNT, 0, 7, false, false, LOT(bolts) },
    { "length_m", N_("Length of the lot"), "m", TB_COL_NUMBER, 1, 9, false, false, LOT(metres) },
    { "value", N_("Value of the lot"), NULL, TB_COL_NUMBER, 2, 11, false, false, ROW(of.value) },
    { "verdict", N_("Verdict of burns and tests"), NULL, TB_COL_TEXT, 0, 12, false, false,
      TB_FROM_OF(struct open_row, of.concluded.told.grade, &tb_grade_words) },
    { "why_open", N_("Why it is open"), NULL, TB_COL_TEXT, 0, 14, false, false,
      TB_FROM_OF(struct open_row, of.concluded.open, &tb_open_words) },
    { "length_kind", N_("How the length is known"), NULL, TB_COL_TEXT, 0, 22, false, false,
      ROW(of.length_kind) },
    { "open_kg", N_("Open weight where the length is not known"), "kg", TB_COL_NUMBER, 2, 9, false, true,
      ROW(open.kg) },
    { "weight_kg", N_("Weight of the lot where the length is not known"), "kg", TB_COL_NUMBER, 2, 9, false,
      false, ROW(of.kg) },
};
#define OPEN_PRINTED 13

/* By the words as they came, and as they count now. A verdict that cannot be read any more is told of elsewhere. */
static enum tb_handling handling_of(const struct tb_month_lot *lot)
{
    bool read = lot->verdict != TB_UNJUDGED && lot->verdict != TB_FITS;
    const struct tb_cloth_known k = { .detail = read ? lot->detail : NULL,
                                      .burn = lot->burn,
                                      .burns = lot->burn_n,
                                      .analysis = lot->analysis,
                                      .analyses = lot->analysis ? (size_t)lot->analyses : 0 };
    enum tb_handling h;
    struct tb_declaration d;
    struct tb_err unread;

    tb_declaration_read(&d, lot->declared, strlen(lot->declared));
    if (lot->words)
        tb_declaration_also(&d, lot->words, strlen(lot->words));
    (void)tb_known_handling(&h, &d, &k, &unread);
    tb_declaration_free(&d);
    return h;
}

/* Is it released, and a laboratory found later that it does not conform? */
static bool let_go_wrongly(const struct told *of)
{
    return of->concluded.kind == TB_DOES_NOT && of->concluded.by == TB_BY_LABORATORY &&
           of->lot.standing == TB_RELEASED;
}

/* What is not decided of its bolts: those that wait or are held, and released ones where the release itself is the matter. */
static void take_open(struct open_row *r)
{
    for (enum tb_standing_kind s = TB_WAITING; s <= TB_RETURNED; s++) {
        const struct standing_part *part = &r->of.stands[s];

        if (s != TB_WAITING && s != TB_HELD && !(s == TB_RELEASED && let_go_wrongly(&r->of)) &&
            !(s == TB_RELABELLED && r->refuted))
            continue;
        r->open.bolts += part->bolts;
        r->open.metres += part->metres;
        r->open.kg += part->kg;
        r->open.all_kg += part->all_kg;
    }
    r->open_value = tb_month_part_value(&r->of, &r->open);
    if (isnan(r->of.lot.metres))
        r->open.metres = NAN;
}

/* What is open in a lot that was decided of: a bolt of it, or that a laboratory answered after it was let go. */
static const char *matter_of_decided(const struct told *of)
{
    if (let_go_wrongly(of))
        return _("released, and a laboratory found that it does not conform: decide");
    return of->stands[TB_HELD].bolts ? _("single bolts are held: decide") : NULL;
}

static const char *matter_by_handling(const struct told *of)
{
    if (of->concluded.open != TB_OPEN_UNTESTED)
        return _("another test, or the laboratory");
    if (of->lot.standing == TB_HELD)
        return _("held: decide");
    if (of->lot.burns || of->lot.tests)
        return _("tested, not judged yet");
    return handling_of(&of->lot) == TB_HANDLING_FLAMELESS
               ? _("not to be burned: a test without a flame, or a laboratory")
               : _("nothing tested yet");
}

/* What somebody should do next, by what is concluded; NULL: nothing. */
static const char *matter_of(const struct told *of)
{
    const struct tb_concluded *c = &of->concluded;
    bool held = of->lot.standing == TB_HELD;

    if (!held && of->lot.standing != TB_WAITING)
        return matter_of_decided(of);
    if (handling_of(&of->lot) == TB_HANDLING_LABORATORY)
        return _("neither cut nor burn it: a licensed laboratory");
    if (c->kind == TB_DOES_NOT && c->by == TB_BY_LABORATORY)
        return _("a laboratory found that it does not conform: decide");
    if (c->kind == TB_DOES_NOT)
        return held ? _("decide: return, relabel, or release with a reason") : _("contradicted and not held");
    if (c->kind == TB_CONFORMS)
        return held ? _("a laboratory found that it conforms: the hold may end")
                    : _("a laboratory found that it conforms: release it");
    if (c->open == TB_OPEN_WORDS)
        return _("the declaration cannot be read: ask the supplier");
    if (c->open == TB_OPEN_DISAGREE)
        return _("laboratories disagree: find out which of them is right");
    if (c->open == TB_OPEN_LABORATORY)
        return _("a laboratory has answered: decide by what it found");
    if (c->kind == TB_NOTHING_AGAINST)
        return held ? _("held: decide") : _("release it");
    return matter_by_handling(of);
}

/* The first few for the page: what does not conform or is held before the others, each by age, as they come. */
static void note_urgent(struct month *m, const struct open_row *r)
{
    const struct tb_month_lot *lot = &r->of.lot;
    struct urgent u = { r->of.concluded.kind != TB_DOES_NOT && !r->of.stands[TB_HELD].bolts, NULL };
    struct tb_text t = { 0 }, length = { 0 };
    size_t at = m->urgents;

    while (at && m->urgent[at - 1].class > u.class)
        at--;
    if (at == MONTH_URGENT_MOST)
        return;
    tb_length_words(&length, TB_READER,
                    &(struct tb_lengths){ lot->metres, lot->kg, lot->bolts, lot->derived, lot->unknown, true,
                                          lot->weight_kg, lot->bolts_weighed });
    if (r->open.bolts < lot->bolts && !isnan(r->open.metres))
        tb_text_addf(&length, _(", of that open %.1f m"), r->open.metres);
    /* the name is isolated: one written from right to left stays at its place; the proof stands in the sheet of open lots */
    tb_text_addf(&t,
                 r->days == 1 ? _("%s, \xE2\x81\xA8%s\xE2\x81\xA9, %ld day: %s (%s)")
                              : _("%s, \xE2\x81\xA8%s\xE2\x81\xA9, %ld days: %s (%s)"),
                 lot->ref, lot->supplier, (long)r->days, r->matter, length.s);
    tb_text_free(&length);
    u.line = tb_text_take(&t);
    if (m->urgents == MONTH_URGENT_MOST)
        free(m->urgent[--m->urgents].line);
    memmove(&m->urgent[at + 1], &m->urgent[at], (m->urgents - at) * sizeof *m->urgent);
    m->urgent[at] = u;
    m->urgents++;
}

/* Days are counted from the arrival, since that is when the time for a claim began to run. */
static tb_rc put(void *arg, const struct tb_month_lot *lot, struct tb_err *err)
{
    struct month *m = arg;
    struct open_row r = { .days = 0 };
    tb_rc rc = tb_month_tell(&r.of, lot, err);

    if (rc == TB_OK)
        rc = tb_month_refuted(&r.refuted, m, lot, err);
    r.matter = rc != TB_OK || !r.refuted
                   ? NULL
                   : _("a laboratory found otherwise than our label says: relabel it again");
    if (rc != TB_OK || (!r.matter && !(r.matter = matter_of(&r.of)))) {
        tb_arena_free(&r.of.mem);
        return rc;
    }
    if (tb_day_valid(lot->arrived))
        r.days = tb_day_number(m->today) - tb_day_number(lot->arrived);
    (void)snprintf(r.since, sizeof r.since, "%.*s", TB_DAY_LEN, lot->since ? lot->since : "");
    take_open(&r);
    note_urgent(m, &r);
    rc = tb_tab_record(m->tab[TAB_OPEN], &r, err);
    tb_arena_free(&r.of.mem);
    return rc;
}

static tb_rc fill(struct month *m, struct tb_err *err)
{
    return m->source->open(m->source->from, put, m, err);
}

/* Older than the span, too: what is open does not end with the month. */
const struct sheet tb_month_open = {
    .key = "open",
    .tab = N_("Held and open"),
    .title = N_("Held and open matters"),
    .note = N_(
        "Lots that arrived before the end of the span and wait or are held, if only a bolt of them; released "
        "ones "
        "that a laboratory then found not to conform; and those under a label of ours that it refutes. The "
        "totals are of the open bolts. Rights over goods not as described run out with time and at the first "
        "cut: look at the oldest first."),
    .column = open_columns,
    .columns = TB_COUNT(open_columns),
    .printed = OPEN_PRINTED,
    .fill = fill,
};
