/* What both intake fuzzers do with a file: read its rows, read it as a packing list, check what must always hold. */
#ifndef FUZZ_INTAKE_H
#define FUZZ_INTAKE_H

#include "tenterbook/intake.h"
#include "tenterbook/utf8.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

static inline void must(bool holds)
{
    if (!holds)
        abort();
}

static inline tb_rc fuzz_row(void *arg, const struct tb_row *row, struct tb_err *err)
{
    (void)err;
    for (size_t i = 0; i < row->n; i++) {
        must((row->cell[i].type == TB_CELL_EMPTY) == (row->cell[i].text[0] == '\0'));
        must(tb_utf8_valid(row->cell[i].text, strlen(row->cell[i].text)));
    }
    must(row->line > 0);
    *(size_t *)arg += row->n;
    return TB_OK;
}

/* A list that was taken holds nothing half-read. */
static inline void fuzz_check(const struct tb_packing_list *l)
{
    size_t bolts = 0;

    must(l->bad_count == 0 && l->bolts > 0 && strlen(l->digest) == TB_DIGEST_LEN);
    for (size_t i = 0; i < l->lots; i++) {
        must(l->lot[i].delivery < l->deliveries && l->lot[i].bolts > 0 && *l->lot[i].article);
        bolts += l->lot[i].bolts;
    }
    must(bolts == l->bolts);
    for (size_t i = 0; i < l->deliveries; i++)
        must(*l->delivery[i].supplier && *l->delivery[i].note &&
             (!l->delivery[i].day[0] || tb_day_valid(l->delivery[i].day)));
    for (size_t i = 0; i < l->bolts; i++) {
        must(l->bolt[i].metres > 0 && isfinite(l->bolt[i].metres) && l->bolt[i].lot < l->lots &&
             *l->bolt[i].number);
        must(isnan(l->bolt[i].width_cm) || l->bolt[i].width_cm > 0);
        must(isnan(l->bolt[i].mass_gsm) || l->bolt[i].mass_gsm > 0);
    }
}

static inline void fuzz_read(const void *bytes, size_t n, const struct tb_intake_opts *opts)
{
    struct tb_packing_list list = { 0 };
    struct tb_err err = { 0 };
    size_t cells = 0;
    struct tb_sheet_sink sink = { NULL, fuzz_row, &cells, NULL };
    char path[40];
    int fd = memfd_create("list", 0);
    tb_rc rc;

    must(fd >= 0 && write(fd, bytes, n) == (ssize_t)n);
    (void)snprintf(path, sizeof path, "/proc/self/fd/%d", fd);
    rc = tb_sheet_read(path, &sink, &err);
    must(rc == TB_OK || err.msg[0]);
    err = (struct tb_err){ 0 };
    rc = tb_packing_list_read(&list, path, opts, &err);
    must(rc == TB_OK || err.msg[0]);
    must(tb_utf8_valid(err.msg, strlen(err.msg)));
    if (rc == TB_OK)
        fuzz_check(&list);
    tb_packing_list_free(&list);
    (void)close(fd);
}

#endif
