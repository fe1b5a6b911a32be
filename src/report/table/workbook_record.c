/* workbook_record.c - a row out of a record: each column says where the record has its cell. */
#include "report/table/workbook_impl.h"

#include <assert.h>

/* Words are a day or a moment where the column is one of those. */
static void put_words(struct tb_tab *s, const char *words, enum tb_column_type as)
{
    if (as == TB_COL_DAY)
        tb_put_day(s, words);
    else if (as == TB_COL_MOMENT)
        tb_put_moment(s, words);
    else
        tb_put_text(s, words);
}

static void put(struct tb_tab *s, const struct tb_column *c, const void *record)
{
    const void *at = (const char *)record + c->from.at;

    switch (c->from.kind) {
    case TB_FROM_TEXT:
        put_words(s, *(const char *const *)at, c->type);
        break;
    case TB_FROM_CHARS:
        put_words(s, at, c->type);
        break;
    case TB_FROM_COUNT:
        tb_put_count(s, *(const int64_t *)at);
        break;
    case TB_FROM_NUMBER:
        tb_put_number(s, *(const double *)at);
        break;
    case TB_FROM_WORD:
        tb_put_text(s, tb_word(c->from.words, *(const int *)at));
        break;
    default:
        assert(c->from.kind == TB_FROM_PUT);
        c->from.put(s, record);
    }
}

tb_rc tb_tab_record(struct tb_tab *s, const void *record, struct tb_err *err)
{
    for (size_t i = 0; i < s->plan.columns; i++)
        put(s, &s->col[i].plan, record);
    return tb_tab_row(s, err);
}

tb_rc tb_tab_records(struct tb_tab *s, const void *array, size_t n, size_t size, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < n && rc == TB_OK; i++)
        rc = tb_tab_record(s, (const char *)array + i * size, err);
    return rc;
}
