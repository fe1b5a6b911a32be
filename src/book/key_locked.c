/* A signing key under a pass phrase: Argon2id makes the lock, and a secretbox holds the seed (key.h). */
#include "book/key.h"

#include <string.h>

/* Part of the file format: a second or less on any computer, and too much memory for one that tries many at a time. */
#define PASSES 4
#define MEMORY (64u * 1024 * 1024)
#define SEED crypto_sign_SEEDBYTES
#define NONCE crypto_secretbox_NONCEBYTES

static tb_pass_fn *ask_for_pass;
static void *ask_arg;

void tb_key_on_pass(tb_pass_fn *ask, void *arg)
{
    ask_for_pass = ask;
    ask_arg = arg;
}

static tb_rc lock_of(unsigned char out[crypto_secretbox_KEYBYTES], const char *pass,
                     const unsigned char *salt, struct tb_err *err)
{
    return crypto_pwhash(out, crypto_secretbox_KEYBYTES, pass, strlen(pass), salt, PASSES, MEMORY,
                         crypto_pwhash_ALG_ARGON2ID13) == 0
               ? TB_OK
               : tb_fail(err, TB_EIO, "there is not enough memory to work with a pass phrase");
}

/* Salt, nonce and box one behind the other. */
tb_rc tb_key_lock(char out[TB_LOCKED_HEX], const unsigned char seed[SEED], const char *pass,
                  struct tb_err *err)
{
    unsigned char all[TB_LOCKED_BYTES], lock[crypto_secretbox_KEYBYTES];
    unsigned char *nonce = all + crypto_pwhash_SALTBYTES, *box = nonce + NONCE;
    tb_rc rc;

    randombytes_buf(all, crypto_pwhash_SALTBYTES + NONCE);
    if ((rc = lock_of(lock, pass, all, err)) == TB_OK) {
        (void)crypto_secretbox_easy(box, seed, SEED, nonce, lock);
        (void)sodium_bin2hex(out, TB_LOCKED_HEX, all, sizeof all);
    }
    sodium_memzero(lock, sizeof lock);
    return rc;
}

static tb_rc open_box(unsigned char seed[SEED], const unsigned char *all, const char *pass, const char *file,
                      struct tb_err *err)
{
    unsigned char lock[crypto_secretbox_KEYBYTES];
    const unsigned char *nonce = all + crypto_pwhash_SALTBYTES, *box = nonce + NONCE;
    tb_rc rc = lock_of(lock, pass, all, err);

    if (rc == TB_OK &&
        crypto_secretbox_open_easy(seed, box, SEED + crypto_secretbox_MACBYTES, nonce, lock) != 0)
        rc = tb_fail(err, TB_EREFUSED, "the pass phrase does not open the key %s", file);
    sodium_memzero(lock, sizeof lock);
    return rc;
}

tb_rc tb_key_unlock(unsigned char seed[SEED], const char *locked, const char *file, struct tb_err *err)
{
    unsigned char all[TB_LOCKED_BYTES];
    char pass[TB_PASS_MOST + 1] = "";
    size_t n = 0;
    tb_rc rc;

    if (strlen(locked) != TB_LOCKED_HEX - 1 ||
        sodium_hex2bin(all, sizeof all, locked, TB_LOCKED_HEX - 1, NULL, &n, NULL) != 0 || n != sizeof all)
        return tb_fail(err, TB_EFORMAT, "%s does not hold a signing key", file);
    if (!ask_for_pass || !ask_for_pass(ask_arg, pass, sizeof pass, file))
        return tb_fail(err, TB_EIO, "the key %s is locked, and nobody gave its pass phrase", file);
    rc = open_box(seed, all, pass, file, err);
    sodium_memzero(pass, sizeof pass);
    return rc;
}
