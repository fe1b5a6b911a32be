/* bind_all.h - every statement of the program asked with something for each of its parameters, as tests of all of them do. */
#ifndef TENTERBOOK_TESTS_BIND_ALL_H
#define TENTERBOOK_TESTS_BIND_ALL_H

#include "book/private.h"

static inline void bind_all(struct tb_stmt *q, const struct tb_sql_text *t, const char *text, int64_t whole)
{
    for (int i = 0; i < t->ins; i++)
        switch (t->in[i].kind) {
        case TB_KIND_TEXT:
            tb_bind_text(q, i + 1, text);
            break;
        case TB_KIND_WHOLE:
            tb_bind_whole(q, i + 1, whole);
            break;
        case TB_KIND_NUMBER:
            tb_bind_number(q, i + 1, 1);
            break;
        case TB_KIND_BYTES:
            tb_bind_bytes(q, i + 1, "", 0);
        }
}

#endif
