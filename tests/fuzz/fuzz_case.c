/* fuzz_case.c - a case file comes from somebody else: any bytes as a PDF, and any data as those of a case. */
#include "report/draw/pdf_attached.h"
#include "tenterbook/case.h"
#include "tenterbook/extract.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

int LLVMFuzzerTestOneInput(const uint8_t *p, size_t n);

static void as_pdf(const uint8_t *p, size_t n)
{
    struct tb_text out = { 0 };
    struct tb_err err = { 0 };
    char *exact = tb_alloc(n + 1, 1); /* a step beyond the end is seen */

    memcpy(exact, p, n);
    (void)tb_pdf_attached(&out, exact, n, &err);
    free(exact);
    tb_text_free(&out);
}

/* What the pages were made of is proved as a file that came in: read back, computed again, drawn again. */
static void as_file(const struct tb_text *pdf)
{
    char path[] = "/tmp/fuzz-case-XXXXXX.pdf";
    int fd = mkstemps(path, 4);
    struct tb_case_proof proof;
    struct tb_err err = { 0 };

    if (fd < 0 || write(fd, pdf->s, pdf->n) != (ssize_t)pdf->n || close(fd) != 0)
        abort();
    if (tb_case_prove(&proof, path, NULL, &(struct tb_held){ 0 }, &err) != TB_OK && !err.msg[0])
        abort();
    tb_case_proof_free(&proof);
    (void)unlink(path);
}

static void as_data(const uint8_t *p, size_t n)
{
    json_t *data;
    struct tb_extract_proof proof = { 0 };
    struct tb_text pdf = { 0 };
    struct tb_err err = { 0 };

    json_object_seed(1); /* the order within its tables is the same in each run */
    data = json_loadb((const char *)p, n, JSON_REJECT_DUPLICATES, NULL);
    if (data) {
        (void)tb_extract_prove(&proof, json_object_get(data, "extract"), "M26-001.01", &err);
        (void)tb_extract_held(&proof, json_object_get(data, "extract"), &(struct tb_held){ 0 }, &err);
        tb_extract_proof_free(&proof);
        if (tb_case_pdf(&pdf, data, &err) == TB_OK)
            as_file(&pdf);
        tb_text_free(&pdf);
        json_decref(data);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *p, size_t n)
{
    if (n && p[0] == '{')
        as_data(p, n);
    else
        as_pdf(p, n);
    return 0;
}
