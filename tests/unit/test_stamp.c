/*
 * test_stamp.c - time stamps that this program would not take in, put into a book all the same: by a program that checked less, or by
 * somebody who writes facts and their digests himself. The authority is one made here, whose clock says what the test wants.
 */
#include "book/extract_impl.h"
#include "book/stamp.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>
#include <openssl/evp.h>
#include <openssl/ts.h>
#include <openssl/x509v3.h>

static char folder[] = "/tmp/test_stamp_XXXXXX";
static char path[64];
static struct tb_err err;
static EVP_PKEY *key;
static X509 *certificate;
static long clock_now; /* of the authority, Unix time */

#define OK(call)                                                                                             \
    do {                                                                                                     \
        if ((call) != TB_OK)                                                                                 \
            fail_msg("%s: %s (%s)", #call, err.msg, err.detail);                                             \
    } while (0)

/* --- an authority --------------------------------------------------------------------------------------------------- */

static void extend(X509 *x, int nid, const char *value)
{
    X509_EXTENSION *e = X509V3_EXT_conf_nid(NULL, NULL, nid, value);

    assert_non_null(e);
    assert_int_equal(X509_add_ext(x, e, -1), 1);
    X509_EXTENSION_free(e);
}

static void make_authority(void)
{
    X509_NAME *name;

    key = EVP_EC_gen("P-256");
    certificate = X509_new();
    assert_true(key && certificate);
    (void)ASN1_INTEGER_set(X509_get_serialNumber(certificate), 7);
    (void)X509_set_version(certificate, 2);
    (void)X509_gmtime_adj(X509_getm_notBefore(certificate), -3600);
    (void)X509_gmtime_adj(X509_getm_notAfter(certificate), 3600);
    (void)X509_set_pubkey(certificate, key);
    name = X509_get_subject_name(certificate);
    (void)X509_NAME_add_entry_by_txt(name, "CN", MBSTRING_ASC, (const unsigned char *)"Elder clock", -1, -1,
                                     0);
    (void)X509_set_issuer_name(certificate, name);
    extend(certificate, NID_key_usage, "critical,digitalSignature");
    extend(certificate, NID_ext_key_usage, "critical,timeStamping");
    assert_true(X509_sign(certificate, key, EVP_sha256()) > 0);
}

static int tell_time(struct TS_resp_ctx *ctx, void *arg, long *sec, long *usec)
{
    (void)ctx;
    (void)arg;
    *sec = clock_now;
    *usec = 0;
    return 1;
}

static ASN1_INTEGER *next_serial(struct TS_resp_ctx *ctx, void *arg)
{
    static long serial = 0x0a00;
    ASN1_INTEGER *out = ASN1_INTEGER_new();

    (void)ctx;
    (void)arg;
    (void)ASN1_INTEGER_set(out, ++serial);
    return out;
}

/* Its answer to a request, as DER. */
static void answer(struct tb_text *out, const struct tb_text *request)
{
    TS_RESP_CTX *ctx = TS_RESP_CTX_new();
    ASN1_OBJECT *policy = OBJ_txt2obj("1.2.3.4.1", 1);
    BIO *in = BIO_new_mem_buf(request->s, (int)request->n);
    unsigned char *der = NULL;
    TS_RESP *r;
    int n;

    assert_int_equal(TS_RESP_CTX_set_signer_cert(ctx, certificate), 1);
    assert_int_equal(TS_RESP_CTX_set_signer_key(ctx, key), 1);
    assert_int_equal(TS_RESP_CTX_set_def_policy(ctx, policy), 1);
    assert_int_equal(TS_RESP_CTX_add_md(ctx, EVP_sha256()), 1);
    assert_int_equal(TS_RESP_CTX_set_signer_digest(ctx, EVP_sha256()), 1);
    TS_RESP_CTX_set_time_cb(ctx, tell_time, NULL);
    TS_RESP_CTX_set_serial_cb(ctx, next_serial, NULL);
    r = TS_RESP_create_response(ctx, in);
    assert_non_null(r);
    n = i2d_TS_RESP(r, &der);
    assert_true(n > 0);
    tb_text_clear(out);
    tb_text_addn(out, (const char *)der, (size_t)n);
    OPENSSL_free(der);
    TS_RESP_free(r);
    BIO_free(in);
    ASN1_OBJECT_free(policy);
    TS_RESP_CTX_free(ctx);
}

/* --- a book --------------------------------------------------------------------------------------------------------- */

static struct tb_book *book;

static void begin(const char *verb)
{
    OK(tb_book_begin(book, "Ada", verb, &err));
}

/* One more record, which is about nothing. */
static void go_on(void)
{
    begin("set");
    OK(tb_setting_set(book, "dates", "dmy", &err));
    OK(tb_book_commit(book, &err));
}

/* What the authority answers of the last row at a moment. */
static void stamp_of(struct tb_text *reply, struct tb_anchor *a, long moment)
{
    struct tb_text request = { 0 };

    OK(tb_anchor_request(&request, a, book, &err));
    clock_now = moment;
    answer(reply, &request);
    tb_text_free(&request);
}

/* Put in as a fact of any row, at any moment, unchecked; the digests are those of a sound journal. */
static void put_in(const struct tb_text *reply, int64_t number, const char *at)
{
    begin("anchor");
    OK(tb_put_time_stamp(
        &(struct tb_time_stamp_fact){ .number = number, .at = at, .reply = reply->s, .size = reply->n }, book,
        &err));
    OK(tb_book_commit(book, &err));
}

static int set_up(void **state)
{
    static int count;

    (void)state;
    (void)snprintf(path, sizeof path, "%s/%d.db", folder, ++count);
    OK(tb_book_make(path, "M", "Mill Lane", "GB", "Ada", &err));
    OK(tb_book_open(&book, path, NULL, &err));
    return 0;
}

static int tear_down(void **state)
{
    (void)state;
    tb_book_close(book);
    return 0;
}

static struct tb_proof proved(void)
{
    struct tb_proof p;

    OK(tb_book_prove(&p, book, &err));
    return p;
}

/* --- what shows ----------------------------------------------------------------------------------------------------- */

static const char noon[] = "2026-10-05T12:00:00Z"; /* Unix time 1791201600 (date -u -d) */
#define NOON 1791201600L

static void a_later_row_with_a_later_stamp_proves(void **state)
{
    struct tb_text reply = { 0 };
    struct tb_anchor a;
    struct tb_proof p;

    (void)state;
    stamp_of(&reply, &a, NOON);
    put_in(&reply, a.number, noon);
    stamp_of(&reply, &a, NOON + 60);
    put_in(&reply, a.number, "2026-10-05T12:01:00Z");
    p = proved();
    assert_true(p.fits);
    assert_int_equal(p.stamps, 2);
    assert_string_equal(p.last_stamp.by, "Elder clock");
    assert_string_equal(p.last_stamp.serial, "0A02");
    tb_text_free(&reply);
}

/* The row holds the first stamp as a fact, so it cannot have been there before the moment of it. */
static void a_row_that_holds_a_stamp_and_has_an_earlier_one_does_not_prove(void **state)
{
    struct tb_text reply = { 0 };
    struct tb_anchor a;
    struct tb_proof p;

    (void)state;
    stamp_of(&reply, &a, NOON);
    put_in(&reply, a.number, noon);
    stamp_of(&reply, &a, NOON - 3600);
    put_in(&reply, a.number, "2026-10-05T11:00:00Z");
    p = proved();
    assert_false(p.fits);
    assert_int_equal(p.first_bad, a.number);
    assert_string_equal(p.why,
                        "the time stamp of journal row 2 shows 2026-10-05T11:00:00Z, and the row holds "
                        "one that shows 2026-10-05T12:00:00Z");
    tb_text_free(&reply);
}

/* Rows that were there at eleven were there at noon as well: the earlier row is stamped after the later one. */
static void an_earlier_row_with_a_later_stamp_contradicts_nothing(void **state)
{
    struct tb_text first = { 0 }, second = { 0 };
    struct tb_anchor a, b;

    (void)state;
    stamp_of(&first, &a, NOON);
    go_on();
    stamp_of(&second, &b, NOON - 3600);
    put_in(&second, b.number, "2026-10-05T11:00:00Z");
    put_in(&first, a.number, noon);
    assert_true(proved().fits);
    tb_text_free(&first);
    tb_text_free(&second);
}

static void does_not_fit(int64_t number)
{
    struct tb_proof p = proved();
    char want[160];

    (void)snprintf(want, sizeof want,
                   "the time stamp of journal row %lld does not fit: it is of another row or shows another "
                   "moment",
                   (long long)number);
    assert_false(p.fits);
    assert_string_equal(p.why, want);
}

static void a_stamp_of_another_row_or_moment_does_not_prove(void **state)
{
    struct tb_text reply = { 0 };
    struct tb_anchor a;

    (void)state;
    stamp_of(&reply, &a, NOON);
    put_in(&reply, a.number, "2026-10-05T11:59:59Z");
    does_not_fit(a.number);
    (void)tear_down(NULL);
    (void)set_up(NULL);
    stamp_of(&reply, &a, NOON);
    go_on();
    put_in(&reply, a.number + 1, noon);
    does_not_fit(a.number + 1);
    tb_text_free(&reply);
}

static void bytes_that_are_no_reply_do_not_prove(void **state)
{
    struct tb_text reply = { 0 };

    (void)state;
    tb_text_add(&reply, "stamped, honestly");
    put_in(&reply, 1, noon);
    does_not_fit(1);
    tb_text_free(&reply);
}

static void a_book_with_such_a_stamp_gives_no_case_its_stamps(void **state)
{
    struct tb_text reply = { 0 };
    json_t *facts = json_pack("{s:[{s:i}]}", "lot", "entry", 1), *out = NULL;

    (void)state;
    tb_text_add(&reply, "stamped, honestly");
    put_in(&reply, 1, noon);
    assert_int_equal(tb_extract_stamps(&out, book, facts, 2, &err), TB_EFORMAT);
    assert_string_equal(err.msg, "the time stamp of journal row 1 does not fit the book");
    assert_null(out);
    json_decref(facts);
    tb_text_free(&reply);
}

static int begin_all(void **state)
{
    (void)state;
    make_authority();
    return mkdtemp(folder) ? 0 : -1;
}

static int end_all(void **state)
{
    char command[128];

    (void)state;
    EVP_PKEY_free(key);
    X509_free(certificate);
    (void)snprintf(command, sizeof command, "rm -rf %s", folder);
    return system(command);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, set_up, tear_down)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(a_later_row_with_a_later_stamp_proves),
        TEST(a_row_that_holds_a_stamp_and_has_an_earlier_one_does_not_prove),
        TEST(an_earlier_row_with_a_later_stamp_contradicts_nothing),
        TEST(a_stamp_of_another_row_or_moment_does_not_prove),
        TEST(bytes_that_are_no_reply_do_not_prove),
        TEST(a_book_with_such_a_stamp_gives_no_case_its_stamps),
    };

    return cmocka_run_group_tests(tests, begin_all, end_all);
}
