/*
 * Replies of time-stamping authorities, read and checked by OpenSSL's TS interface (stamp.h). All of this runs in the process
 * apart: somebody else made the bytes of replies, requests and certificates.
 */
#include "book/stamp.h"

#include "gen/late_crypto.h"
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define SECURITY_LEVEL 2 /* of OpenSSL's security levels: 112 bits, so no SHA-1 and no RSA below 2048 bits */

/* --- certificates and request ----------------------------------------------------------------------------------- */

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
    ERR_clear_error();
    return n;
}

tb_rc tb_stamp_read_certificates(struct tb_stamp_reader *r, const struct tb_stamp_file *pem,
                                 struct tb_err *err)
{
    if (!pem)
        return TB_OK;
    r->path = pem->path;
    r->store = X509_STORE_new();
    if (add_certificates(r->store, &pem->bytes) == 0)
        return tb_fail(err, TB_EFORMAT, "it holds no certificate (PEM)");
    X509_VERIFY_PARAM_set_auth_level(X509_STORE_get0_param(r->store), SECURITY_LEVEL);
    return TB_OK;
}

tb_rc tb_stamp_read_request(struct tb_stamp_reader *r, const struct tb_stamp_file *der, struct tb_err *err)
{
    const unsigned char *from = der ? (const unsigned char *)tb_text_str(&der->bytes) : NULL, *at = from;

    if (!der)
        return TB_OK;
    r->request = d2i_TS_REQ(NULL, &at, (long)der->bytes.n);
    return r->request && at == from + der->bytes.n
               ? TB_OK
               : tb_fail(err, TB_EFORMAT, "it is not a request for a time stamp");
}

void tb_stamp_reader_free(struct tb_stamp_reader *r)
{
    X509_STORE_free(r->store);
    TS_REQ_free(r->request);
}

/* --- what a reply shows ----------------------------------------------------------------------------------------- */

static tb_rc no_reply(struct tb_err *why)
{
    return tb_fail(why, TB_EFORMAT, "it is not the reply of a time-stamping authority");
}

/* All of the bytes, and nothing behind them. */
static TS_RESP *read_reply(const struct tb_stamp_reply *reply)
{
    const unsigned char *at = reply->bytes;
    TS_RESP *r = reply->size <= LONG_MAX ? d2i_TS_RESP(NULL, &at, (long)reply->size) : NULL;

    if (r && at != (const unsigned char *)reply->bytes + reply->size) {
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

static bool read_serial(char *out, size_t size, const TS_TST_INFO *info)
{
    BIGNUM *n = ASN1_INTEGER_to_BN(TS_TST_INFO_get_serial(info), NULL);
    char *hex = n ? BN_bn2hex(n) : NULL;
    bool good = hex && *hex != '-' && strlen(hex) < size;

    if (good)
        (void)snprintf(out, size, "%s", hex);
    OPENSSL_free(hex);
    BN_free(n);
    return good;
}

/* The imprint, where it is a SHA-256 as every request of this program asks. */
static tb_rc read_imprint(unsigned char out[TB_HASH], TS_TST_INFO *info, struct tb_err *why)
{
    TS_MSG_IMPRINT *m = TS_TST_INFO_get_msg_imprint(info);
    const ASN1_OBJECT *hash = NULL;
    const ASN1_OCTET_STRING *bytes = m ? TS_MSG_IMPRINT_get_msg(m) : NULL;

    if (!bytes)
        return no_reply(why);
    X509_ALGOR_get0(&hash, NULL, NULL, TS_MSG_IMPRINT_get_algo(m));
    if (OBJ_obj2nid(hash) != NID_sha256 || ASN1_STRING_length(bytes) != TB_HASH)
        return tb_fail(why, TB_EFORMAT, "it stamps a digest of another kind than SHA-256");
    memcpy(out, ASN1_STRING_get0_data(bytes), TB_HASH);
    return TB_OK;
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

static tb_rc show(struct tb_stamp_seen *out, TS_RESP *r, struct tb_err *why)
{
    TS_TST_INFO *info = r ? TS_RESP_get_tst_info(r) : NULL;
    tb_rc rc;

    if (r && !info && ASN1_INTEGER_get(TS_STATUS_INFO_get0_status(TS_RESP_get_status_info(r))) > 1)
        return tb_fail(why, TB_EFORMAT, "the authority gave no time stamp: it refused the request");
    if (!info || !read_moment(out->shown.at, info) ||
        !read_serial(out->shown.serial, sizeof out->shown.serial, info))
        return no_reply(why);
    if ((rc = read_imprint(out->imprint, info, why)) == TB_OK)
        read_name(out->shown.by, sizeof out->shown.by, TS_RESP_get_token(r));
    return rc;
}

/* --- whether it is believed ------------------------------------------------------------------------------------- */

/* The reason in OpenSSL's words where it is none of those that people meet. */
static tb_rc not_accepted(const struct tb_stamp_reader *reader, struct tb_err *why)
{
    const char *data = "";
    int flags = 0;
    unsigned long code = ERR_peek_last_error_data(&data, &flags);
    int reason = ERR_GET_LIB(code) == ERR_LIB_TS ? ERR_GET_REASON(code) : 0;

    data = data && flags & ERR_TXT_STRING ? data : "";
    if (reason == TS_R_NONCE_MISMATCH || reason == TS_R_NONCE_NOT_RETURNED)
        return tb_fail(why, TB_EREFUSED, "the reply answers another request: its nonce is another one");
    if (reason == TS_R_MESSAGE_IMPRINT_MISMATCH)
        return tb_fail(why, TB_EREFUSED, "the reply is about something else than was asked");
    if (reason == TS_R_POLICY_MISMATCH)
        return tb_fail(why, TB_EREFUSED,
                       "the reply was given under another policy than the request asks for");
    if (reason == TS_R_CERTIFICATE_VERIFY_ERROR)
        return tb_fail(why, TB_EREFUSED, "no certificate in %s vouches for the authority (%s)", reader->path,
                       data);
    if (ERR_GET_LIB(code) == ERR_LIB_PKCS7 && ERR_GET_REASON(code) == PKCS7_R_SIGNER_CERTIFICATE_NOT_FOUND)
        return tb_fail(why, TB_EREFUSED, "the reply does not bring the certificate of who signed it");
    return tb_fail(why, TB_EREFUSED, "the reply is not accepted: %s %s",
                   ERR_reason_error_string(code) ? ERR_reason_error_string(code) : "it is damaged", data);
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
static bool prepare(TS_VERIFY_CTX *ctx, const struct tb_stamp_reader *reader)
{
    if (reader->request)
        return TS_REQ_to_TS_VERIFY_CTX(reader->request, ctx) &&
               TS_VERIFY_CTX_add_flags(ctx, TS_VFY_SIGNATURE) && X509_STORE_up_ref(reader->store) &&
               TS_VERIFY_CTX_set_store(ctx, reader->store);
    (void)TS_VERIFY_CTX_set_flags(ctx, TS_VFY_VERSION | TS_VFY_SIGNER | TS_VFY_SIGNATURE);
    return X509_STORE_up_ref(reader->store) && TS_VERIFY_CTX_set_store(ctx, reader->store);
}

/* The chain of certificates is held to what SECURITY_LEVEL says; the signature of the reply itself is not, by the library. */
static bool is_strong(TS_RESP *r)
{
    STACK_OF(PKCS7_SIGNER_INFO) *all = PKCS7_get_signer_info(TS_RESP_get_token(r));
    PKCS7_SIGNER_INFO *one = sk_PKCS7_SIGNER_INFO_num(all) == 1 ? sk_PKCS7_SIGNER_INFO_value(all, 0) : NULL;
    X509_ALGOR *hash = NULL;
    const ASN1_OBJECT *kind = NULL;
    int nid;

    if (!one)
        return false;
    PKCS7_SIGNER_INFO_get0_algs(one, NULL, &hash, NULL);
    X509_ALGOR_get0(&kind, NULL, NULL, hash);
    nid = OBJ_obj2nid(kind);
    return nid == NID_sha256 || nid == NID_sha384 || nid == NID_sha512;
}

static tb_rc check(TS_RESP *r, const struct tb_stamp_reader *reader, struct tb_err *why)
{
    TS_VERIFY_CTX *ctx = TS_VERIFY_CTX_new();
    tb_rc rc = TB_OK;

    ERR_clear_error();
    if (!ctx || !prepare(ctx, reader) || !set_moment(reader->store, r, reader->request != NULL) ||
        TS_RESP_verify_response(ctx, r) != 1)
        rc = not_accepted(reader, why);
    else if (!is_strong(r))
        rc = tb_fail(why, TB_EREFUSED,
                     "the reply is signed over a digest that can be forged; it takes SHA-256 or longer");
    TS_VERIFY_CTX_free(ctx);
    return rc;
}

void tb_stamp_reader_see(struct tb_stamp_seen *out, const struct tb_stamp_reader *r,
                         const struct tb_stamp_reply *reply)
{
    TS_RESP *resp = read_reply(reply);
    struct tb_err why = { 0 };
    tb_rc rc;

    *out = (struct tb_stamp_seen){ 0 };
    if ((rc = show(out, resp, &why)) == TB_OK && r->store)
        rc = check(resp, r, &why);
    out->rc = (int32_t)rc;
    (void)snprintf(out->why, sizeof out->why, "%s", why.msg);
    ERR_clear_error();
    TS_RESP_free(resp);
}
