/*
 * fibregen - from the reference tables of fibres, of the names that markets give them, and of all other words,
 * make constant tables and the index over the words.
 *
 *   fibregen OUT.c
 *
 * Words are folded here, once, so that reading a declaration is a hash and a comparison. A word that would
 * mean two fibres stops the build, unless a row calls it ambiguous.
 */
#include "fibre/fold.h"
#include "gen/gen.h"
#include "gen/ref_fibre.h"
#include "gen/ref_fibre_name.h"
#include "gen/ref_law_name.h"
#include "tenterbook/fibre.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Same order as enum tb_word_kind; the name of the enumerator is the upper-case form. */
static const char *const kinds[] = { "legal",        "synonym",      "code",  "trade_word", "trade_mark",
                                     "misnomer",     "construction", "vague", "ambiguous",  "other",
                                     "undetermined", "mark",         "part",  "header",     "filler",
                                     "and",          "percent" };
/* Same order as enum tb_casing in src/fibre/index.h. */
static const char *const casings[] = { "", "upper", "exact" };
static const char *const marks[] = { "virgin", "recycled", "organic", "mercerised", "combed", "pure" };

_Static_assert(TB_COUNT(kinds) == TB_WORD_UNKNOWN, "a kind of word is missing here");
_Static_assert(1u << (TB_COUNT(marks) - 1) == TB_MARK_PURE, "a mark is missing here");

/* A word of either table. */
struct row {
    const char *table; /* the file it stands in ... */
    size_t line;       /* ... and its line there */
    struct tb_ref_fibre_name r;
    const char *market; /* whose law calls the fibre so; "" for a word no law lists */
    char *folded;
    size_t kind, order;
    int fibre;
};

static struct row *row;
static size_t rows;

static _Noreturn void wrong(const struct row *x, const char *column, const char *what)
{
    stop((struct place){ x->table, (int)x->line, 0 }, "column %s of '%s': %s", column, x->r.word, what);
}

static size_t place(const char *const *list, size_t n, const char *key)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(list[i], key) == 0)
            return i;
    return n;
}

static int fibre_of(const struct row *x)
{
    for (size_t i = 0; *x->r.fibre && i < tb_ref_fibre_n; i++)
        if (strcmp(tb_ref_fibre[i].key, x->r.fibre) == 0)
            return (int)i;
    if (*x->r.fibre)
        wrong(x, "fibre", "there is no such key in fibre.csv");
    return -1;
}

/* The kind that decides comes first: what is ambiguous stays ambiguous, then the law, then the trade. */
static int by_word(const void *a, const void *b)
{
    const struct row *x = a, *y = b;
    const size_t ambiguous = place(kinds, TB_COUNT(kinds), "ambiguous");
    int c = strcmp(x->folded, y->folded);

    if (c)
        return c;
    if ((x->kind == ambiguous) != (y->kind == ambiguous))
        return x->kind == ambiguous ? -1 : 1;
    if (x->kind != y->kind)
        return x->kind < y->kind ? -1 : 1;
    return x->order < y->order ? -1 : 1;
}

static void add_row(const struct tb_ref_fibre_name *r, const char *market, const char *table, size_t number)
{
    struct row *x = &row[rows];

    *x = (struct row){ .table = table,
                       .line = number + 2, /* after the header, from 1 */
                       .r = *r,
                       .market = market,
                       .folded = tb_fold_word(r->word, strlen(r->word)),
                       .kind = place(kinds, TB_COUNT(kinds), r->kind),
                       .order = rows };
    x->fibre = fibre_of(x);
    if (x->kind == TB_COUNT(kinds))
        wrong(x, "kind", "nobody knows this kind");
    if (place(casings, TB_COUNT(casings), r->casing) == TB_COUNT(casings))
        wrong(x, "casing", "nobody knows this casing");
    if (!*x->folded)
        wrong(x, "word", "it folds to nothing");
    rows++;
}

/* The names of the law come first: of two rows of a kind the one that was read first decides. */
static void load(void)
{
    row = tb_array(struct row, tb_ref_law_name_n + tb_ref_fibre_name_n);
    for (size_t i = 0; i < tb_ref_law_name_n; i++) {
        const struct tb_ref_law_name *n = &tb_ref_law_name[i];
        const struct tb_ref_fibre_name r = { .word = n->name,
                                             .lang = n->lang,
                                             .kind = "legal",
                                             .fibre = n->fibre,
                                             .means = "",
                                             .marks = n->marks,
                                             .casing = n->casing,
                                             .status = n->status,
                                             .source = n->source };

        add_row(&r, n->market, "sql/reference/law_name.csv", i);
        if (!*n->fibre || !*n->market)
            wrong(&row[rows - 1], *n->fibre ? "market" : "fibre", "a name needs a market and a fibre");
    }
    for (size_t i = 0; i < tb_ref_fibre_name_n; i++) {
        add_row(&tb_ref_fibre_name[i], "", "sql/reference/fibre_name.csv", i);
        if (strcmp(tb_ref_fibre_name[i].kind, "legal") == 0)
            wrong(&row[rows - 1], "kind", "names of the law stand in law_name.csv");
        if (strncmp(tb_ref_fibre_name[i].means, "finish:", 7) == 0 &&
            tb_finish_by_key(tb_ref_fibre_name[i].means + 7) < 0)
            wrong(&row[rows - 1], "means", "nobody knows this finish");
        if (strncmp(tb_ref_fibre_name[i].means, "yarn:", 5) == 0 &&
            strcmp(tb_ref_fibre_name[i].means + 5, "core") != 0 &&
            strcmp(tb_ref_fibre_name[i].means + 5, "sheath") != 0)
            wrong(&row[rows - 1], "means", "of a yarn there are core and sheath");
    }
    qsort(row, rows, sizeof *row, by_word);
}

/* A fibre or a finish: how many figures there are tells which (src/fibre/beside.c). */
static bool may_be_either(const struct row *fibre, const struct row *finish)
{
    return fibre->fibre >= 0 && strncmp(finish->r.means, "finish:", 7) == 0;
}

static void check_one_meaning(size_t first, size_t n)
{
    if (strcmp(row[first].r.kind, "ambiguous") == 0)
        return;
    for (size_t i = first + 1; i < first + n; i++)
        if (!*row[i].r.casing && !*row[first].r.casing && !may_be_either(&row[first], &row[i]) &&
            (row[i].fibre != row[first].fibre || strcmp(row[i].r.means, row[first].r.means) != 0 ||
             strcmp(row[i].r.marks, row[first].r.marks) != 0))
            wrong(&row[i], "means", "it means two things and is not called ambiguous");
}

static void put_strings(FILE *f, const char *const *list, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        (void)fputs(i ? ", " : "", f);
        write_string(f, list[i]);
    }
}

/* The build holds the column to these words. */
static const char *handling_of(const char *word)
{
    return strcmp(word, "laboratory") == 0  ? "TB_HANDLING_LABORATORY"
           : strcmp(word, "flameless") == 0 ? "TB_HANDLING_FLAMELESS"
                                            : "TB_HANDLING_ANY";
}

static void put_fibres(FILE *f)
{
    (void)fputs("const struct tb_fibre tb_fibre_table[] = {\n", f);
    for (size_t i = 0; i < tb_ref_fibre_n; i++) {
        const struct tb_ref_fibre *r = &tb_ref_fibre[i];
        const char *const head[] = { r->key, r->name, r->burn_class };
        const char *const tail[] = { r->iso_code, r->iso_status, r->iso_name, r->short_code,
                                     r->family,   r->twin_group, r->burn_key };

        (void)fputs("    { ", f);
        put_strings(f, head, TB_COUNT(head));
        (void)fprintf(f, ", %d, ", r->eu_number == TB_REF_NONE ? 0 : r->eu_number);
        put_strings(f, tail, TB_COUNT(tail));
        (void)fprintf(f, ", %s, ", handling_of(r->handling));
        put_strings(f, &r->source, 1);
        (void)fputs(" },\n", f);
    }
    (void)fprintf(f, "};\nconst size_t tb_fibre_table_n = %zu;\n", tb_ref_fibre_n);
}

static unsigned marks_of(const struct row *x)
{
    unsigned set = 0;
    char *copy = tb_strdup(x->r.marks), *save = NULL;

    for (char *m = strtok_r(copy, " ", &save); m; m = strtok_r(NULL, " ", &save)) {
        size_t bit = place(marks, TB_COUNT(marks), m);

        if (bit == TB_COUNT(marks))
            wrong(x, "marks", "nobody knows one of the marks");
        set |= 1u << bit;
    }
    free(copy);
    return set;
}

static int part_of(const struct row *x)
{
    int part;

    if (strcmp(x->r.kind, "part") != 0)
        return -1;
    if (!tb_word_find(&part, &tb_part_words, x->r.means))
        wrong(x, "means", "nobody knows this part");
    return part;
}

static void put_names(FILE *f)
{
    (void)fputs("const struct tb_name tb_name_table[] = {\n", f);
    for (size_t i = 0; i < rows; i++) {
        const struct tb_ref_fibre_name *r = &row[i].r;
        const char *const head[] = { r->word, r->lang };
        const char *const tail[] = { r->means, row[i].market, r->status, r->source };

        (void)fputs("    { ", f);
        put_strings(f, head, 2);
        (void)fprintf(f, ", (enum tb_word_kind)%zu, %d, ", row[i].kind, row[i].fibre);
        put_strings(f, tail, 4);
        (void)fputs(" },\n", f);
    }
    (void)fprintf(
        f, "};\nconst size_t tb_name_table_n = %zu;\nconst struct tb_name_more tb_name_more[] = {\n", rows);
    for (size_t i = 0, n = 0; i < rows; i++) {
        if (i == 0 || strcmp(row[i].folded, row[i - 1].folded) != 0) {
            for (n = 1; i + n < rows && strcmp(row[i].folded, row[i + n].folded) == 0; n++)
                ;
            check_one_meaning(i, n);
        } else {
            n = 0;
        }
        (void)fputs("    { ", f);
        write_string(f, row[i].folded);
        (void)fprintf(f, ", %zu, %u, %d, %zu, %" PRIu64 "u, %zu },\n", n, marks_of(&row[i]), part_of(&row[i]),
                      strlen(row[i].folded), tb_fold_letters(row[i].folded),
                      place(casings, TB_COUNT(casings), row[i].r.casing));
    }
    (void)fputs("};\n", f);
}

static void put_index(FILE *f)
{
    uint32_t size = 1;
    uint16_t *slot;
    size_t longest = 1;

    while (size < 4 * rows)
        size *= 2;
    slot = tb_array(uint16_t, size);
    if (rows > 65000)
        wrong(&row[rows - 1], "word", "there are more names than the index can hold");
    for (size_t i = 0; i < rows; i++) {
        uint32_t h = TB_HASH_START;
        size_t words = 1;

        if (i && strcmp(row[i].folded, row[i - 1].folded) == 0)
            continue;
        for (const char *s = row[i].folded; *s; s++) {
            h = tb_hash_byte(h, *s);
            words += *s == ' ' || *s == '/';
        }
        longest = words > longest ? words : longest;
        while (slot[h & (size - 1)])
            h++;
        slot[h & (size - 1)] = (uint16_t)(i + 1);
    }
    (void)fprintf(f, "const uint32_t tb_name_slots = %u;\nconst size_t tb_name_longest = %zu;\n", size,
                  longest);
    (void)fputs("const uint16_t tb_name_slot[] = {\n", f);
    for (uint32_t i = 0; i < size; i++)
        (void)fprintf(f, "%u,%s", slot[i], i % 20 == 19 ? "\n" : "");
    (void)fputs("\n};\n", f);
    free(slot);
}

int main(int argc, char **argv)
{
    FILE *f;

    if (argc != 2) {
        (void)fputs("usage: fibregen OUT.c\n", stderr);
        return 2;
    }
    f = made(argv[1]);
    load();
    (void)fputs("/* made from sql/reference/fibre.csv, law_name.csv and fibre_name.csv */\n#include "
                "\"fibre/index.h\"\n",
                f);
    put_fibres(f);
    put_names(f);
    put_index(f);
    return fclose(f) ? 1 : 0;
}
