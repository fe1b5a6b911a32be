/* Which key of a book counted for a row, and whether one that somebody knows led to it: the one rule for books and cases. */
#include "book/key.h"

#include <string.h>

const struct tb_signing_key *tb_key_at(const struct tb_keys *k, int64_t number)
{
    const struct tb_signing_key *out = NULL;

    for (size_t i = 0; i < k->n && k->key[i].entry <= number; i++)
        out = &k->key[i];
    return out;
}

static bool is_vouched(const struct tb_keys *k, size_t i)
{
    return i > 0 && tb_key_vouched(k->key[i].handover, k->key[i - 1].public, k->key[i].public);
}

const struct tb_signing_key *tb_keys_misfit(const struct tb_keys *k)
{
    for (size_t i = 0; i < k->n; i++)
        if (*k->key[i].handover && !is_vouched(k, i))
            return &k->key[i];
    return NULL;
}

const struct tb_signing_key *tb_keys_untrusted(bool *met, const struct tb_keys *k, int64_t number,
                                               const char *known)
{
    bool trusted = false;

    *met = false;
    for (size_t i = 0; i < k->n && k->key[i].entry <= number; i++) {
        bool itself = strcmp(k->key[i].public, known) == 0;

        trusted = itself || (trusted && is_vouched(k, i));
        *met = *met || itself;
        if (*met && !trusted)
            return &k->key[i];
    }
    return NULL;
}
