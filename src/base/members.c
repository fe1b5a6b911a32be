/* members.c - members of stored JSON objects, read with their type checked. */
#include "base/members.h"

#include <math.h>

/* The member, or NULL where there is nothing to read. */
static const json_t *member(const struct tb_members *m, const json_t *object, const char *key)
{
    const json_t *v = m->rc == TB_OK ? json_object_get(object, key) : NULL;

    return json_is_null(v) ? NULL : v;
}

const char *tb_member_text(struct tb_members *m, const json_t *object, const char *key)
{
    const json_t *v = member(m, object, key);

    if (v && !json_is_string(v))
        m->rc = tb_fail(m->err, TB_EFORMAT, "the member '%s' is not a text", key);
    return json_is_string(v) ? tb_arena_strdup(m->mem, json_string_value(v)) : NULL;
}

/* Whole numbers count as numbers: 1 and 1.0 are the same figure in JSON. */
double tb_member_number(struct tb_members *m, const json_t *object, const char *key)
{
    const json_t *v = member(m, object, key);

    if (v && !json_is_number(v))
        m->rc = tb_fail(m->err, TB_EFORMAT, "the member '%s' is not a number", key);
    return json_is_number(v) ? json_number_value(v) : NAN;
}

int64_t tb_member_whole(struct tb_members *m, const json_t *object, const char *key)
{
    const json_t *v = member(m, object, key);

    if (v && !json_is_integer(v))
        m->rc = tb_fail(m->err, TB_EFORMAT, "the member '%s' is not a whole number", key);
    return json_integer_value(v);
}

bool tb_member_flag(struct tb_members *m, const json_t *object, const char *key)
{
    const json_t *v = member(m, object, key);

    if (v && !json_is_boolean(v))
        m->rc = tb_fail(m->err, TB_EFORMAT, "the member '%s' is neither true nor false", key);
    return json_is_true(v);
}

const json_t *tb_member_object(struct tb_members *m, const json_t *object, const char *key)
{
    const json_t *v = member(m, object, key);

    if (v && !json_is_object(v))
        m->rc = tb_fail(m->err, TB_EFORMAT, "the member '%s' is not an object", key);
    return json_is_object(v) ? v : NULL;
}

/* How many elements an array has that may be absent; what is no array is noted. */
static size_t count(struct tb_members *m, const json_t *array, const char *name)
{
    if (m->rc == TB_OK && array && !json_is_null(array) && !json_is_array(array))
        m->rc = tb_fail(m->err, TB_EFORMAT, "the member '%s' is not a list", name);
    return m->rc == TB_OK ? json_array_size(array) : 0;
}

/* Records in an arena: they are freed together with the texts they point to. */
void *tb_member_list(struct tb_members *m, const json_t *object, const char *key, size_t size, size_t *n,
                     const json_t **each)
{
    *each = json_object_get(object, key);
    *n = count(m, *each, key);
    return *n ? tb_arena_alloc(m->mem, *n * size) : NULL;
}

const char **tb_member_words(struct tb_members *m, const json_t *array, const char *name, size_t *n)
{
    const char **word;

    *n = count(m, array, name);
    word = tb_arena_alloc(m->mem, (*n + 1) * sizeof *word);
    for (size_t i = 0; i < *n; i++) {
        const char *text = json_string_value(json_array_get(array, i));

        if (!text && m->rc == TB_OK)
            m->rc = tb_fail(m->err, TB_EFORMAT, "the list '%s' holds something that is not a text", name);
        word[i] = tb_arena_strdup(m->mem, text ? text : "");
    }
    return word;
}

void tb_member_bad(struct tb_members *m, const char *key, const char *value)
{
    if (m->rc == TB_OK)
        m->rc = tb_fail(m->err, TB_EFORMAT, "the member '%s' does not make sense: '%s'", key, value);
}
