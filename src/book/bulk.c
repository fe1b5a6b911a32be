/* Many bolts at once: keeping an index on unordered text during a large load costs several times the load. */
#include "book/private.h"

#define BULK 20000

tb_rc tb_bolts_begin(struct tb_book *b, int64_t how_many, struct tb_err *err)
{
    int64_t have = 0;
    tb_rc rc = tb_ask_whole(&have, tb_query(b, TB_SQL_BOLT_ROUGH_COUNT), err);

    if (rc != TB_OK && rc != TB_ENOTFOUND)
        return rc;
    if (how_many < BULK || how_many < have / 4)
        return TB_OK;
    rc = tb_run(tb_query(b, TB_SQL_BOLT_NUMBER_INDEX_DROP), err);
    b->index_dropped = rc == TB_OK;
    return rc;
}

tb_rc tb_bolts_end(struct tb_book *b, struct tb_err *err)
{
    if (!b->index_dropped)
        return TB_OK;
    b->index_dropped = false;
    return tb_run(tb_query(b, TB_SQL_BOLT_NUMBER_INDEX_MAKE), err);
}
