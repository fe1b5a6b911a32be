/*
 * SHA-256 of a head and of bytes behind it (tree.h).
 *
 * Verdicts have some 10,000 bytes and photographs millions: what is long goes through libcrypto, whose code uses what the
 * processor has for it (five times as fast where it has the instructions). For what is short, getting ready there takes longer
 * than the hash does, and for the first of what is long loading the library does.
 */
#include "book/tree.h"

#include "gen/late_crypto.h"
#include <sodium.h>
#include <stdatomic.h>

#define LONG 2048 /* bytes; below, libsodium is as fast */
#define MANY                                                                                                 \
    (1 << 18) /* bytes of what is long: libsodium takes as long for them as it takes to load libcrypto */

/* Were so many bytes hashed that the library is worth its loading? It may not be there: then it is done without. */
static bool is_worth_it(size_t n)
{
    static atomic_size_t hashed;
    struct tb_err why;

    return atomic_fetch_add(&hashed, n) + n >= MANY && tb_late_crypto_load(&why) == TB_OK;
}

/* False: the library does not give it. Its settings file is not read: it could name another SHA-256. */
static bool hash_long(unsigned char out[TB_HASH], const void *head, size_t heads, const void *bytes, size_t n)
{
    EVP_MD_CTX *ctx = OPENSSL_init_crypto(OPENSSL_INIT_NO_LOAD_CONFIG, NULL) ? EVP_MD_CTX_new() : NULL;
    bool good = ctx && EVP_DigestInit_ex(ctx, EVP_sha256(), NULL) == 1 &&
                EVP_DigestUpdate(ctx, head, heads) == 1 && EVP_DigestUpdate(ctx, bytes, n) == 1 &&
                EVP_DigestFinal_ex(ctx, out, NULL) == 1;

    EVP_MD_CTX_free(ctx);
    return good;
}

void tb_hash_behind(unsigned char out[TB_HASH], const void *head, size_t heads, const void *bytes, size_t n)
{
    crypto_hash_sha256_state hash;

    if (n >= LONG && is_worth_it(n) && hash_long(out, head, heads, bytes, n))
        return;
    (void)crypto_hash_sha256_init(&hash);
    (void)crypto_hash_sha256_update(&hash, head, heads);
    (void)crypto_hash_sha256_update(&hash, bytes, n);
    (void)crypto_hash_sha256_final(&hash, out);
}
