/* Values of an extract as JSON and back, and which columns a table has. */
#include "book/extract_impl.h"

#include <stdlib.h>
#include <string.h>

json_t *tb_base64_json(const void *p, size_t n)
{
    size_t most = sodium_base64_encoded_len(n, sodium_base64_VARIANT_ORIGINAL);
    char *text = tb_alloc(most, 1);
    json_t *j;

    (void)sodium_bin2base64(text, most, p, n, sodium_base64_VARIANT_ORIGINAL);
    j = json_string(text);
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
        return json_pack("{s:o}", "base64", tb_base64_json(v->bytes, v->size));
    default:
        return json_null();
    }
}

bool tb_base64_of_json(struct tb_text *out, const json_t *v)
{
    const char *text = json_string_value(v);
    size_t n = 0;

    tb_text_clear(out);
    if (!text)
        return false;
    tb_text_add(out, text); /* never shorter than what it stands for */
    if (out->n && sodium_base642bin((unsigned char *)out->s, out->cap, text, strlen(text), NULL, &n, NULL,
                                    sodium_base64_VARIANT_ORIGINAL) != 0)
        n = 0;
    out->n = n;
    return n > 0 || !*text;
}

bool tb_left_out(const json_t *v)
{
    return json_is_integer(json_object_get(v, "left_out"));
}

bool tb_value_of_json(struct tb_value *out, const json_t *v, struct tb_text *room)
{
    const json_t *base64 = json_object_get(v, "base64");

    *out = (struct tb_value){ .kind = TB_VALUE_NOTHING };
    if (json_is_string(v))
        *out = (struct tb_value){ .kind = TB_VALUE_TEXT,
                                  .text = json_string_value(v),
                                  .size = json_string_length(v) };
    else if (json_is_integer(v))
        *out = (struct tb_value){ .kind = TB_VALUE_WHOLE, .whole = json_integer_value(v) };
    else if (json_is_real(v))
        *out = (struct tb_value){ .kind = TB_VALUE_NUMBER, .number = json_real_value(v) };
    else if (base64 && tb_base64_of_json(room, base64))
        *out = (struct tb_value){ .kind = TB_VALUE_BYTES, .bytes = room->s, .size = room->n };
    else if (tb_left_out(v))
        *out = (struct tb_value){ .kind = TB_VALUE_BYTES, .bytes = "", .size = 0 };
    else
        return json_is_null(v);
    return true;
}

bool tb_table_of_disputes(const char *table)
{
    return strcmp(table, "dispute") == 0 || strcmp(table, "dispute_step") == 0;
}

bool tb_tells_disputes(const json_t *facts)
{
    return json_object_get(facts, "dispute") || json_object_get(facts, "dispute_step");
}

const struct tb_sql_text *tb_facts_of(const char *table)
{
    for (int i = 0; i < TB_SQL_COUNT; i++)
        if (strncmp(tb_sql_table[i].name, "facts_", 6) == 0 && strcmp(tb_sql_table[i].name + 6, table) == 0)
            return &tb_sql_table[i];
    return NULL;
}

/* Of bytes that were left out the record holds the digest in another column. */
static void canon_left_out(struct tb_text *out, const json_t *row, const json_t *v)
{
    tb_canon_digest(out, (size_t)tb_row_whole(v, "left_out"), tb_row_text(row, "sha256"));
}

void tb_row_canon(struct tb_text *out, const json_t *row, const struct tb_sql_text *facts, int64_t rule,
                  struct tb_text *room)
{
    struct tb_value v;

    tb_text_clear(out);
    for (int c = 0; c < facts->outs; c++) {
        const json_t *told = json_object_get(row, facts->out[c].name);

        (void)tb_value_of_json(&v, told, room); /* what cannot be read is nothing */
        if (rule == TB_RULE_TREES && tb_left_out(told))
            canon_left_out(out, row, told);
        else
            tb_canon_value(out, &v, rule);
    }
}

const char *tb_row_text(const json_t *row, const char *key)
{
    const char *s = json_string_value(json_object_get(row, key));

    return s ? s : "";
}

int64_t tb_row_whole(const json_t *row, const char *key)
{
    return json_integer_value(json_object_get(row, key));
}

/* The first row of the journal row `entry` or a later one, by halving. */
static size_t first_from(const json_t *rows, int64_t entry)
{
    size_t low = 0, high = json_array_size(rows);

    while (low < high) {
        size_t mid = (low + high) / 2;

        if (tb_row_whole(json_array_get(rows, mid), "entry") < entry)
            low = mid + 1;
        else
            high = mid;
    }
    return low;
}

int64_t tb_rows_of_entry(const json_t *rows, int64_t entry)
{
    size_t from = first_from(rows, entry), to = entry < INT64_MAX ? first_from(rows, entry + 1) : from;

    return to > from ? (int64_t)(to - from) : 0;
}
