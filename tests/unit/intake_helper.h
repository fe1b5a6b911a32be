/* Packing lists typed into a test: written to a temporary file, read, and shown as lines that compare. */
#ifndef INTAKE_HELPER_H
#define INTAKE_HELPER_H

#include "tenterbook/intake.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

struct seen {
    struct tb_packing_list list;
    struct tb_err err;
    tb_rc rc;
    struct tb_text text;
};

static inline void show(struct seen *s)
{
    const struct tb_packing_list *l = &s->list;

    for (size_t i = 0; i < l->deliveries; i++)
        tb_text_addf(&s->text, "D %s|%s|%s|%s\n", l->delivery[i].supplier, l->delivery[i].note,
                     l->delivery[i].order, l->delivery[i].day);
    for (size_t i = 0; i < l->lots; i++) {
        const struct tb_list_lot *t = &l->lot[i];

        tb_text_addf(&s->text, "L %s|%s|%s|%s|%s|%s", t->article, t->shade, t->dye_lot, t->declared,
                     tb_word(&tb_origin_words, (int)t->declared_from), t->origin);
        if (!isnan(t->price))
            tb_text_addf(&s->text, "|%.2f %s/%s", t->price, t->currency, tb_unit_key(t->price_unit));
        tb_text_addc(&s->text, '\n');
    }
    for (size_t i = 0; i < l->bolts; i++) {
        const struct tb_list_bolt *b = &l->bolt[i];

        tb_text_addf(&s->text, "B %u:%s|%.2f", b->lot, b->number, b->metres);
        if (!isnan(b->width_cm))
            tb_text_addf(&s->text, "|%.1f cm", (double)b->width_cm);
        if (!isnan(b->mass_gsm))
            tb_text_addf(&s->text, "|%.1f g/m2", (double)b->mass_gsm);
        tb_text_addf(&s->text, "%s%s\n", *b->said ? "|" : "", b->said);
    }
    for (size_t i = 0; i < l->bads; i++) {
        char column[8] = "row";

        if (l->bad[i].column != SIZE_MAX)
            tb_column_letters(column, l->bad[i].column);
        tb_text_addf(&s->text, "X %zu %s '%s': %s\n", l->bad[i].line, column, l->bad[i].value, l->bad[i].why);
    }
}

static inline struct seen read_file(const char *path, const struct tb_intake_opts *opts)
{
    static const struct tb_intake_opts none;
    struct seen s = { 0 };

    s.rc = tb_packing_list_read(&s.list, path, opts ? opts : &none, &s.err);
    show(&s);
    return s;
}

static inline struct seen read_bytes(const char *bytes, size_t n, const struct tb_intake_opts *opts)
{
    char path[] = "/tmp/tb-intake-XXXXXX";
    int fd = mkstemp(path);
    struct seen s;

    assert_true(fd >= 0);
    assert_int_equal(write(fd, bytes, n), n);
    (void)close(fd);
    s = read_file(path, opts);
    (void)unlink(path);
    return s;
}

static inline struct seen read_text(const char *text, const struct tb_intake_opts *opts)
{
    return read_bytes(text, strlen(text), opts);
}

static inline void seen_free(struct seen *s)
{
    tb_packing_list_free(&s->list);
    tb_text_free(&s->text);
}

static inline bool says(const struct seen *s, const char *part)
{
    for (size_t i = 0; i < s->list.says; i++)
        if (strstr(s->list.say[i], part))
            return true;
    return false;
}

/* The file is taken and gives exactly these lines. */
static inline void taken(const char *bytes, const struct tb_intake_opts *opts, const char *lines)
{
    struct seen s = read_bytes(bytes, strlen(bytes), opts);

    if (s.rc != TB_OK)
        print_error("refused: %s\n%s", s.err.msg, tb_text_str(&s.text));
    assert_int_equal(s.rc, TB_OK);
    assert_string_equal(tb_text_str(&s.text), lines);
    seen_free(&s);
}

/* The bolts and bad rows only. */
static inline void bolts(const char *bytes, const struct tb_intake_opts *opts, const char *lines)
{
    struct seen s = read_bytes(bytes, strlen(bytes), opts);
    const char *from = strstr(tb_text_str(&s.text), "B ");

    if (s.rc != TB_OK)
        print_error("refused: %s\n%s", s.err.msg, tb_text_str(&s.text));
    assert_int_equal(s.rc, TB_OK);
    assert_string_equal(from ? from : "", lines);
    seen_free(&s);
}

/* The file is refused with this in the sentence, or in one of its questions where there are several. */
static inline void asked(const char *bytes, const struct tb_intake_opts *opts, const char *part)
{
    struct seen s = read_bytes(bytes, strlen(bytes), opts);
    bool found = strstr(s.err.msg, part) != NULL;

    assert_int_equal(s.rc, TB_EINVAL);
    for (size_t i = 0; i < s.list.questions; i++)
        found = found || strstr(s.list.question[i].ask, part);
    if (!found)
        print_error("the sentence is: %s\n", s.err.msg);
    assert_true(found);
    seen_free(&s);
}

/* The file is refused, and this is among its bad values. */
static inline void bad(const char *bytes, const struct tb_intake_opts *opts, const char *line)
{
    struct seen s = read_bytes(bytes, strlen(bytes), opts);

    assert_int_equal(s.rc, TB_EINVAL);
    if (!strstr(tb_text_str(&s.text), line))
        print_error("%s\n%s", s.err.msg, tb_text_str(&s.text));
    assert_non_null(strstr(tb_text_str(&s.text), line));
    seen_free(&s);
}

#endif
