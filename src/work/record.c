/* A supplier's record from the book: its lots, where the switching rules have it, what is usual at this site. */
#include "tenterbook/act_draw.h"
#include "tenterbook/concluded.h"

#include "work/standing.h"

#include <string.h>

const char *tb_resumed_name(const char *supplier_id, struct tb_arena *mem)
{
    return tb_arena_printf(mem, "resumed:%s", supplier_id);
}

/* Under whichever of its names it was let in: the day leads the value, and what was put right follows it. */
tb_rc tb_supplier_resumed(const char **day, struct tb_book *b, const char *supplier_id, struct tb_arena *mem,
                          struct tb_err *err)
{
    const char **name;
    size_t n;
    tb_rc rc = tb_supplier_names(&name, &n, b, supplier_id, mem, err);

    *day = "";
    for (size_t i = 0; rc == TB_OK && i < n; i++) {
        const char *value = "";

        rc = tb_setting_get(&value, b, tb_resumed_name(name[i], mem), TB_BOOK_NOW, mem, err);
        if (rc == TB_OK && strlen(value) >= TB_DAY_LEN && strncmp(value, *day, TB_DAY_LEN) > 0)
            *day = tb_arena_strndup(mem, value, TB_DAY_LEN);
    }
    return rc;
}

/* The judged lots among all of a supplier, oldest first. */
static void judged_lots(struct tb_record_lot **out, size_t *n, const struct tb_lot_result *lot, size_t lots,
                        struct tb_arena *mem)
{
    *out = tb_arena_alloc(mem, (lots + 1) * sizeof **out);
    *n = 0;
    for (size_t i = 0; i < lots; i++)
        if (lot[i].outcome != TB_OUTCOME_OPEN)
            (*out)[(*n)++] = (struct tb_record_lot){ .ref = lot[i].ref,
                                                     .arrived = lot[i].arrived,
                                                     .wrong = lot[i].outcome == TB_OUTCOME_WRONG };
}

/* The judged lots of a supplier, how many lots there are in all, and the day it was let in again last. */
static tb_rc read_history(struct tb_record_lot **judged, size_t *n, size_t *lots, const char **resumed,
                          struct tb_book *b, const char *supplier_id, struct tb_arena *mem,
                          struct tb_err *err)
{
    struct tb_lot_result *lot = NULL;
    tb_rc rc = tb_supplier_lots(&lot, lots, b, supplier_id, mem, err);

    if (rc == TB_OK)
        rc = tb_supplier_resumed(resumed, b, supplier_id, mem, err);
    if (rc == TB_OK)
        judged_lots(judged, n, lot, *lots, mem);
    return rc;
}

tb_rc tb_supplier_standing(struct tb_switching *s, struct tb_book *b, const char *supplier_id,
                           struct tb_arena *mem, struct tb_err *err)
{
    struct tb_record_lot *judged = NULL;
    const char *resumed = "";
    size_t n = 0, lots = 0;
    tb_rc rc = read_history(&judged, &n, &lots, &resumed, b, supplier_id, mem, err);

    if (rc == TB_OK)
        tb_switching_replay(s, judged, n, resumed);
    return rc;
}

/* Open lots count for nothing yet: a tally is of judged ones. */
static tb_rc read_tallies(struct tb_tallies *out, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_supplier_tally *s = NULL;
    size_t n = 0;
    tb_rc rc = tb_supplier_tallies(&s, &n, b, mem, err);

    *out = (struct tb_tallies){ .name = tb_arena_alloc(mem, (n + 1) * sizeof *out->name),
                                .tally = tb_arena_alloc(mem, (n + 1) * sizeof *out->tally) };
    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        out->name[i] = s[i].name;
        out->tally[i] = (struct tb_tally){ (long)(s[i].right_lots + s[i].wrong_lots), (long)s[i].wrong_lots };
        out->n++;
    }
    return rc;
}

tb_rc tb_tallies_read(struct tb_tallies *out, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_book_look(b, err);

    if (rc == TB_OK)
        rc = read_tallies(out, b, mem, err);
    tb_book_look_away(b);
    return rc;
}

/* All that the record is worked out of; the sums themselves need no steady look at the book. */
static tb_rc read_record(struct tb_supplier_record *out, struct tb_book *b,
                         const struct tb_supplier_record_request *request, struct tb_arena *mem,
                         struct tb_err *err)
{
    struct tb_record *r = &out->record;
    struct tb_record_lot *judged = NULL;
    struct tb_belief *belief = tb_arena_alloc(mem, sizeof *belief);
    struct tb_tallies all;
    size_t lots = 0;
    tb_rc rc;

    *out = (struct tb_supplier_record){ 0 };
    *r = (struct tb_record){ .conf = request->conf, .usual = request->usual, .run = request->run };
    if ((rc = tb_supplier_find(&out->supplier, b, request->supplier, mem, err)) != TB_OK ||
        (rc = read_history(&judged, &r->n, &lots, &r->resumed, b, out->supplier.id, mem, err)) != TB_OK ||
        /* the others' tallies make the prior: a supplier with few lots borrows strength from them */
        (rc = read_tallies(&all, b, mem, err)) != TB_OK ||
        (rc = tb_record_belief(belief, all.tally, all.n, mem, err)) != TB_OK)
        return rc;
    r->belief = belief;
    r->prior = belief->fit;
    out->prior_own = belief->own;
    r->lot = judged;
    out->lots = (long)lots;
    r->own.lots = (long)r->n;
    for (size_t i = 0; i < r->n; i++)
        r->own.wrong += judged[i].wrong;
    return TB_OK;
}

tb_rc tb_supplier_record_read(struct tb_supplier_record *out, struct tb_book *b,
                              const struct tb_supplier_record_request *request, struct tb_arena *mem,
                              struct tb_err *err)
{
    tb_rc rc = tb_book_look(b, err);

    if (rc == TB_OK)
        rc = read_record(out, b, request, mem, err);
    tb_book_look_away(b);
    return rc == TB_OK ? tb_record_work_out(&out->record, err) : rc;
}
