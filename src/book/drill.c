/* Known swatches dealt to testers, and what they answered. */
#include "book/stmt.h"
#include "tenterbook/draws.h"

static tb_rc add_card(struct tb_book *b, const char *drill_id, int64_t serial, const char *swatch_id,
                      struct tb_err *err)
{
    struct tb_drill_card_fact f = { .drill = drill_id, .serial = serial, .swatch = swatch_id };
    char id[TB_ID_LEN + 1];

    tb_id_make(id);
    f.id = id;
    return tb_put_drill_card(&f, b, err);
}

tb_rc tb_drill_add(int64_t *serial, struct tb_book *b, const char *tester, const char *seed,
                   const char *const *swatch_id, size_t n, struct tb_err *err)
{
    struct tb_drill_fact f = { .tester = tester, .seed = seed };
    char id[TB_ID_LEN + 1];
    tb_rc rc = tb_ask_whole(&f.serial, tb_sql_drill_last_serial(b), err);

    if (rc != TB_OK && rc != TB_ENOTFOUND)
        return rc;
    tb_id_make(id);
    f.id = id;
    *serial = ++f.serial;
    rc = tb_put_drill(&f, b, err);
    for (size_t i = 0; i < n && rc == TB_OK; i++)
        rc = add_card(b, id, (int64_t)i + 1, swatch_id[i], err);
    return rc;
}

tb_rc tb_card_find(struct tb_card *out, struct tb_book *b, int64_t drill, int64_t serial,
                   struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_one_card(out, tb_sql_drill_card_by_name(b, drill, serial), mem, err);

    return rc == TB_ENOTFOUND
               ? tb_fail(err, rc, "no card %lld-%02lld was ever dealt", (long long)drill, (long long)serial)
               : rc;
}

tb_rc tb_card_list(struct tb_card **out, size_t *n, struct tb_book *b, struct tb_arena *mem,
                   struct tb_err *err)
{
    return tb_all_card(out, n, tb_sql_drill_cards(b), mem, err);
}

tb_rc tb_card_answer(struct tb_book *b, const struct tb_card *card, const char *answer, const char *burn_id,
                     struct tb_err *err)
{
    struct tb_drill_answer_fact f = { .card = card->id, .answer = answer, .burn = burn_id };
    char id[TB_ID_LEN + 1];

    /* an answer given after the right one was told would make every score worthless */
    if (card->answer)
        return tb_fail(err, TB_EEXISTS, "card %lld-%02lld was answered already; an answer is not changed",
                       (long long)card->drill, (long long)card->serial);
    tb_id_make(id);
    f.id = id;
    return tb_put_drill_answer(&f, b, err);
}
