/* A request for a time stamp of a journal row (stamp.h). */
#include "book/key.h"
#include "book/stamp.h"

#include "gen/late_crypto.h"

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
