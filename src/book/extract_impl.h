/* extract_impl.h - what the files about extracts share: values as JSON, journal rows, the proof's sentences. */
#ifndef TENTERBOOK_BOOK_EXTRACT_IMPL_H
#define TENTERBOOK_BOOK_EXTRACT_IMPL_H

#include "book/private.h"
#include "tenterbook/extract.h"

/* A value as JSON, bytes as {"base64": "..."}. A new reference; NULL when a text is not UTF-8. */
json_t *tb_value_json(const struct tb_value *v);
/*
 * tb_value_of_json - the value again.
 *   out     borrows from v and from room, which takes decoded bytes
 *   result  false, *out nothing: neither text, number, nothing nor bytes that can be decoded
 */
bool tb_value_of_json(struct tb_value *out, const json_t *v, struct tb_text *room);

/* The statement facts_TABLE, whose columns are those of the table in order; NULL when there is no such table. */
const struct tb_sql_text *tb_facts_of(const char *table);

/* A text member of a row; "" when it has none. */
const char *tb_row_text(const json_t *row, const char *key);
int64_t tb_row_number(const json_t *row); /* of a journal row */
bool tb_row_is_full(const json_t *row);   /* a journal row that is not given by number and digest only */
/* The row of a journal, which rises by number, with this number; NULL when it is not there. */
const json_t *tb_row_at(const json_t *journal, int64_t number);

/* One more sentence about what does not fit. */
void tb_extract_wrong(struct tb_extract_proof *p, const char *fmt, ...) TB_PRINTF(2, 3);
/* See that the journal rows of an extract are whole and follow each other without gaps from number `since` on. */
void tb_extract_check_chain(struct tb_extract_proof *p, const json_t *journal, int64_t since);

#endif
