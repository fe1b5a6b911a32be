/* Known swatches dealt to testers, and what they answered. */
#include "book/stmt.h"
#include "tenterbook/draws.h"

tb_rc tb_drill_add(int64_t *serial, struct tb_book *b, const char *tester, const char *seed,
                   const char *const *swatch_id, size_t n, struct tb_err *err)
{
    struct tb_drill_fact f = { .tester = tester, .seed = seed };
    char id[TB_ID_LEN + 1];
    tb_rc rc = tb_ask_whole(&f.serial, tb_sql_drill_next_serial(b), err);

    if (rc != TB_OK)
        return rc;
    tb_id_make(id);
    f.id = id;
    *serial = f.serial;
    rc = tb_put_drill(&f, b, err);
    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        const struct tb_drill_card_fact card = { .drill = id,
                                                 .serial = (int64_t)i + 1,
                                                 .swatch = swatch_id[i] };

        rc = tb_put_drill_card(&card, b, err);
    }
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

tb_rc tb_card_answer(struct tb_book *b, const struct tb_card *card, const char *answer, const char *burn_id,
                     struct tb_err *err)
{
    const struct tb_drill_answer_fact f = { .card = card->id, .answer = answer, .burn = burn_id };

    /* an answer given after the right one was told would make every score worthless */
    if (card->answer)
        return tb_fail(err, TB_EEXISTS, "card %lld-%02lld was answered already; an answer is not changed",
                       (long long)card->drill, (long long)card->serial);
    return tb_put_drill_answer(&f, b, err);
}
