/* Values of an extract as JSON and back, and which columns a table has. */
#include "book/extract_impl.h"

#include <stdlib.h>
#include <string.h>

static json_t *bytes_json(const void *p, size_t n)
{
    size_t most = sodium_base64_encoded_len(n, sodium_base64_VARIANT_ORIGINAL);
    char *text = tb_alloc(most, 1);
    json_t *j;

    (void)sodium_bin2base64(text, most, p, n, sodium_base64_VARIANT_ORIGINAL);
    j = json_pack("{s:s}", "base64", text);
    free(text);
    return j;
}

json_t *tb_value_json(const struct tb_value *v)
{
    switch (v->kind) {
    case TB_VALUE_TEXT:
        return json_stringn(v->text, v->size);
    case TB_VALUE_WHOLE:
        return json_integer(v->whole);
    case TB_VALUE_NUMBER:
        return json_real(v->number);
    case TB_VALUE_BYTES:
        return bytes_json(v->bytes, v->size);
    default:
        return json_null();
    }
}

static bool bytes_of(struct tb_value *out, const char *text, struct tb_text *room)
{
    tb_text_clear(room);
    tb_text_add(room, text); /* never shorter than what it stands for */
    if (sodium_base642bin((unsigned char *)room->s, room->cap, text, strlen(text), NULL, &out->size, NULL,
                          sodium_base64_VARIANT_ORIGINAL) != 0)
        return false;
    out->kind = TB_VALUE_BYTES;
    out->bytes = room->s;
    return true;
}

bool tb_value_of_json(struct tb_value *out, const json_t *v, struct tb_text *room)
{
    const char *base64 = json_string_value(json_object_get(v, "base64"));

    *out = (struct tb_value){ .kind = TB_VALUE_NOTHING };
    if (json_is_string(v))
        *out = (struct tb_value){ .kind = TB_VALUE_TEXT,
                                  .text = json_string_value(v),
                                  .size = json_string_length(v) };
    else if (json_is_integer(v))
        *out = (struct tb_value){ .kind = TB_VALUE_WHOLE, .whole = json_integer_value(v) };
    else if (json_is_real(v))
        *out = (struct tb_value){ .kind = TB_VALUE_NUMBER, .number = json_real_value(v) };
    else if (base64)
        return bytes_of(out, base64, room);
    else
        return json_is_null(v);
    return true;
}

const struct tb_sql_text *tb_facts_of(const char *table)
{
    for (int i = 0; i < TB_SQL_COUNT; i++)
        if (strncmp(tb_sql_table[i].name, "facts_", 6) == 0 && strcmp(tb_sql_table[i].name + 6, table) == 0)
            return &tb_sql_table[i];
    return NULL;
}
