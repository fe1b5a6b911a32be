/* Burns, each with the cues that were seen. */
#include "book/stmt.h"

#include <string.h>

/* --- reading ---------------------------------------------------------------------------------------------------- */

/*
 * What could not be judged is written among the channels looked at, each behind a "!": digests and cases that hold no such
 * word stay as they are, and a program that does not know the mark refuses the burn instead of counting the channel.
 */
#define COULD_NOT '!'

static const char *joined(const struct tb_burn *u, struct tb_arena *mem)
{
    struct tb_text t = { 0 };
    size_t n;

    tb_text_add(&t, u->looked);
    for (const char *s = u->could_not; s && *s; s += n + strspn(s + n, " ")) {
        n = strcspn(s, " ");
        tb_text_addf(&t, "%s%c%.*s", t.n ? " " : "", COULD_NOT, (int)n, s);
    }
    return tb_arena_take(mem, &t);
}

static void tell_apart(struct tb_burn *u, struct tb_arena *mem)
{
    struct tb_text looked = { 0 }, could_not = { 0 };
    size_t n;

    for (const char *s = u->looked; *s; s += n + strspn(s + n, " ")) {
        struct tb_text *to = *s == COULD_NOT ? &could_not : &looked;

        s += *s == COULD_NOT;
        n = strcspn(s, " ");
        tb_text_addf(to, "%s%.*s", to->n ? " " : "", (int)n, s);
    }
    u->looked = tb_arena_take(mem, &looked);
    u->could_not = tb_arena_take(mem, &could_not);
}

/* Cues are read burn by burn: a lot has a handful of burns, and one join would repeat each burn for every cue. */
static tb_rc load_rest(struct tb_burn *u, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    tell_apart(u, mem);
    return tb_all_cue_seen(&u->cue, &u->cues, tb_sql_cue_seen_of_burn(b, u->id), mem, err);
}

static tb_rc load(struct tb_burn **out, size_t *n, struct tb_stmt *q, struct tb_book *b, struct tb_arena *mem,
                  struct tb_err *err)
{
    tb_rc rc = tb_all_burn(out, n, q, mem, err);

    for (size_t i = 0; rc == TB_OK && i < *n; i++)
        rc = load_rest(&(*out)[i], b, mem, err);
    return rc;
}

tb_rc tb_burn_list_upto(struct tb_burn **out, size_t *n, struct tb_book *b, const char *lot_id, int64_t upto,
                        struct tb_arena *mem, struct tb_err *err)
{
    return load(out, n, tb_sql_burn_of_lot(b, lot_id, upto), b, mem, err);
}

tb_rc tb_burn_corrected_list(struct tb_burn **out, size_t *n, struct tb_book *b, const char *lot_id,
                             struct tb_arena *mem, struct tb_err *err)
{
    return load(out, n, tb_sql_burn_corrected(b, lot_id), b, mem, err);
}

tb_rc tb_burn_voided_list(struct tb_burn **out, size_t *n, struct tb_book *b, const char *lot_id,
                          struct tb_arena *mem, struct tb_err *err)
{
    return load(out, n, tb_sql_burn_voided(b, lot_id), b, mem, err);
}

tb_rc tb_burn_list(struct tb_burn **out, size_t *n, struct tb_book *b, const char *lot_id,
                   struct tb_arena *mem, struct tb_err *err)
{
    return tb_burn_list_upto(out, n, b, lot_id, TB_BOOK_NOW, mem, err);
}

tb_rc tb_burn_find(struct tb_burn *out, struct tb_book *b, const char *id, struct tb_arena *mem,
                   struct tb_err *err)
{
    tb_rc rc = tb_one_burn(out, tb_sql_burn_by_id(b, id), mem, err);

    if (rc == TB_ENOTFOUND)
        return tb_fail(err, rc, "there is no burn %s in this book", id);
    return rc == TB_OK ? load_rest(out, b, mem, err) : rc;
}

tb_rc tb_burn_latest(struct tb_burn *out, struct tb_book *b, const char *who, struct tb_arena *mem,
                     struct tb_err *err)
{
    tb_rc rc = tb_person_written(&who, b, who, mem, err);

    if (rc == TB_OK)
        rc = tb_one_burn(out, tb_sql_burn_latest_by(b, who), mem, err);
    if (rc == TB_ENOTFOUND)
        return tb_fail(err, rc, "no burn of %s is in this book", who);
    return rc == TB_OK ? load_rest(out, b, mem, err) : rc;
}

tb_rc tb_burn_of_swatch(struct tb_burn *out, struct tb_book *b, const char *swatch_id, const char *who,
                        struct tb_arena *mem, struct tb_err *err)
{
    const char *id;
    tb_rc rc = tb_ask_text(&id, tb_sql_burn_of_swatch_by(b, swatch_id, who), mem, err);

    return rc == TB_OK ? tb_burn_find(out, b, id, mem, err) : rc;
}

tb_rc tb_burn_newest(bool *out, struct tb_book *b, const char *id, const char *who, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    int64_t newest = 0;
    tb_rc rc = tb_person_written(&who, b, who, &mem, err);

    if (rc == TB_OK)
        rc = tb_ask_whole(&newest, tb_sql_burn_is_newest(b, id, who), err);
    tb_arena_free(&mem);
    *out = newest != 0;
    return rc;
}

tb_rc tb_burn_count_at(int64_t *out, struct tb_book *b, const char *bolt_id, enum tb_part_kind part,
                       const char *burned_at, struct tb_err *err)
{
    return tb_ask_whole(out, tb_sql_burn_at(b, bolt_id, part, burned_at), err);
}

/* --- writing ---------------------------------------------------------------------------------------------------- */

/* A correction corrects a burn of the same swatch, once: the next correction corrects the correction. */
static tb_rc check_replaced(const struct tb_burn *u, struct tb_book *b, struct tb_arena *mem,
                            struct tb_err *err)
{
    struct tb_burn old = { 0 };
    struct tb_record_end ends;
    tb_rc rc;

    if (!u->replaces)
        return TB_OK;
    if ((rc = tb_burn_find(&old, b, u->replaces, mem, err)) != TB_OK)
        return rc;
    if (strcmp(old.swatch, u->swatch) != 0)
        return tb_fail(err, TB_EINVAL, "burn %s is of swatch %s; a correction stays with its swatch",
                       u->replaces, old.tag);
    if ((rc = tb_one_record_end(&ends, tb_sql_burn_ends(b, u->replaces), mem, err)) != TB_OK)
        return rc;
    if (ends.voids > 0)
        return tb_fail(err, TB_EINVAL, "burn %s is void; record the burn anew", u->replaces);
    return ends.ends == 0 ? TB_OK
                          : tb_fail(err, TB_EINVAL, "burn %s was corrected already; correct the later record",
                                    u->replaces);
}

/* A moment that cannot be is refused here, for whoever writes: the verdict is computed from the order of moments. */
static tb_rc check_moments(const struct tb_burn *u, struct tb_err *err)
{
    if (u->burned_at && !tb_moment_valid(u->burned_at))
        return tb_fail(err, TB_EINVAL, "the moment of the burn '%s' is not valid (YYYY-MM-DDThh:mm:ssZ)",
                       u->burned_at);
    if (u->dead_at && !tb_moment_valid(u->dead_at))
        return tb_fail(err, TB_EINVAL,
                       "the moment the residue was dead '%s' is not valid (YYYY-MM-DDThh:mm:ssZ)",
                       u->dead_at);
    return TB_OK;
}

/* The record as it is written: its person by key. Who burned it is who writes, unless it is moved or corrected. */
static tb_rc put(struct tb_burn *u, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_burn f = *u;
    struct tb_person by;
    tb_rc rc = TB_OK;

    f.looked = joined(u, mem);
    f.burned_by = tb_book_person(b);
    if (u->burned_by && (rc = tb_person_find(&by, b, u->burned_by, mem, err)) == TB_OK)
        f.burned_by = by.id;
    return rc == TB_OK ? tb_put_burn(&f, b, err) : rc;
}

tb_rc tb_burn_add(struct tb_burn *u, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc;

    if ((rc = check_replaced(u, b, mem, err)) != TB_OK || (rc = check_moments(u, err)) != TB_OK)
        return rc;
    u->id = tb_new_key(mem);
    u->recorded_at = tb_moment_now(b, mem);
    u->burned_at = u->burned_at ? u->burned_at : u->recorded_at;
    rc = put(u, b, mem, err);
    for (size_t i = 0; rc == TB_OK && i < u->cues; i++) {
        const struct tb_cue_seen_fact f = { .burn = u->id, .cue = u->cue[i].cue, .seen = u->cue[i].seen };

        rc = tb_put_cue_seen(&f, b, err);
    }
    return rc;
}
