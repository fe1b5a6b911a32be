/* Bench tests beside the flame: solvents, melting, what a microscope shows. */
#include "book/stmt.h"

#include <string.h>

/* As for burns: a correction stays with its swatch, and a record is corrected once. */
static tb_rc check_replaced(const struct tb_bench_test *t, struct tb_book *b, struct tb_arena *mem,
                            struct tb_err *err)
{
    struct tb_test_corrected old;
    tb_rc rc;

    if (!t->replaces)
        return TB_OK;
    rc = tb_one_test_corrected(&old, tb_sql_bench_test_replaced(b, t->replaces), mem, err);
    if (rc == TB_ENOTFOUND)
        return tb_fail(err, rc, "there is no test %s in this book", t->replaces);
    if (rc == TB_OK && strcmp(old.swatch, t->swatch) != 0)
        return tb_fail(err, TB_EINVAL, "test %s is of swatch %s; a correction stays with its swatch",
                       t->replaces, old.tag);
    if (rc == TB_OK && old.voids > 0)
        return tb_fail(err, TB_EINVAL, "test %s is void; record the test anew", t->replaces);
    if (rc == TB_OK && old.ends > 0)
        return tb_fail(err, TB_EINVAL, "test %s was corrected already; correct the later record",
                       t->replaces);
    return rc;
}

/* Its person by key: who writes, unless the record is moved from another swatch. */
static tb_rc put(const struct tb_bench_test *t, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_bench_test f = *t;
    struct tb_person by;
    tb_rc rc = TB_OK;

    f.tested_by = tb_book_person(b);
    if (t->tested_by && (rc = tb_person_find(&by, b, t->tested_by, mem, err)) == TB_OK)
        f.tested_by = by.id;
    return rc == TB_OK ? tb_put_bench_test(&f, b, err) : rc;
}

tb_rc tb_bench_test_add(struct tb_bench_test *t, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = check_replaced(t, b, mem, err);

    if (rc != TB_OK)
        return rc;
    if (t->tested_at && !tb_moment_valid(t->tested_at))
        return tb_fail(err, TB_EINVAL, "the moment of the test '%s' is not valid (YYYY-MM-DDThh:mm:ssZ)",
                       t->tested_at);
    t->id = tb_new_key(mem);
    t->tested_at = t->tested_at ? t->tested_at : tb_moment_now(b, mem);
    return put(t, b, mem, err);
}

tb_rc tb_bench_test_find(struct tb_bench_test *out, struct tb_book *b, const char *id, struct tb_arena *mem,
                         struct tb_err *err)
{
    tb_rc rc = tb_one_bench_test(out, tb_sql_bench_test_by_id(b, id), mem, err);

    return rc == TB_ENOTFOUND ? tb_fail(err, rc, "there is no test %s in this book", id) : rc;
}

tb_rc tb_bench_test_list(struct tb_bench_test **out, size_t *n, struct tb_book *b, const char *lot_id,
                         struct tb_arena *mem, struct tb_err *err)
{
    return tb_bench_test_list_upto(out, n, b, lot_id, TB_BOOK_NOW, mem, err);
}
