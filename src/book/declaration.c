/* What a lot is declared to be: the supplier's words, an answer to a question, a relabelling. */
#include "book/stmt.h"
#include "tenterbook/fibre.h"

#include <string.h>

TB_WORDS(
    tb_origin_words, TB_ORIGIN_SLIP + 1,
    "'%s' does not say where a declaration comes from; it is row, title, option, answer, relabel or slip",
    "row", "title", "option", "answer", "relabel", "slip");

tb_rc tb_declaration_add(struct tb_book *b, const char *lot_id, const char *text, enum tb_origin_kind origin,
                         const char *replaces, struct tb_err *err)
{
    struct tb_text reading = { 0 }, doubts = { 0 };
    struct tb_declaration d = { 0 };
    struct tb_declaration_fact f;
    tb_rc rc;

    /* what the words were taken to mean is kept with them: a later program may read them otherwise */
    tb_declaration_read(&d, text, strlen(text));
    tb_declaration_print(&reading, &d);
    for (size_t i = 0; i < d.n; i++)
        tb_text_addf(&doubts, "%s%s", i ? "\n" : "", d.doubt[i].say);
    f = (struct tb_declaration_fact){ .lot = lot_id,
                                      .text = text,
                                      .reading = tb_text_str(&reading),
                                      .clear = tb_declaration_clear(&d),
                                      .doubts = tb_text_str(&doubts),
                                      .origin = origin,
                                      .replaces = replaces };
    rc = tb_put_declaration(&f, b, err);
    tb_declaration_free(&d);
    tb_text_free(&reading);
    tb_text_free(&doubts);
    return rc;
}

tb_rc tb_declaration_reason(struct tb_book *b, const char *declaration_id, const char *why,
                            struct tb_err *err)
{
    return tb_put_declaration_why(
        &(struct tb_declaration_why_fact){ .declaration = declaration_id, .why = why }, b, err);
}

tb_rc tb_declarations_upto(const char ***text, size_t *n, struct tb_book *b, const char *lot_id, int64_t upto,
                           struct tb_arena *mem, struct tb_err *err)
{
    return tb_all_text(text, n, tb_sql_declarations_of_lot(b, lot_id, upto), mem, err);
}
