/* Everything the book holds about one lot, or about one swatch. */
#include "tenterbook/lot_story.h"
#include "work/amend_unit.h"

#include <string.h>

static tb_rc read_gone(struct tb_voidings *out, struct tb_book *b, const char *lot_id, struct tb_arena *mem,
                       struct tb_err *err)
{
    tb_rc rc = tb_voiding_list(&out->voiding, &out->n, b, lot_id, mem, err);

    if (rc == TB_OK &&
        (rc = tb_analysis_voided_list(&out->analysis, &out->analyses, b, lot_id, mem, err)) == TB_OK)
        rc = tb_dispute_step_voided_list(&out->step, &out->steps, b, lot_id, mem, err);
    if (rc == TB_OK)
        rc = tb_burn_voided_list(&out->bench.burn, &out->bench.burns, b, lot_id, mem, err);
    return rc == TB_OK ? tb_bench_test_voided_list(&out->bench.test, &out->bench.tests, b, lot_id, mem, err)
                       : rc;
}

/* Verdicts and holds that do not count any more are told apart from those that do. */
static void set_apart(struct tb_lot_story *s, struct tb_arena *mem)
{
    struct tb_voidings *gone = &s->gone;
    size_t judgeds = 0, standings = 0;

    gone->judged = tb_arena_alloc(mem, (s->judgeds + 1) * sizeof *gone->judged);
    gone->standing = tb_arena_alloc(mem, (s->standings + 1) * sizeof *gone->standing);
    for (size_t i = 0; i < s->judgeds; i++)
        if (s->judged[i].gone)
            gone->judged[gone->judgeds++] = s->judged[i];
        else
            s->judged[judgeds++] = s->judged[i];
    for (size_t i = 0; i < s->standings; i++)
        if (s->standing[i].gone)
            gone->standing[gone->standings++] = s->standing[i];
        else
            s->standing[standings++] = s->standing[i];
    s->judgeds = judgeds;
    s->standings = standings;
}

tb_rc tb_lot_story_lists(struct tb_lot_story *s, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    const char *id = s->lot.id;
    tb_rc rc;

    if ((rc = read_gone(&s->gone, b, id, mem, err)) != TB_OK ||
        (rc = tb_amendment_list(&s->amendment, &s->amendments, b, id, mem, err)) != TB_OK ||
        (rc = tb_declaration_list(&s->declared, &s->declareds, b, id, mem, err)) != TB_OK ||
        (rc = tb_bolt_list(&s->bolt, &s->bolts, b, id, mem, err)) != TB_OK ||
        (rc = tb_burn_list(&s->burn, &s->burns, b, id, mem, err)) != TB_OK ||
        (rc = tb_bench_test_list(&s->test, &s->tests, b, id, mem, err)) != TB_OK ||
        (rc = tb_judged_list(&s->judged, &s->judgeds, b, id, mem, err)) != TB_OK ||
        (rc = tb_bolt_standing_list(&s->single, &s->singles, b, id, mem, err)) != TB_OK ||
        (rc = tb_joint_sample_list(&s->joint, &s->joints, b, id, mem, err)) != TB_OK ||
        (rc = tb_sending_list(&s->sending, &s->sendings, b, id, mem, err)) != TB_OK ||
        (rc = tb_lot_concluded(&s->concluded, b, &s->lot, mem, err)) != TB_OK ||
        (rc = tb_lot_invoiced(&s->invoiced, b, &s->lot, mem, err)) != TB_OK)
        return rc;
    tb_said_as_amended(s->bolt, s->bolts, s->amendment, s->amendments, mem);
    if ((rc = tb_standing_list(&s->standing, &s->standings, b, id, mem, err)) == TB_OK)
        set_apart(s, mem);
    return rc;
}

static tb_rc read_corrected(struct tb_bench_records *out, struct tb_book *b, const char *lot_id,
                            struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_burn_corrected_list(&out->burn, &out->burns, b, lot_id, mem, err);

    return rc == TB_OK ? tb_bench_test_corrected_list(&out->test, &out->tests, b, lot_id, mem, err) : rc;
}

/* Of a draw from several lots, the bolts of this one. */
static tb_rc bolts_of_draw(struct tb_lot_draw *out, struct tb_book *b, const char *lot_id,
                           struct tb_arena *mem, struct tb_err *err)
{
    struct tb_text numbers = { 0 }, void_since = { 0 };
    struct tb_gone_bolt *gone = NULL;
    struct tb_bolt *bolt;
    size_t n = 0, gones = 0;
    tb_rc rc = tb_draw_bolts(&bolt, &n, b, out->draw.id, mem, err);

    if (rc == TB_OK)
        rc = tb_draw_bolts_gone(&gone, &gones, b, out->draw.id, mem, err);

    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if (strcmp(bolt[i].lot, lot_id) == 0)
            tb_text_addf(&numbers, "%s%s", out->n++ ? ", " : "", bolt[i].number);
    for (size_t i = 0; i < gones && rc == TB_OK; i++)
        if (strcmp(gone[i].lot, lot_id) == 0)
            tb_text_addf(&void_since, "%s%s", out->gones++ ? ", " : "", gone[i].number);
    out->bolts = tb_arena_take(mem, &numbers);
    out->gone = tb_arena_take(mem, &void_since);
    return rc;
}

static tb_rc read_draws(struct tb_lot_story *s, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_draw *draw;
    tb_rc rc = tb_draws_of_lot(&draw, &s->draws, b, s->lot.id, mem, err);

    if (rc != TB_OK)
        return rc;
    s->draw = tb_arena_alloc(mem, (s->draws + 1) * sizeof *s->draw);
    for (size_t i = 0; i < s->draws && rc == TB_OK; i++) {
        s->draw[i] = (struct tb_lot_draw){ .draw = draw[i] };
        rc = bolts_of_draw(&s->draw[i], b, s->lot.id, mem, err);
    }
    return rc;
}

/* What a reader of the whole lot wants beside the lists of what counts. */
static tb_rc read_rest(struct tb_lot_story *s, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    const char *id = s->lot.id;
    tb_rc rc = tb_ground_gone(&s->ground, b, s->lot.ref, mem, err);

    if (rc == TB_ENOTFOUND)
        s->ground = (struct tb_todo_row){ 0 };
    else if (rc != TB_OK)
        return rc;
    if ((rc = tb_delivery_ever(&s->delivery, b, s->lot.delivery, mem, err)) != TB_OK ||
        (rc = read_draws(s, b, mem, err)) != TB_OK ||
        (rc = tb_swatch_list(&s->swatch, &s->swatches, b, id, mem, err)) != TB_OK ||
        (rc = tb_analysis_list(&s->analysis, &s->analyses, b, id, mem, err)) != TB_OK ||
        (rc = tb_analysis_corrected_list(&s->analysis_before, &s->analyses_before, b, id, mem, err)) !=
            TB_OK ||
        (rc = tb_photograph_list(&s->photo, &s->photos, b, id, mem, err)) != TB_OK ||
        (rc = tb_moved_list(&s->moved, &s->moveds, b, id, mem, err)) != TB_OK)
        return rc;
    return read_corrected(&s->before, b, id, mem, err);
}

/* The delivery itself, the lot, or one of its swatches. */
static bool is_about(const char *subject, const struct tb_lot *lot)
{
    size_t n = strlen(lot->ref);

    return strcmp(subject, lot->delivery_ref) == 0 ||
           (strncmp(subject, lot->ref, n) == 0 && (subject[n] == '\0' || subject[n] == '.'));
}

static void add_written(struct tb_lot_story *s, const struct tb_journal_row *row)
{
    tb_circumstances_add(&s->written, row->number, row->at, row->person, row->content, row->aside);
}

static tb_rc read_written(struct tb_lot_story *s, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_journal_row *row, *move;
    size_t n, moves, k = 0;
    tb_rc rc = tb_journal_list(&row, &n, b, s->lot.delivery_ref, mem, err);

    if (rc != TB_OK || (rc = tb_journal_moves(&move, &moves, b, s->lot.id, mem, err)) != TB_OK)
        return rc;
    for (size_t i = 0; i <= n; i++) { /* in the order of the journal */
        for (; k < moves && (i == n || move[k].number < row[i].number); k++)
            if (!is_about(move[k].subject, &s->lot))
                add_written(s, &move[k]);
        if (i < n && is_about(row[i].subject, &s->lot))
            add_written(s, &row[i]);
    }
    return TB_OK;
}

tb_rc tb_lot_story_read(struct tb_lot_story *out, struct tb_book *b, const char *ref, const char *today,
                        struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_book_look(b, err);

    *out = (struct tb_lot_story){ 0 };
    if (rc == TB_OK && (rc = tb_lot_ever(&out->lot, b, ref, mem, err)) == TB_OK &&
        (rc = tb_lot_story_lists(out, b, mem, err)) == TB_OK && (rc = read_rest(out, b, mem, err)) == TB_OK &&
        (rc = read_written(out, b, mem, err)) == TB_OK)
        rc = tb_claim_of_lot(&out->claim, b, &out->lot, today, mem, err);
    tb_book_look_away(b);
    return rc;
}

/* A lot has a handful of records: those of its other swatches are passed over. */
static void keep_of(struct tb_bench_records *r, const char *tag)
{
    size_t burns = 0, tests = 0;

    for (size_t i = 0; i < r->burns; i++)
        if (strcmp(r->burn[i].tag, tag) == 0)
            r->burn[burns++] = r->burn[i];
    for (size_t i = 0; i < r->tests; i++)
        if (strcmp(r->test[i].tag, tag) == 0)
            r->test[tests++] = r->test[i];
    r->burns = burns;
    r->tests = tests;
}

/* Its own void, that of its bolt, of its lot, or of what was seen of it: whichever stands. */
static tb_rc read_why(struct tb_swatch_story *out, struct tb_book *b, struct tb_arena *mem,
                      struct tb_err *err)
{
    const struct tb_swatch *w = &out->swatch;
    struct tb_voiding *all;
    size_t n;
    tb_rc rc = tb_voiding_list(&all, &n, b, w->lot, mem, err);

    for (size_t i = 0; rc == TB_OK && i < n; i++)
        if (!all[i].back_at &&
            (strcmp(all[i].subject, w->id) == 0 ||
             (w->lot && (strcmp(all[i].subject, w->bolt) == 0 || strcmp(all[i].subject, w->lot) == 0)) ||
             ((strcmp(all[i].about, "burn") == 0 || strcmp(all[i].about, "bench_test") == 0) &&
              strcmp(all[i].ref, w->tag) == 0)))
            all[out->voidings++] = all[i];
    out->voiding = all;
    return rc;
}

tb_rc tb_swatch_story_read(struct tb_swatch_story *out, struct tb_book *b, const char *tag,
                           struct tb_arena *mem, struct tb_err *err)
{
    struct tb_bench_records *now = &out->now;
    tb_rc rc = tb_book_look(b, err);

    *out = (struct tb_swatch_story){ 0 };
    if (rc == TB_OK && (rc = tb_swatch_find(&out->swatch, b, tag, mem, err)) == TB_EREFUSED)
        rc = tb_swatch_ever(&out->swatch, b, tag, mem, err);
    if (rc == TB_OK && (rc = read_why(out, b, mem, err)) == TB_OK &&
        (rc = tb_photograph_list(&now->photo, &now->photos, b, out->swatch.lot, mem, err)) == TB_OK &&
        (rc = tb_moved_list(&now->moved, &now->moveds, b, out->swatch.lot, mem, err)) == TB_OK &&
        (rc = tb_burn_list(&now->burn, &now->burns, b, out->swatch.lot, mem, err)) == TB_OK &&
        (rc = tb_bench_test_list(&now->test, &now->tests, b, out->swatch.lot, mem, err)) == TB_OK)
        rc = read_corrected(&out->before, b, out->swatch.lot, mem, err);
    if (rc == TB_OK &&
        (rc = tb_burn_voided_list(&out->gone.burn, &out->gone.burns, b, out->swatch.lot, mem, err)) == TB_OK)
        rc = tb_bench_test_voided_list(&out->gone.test, &out->gone.tests, b, out->swatch.lot, mem, err);
    tb_book_look_away(b);
    if (rc == TB_OK) {
        keep_of(now, out->swatch.tag);
        keep_of(&out->before, out->swatch.tag);
        keep_of(&out->gone, out->swatch.tag);
    }
    return rc;
}

bool tb_burn_typed_later(const struct tb_burn *burn)
{
    return strncmp(burn->recorded_at, burn->burned_at, TB_DAY_LEN) != 0;
}

const char *tb_story_slip(const struct tb_lot_story *story, size_t i)
{
    const struct tb_declared *d = story->declared;
    const size_t n = story->declareds;
    const bool again =
        i + 2 < n && d[i + 2].origin == TB_ORIGIN_SLIP && strcmp(d[i + 2].text, d[i + 1].text) == 0;

    if (again)
        return d[i + 2].why;
    return i + 1 < n && d[i + 1].origin == TB_ORIGIN_SLIP && (i == 0 || strcmp(d[i + 1].text, d[i].text) != 0)
               ? d[i + 1].why
               : NULL;
}
