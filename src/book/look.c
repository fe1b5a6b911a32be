/* Reading one state of the book over many statements, while others go on writing. */
#include "book/private.h"

tb_rc tb_book_look(struct tb_book *b, struct tb_err *err)
{
    if (b->writing || !sqlite3_get_autocommit(b->db))
        return TB_OK; /* a transaction is one state already */
    return tb_exec(b, "BEGIN", err);
}

void tb_book_look_away(struct tb_book *b)
{
    if (!b->writing && !sqlite3_get_autocommit(b->db))
        (void)sqlite3_exec(b->db, "ROLLBACK", NULL, NULL, NULL); /* nothing was written */
}
