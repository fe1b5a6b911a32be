/* JSON drawn from records by a list of their members. */
#include "tenterbook/json.h"
#include "tenterbook/figure.h"

#include "tenterbook/utf8.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Text from files and older books may hold bytes of any encoding; JSON is UTF-8 throughout. */
json_t *tb_json_text(const char *s)
{
    json_t *j = s ? json_string(s) : json_null();
    char *mended;

    if (j || !s)
        return j;
    mended = tb_utf8_mend(s, strlen(s));
    j = json_string(mended);
    free(mended);
    return j;
}

json_t *tb_json_some(const char *s)
{
    return tb_json_text(s && *s ? s : NULL);
}

json_t *tb_json_number(double v)
{
    return isfinite(v) ? json_real(v) : json_null();
}

json_t *tb_json_chance(double v)
{
    return tb_json_number(tb_to_digits(v, 4));
}

json_t *tb_json_ratio(double v)
{
    return tb_json_number(tb_to_digits(v, 6));
}

json_t *tb_json_price(double v)
{
    return tb_json_number(round(v * 10000) / 10000);
}

json_t *tb_json_hundredths(double v)
{
    return tb_json_number(round(v * 100) / 100);
}

json_t *tb_json_lines(const char *text)
{
    json_t *list = json_array();

    for (const char *p = text; *p;) {
        size_t n = strcspn(p, "\n");

        tb_json_push(list, json_stringn(p, n));
        p += n + (p[n] == '\n');
    }
    return list;
}

void tb_json_put(json_t *object, const char *key, json_t *value)
{
    (void)json_object_set_new(object, key, value);
}

void tb_json_push(json_t *list, json_t *value)
{
    (void)json_array_append_new(list, value);
}

/* The macros made the kind from the member's type, so that reading through it is safe. */
static json_t *value_of(const struct tb_json_member *m, const void *record)
{
    const char *at = (const char *)record + m->at;

    switch (m->kind) {
    case TB_JSON_TEXT:
        return tb_json_text(*(const char *const *)(const void *)at);
    case TB_JSON_SOME:
        return tb_json_some(*(const char *const *)(const void *)at);
    case TB_JSON_CHARS:
        return tb_json_text(at);
    case TB_JSON_DOUBLE:
        return tb_json_number(*(const double *)(const void *)at);
    case TB_JSON_CHANCE:
        return tb_json_chance(*(const double *)(const void *)at);
    case TB_JSON_RATIO:
        return tb_json_ratio(*(const double *)(const void *)at);
    case TB_JSON_PRICE:
        return tb_json_price(*(const double *)(const void *)at);
    case TB_JSON_HUNDREDTHS:
        return tb_json_hundredths(*(const double *)(const void *)at);
    case TB_JSON_BOOL:
        return json_boolean(*(const bool *)(const void *)at);
    case TB_JSON_INT:
        return json_integer(*(const int *)(const void *)at);
    case TB_JSON_COUNT:
        return *(const int *)(const void *)at < 0 ? json_null()
                                                  : json_integer(*(const int *)(const void *)at);
    case TB_JSON_UNSIGNED:
        return json_integer(*(const unsigned *)(const void *)at);
    case TB_JSON_LONG:
        return json_integer(*(const long *)(const void *)at);
    case TB_JSON_WORD:
        return tb_json_text(tb_word(m->words, *(const int *)(const void *)at));
    case TB_JSON_SOME_WORD:
        return tb_json_some(tb_word(m->words, *(const int *)(const void *)at));
    case TB_JSON_SIZE:
        return json_integer((json_int_t) * (const size_t *)(const void *)at);
    }
    return json_null();
}

void tb_json_add(json_t *object, const struct tb_json_member *member, size_t n, const void *record)
{
    for (size_t i = 0; i < n; i++)
        tb_json_put(object, member[i].key, value_of(&member[i], record));
}

json_t *tb_json_record(const struct tb_json_member *member, size_t n, const void *record)
{
    json_t *object = json_object();

    tb_json_add(object, member, n, record);
    return object;
}

json_t *tb_json_records(const struct tb_json_member *member, size_t members, const void *array, size_t n,
                        size_t size)
{
    json_t *list = json_array();

    for (size_t i = 0; i < n; i++)
        tb_json_push(list, tb_json_record(member, members, (const char *)array + i * size));
    return list;
}

/* Every figure within, in place. */
static void shorten(json_t *json)
{
    const char *key;
    json_t *one;
    size_t i;

    if (json_is_real(json))
        (void)json_real_set(json, tb_figure(json_real_value(json)));
    json_object_foreach(json, key, one) shorten(one);
    json_array_foreach(json, i, one) shorten(one);
}

char *tb_json_shown(json_t *json, size_t flags)
{
    shorten(json);
    return json_dumps(json, flags | JSON_REAL_PRECISION(tb_figure_digits()));
}
