/* The signing key: the file it is kept in, and what is signed with it (key.h). */
#include "book/key.h"
#include "base/folder.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define FIRST_LINE "tenterbook signing key 1\n"
#define FILE_MOST 1000

/* --- the file --------------------------------------------------------------------------------------------------- */

/* One site may sign all its books with one key, and keep it where books are not: on another disk, or a stick. */
tb_rc tb_key_file(char **out, struct tb_book *b, struct tb_err *err)
{
    const char *named = getenv("TENTERBOOK_KEY");
    struct tb_arena mem = { 0 };
    struct tb_text t = { 0 };
    tb_rc rc = TB_OK;

    if (!named || !*named)
        rc = tb_setting_get(&named, b, TB_SETTING_KEY_FILE, TB_BOOK_NOW, &mem, err);
    if (rc == TB_OK && *named)
        tb_text_add(&t, named);
    else if (rc == TB_OK)
        tb_text_addf(&t, "%s.key", b->path);
    if (rc == TB_OK)
        *out = tb_text_take(&t);
    tb_arena_free(&mem);
    return rc;
}

void tb_key_draw(struct tb_key *out)
{
    unsigned char public[crypto_sign_PUBLICKEYBYTES];

    (void)crypto_sign_keypair(public, out->secret);
    tb_hash_hex(out->public, public);
}

/* The first 32 bytes of a secret key are its seed, and say all of it. */
static tb_rc text_of(char text[FILE_MOST], const struct tb_key *key, const char *pass, struct tb_err *err)
{
    char locked[TB_LOCKED_HEX], seed[TB_DIGEST_HEX];
    tb_rc rc = TB_OK;

    if (pass) {
        if ((rc = tb_key_lock(locked, key->secret, pass, err)) == TB_OK)
            (void)snprintf(text, FILE_MOST, FIRST_LINE "public %s\nlocked %s\n", key->public, locked);
    } else {
        tb_hash_hex(seed, key->secret);
        (void)snprintf(text, FILE_MOST, FIRST_LINE "public %s\nsecret %s\n", key->public, seed);
        sodium_memzero(seed, sizeof seed);
    }
    return rc;
}

/* A key that is there already is never replaced. */
tb_rc tb_key_write(const char *file, const struct tb_key *key, const char *pass, struct tb_err *err)
{
    struct tb_half half = { 0 };
    char text[FILE_MOST];
    tb_rc rc = text_of(text, key, pass, err);

    if (rc == TB_OK && (rc = tb_half_make(&half, file, S_IRUSR | S_IWUSR, err)) == TB_OK &&
        (rc = tb_half_put(&half, file, text, strlen(text), err)) == TB_OK)
        rc = tb_half_name(&half, file, err);
    tb_half_remove(&half);
    sodium_memzero(text, sizeof text);
    return rc;
}

/* What a key file says; the secret half is in clear or locked. */
struct said {
    char text[FILE_MOST + 1];
    char public[TB_DIGEST_HEX], how[8], secret[TB_LOCKED_HEX];
    mode_t mode;
};

/* Before the file is of use: whoever could read it may have it. */
static tb_rc is_private(const struct said *s, const char *file, struct tb_err *err)
{
    return s->mode & (S_IRWXG | S_IRWXO) ? tb_fail(err, TB_EREFUSED,
                                                   "others than its owner can read or change the signing key "
                                                   "%s: make it private first (chmod 600 %s), "
                                                   "and take another key if they may have it",
                                                   file, file)
                                         : TB_OK;
}

static tb_rc read_said(struct said *out, const char *file, struct tb_err *err)
{
    struct stat st;
    int fd = open(file, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    ssize_t n;
    tb_rc rc = TB_OK;

    memset(out, 0, sizeof *out);
    n = fd < 0 || fstat(fd, &st) != 0 ? -1 : read(fd, out->text, FILE_MOST);
    if (n < 0)
        rc = tb_fail(err, errno == ENOENT ? TB_ENOTFOUND : TB_EIO, "the key %s cannot be read: %s", file,
                     strerror(errno));
    else if (strncmp(out->text, FIRST_LINE, sizeof FIRST_LINE - 1) != 0 ||
             sscanf(out->text + sizeof FIRST_LINE - 1, "public %64[0-9a-f] %7[a-z] %176[0-9a-f]", out->public,
                    out->how, out->secret) != 3)
        rc = tb_fail(err, TB_EFORMAT, "%s does not hold a signing key", file);
    else
        out->mode = st.st_mode;
    if (fd >= 0)
        (void)close(fd);
    return rc;
}

static tb_rc seed_of(unsigned char seed[TB_HASH], const struct said *s, const char *file, struct tb_err *err)
{
    if (strcmp(s->how, "locked") == 0)
        return tb_key_unlock(seed, s->secret, file, err);
    return strcmp(s->how, "secret") == 0 && tb_hash_of_hex(seed, s->secret)
               ? TB_OK
               : tb_fail(err, TB_EFORMAT, "%s does not hold a signing key", file);
}

tb_rc tb_key_read(struct tb_key *out, const char *file, struct tb_err *err)
{
    unsigned char seed[TB_HASH], public[TB_HASH];
    struct said s;
    tb_rc rc = read_said(&s, file, err);

    if (rc == TB_OK && (rc = is_private(&s, file, err)) == TB_OK &&
        (rc = seed_of(seed, &s, file, err)) == TB_OK) {
        (void)crypto_sign_seed_keypair(public, out->secret, seed);
        tb_hash_hex(out->public, public);
        if (strcmp(out->public, s.public) != 0)
            rc = tb_fail(err, TB_EFORMAT, "%s does not hold a signing key", file);
    }
    sodium_memzero(seed, sizeof seed);
    sodium_memzero(&s, sizeof s);
    return rc;
}

/* --- signatures: what they are over is part of the file format ---------------------------------------------------- */

bool tb_head_bytes(unsigned char out[TB_HEAD_BYTES], int64_t number, const char *digest)
{
    for (int i = 0; i < 17; i++)
        out[i] = (unsigned char)"tenterbook-head-1"[i];
    for (int i = 0; i < 8; i++)
        out[17 + i] = (unsigned char)((uint64_t)number >> (56 - 8 * i));
    return tb_hash_of_hex(out + 25, digest);
}

bool tb_handover_bytes(unsigned char out[TB_HANDOVER_BYTES], const char *from, const char *to)
{
    for (int i = 0; i < 16; i++)
        out[i] = (unsigned char)"tenterbook-key-1"[i];
    return tb_hash_of_hex(out + 16, from) && tb_hash_of_hex(out + 16 + TB_HASH, to);
}

void tb_key_sign(char out[TB_SIGNATURE_HEX], const struct tb_key *key, const void *bytes, size_t n)
{
    unsigned char signature[crypto_sign_BYTES];

    (void)crypto_sign_detached(signature, NULL, bytes, n, key->secret);
    (void)sodium_bin2hex(out, TB_SIGNATURE_HEX, signature, sizeof signature);
}

/*
 * Whether a signature is by this key; false also where a text is no digits. Small letters only: there is one way to write a
 * signature, so that nothing changes without being seen.
 */
static bool key_signed(const char *signature, const char *public, const void *bytes, size_t n)
{
    unsigned char key[TB_HASH], s[crypto_sign_BYTES];
    size_t got = 0;

    return strlen(signature) == TB_SIGNATURE_HEX - 1 &&
           strspn(signature, "0123456789abcdef") == TB_SIGNATURE_HEX - 1 &&
           sodium_hex2bin(s, sizeof s, signature, TB_SIGNATURE_HEX - 1, NULL, &got, NULL) == 0 &&
           got == sizeof s && tb_hash_of_hex(key, public) &&
           crypto_sign_verify_detached(s, bytes, n, key) == 0;
}

bool tb_head_signed(const char *signature, const char *public, int64_t number, const char *digest)
{
    unsigned char bytes[TB_HEAD_BYTES];

    return tb_head_bytes(bytes, number, digest) && key_signed(signature, public, bytes, sizeof bytes);
}

bool tb_key_vouched(const char *handover, const char *from, const char *to)
{
    unsigned char bytes[TB_HANDOVER_BYTES];

    return tb_handover_bytes(bytes, from, to) && key_signed(handover, from, bytes, sizeof bytes);
}

/* 64 digits are a key and never a file that somebody meant. No pass phrase is needed for what is public. */
tb_rc tb_key_public(char out[TB_DIGEST_HEX], const char *text_or_file, struct tb_err *err)
{
    unsigned char bytes[TB_HASH];
    struct said s;
    tb_rc rc = TB_OK;

    if (tb_hash_of_hex(bytes, text_or_file)) {
        (void)snprintf(out, TB_DIGEST_HEX, "%s", text_or_file);
        return TB_OK;
    }
    if ((rc = read_said(&s, text_or_file, err)) == TB_OK)
        (void)snprintf(out, TB_DIGEST_HEX, "%s", s.public);
    sodium_memzero(&s, sizeof s);
    return rc;
}
