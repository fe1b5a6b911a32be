/* receive: packing lists go into the book, one file at a time. */
#include "cli/intake/receive.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* On a terminal only, over the same line again: it is gone when the answer is printed. */
static void say_reading(void *arg, size_t rows, bool second_pass)
{
    (void)arg;
    (void)fputc('\r', stderr);
    tb_say(stderr, second_pass ? N_("taking, %zu rows ") : N_("reading, %zu rows "), rows);
}

/* A list that is stored within a blink needs no progress. */
static void say_storing(void *arg, size_t bolts, size_t of)
{
    (void)arg;
    if (of <= 50000)
        return;
    (void)fputc('\r', stderr);
    tb_say(stderr, "storing, %zu of %zu bolts ", bolts, of);
}

/* Not every unit serves every measure: a width in yards is a slip of the finger. */
static tb_rc choose_unit(enum tb_unit *out, struct tb_ctx *ctx, const char *option, const char *allowed,
                         struct tb_err *err)
{
    const char *text = tb_opt(ctx, option);

    if (!text)
        return TB_OK;
    if (tb_word_listed(allowed, text, strlen(text), " ")) {
        *out = (enum tb_unit)tb_unit_by_key(text);
        return TB_OK;
    }
    return tb_misuse(err, "--%s is '%s'; it takes one of: %s", option, text, allowed);
}

static tb_rc choose_letter(char *out, struct tb_ctx *ctx, const char *option, const char *const *word,
                           const char *letters, struct tb_err *err)
{
    const char *text = tb_opt(ctx, option);

    if (!text)
        return TB_OK;
    for (size_t i = 0; word[i]; i++)
        if (strcmp(word[i], text) == 0) {
            *out = letters[i];
            return TB_OK;
        }
    return tb_misuse(err, "--%s is '%s'; it takes %s, %s%s%s", option, text, word[0], word[1],
                     word[2] ? ", " : "", word[2] ? word[2] : "");
}

static tb_rc read_units(struct tb_intake_opts *o, struct tb_ctx *ctx, struct tb_err *err)
{
    static const char *const dates[] = { "dmy", "mdy", "ymd", NULL }, *const decimal[] = { "comma", "point",
                                                                                           NULL };
    tb_rc rc;

    if ((rc = choose_unit(&o->length_unit, ctx, "unit", "m yd ft", err)) != TB_OK ||
        (rc = choose_unit(&o->width_unit, ctx, "width-unit", "m cm mm in", err)) != TB_OK ||
        (rc = choose_unit(&o->mass_unit, ctx, "mass-unit", "g/m2 oz/yd2 momme g/m oz/yd kg", err)) != TB_OK ||
        (rc = choose_letter(&o->dates, ctx, "dates", dates, "dmy", err)) != TB_OK)
        return rc;
    return choose_letter(&o->decimal, ctx, "decimal", decimal, ",.", err);
}

/* The last "=" separates header and field: headers hold anything, fields never hold one. */
static tb_rc one_map(struct tb_header_word *out, const char *text, struct tb_arena *mem, struct tb_err *err)
{
    const char *equals = strrchr(text, '=');
    struct tb_text keys = { 0 };
    int field = equals ? tb_field_by_key(equals + 1) : -1;
    tb_rc rc = TB_OK;

    if (!equals || equals == text)
        return tb_misuse(err, "--map is '%s'; it takes HEADER=FIELD", text);
    if (field < 0 || field == TB_FIELD_TOTAL) {
        for (int f = TB_FIELD_NONE + 1; f <= TB_FIELD_PARTS; f++)
            tb_text_addf(&keys, "%s, ", tb_field_key((enum tb_field)f));
        rc = tb_misuse(err, "--map knows no field '%s'; it knows %signore", equals + 1, tb_text_str(&keys));
    }
    tb_text_free(&keys);
    if (rc == TB_OK)
        *out = (struct tb_header_word){ tb_arena_strndup(mem, text, (size_t)(equals - text)),
                                        (enum tb_field)field };
    return rc;
}

static tb_rc read_lists(struct tb_intake_opts *o, struct tb_ctx *ctx, struct tb_err *err)
{
    size_t maps = tb_opt_count(ctx, "map");
    struct tb_header_word *word = tb_arena_alloc(&ctx->mem, (maps + 1) * sizeof *word);
    tb_rc rc = TB_OK;

    for (size_t i = 0; rc == TB_OK && i < maps; i++)
        rc = one_map(&word[i], tb_opt_nth(ctx, "map", i), &ctx->mem, err);
    o->word = word;
    o->words = maps;
    o->sheet = tb_opt_all(&o->sheets, ctx, "sheet");
    return rc;
}

/* What the options say, the same for every file. */
static tb_rc read_request(struct tb_receive_request *r, struct tb_ctx *ctx, struct tb_err *err)
{
    tb_rc rc;

    r->dry = tb_opt_on(ctx, "dry-run");
    r->again = tb_opt_on(ctx, "again");
    r->remark = tb_opt(ctx, "remark");
    r->list = (struct tb_intake_opts){ .supplier = tb_opt(ctx, "supplier"),
                                       .note = tb_opt(ctx, "note"),
                                       .order = tb_opt(ctx, "order"),
                                       .article = tb_opt(ctx, "article"),
                                       .declared = tb_opt(ctx, "declared"),
                                       .currency = tb_opt(ctx, "currency"),
                                       .number_by_lot = tb_opt_on(ctx, "numbers-by-lot") };
    if (isatty(STDERR_FILENO)) {
        r->list.progress = say_reading;
        r->progress = say_storing;
    }
    r->arrived = tb_opt_day(ctx, "on");
    if ((rc = ctx->rc) != TB_OK || (rc = read_units(&r->list, ctx, err)) != TB_OK)
        return rc;
    return read_lists(&r->list, ctx, err);
}

/* Values that were not taken are listed even where nothing was stored: they are what has to be mended. */
static tb_rc take_file(struct tb_ctx *ctx, struct tb_receive_request *request, const char *path,
                       json_t *files, struct tb_err *err)
{
    struct tb_receive_outcome out;
    tb_rc rc;

    request->path = path;
    rc = tb_act_receive(&out, &ctx->actor, request, &ctx->mem, err);
    if (request->progress)
        (void)fputs("\r\033[K", stderr);
    if (ctx->json && (rc == TB_OK || out.list.bad_count))
        tb_json_push(files, tb_json_receipt(path, &out));
    else if (!ctx->json && rc == TB_OK)
        tb_receipt_print(ctx->out, &out);
    else if (!ctx->json)
        tb_receipt_bad(ctx, path, &out.list);
    tb_receive_outcome_free(&out);
    return rc;
}

/* A file that is refused does not keep the others out; the last sentence says how many went which way. */
static tb_rc take_files(struct tb_ctx *ctx, struct tb_receive_request *request, json_t *files,
                        struct tb_err *err)
{
    size_t refused = 0, n = ctx->argc;
    tb_rc rc = TB_OK, last;

    for (size_t i = 0; i < n; i++) {
        if ((last = take_file(ctx, request, ctx->argv[i], files, err)) == TB_OK)
            continue;
        rc = last;
        if (++refused && n > 1)
            tb_print_failure(ctx, err);
    }
    if (refused && n > 1)
        return tb_fail(err, rc,
                       request->dry   ? "%zu of %zu files would be refused"
                       : refused == n ? "%zu of %zu files were refused; nothing was stored"
                                      : "%zu of %zu files were refused; the others are in the book",
                       refused, n);
    return rc;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_receive_request request = { 0 };
    struct tb_err print = { 0 };
    json_t *files = json_array();
    tb_rc rc = read_request(&request, ctx, err);

    /* a dry run needs no book, and uses the words of one that is there */
    if (rc == TB_OK && (!request.dry || access(ctx->book_path, R_OK) == 0))
        rc = tb_ctx_book(ctx, err);
    if (rc == TB_OK)
        rc = take_files(ctx, &request, files, err);
    if (json_array_size(files) && tb_print_json(ctx, json_pack("{s:O}", "files", files), &print) != TB_OK &&
        rc == TB_OK)
        rc = tb_fail(err, TB_EIO, "%s", print.msg);
    json_decref(files);
    return rc;
}

static const struct tb_opt opts[] = {
    { "dry-run", NULL, "show how the columns are understood and what would be stored; store nothing", false },
    { "on", "DAY", "day the goods arrived (today)", false },
    { "supplier", "NAME", "who sent them, where the file does not say or says it otherwise", false },
    { "note", "NUMBER", "number of the delivery note, likewise", false },
    { "order", "NUMBER", "order number, likewise", false },
    { "article", "TEXT", "article of rows that name none", false },
    { "declared", "TEXT", "what the supplier declares, for rows that say nothing; \"\" for nothing at all",
      false },
    { "currency", "CODE", "currency of prices that name none", false },
    { "remark", "TEXT",
      "what was seen at the door: damage, seals; the receipt says \"received unexamined\" by itself", false },
    { "dates", "ORDER", "dmy, mdy or ymd: how dates are meant that can be read two ways", false },
    { "decimal", "SIGN", "comma or point: how figures are meant that can be read two ways", false },
    { "unit", "UNIT", "m, yd or ft: unit of lengths that name none", false },
    { "width-unit", "UNIT", "m, cm, mm or in: unit of widths that name none", false },
    { "mass-unit", "UNIT", "g/m2, oz/yd2, momme, g/m, oz/yd, or kg for the weight of a bolt", false },
    { "map", "HEADER=FIELD", "what a column header means", true },
    { "sheet", "NAME", "only this sheet of a workbook", true },
    { "numbers-by-lot", NULL, "bolt numbers start again in every dye lot: keep them as LOT/NUMBER", false },
    { "again", NULL, "take a file in although it was taken in before", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_receive = {
    .name = "receive",
    .args = "FILE... [--supplier NAME] [--note NUMBER] [--on DAY] [--dry-run]",
    .brief = "take in packing lists (CSV, XLSX)",
    .about = "Reads packing lists as the mills send them and stores their deliveries, lots and bolts. A file "
             "is stored wholly or not at all: every value that cannot be taken is listed with its line and "
             "column.\n\n"
             "Columns are found by their headers, in any order and in eight languages. Bolt number and "
             "length must be there; article and declared composition may also stand above the table or be "
             "given as options. What a file leaves open (two readings of a date or a figure, metres or "
             "yards) is asked for, never guessed.\n\n"
             "Fields for --map: supplier, note, day, order, article, design, colour, lot, shade_group, bolt, "
             "length, unit, width, width_usable, mass, mass_linear, composition, origin, price, currency, "
             "parts, and ignore. To keep a header word for good: tenterbook set header:WORD FIELD.",
    .example = "tenterbook receive list.xlsx --dry-run\n"
               "tenterbook receive list.csv --supplier \"Kestrel Mill\" --note 4711 --dates dmy",
    .opts = opts,
    .min = 1,
    .max = 1000,
    .flags = TB_BOOK_MAYBE,
    .run = run,
};
