/* A file of burns taken in again: told by its rows, whatever it is called and however it was saved. */
#include "work/burn.h"

#include <sodium.h>
#include <string.h>

/* The name of the setting that keeps when these rows were recorded: its value is the day, a space and the file. */
static const char *name_of(const struct tb_burn_file_request *r, struct tb_arena *mem)
{
    unsigned char hash[crypto_hash_sha256_BYTES];
    char hex[2 * sizeof hash + 1];
    crypto_hash_sha256_state state;

    (void)crypto_hash_sha256_init(&state);
    for (size_t i = 0; i < r->n; i++) {
        const struct tb_burn_row *w = &r->row[i];
        const char *const field[] = { w->lot,      w->bolt,   w->part,  w->at,  w->saw,
                                      w->not_seen, w->looked, w->flame, w->note };

        for (size_t k = 0; k < TB_COUNT(field); k++) /* with its NUL: no two rows run together */
            (void)crypto_hash_sha256_update(&state, (const unsigned char *)field[k], strlen(field[k]) + 1);
        if (*w->could_not) /* files recorded before there was such a column stay known */
            (void)crypto_hash_sha256_update(&state, (const unsigned char *)w->could_not,
                                            strlen(w->could_not) + 1);
    }
    (void)crypto_hash_sha256_final(&state, hash);
    return tb_arena_printf(mem, "burns:%s", sodium_bin2hex(hex, sizeof hex, hash, sizeof hash));
}

tb_rc tb_burn_file_check_new(struct tb_job *j)
{
    const struct tb_burn_file_request *r = j->request;
    const char *value = "";
    tb_rc rc = TB_OK;

    if (!r->again)
        rc = tb_setting_get(&value, j->b, name_of(r, j->mem), TB_BOOK_NOW, j->mem, j->err);
    if (rc != TB_OK || strlen(value) <= TB_DAY_LEN)
        return rc;
    return tb_about(j->err,
                    tb_fail(j->err, TB_EEXISTS,
                            "these very burns were recorded before, on %.10s from %s; say so to record them "
                            "again",
                            value, value + TB_DAY_LEN + 1),
                    "again");
}

tb_rc tb_burn_file_note(struct tb_job *j)
{
    const struct tb_burn_file_request *r = j->request;
    char today[TB_DAY_LEN + 1];

    tb_today(today);
    return tb_setting_set(j->b, name_of(r, j->mem), tb_arena_printf(j->mem, "%s %s", today, r->name), j->err);
}
