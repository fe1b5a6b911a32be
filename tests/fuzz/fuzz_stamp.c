/* fuzz_stamp.c - replies of time-stamping authorities, requests and certificates come from somebody else. */
#include "book/stamp.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *p, size_t n);

#define END "-----END CERTIFICATE-----\n"

/* Certificates, where the bytes begin with some: what follows them is the reply. */
static size_t certificates(const uint8_t *p, size_t n)
{
    const uint8_t *end = n > 5 && memcmp(p, "-----", 5) == 0 ? memmem(p, n, END, strlen(END)) : NULL;

    return end ? (size_t)(end - p) + strlen(END) : 0;
}

int LLVMFuzzerTestOneInput(const uint8_t *p, size_t n)
{
    struct tb_stamp_file trust = { .path = "trust.pem" }, request = { .path = "request.tsq" };
    size_t pem = certificates(p, n), size = n - pem;
    char *exact = tb_alloc(size + 1, 1); /* a step beyond the end is seen */
    const struct tb_stamp_reply reply = { exact, size };
    struct tb_stamp_look how = { .trust = pem ? &trust : NULL, .of = "the reply" };
    struct tb_stamp_seen seen;
    struct tb_err err = { 0 };

    if (size)
        memcpy(exact, p + pem, size);
    tb_text_addn(&trust.bytes, (const char *)p, pem);
    tb_text_addn(&request.bytes, exact, size);
    (void)tb_stamps_see(&seen, &reply, 1, &how, &err);
    how.request = &request;
    (void)tb_stamps_see(&seen, &reply, 1, &how, &err);
    tb_text_free(&trust.bytes);
    tb_text_free(&request.bytes);
    free(exact);
    return 0;
}
