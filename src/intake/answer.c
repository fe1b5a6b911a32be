/* answer.c - what a person says of a list, option by option: at the command line, or as the answer to a question. */
#include "intake/given.h"
#include "tenterbook/code_page.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

/* One more element at the end of a borrowed array: a copy, since the array may be anybody's. */
#define APPEND(array, n, mem, element)                                                                       \
    do {                                                                                                     \
        void *grown = tb_arena_alloc(mem, ((n) + 1) * sizeof(element));                                      \
        if (n)                                                                                               \
            memcpy(grown, array, (n) * sizeof(element));                                                     \
        memcpy((char *)grown + (n) * sizeof(element), &(element), sizeof(element));                          \
        (array) = grown;                                                                                     \
        (n)++;                                                                                               \
    } while (0)

/* Not every unit serves every measure: a width in yards is a slip of the finger. */
static tb_rc take_unit(enum tb_unit *out, const char *option, const char *value, const char *allowed,
                       struct tb_err *err)
{
    if (!tb_word_listed(allowed, value, strlen(value), " "))
        return tb_fail(err, TB_EINVAL, "--%s is '%s'; it takes one of: %s", option, value, allowed);
    *out = (enum tb_unit)tb_unit_by_key(value);
    return TB_OK;
}

static tb_rc take_dates(struct tb_intake_opts *o, const char *value, struct tb_err *err)
{
    if (!tb_word_listed("dmy mdy ymd", value, strlen(value), " "))
        return tb_fail(err, TB_EINVAL, "--dates is '%s'; it takes dmy, mdy or ymd", value);
    o->dates = value[0];
    return TB_OK;
}

static tb_rc take_decimal(struct tb_intake_opts *o, const char *value, struct tb_err *err)
{
    if (!tb_word_listed("comma point", value, strlen(value), " "))
        return tb_fail(err, TB_EINVAL, "--decimal is '%s'; it takes comma or point", value);
    o->decimal = value[0] == 'c' ? ',' : '.';
    return TB_OK;
}

/* Rows that a workbook does not show, or strikes through. */
static tb_rc take_rows(char *out, const char *option, const char *value, struct tb_err *err)
{
    if (!tb_word_listed("take leave", value, strlen(value), " "))
        return tb_fail(err, TB_EINVAL, "--%s is '%s'; it takes take or leave", option, value);
    *out = value[0];
    return TB_OK;
}

/* The names of the code pages, for those who wrote another. */
static tb_rc take_encoding(struct tb_intake_opts *o, const char *value, struct tb_err *err)
{
    size_t n;
    const struct tb_code_page *all = tb_code_pages(&n), *page = tb_code_page_find(value);
    struct tb_text names = { 0 };
    tb_rc rc;

    if (page) {
        o->encoding = page->name;
        return TB_OK;
    }
    for (size_t i = 0; i < n; i++)
        tb_text_addf(&names, "%s%s", i ? ", " : "", all[i].name);
    rc = tb_fail(err, TB_EINVAL, "--encoding is '%s'; it takes one of: %s", value, names.s);
    tb_text_free(&names);
    return rc;
}

/* The last "=" separates header and field: headers hold anything, fields never hold one. */
static tb_rc take_map(struct tb_intake_opts *o, const char *value, struct tb_arena *mem, struct tb_err *err)
{
    const char *equals = strrchr(value, '=');
    int field = equals ? tb_field_by_key(equals + 1) : -1;
    struct tb_header_word word;
    struct tb_text keys = { 0 };
    tb_rc rc;

    if (!equals || equals == value)
        return tb_fail(err, TB_EINVAL, "--map is '%s'; it takes HEADER=FIELD", value);
    if (field < 0) {
        for (int f = TB_FIELD_NONE + 1; f <= TB_FIELD_PARTS; f++)
            tb_text_addf(&keys, "%s, ", tb_field_key((enum tb_field)f));
        rc = tb_fail(err, TB_EINVAL, "--map knows no field '%s'; it knows %stotal, ignore", equals + 1,
                     tb_text_str(&keys));
        tb_text_free(&keys);
        return rc;
    }
    word = (struct tb_header_word){ tb_arena_strndup(mem, value, (size_t)(equals - value)),
                                    (enum tb_field)field };
    APPEND(o->word, o->words, mem, word);
    return TB_OK;
}

/* "12", or "Sheet 1:12" in a workbook with several. */
static tb_rc take_line(struct tb_intake_opts *o, const char *option, const char *value, struct tb_arena *mem,
                       struct tb_err *err)
{
    const char *colon = strrchr(value, ':'), *digits = colon ? colon + 1 : value;
    size_t n = strspn(digits, "0123456789");
    struct tb_line_is is = { .kind = strcmp(option, "total-line") == 0     ? TB_LINE_TOTAL
                                     : strcmp(option, "part-line") == 0    ? TB_LINE_PART
                                     : strcmp(option, "heading-line") == 0 ? TB_LINE_HEADING
                                                                           : TB_LINE_BOLT };

    if (n == 0 || n > 9 || digits[n])
        return tb_fail(err, TB_EINVAL, "--%s is '%s'; it takes the number of a line, or SHEET:LINE", option,
                       value);
    is.sheet = colon ? tb_arena_strndup(mem, value, (size_t)(colon - value)) : "";
    is.line = (size_t)strtoul(digits, NULL, 10);
    APPEND(o->line, o->lines, mem, is);
    return TB_OK;
}

/* What a list can do without. */
static tb_rc take_without(struct tb_intake_opts *o, const char *value, struct tb_err *err)
{
    static const struct {
        const char *name;
        enum tb_field field[2];
    } known[] = { { "note-date", { TB_FIELD_DAY } },
                  { "order", { TB_FIELD_ORDER } },
                  { "width", { TB_FIELD_WIDTH, TB_FIELD_WIDTH_USABLE } },
                  { "mass", { TB_FIELD_MASS, TB_FIELD_MASS_LINEAR } },
                  { "price", { TB_FIELD_PRICE, TB_FIELD_CURRENCY } },
                  { "origin", { TB_FIELD_ORIGIN } },
                  { "bolt-numbers", { TB_FIELD_BOLT } } };

    for (size_t i = 0; i < TB_COUNT(known); i++)
        if (strcmp(known[i].name, value) == 0) {
            for (size_t k = 0; k < TB_COUNT(known[i].field); k++)
                if (known[i].field[k])
                    o->without |= (uint64_t)1 << known[i].field[k];
            return TB_OK;
        }
    return tb_fail(err, TB_EINVAL,
                   "--without is '%s'; it takes one of: note-date order width mass price origin bolt-numbers",
                   value);
}

static tb_rc take_day(struct tb_intake_opts *o, const char *value, struct tb_err *err)
{
    if (!tb_day_valid(value) || !tb_day_recorded(value))
        return tb_fail(err, TB_EINVAL, "--note-date is '%s'; it takes a day from %s to %s", value,
                       TB_DAY_FIRST, TB_DAY_LAST);
    o->day = value;
    return TB_OK;
}

/* Texts that replace or fill in what the file says. */
static const char **text_of(struct tb_intake_opts *o, const char *option)
{
    const struct {
        const char *name, **to;
    } text[] = { { "supplier", &o->supplier }, { "note", &o->note },         { "order", &o->order },
                 { "article", &o->article },   { "declared", &o->declared }, { "currency", &o->currency } };

    for (size_t i = 0; i < TB_COUNT(text); i++)
        if (strcmp(text[i].name, option) == 0)
            return text[i].to;
    return NULL;
}

tb_rc tb_intake_answer(struct tb_intake_opts *o, const char *option, const char *value, struct tb_arena *mem,
                       struct tb_err *err)
{
    const char **text = text_of(o, option);

    assert(o);
    value = tb_arena_strdup(mem, value);
    if (text) {
        *text = value;
        return TB_OK;
    }
    if (strcmp(option, "note-date") == 0)
        return take_day(o, value, err);
    if (strcmp(option, "without") == 0)
        return take_without(o, value, err);
    if (strcmp(option, "dates") == 0)
        return take_dates(o, value, err);
    if (strcmp(option, "decimal") == 0)
        return take_decimal(o, value, err);
    if (strcmp(option, "columns") == 0) {
        struct tb_given given;

        o->columns = value;
        return tb_given_read(&given, value, err);
    }
    if (strcmp(option, "encoding") == 0)
        return take_encoding(o, value, err);
    if (strcmp(option, "unit") == 0)
        return take_unit(&o->length_unit, option, value, "m yd ft kg", err);
    if (strcmp(option, "width-unit") == 0)
        return take_unit(&o->width_unit, option, value, "m cm mm in", err);
    if (strcmp(option, "mass-unit") == 0)
        return take_unit(&o->mass_unit, option, value, "g/m2 oz/yd2 momme g/m oz/yd kg", err);
    if (strcmp(option, "price-unit") == 0)
        return take_unit(&o->price_unit, option, value, "m yd ft kg", err);
    if (strcmp(option, "map") == 0)
        return take_map(o, value, mem, err);
    if (strcmp(option, "total-line") == 0 || strcmp(option, "bolt-line") == 0 ||
        strcmp(option, "part-line") == 0 || strcmp(option, "heading-line") == 0)
        return take_line(o, option, value, mem, err);
    if (strcmp(option, "hidden-rows") == 0)
        return take_rows(&o->hidden_rows, option, value, err);
    if (strcmp(option, "struck-rows") == 0)
        return take_rows(&o->struck_rows, option, value, err);
    if (strcmp(option, "sheet") == 0)
        APPEND(o->sheet, o->sheets, mem, value);
    else if (strcmp(option, "numbers-by-lot") == 0)
        o->number_by_lot = true;
    else
        return tb_fail(err, TB_EINVAL, "--%s does not say how a packing list is read", option);
    return TB_OK;
}
