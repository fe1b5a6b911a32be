/* confirming.c - the test that would confirm the last verdict of a lot, while nothing that weighs more has answered. */
#include "tenterbook/act_bench.h"
#include "tenterbook/stored_verdict.h"

/* Whether a laboratory has answered for the lot since: then nothing is left to confirm at the bench. */
static tb_rc answered(bool *out, struct tb_book *b, const char *lot_id, struct tb_arena *mem,
                      struct tb_err *err)
{
    struct tb_analysis *a = NULL;
    struct tb_laboratory found;
    const char **words = NULL;
    size_t n = 0, said = 0;
    tb_rc rc = tb_analysis_list(&a, &n, b, lot_id, mem, err);

    *out = false;
    if (rc != TB_OK || n == 0 ||
        (rc = tb_declarations_upto(&words, &said, b, lot_id, TB_BOOK_NOW, mem, err)) != TB_OK)
        return rc;
    tb_laboratory_take(&found, a, n, said ? words[said - 1] : "");
    *out = found.settled;
    return TB_OK;
}

const char *tb_stored_next_clause(const struct tb_stored_next *n, struct tb_arena *mem)
{
    struct tb_text t = { 0 };

    tb_next_clause(&t, TB_READER, n->part, n->name, n->bolts);
    return tb_arena_take(mem, &t);
}

tb_rc tb_lot_confirming(const char **out, struct tb_book *b, const char *lot_id, struct tb_arena *mem,
                        struct tb_err *err)
{
    struct tb_judged last = { 0 };
    struct tb_stored_verdict v = { 0 };
    bool known = false;
    tb_rc rc = tb_judged_latest(&last, b, lot_id, mem, err);

    if (rc == TB_OK)
        rc = tb_stored_verdict_parse(&v, last.detail ? last.detail : "", mem, err);
    *out = "";
    if (rc == TB_OK && (rc = answered(&known, b, lot_id, mem, err)) != TB_OK)
        return rc;
    if (rc == TB_OK && !known && v.confirm.test && *v.confirm.test && v.kind != TB_FITS)
        *out = tb_stored_next_clause(&v.confirm, mem);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}
