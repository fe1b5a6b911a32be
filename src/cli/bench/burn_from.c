/* A file of burns written down elsewhere: read whole, recorded in one transaction, or nothing of it. */
#include "cli/bench/burn.h"
#include "cli/bench/judge_all.h"
#include "cli/show.h"
#include "tenterbook/sheet.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum column { LOT, BOLT, PART, AT, SAW, NOT, LOOKED, FLAME, NOTE, COLUMNS };

static const char *const column_name[COLUMNS] = { "lot", "bolt",   "part",  "at",  "saw",
                                                  "not", "looked", "flame", "note" };

#define TOLD_MOST 100 /* wrong rows named before the rest is counted */

struct entry {
    size_t line;
    const char *field[COLUMNS]; /* in the arena; "" when empty */
};

struct file {
    struct entry *entry;
    size_t n, cap;
    int at[COLUMNS]; /* which cell of a row; -1 the column is not there */
    bool headed;
    struct tb_arena *mem;
};

static tb_rc read_heading(struct file *f, const struct tb_row *row, struct tb_err *err)
{
    for (int c = 0; c < COLUMNS; c++)
        f->at[c] = -1;
    for (size_t i = 0; i < row->n; i++) {
        int c = 0;

        while (c < COLUMNS && strcmp(row->cell[i].text, column_name[c]) != 0)
            c++;
        if (c == COLUMNS)
            return tb_fail(
                err, TB_EINVAL,
                "line %zu: there is no column '%s'; columns are lot,bolt,part,at,saw,not,looked,flame,note",
                row->line, row->cell[i].text);
        f->at[c] = (int)i;
    }
    f->headed = true;
    if (f->at[BOLT] < 0 || f->at[SAW] < 0)
        return tb_fail(err, TB_EINVAL, "line %zu: the columns bolt and saw must be there", row->line);
    return TB_OK;
}

static tb_rc take_row(void *arg, const struct tb_row *row, struct tb_err *err)
{
    struct file *f = arg;
    struct entry *e;

    if (!f->headed)
        return read_heading(f, row, err);
    TB_PUSH_ROOM(f->entry, f->n, f->cap);
    e = &f->entry[f->n++];
    e->line = row->line;
    for (int c = 0; c < COLUMNS; c++)
        e->field[c] = f->at[c] >= 0 && (size_t)f->at[c] < row->n
                          ? tb_arena_strdup(f->mem, row->cell[f->at[c]].text)
                          : "";
    return TB_OK;
}

/* The rows of one lot, bolt and part burn one swatch: the first of them registers it. */
struct cloth {
    char *key;
    struct tb_swatch swatch;
    struct tb_lot lot;
};

struct work {
    struct tb_ctx *ctx;
    struct tb_arena *mem;
    struct cloth *cloth;
    size_t cloths, cap;
    const char **lot; /* references of the lots touched, in order */
    size_t lots, lots_cap;
    size_t early;         /* burns dated before their delivery arrived */
    struct tb_text first; /* what is to be said of the first of them */
};

static tb_rc find_cloth(struct cloth **out, struct work *w, const struct entry *e, const char *cut_at,
                        struct tb_err *err)
{
    const char *part = *e->field[PART] ? e->field[PART] : "whole";
    struct tb_text key = { 0 };
    struct tb_lot lot;
    struct tb_bolt bolt;
    struct cloth *c;
    tb_rc rc;

    if (tb_part_by_key(part) < 0)
        return tb_fail(err, TB_EINVAL, "'%s' is no part of a cloth", part);
    if ((rc = tb_lot_find(&lot, w->ctx->book, *e->field[LOT] ? e->field[LOT] : e->field[BOLT], w->mem,
                          err)) != TB_OK ||
        (rc = tb_bolt_find(&bolt, w->ctx->book, lot.id, e->field[BOLT], w->mem, err)) != TB_OK)
        return rc;
    tb_text_addf(&key, "%s %s", bolt.id, part);
    for (size_t i = 0; i < w->cloths; i++)
        if (strcmp(w->cloth[i].key, key.s) == 0) {
            tb_text_free(&key);
            *out = &w->cloth[i];
            return TB_OK;
        }
    TB_PUSH_ROOM(w->cloth, w->cloths, w->cap);
    c = &w->cloth[w->cloths++];
    *c = (struct cloth){
        tb_text_take(&key),
        { .lot = lot.id, .lot_ref = lot.ref, .bolt = bolt.id, .part = part, .cut_at = cut_at },
        lot
    };
    *out = c;
    if ((rc = tb_swatch_add(&c->swatch, w->ctx->book, w->mem, err)) != TB_OK)
        free(w->cloth[--w->cloths].key); /* no later row may rest on it */
    return rc;
}

static void touch(struct work *w, const char *lot)
{
    for (size_t i = 0; i < w->lots; i++)
        if (strcmp(w->lot[i], lot) == 0)
            return;
    TB_PUSH_ROOM(w->lot, w->lots, w->lots_cap);
    w->lot[w->lots++] = lot;
}

/* The same file again, or a row twice: a burn at the same moment would count as another one. */
static tb_rc check_new(struct work *w, const struct entry *e, const struct tb_swatch *s,
                       const char *burned_at, struct tb_err *err)
{
    int64_t n = 0;
    tb_rc rc = *e->field[AT] ? tb_burn_count_at(&n, w->ctx->book, s->bolt, s->part, burned_at, err) : TB_OK;

    return rc == TB_OK && n > 0
               ? tb_fail(err, TB_EEXISTS, "a burn of the %s of bolt %s at %s is in the book already", s->part,
                         e->field[BOLT], burned_at)
               : rc;
}

/* The first row of a cloth registers its swatch, cut by then: a later row cannot have burned it before. */
static tb_rc check_order(struct work *w, const struct entry *e, const struct cloth *c, const char *burned_at,
                         struct tb_err *err)
{
    struct tb_text t = { 0 };

    if (burned_at && strcmp(burned_at, c->swatch.cut_at) < 0)
        return tb_fail(
            err, TB_EINVAL,
            "the %s of bolt %s was cut by %s, as a row above says, and cannot have been burned at %s; "
            "put the burns of a bolt in the order of time",
            c->swatch.part, e->field[BOLT], c->swatch.cut_at, burned_at);
    tb_early_words(&t, burned_at ? burned_at : c->swatch.cut_at, &c->lot);
    if (t.n && w->early++ == 0)
        tb_text_add(&w->first, t.s);
    tb_text_free(&t);
    return TB_OK;
}

static tb_rc record_one(struct work *w, const struct entry *e, struct tb_err *err)
{
    struct tb_burn burn = { .flame = e->field[FLAME], .note = e->field[NOTE], .sample_mm = (double)NAN };
    struct cloth *cloth = NULL;
    tb_rc rc;

    if ((rc = tb_past_moment(&burn.burned_at, "at", e->field[AT], w->mem, err)) != TB_OK ||
        (rc = tb_burn_read(&burn, e->field[SAW], e->field[NOT], e->field[LOOKED], w->mem, err)) != TB_OK ||
        (rc = find_cloth(&cloth, w, e, burn.burned_at, err)) != TB_OK ||
        (rc = check_new(w, e, &cloth->swatch, burn.burned_at, err)) != TB_OK ||
        (rc = check_order(w, e, cloth, burn.burned_at, err)) != TB_OK)
        return rc;
    burn.swatch = cloth->swatch.id;
    touch(w, cloth->swatch.lot_ref);
    return tb_burn_add(&burn, w->ctx->book, w->mem, err);
}

/* Every row is tried, so that one look names all that is wrong. */
static tb_rc record_all(struct work *w, const struct file *f, const char *path, struct tb_err *err)
{
    struct tb_err first = { 0 };
    size_t wrong = 0;

    for (size_t i = 0; i < f->n; i++) {
        struct tb_err one = { 0 };
        tb_rc rc = record_one(w, &f->entry[i], &one);

        if (rc == TB_EIO || rc == TB_EBUSY) {
            *err = one;
            return rc;
        }
        if (rc == TB_OK)
            continue;
        if (++wrong <= TOLD_MOST)
            (void)fprintf(stderr, "%s line %zu: %s\n", path, f->entry[i].line, one.msg);
        if (wrong == 1)
            first = one;
    }
    if (!wrong)
        return TB_OK;
    *err = first;
    return tb_fail(err, TB_EINVAL,
                   f->n == 1 ? "%s: %zu of %zu row cannot be recorded; nothing of the file was"
                             : "%s: %zu of %zu rows cannot be recorded; nothing of the file was",
                   path, wrong, f->n);
}

static tb_rc print(struct tb_ctx *ctx, const struct file *f, const struct work *w,
                   const struct tb_judged_again *j, struct tb_err *err)
{
    char burns[TB_COUNTED], swatches[TB_COUNTED], lots[TB_COUNTED];

    if (ctx->json)
        return tb_print_json(ctx,
                             json_pack("{s:I, s:I, s:I, s:I, s:I, s:I, s:I, s:I}", "burns", (json_int_t)f->n,
                                       "swatches", (json_int_t)w->cloths, "lots", (json_int_t)w->lots, "fits",
                                       (json_int_t)j->kind[TB_FITS], "contradicts",
                                       (json_int_t)j->kind[TB_CONTRADICTS], "undecided",
                                       (json_int_t)j->kind[TB_UNDECIDED], "held", (json_int_t)j->held,
                                       "early", (json_int_t)w->early),
                             err);
    (void)fprintf(
        ctx->out,
        _("Recorded %s of %s in %s: %zu fit, %zu contradict, %zu undecided; now held by these burns: "
          "%zu.\n"),
        tb_counted(burns, f->n, _n("burn", "burns", f->n)),
        tb_counted(swatches, w->cloths, _n("swatch", "swatches", w->cloths)),
        tb_counted(lots, w->lots, _n("lot", "lots", w->lots)), j->kind[TB_FITS], j->kind[TB_CONTRADICTS],
        j->kind[TB_UNDECIDED], j->held);
    if (w->early)
        (void)fprintf(ctx->out, _("Note: %s\n"), tb_text_str(&w->first));
    if (w->early > 1)
        (void)fprintf(ctx->out, _("Burns dated before their delivery arrived: %zu.\n"), w->early);
    return TB_OK;
}

tb_rc tb_burn_from(struct tb_ctx *ctx, const char *path, struct tb_arena *mem, struct tb_err *err)
{
    struct file f = { .mem = mem };
    struct tb_sheet_sink sink = { .row = take_row, .arg = &f };
    struct work w = { .ctx = ctx, .mem = mem };
    struct tb_judged_again judged = { 0 };
    tb_rc rc = tb_sheet_read(path, &sink, err);

    if (rc == TB_OK && f.n == 0)
        rc = tb_fail(err, TB_EINVAL, "there is no burn in it");
    if (rc != TB_OK)
        rc = tb_within(err, rc, "%s", path);
    else if ((rc = tb_ctx_begin(ctx, "burn", err)) == TB_OK) {
        tb_book_subject(ctx->book, strrchr(path, '/') ? strrchr(path, '/') + 1 : path);
        if ((rc = record_all(&w, &f, path, err)) == TB_OK &&
            (rc = tb_judge_again(&judged, ctx, w.lot, w.lots, NULL, NULL, err)) == TB_OK)
            rc = tb_book_commit(ctx->book, err);
        if (rc == TB_OK)
            rc = print(ctx, &f, &w, &judged, err);
        else
            tb_book_rollback(ctx->book);
    }
    for (size_t i = 0; i < w.cloths; i++)
        free(w.cloth[i].key);
    free(w.cloth);
    free(w.lot);
    tb_text_free(&w.first);
    free(f.entry);
    return rc;
}
