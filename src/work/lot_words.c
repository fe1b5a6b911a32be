/* What was ever said of the cloth of a lot, and what may be done to it at a bench. */
#include "tenterbook/work.h"

#include <stdint.h>
#include <string.h>

tb_rc tb_lot_words(struct tb_declaration *out, struct tb_book *b, const struct tb_lot *lot,
                   struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    const char **said = NULL;
    size_t n = 0;
    tb_rc rc = tb_declarations_upto(&said, &n, b, lot->id, INT64_MAX, &mem, err);

    tb_declaration_read(out, lot->declared, strlen(lot->declared));
    for (size_t i = 0; i < n && rc == TB_OK; i++)
        tb_declaration_also(out, said[i], strlen(said[i]));
    tb_arena_free(&mem);
    return rc;
}

static tb_rc find_words(struct tb_declaration *out, struct tb_book *b, const char *ref, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_lot lot;
    tb_rc rc = tb_lot_find(&lot, b, ref, &mem, err);

    if (rc == TB_OK)
        rc = tb_lot_words(out, b, &lot, err);
    tb_arena_free(&mem);
    return rc;
}

tb_rc tb_bench_handling_check(struct tb_book *b, const char *known, const char *lot, enum tb_handling most,
                              const char *at, struct tb_err *err)
{
    struct tb_declaration d = { 0 };
    enum tb_handling asked = TB_HANDLING_ANY;
    int fibre = -1;
    tb_rc rc = TB_OK;

    if (at)
        return TB_OK;
    if (known && *known)
        tb_declaration_read(&d, known, strlen(known));
    else
        rc = find_words(&d, b, lot, err);
    if (rc == TB_OK)
        asked = tb_declaration_handling(&d, &fibre);
    if (asked > most && asked == TB_HANDLING_FLAMELESS)
        rc = tb_fail(err, TB_EREFUSED,
                     "%s must not be burned, its gas is toxic; test it without a flame (tenterbook try) or "
                     "send it to a laboratory; a burn that was made already is recorded with its moment (at)",
                     tb_fibre_at(fibre)->name);
    else if (asked > most)
        rc = tb_fail(
            err, TB_EREFUSED,
            "%s must not be cut, tested or burned at a bench; keep the cloth closed and ask a laboratory "
            "licensed for it; what was done already is recorded with its moment (at)",
            tb_fibre_at(fibre)->name);
    tb_declaration_free(&d);
    return rc;
}
