/* case_tells.c - what a case gives away besides what was seen of the cloth, counted and quoted from its data. */
#include "report/case/case_impl.h"
#include "tenterbook/circumstance.h"

#include <string.h>

/* Columns that hold what people typed, for whoever reads them. */
static const struct {
    const char *table, *column;
} typed_in[] = {
    { "delivery", "remark" }, { "supplier_same", "why" },   { "amendment", "why" },
    { "voiding", "why" },     { "declaration_why", "why" }, { "burn", "note" },
    { "bench_test", "note" }, { "standing", "why" },        { "bolt_standing", "why" },
    { "bolt_use", "why" },    { "joint_sample", "rule" },   { "joint_sample", "present" },
    { "swatch", "kept" },
};

/* Words of the program, which nobody typed: the remark of a delivery that nobody examined, the reason of a hold by itself. */
static bool is_of_the_program(const char *text)
{
    return strcmp(text, TB_UNEXAMINED) == 0 || tb_decided_by(text) != TB_DECIDED_BY_PERSON;
}

static bool has_line(const struct tb_text *t, const char *line)
{
    size_t n = strlen(line);

    for (const char *s = tb_text_str(t); *s; s += strcspn(s, "\n") + 1)
        if (strcspn(s, "\n") == n && memcmp(s, line, n) == 0)
            return true;
    return false;
}

/* As one line, whatever was typed. */
static void add_typed(struct tb_case_tells *out, const char *text)
{
    struct tb_text line = { 0 };

    for (const char *s = text; *s; s++)
        tb_text_addc(&line, *s == '\n' || *s == '\r' ? ' ' : *s);
    if (line.n && !is_of_the_program(line.s) && !has_line(&out->typed, line.s)) {
        tb_text_addf(&out->typed, "%s\n", line.s);
        out->typeds++;
    }
    tb_text_free(&line);
}

static const char *text_of(const json_t *row, const char *column)
{
    const char *s = json_string_value(json_object_get(row, column));

    return s ? s : "";
}

static void add_files(struct tb_case_tells *out, const json_t *rows)
{
    const json_t *row;
    size_t i;

    json_array_foreach(rows, i, row)
    {
        bool picture = strncmp(text_of(row, "media"), "image/", 6) == 0;

        if (!*text_of(row, "media")) /* kept back */
            continue;

        out->photographs += picture;
        out->papers += !picture;
        tb_text_addf(&out->files, "%s\n", text_of(row, "name"));
    }
}

/* Of a lot, or of its price in the unit of the invoice. */
static bool has_price(const json_t *facts)
{
    const json_t *lot = json_array_get(json_object_get(facts, "lot"), 0);

    return json_is_number(json_object_get(lot, "unit_price")) ||
           json_array_size(json_object_get(facts, "lot_price")) > 0;
}

/* A member of a text that is JSON; a new reference, or NULL. */
static json_t *within(const json_t *row, const char *column, const char *member)
{
    json_t *all = json_loads(text_of(row, column), JSON_REJECT_DUPLICATES, NULL);
    json_t *found = json_incref(json_object_get(all, member));

    json_decref(all);
    return found;
}

/* Rows in which a member of such a text tells something. */
static size_t count(const json_t *rows, const char *column, const char *member, bool (*tells)(const json_t *))
{
    const json_t *row;
    size_t i, n = 0;

    json_array_foreach(rows, i, row)
    {
        json_t *one = within(row, column, member);

        n += tells(one);
        json_decref(one);
    }
    return n;
}

static bool tells_login(const json_t *act)
{
    return json_object_get(act, TB_ASIDE_LOGIN) != NULL;
}

static bool tells_own_share(const json_t *base)
{
    return json_is_object(base) &&
           strcmp(text_of(base, "from"), tb_word(&tb_base_words, TB_BASE_PUBLISHED)) != 0;
}

static size_t labels(const json_t *facts)
{
    const json_t *row;
    size_t i, n = 0;

    json_array_foreach(json_object_get(facts, "standing"), i, row)
    {
        n += *text_of(row, "new_words") != '\0';
    }
    json_array_foreach(json_object_get(facts, "declaration"), i, row)
    {
        n += strcmp(text_of(row, "origin"), tb_word(&tb_origin_words, TB_ORIGIN_RELABEL)) == 0;
    }
    return n;
}

void tb_case_tells(struct tb_case_tells *out, const json_t *data)
{
    const json_t *extract = json_object_get(data, "extract"), *facts = json_object_get(extract, "facts"),
                 *row;
    size_t i;

    *out = (struct tb_case_tells){
        .steps = json_array_size(json_object_get(facts, "dispute_step")),
        .people = json_array_size(json_object_get(facts, "person")),
        .settings = json_array_size(json_object_get(facts, "setting")),
        .price = has_price(facts),
        .logins = count(json_object_get(extract, "journal"), "content", TB_CONTENT_ACT, tells_login),
        .bases = count(json_object_get(facts, "verdict"), "detail", "base_rate", tells_own_share),
        .labels = labels(facts)
    };
    for (size_t k = 0; k < TB_COUNT(typed_in); k++) {
        json_array_foreach(json_object_get(facts, typed_in[k].table), i, row)
        {
            add_typed(out, text_of(row, typed_in[k].column));
        }
    }
    json_array_foreach(json_object_get(facts, "swatch"), i, row)
    {
        out->known += *text_of(row, "known") != '\0';
    }
    add_files(out, json_object_get(facts, "attachment"));
}

void tb_case_tells_free(struct tb_case_tells *t)
{
    tb_text_free(&t->typed);
    tb_text_free(&t->files);
}
