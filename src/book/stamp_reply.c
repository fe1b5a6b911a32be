/* Time stamps as bytes: requests made, replies read and checked, by OpenSSL's TS interface (stamp.h). */
#include "base/infile.h"
#include "book/key.h"
#include "book/stamp.h"

#include <limits.h>
#include <openssl/err.h>
#include <openssl/pem.h>
#include <openssl/ts.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define CERTIFICATES_MOST (8u << 20) /* bytes */

/* --- requests --------------------------------------------------------------------------------------------------- */

bool tb_stamp_imprint(unsigned char out[TB_HASH], int64_t number, const char *digest)
{
    unsigned char bytes[TB_HEAD_BYTES];

    if (!tb_head_bytes(bytes, number, digest))
        return false;
    (void)crypto_hash_sha256(out, bytes, sizeof bytes);
    return true;
}

/* 64 random bits as a positive number. */
static bool set_nonce(TS_REQ *q)
{
    unsigned char bytes[8];
    BIGNUM *n;
    ASN1_INTEGER *nonce;
    bool good;

    randombytes_buf(bytes, sizeof bytes);
    n = BN_bin2bn(bytes, sizeof bytes, NULL);
    nonce = n ? BN_to_ASN1_INTEGER(n, NULL) : NULL;
    good = nonce && TS_REQ_set_nonce(q, nonce);
    ASN1_INTEGER_free(nonce);
    BN_free(n);
    return good;
}

static bool set_imprint(TS_REQ *q, unsigned char *imprint)
{
    TS_MSG_IMPRINT *m = TS_MSG_IMPRINT_new();
    X509_ALGOR *hash = X509_ALGOR_new();
    bool good = m && hash && X509_ALGOR_set0(hash, OBJ_nid2obj(NID_sha256), V_ASN1_NULL, NULL) &&
                TS_MSG_IMPRINT_set_algo(m, hash) && TS_MSG_IMPRINT_set_msg(m, imprint, TB_HASH) &&
                TS_REQ_set_msg_imprint(q, m);

    X509_ALGOR_free(hash);
    TS_MSG_IMPRINT_free(m);
    return good;
}

tb_rc tb_stamp_ask(struct tb_text *out, int64_t number, const char *digest, struct tb_err *err)
{
    unsigned char imprint[TB_HASH], *der = NULL;
    TS_REQ *q = TS_REQ_new();
    int n = -1;

    if (q && tb_stamp_imprint(imprint, number, digest) && TS_REQ_set_version(q, 1) &&
        set_imprint(q, imprint) && set_nonce(q) && TS_REQ_set_cert_req(q, 1))
        n = i2d_TS_REQ(q, &der);
    TS_REQ_free(q);
    if (n < 0)
        return tb_fail(err, TB_EIO, "the request for a time stamp cannot be made");
    tb_text_addn(out, (const char *)der, (size_t)n);
    OPENSSL_free(der);
    return TB_OK;
}

/* --- what a reply shows ----------------------------------------------------------------------------------------- */

static tb_rc no_reply(struct tb_err *err)
{
    return tb_fail(err, TB_EFORMAT, "it is not the reply of a time-stamping authority");
}

/* All of the bytes, and nothing behind them. */
static TS_RESP *read_reply(const void *reply, size_t size)
{
    const unsigned char *at = reply;
    TS_RESP *r = size <= LONG_MAX ? d2i_TS_RESP(NULL, &at, (long)size) : NULL;

    if (r && at != (const unsigned char *)reply + size) {
        TS_RESP_free(r);
        r = NULL;
    }
    return r;
}

static bool read_moment(char out[TB_MOMENT_LEN + 1], const TS_TST_INFO *info)
{
    const ASN1_GENERALIZEDTIME *at = TS_TST_INFO_get_time(info);
    struct tm tm;

    return at && ASN1_TIME_to_tm(at, &tm) && strftime(out, TB_MOMENT_LEN + 1, "%Y-%m-%dT%H:%M:%SZ", &tm) > 0;
}

static bool read_imprint(unsigned char out[TB_HASH], TS_TST_INFO *info)
{
    TS_MSG_IMPRINT *m = TS_TST_INFO_get_msg_imprint(info);
    const ASN1_OBJECT *hash = NULL;
    const ASN1_OCTET_STRING *bytes = m ? TS_MSG_IMPRINT_get_msg(m) : NULL;

    if (!bytes || ASN1_STRING_length(bytes) != TB_HASH)
        return false;
    X509_ALGOR_get0(&hash, NULL, NULL, TS_MSG_IMPRINT_get_algo(m));
    memcpy(out, ASN1_STRING_get0_data(bytes), TB_HASH);
    return OBJ_obj2nid(hash) == NID_sha256;
}

/* Who says to have signed it; whether that is so shows only when the signature is checked. */
static void read_name(char *out, size_t size, PKCS7 *token)
{
    STACK_OF(X509) *signer = PKCS7_get0_signers(token, NULL, 0);
    X509 *cert = signer ? sk_X509_value(signer, 0) : NULL;

    *out = '\0';
    if (cert && X509_NAME_get_text_by_NID(X509_get_subject_name(cert), NID_commonName, out, (int)size) < 0)
        *out = '\0';
    for (char *s = out; *s; s++) /* a name from outside goes to terminals: plain letters only */
        if ((unsigned char)*s < ' ' || (unsigned char)*s > '~')
            *s = '?';
    sk_X509_free(signer);
    ERR_clear_error();
}

tb_rc tb_stamp_show(struct tb_stamp_shown *out, const void *reply, size_t size, struct tb_err *err)
{
    TS_RESP *r = read_reply(reply, size);
    TS_TST_INFO *info = r ? TS_RESP_get_tst_info(r) : NULL;
    bool refused = r && !info && ASN1_INTEGER_get(TS_STATUS_INFO_get0_status(TS_RESP_get_status_info(r))) > 1;
    tb_rc rc = TB_OK;

    *out = (struct tb_stamp_shown){ 0 };
    if (refused)
        rc = tb_fail(err, TB_EFORMAT, "the authority gave no time stamp: it refused the request");
    else if (!info || !read_moment(out->at, info) || !read_imprint(out->imprint, info))
        rc = no_reply(err);
    else
        read_name(out->by, sizeof out->by, TS_RESP_get_token(r));
    TS_RESP_free(r);
    ERR_clear_error();
    return rc;
}

/* --- trust -------------------------------------------------------------------------------------------------------- */

struct tb_stamp_trust {
    X509_STORE *store;
    char *path;
};

static size_t add_certificates(X509_STORE *store, const struct tb_text *pem)
{
    BIO *in = BIO_new_mem_buf(tb_text_str(pem), (int)pem->n);
    X509 *cert;
    size_t n = 0;

    while (in && store && (cert = PEM_read_bio_X509(in, NULL, NULL, NULL)) != NULL) {
        n += X509_STORE_add_cert(store, cert) == 1;
        X509_free(cert);
    }
    BIO_free(in);
    ERR_clear_error(); /* the end of the file is told as an error too */
    return n;
}

tb_rc tb_stamp_trust_read(struct tb_stamp_trust **out, const char *path, struct tb_err *err)
{
    struct tb_stamp_trust *t = tb_new(struct tb_stamp_trust);
    struct tb_text pem = { 0 };
    tb_rc rc = tb_in_whole(&pem, path, CERTIFICATES_MOST, err);

    t->store = X509_STORE_new();
    t->path = tb_strdup(path);
    if (rc != TB_OK)
        rc = tb_within(err, rc, "%s", path);
    else if (add_certificates(t->store, &pem) == 0)
        rc = tb_fail(err, TB_EFORMAT, "%s holds no certificate (PEM)", path);
    tb_text_free(&pem);
    if (rc == TB_OK)
        *out = t;
    else
        tb_stamp_trust_free(t);
    return rc;
}

void tb_stamp_trust_free(struct tb_stamp_trust *t)
{
    if (!t)
        return;
    X509_STORE_free(t->store);
    free(t->path);
    free(t);
}

/* --- checking ------------------------------------------------------------------------------------------------------ */

/* The reason in OpenSSL's words where it is none of those that people meet. */
static tb_rc not_accepted(const struct tb_stamp_trust *trust, struct tb_err *err)
{
    const char *data = "";
    int flags = 0;
    unsigned long code = ERR_peek_last_error_data(&data, &flags);
    tb_rc rc;

    data = data && flags & ERR_TXT_STRING ? data : "";
    if (ERR_GET_LIB(code) == ERR_LIB_TS && ERR_GET_REASON(code) == TS_R_NONCE_MISMATCH)
        rc = tb_fail(err, TB_EREFUSED, "the reply answers another request: its nonce is another one");
    else if (ERR_GET_LIB(code) == ERR_LIB_TS && ERR_GET_REASON(code) == TS_R_MESSAGE_IMPRINT_MISMATCH)
        rc = tb_fail(err, TB_EREFUSED, "the reply is about something else than was asked");
    else if (ERR_GET_LIB(code) == ERR_LIB_TS && ERR_GET_REASON(code) == TS_R_CERTIFICATE_VERIFY_ERROR)
        rc = tb_fail(err, TB_EREFUSED, "no certificate in %s vouches for the authority (%s)", trust->path,
                     data);
    else
        rc = tb_fail(err, TB_EREFUSED, "the reply is not accepted: %s %s",
                     ERR_reason_error_string(code) ? ERR_reason_error_string(code) : "it is damaged", data);
    ERR_clear_error();
    return rc;
}

/* Certificates end long before a book does: an old stamp is checked as of the moment it shows. */
static bool set_moment(X509_STORE *store, TS_RESP *r, bool now)
{
    const ASN1_GENERALIZEDTIME *at = TS_TST_INFO_get_time(TS_RESP_get_tst_info(r));
    struct tm tm;

    if (now) {
        X509_VERIFY_PARAM_set_time(X509_STORE_get0_param(store), time(NULL));
        return true;
    }
    if (!at || !ASN1_TIME_to_tm(at, &tm))
        return false;
    X509_VERIFY_PARAM_set_time(X509_STORE_get0_param(store), timegm(&tm));
    return true;
}

/* What the context needs; it takes over what it is given. */
static bool prepare(TS_VERIFY_CTX *ctx, const unsigned char imprint[TB_HASH], const struct tb_text *request,
                    const struct tb_stamp_trust *trust)
{
    const unsigned char *at = request ? (const unsigned char *)request->s : NULL;
    TS_REQ *q = request ? d2i_TS_REQ(NULL, &at, (long)request->n) : NULL;
    bool good = !request || (q && at == (const unsigned char *)request->s + request->n &&
                             TS_REQ_to_TS_VERIFY_CTX(q, ctx));

    if (good && !request) {
        unsigned char *copy = OPENSSL_memdup(imprint, TB_HASH);

        (void)TS_VERIFY_CTX_set_flags(ctx, TS_VFY_VERSION | TS_VFY_IMPRINT);
        good = copy && TS_VERIFY_CTX_set_imprint(ctx, copy, TB_HASH);
    }
    if (good && trust) {
        (void)TS_VERIFY_CTX_add_flags(ctx, TS_VFY_SIGNATURE);
        good = X509_STORE_up_ref(trust->store) && TS_VERIFY_CTX_set_store(ctx, trust->store);
    }
    TS_REQ_free(q);
    return good;
}

tb_rc tb_stamp_check(const void *reply, size_t size, const unsigned char imprint[TB_HASH],
                     const struct tb_text *request, const struct tb_stamp_trust *trust, struct tb_err *err)
{
    TS_RESP *r = read_reply(reply, size);
    TS_VERIFY_CTX *ctx = TS_VERIFY_CTX_new();
    tb_rc rc = TB_OK;

    ERR_clear_error();
    if (!r || !TS_RESP_get_tst_info(r))
        rc = no_reply(err);
    else if (!ctx || !prepare(ctx, imprint, request, trust))
        rc = tb_fail(err, TB_EFORMAT, "the request is not one for a time stamp");
    else if ((trust && !set_moment(trust->store, r, request != NULL)) || TS_RESP_verify_response(ctx, r) != 1)
        rc = not_accepted(trust, err);
    ERR_clear_error();
    TS_VERIFY_CTX_free(ctx);
    TS_RESP_free(r);
    return rc;
}
