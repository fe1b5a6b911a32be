#include "cli/intake/receive.h"
#include "tenterbook/setting.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Everything the options say, read once for all files. */
struct plan {
    struct tb_intake_opts intake;
    struct tb_receive_opts receive;
    struct tb_arena mem;
    const char *arrived;
    bool dry;
};

static void say_reading(void *arg, size_t rows, bool second_pass)
{
    (void)arg;
    (void)fprintf(stderr, _("\r%s, %zu rows "), second_pass ? _("taking") : _("reading"), rows);
}

static void say_storing(void *arg, size_t bolts, size_t of)
{
    (void)arg;
    if (of > 50000)
        (void)fprintf(stderr, _("\rstoring, %zu of %zu bolts "), bolts, of);
}

static void wipe_progress(const struct plan *p)
{
    if (p->intake.progress)
        (void)fputs("\r\033[K", stderr);
}

static tb_rc choose_unit(enum tb_unit *out, struct tb_ctx *ctx, const char *option, const char *allowed,
                         struct tb_err *err)
{
    const char *text = tb_opt(ctx, option), *p = allowed;
    size_t n = text ? strlen(text) : 0;

    if (!text)
        return TB_OK;
    for (; *p; p += strcspn(p, " ") + (p[strcspn(p, " ")] != '\0'))
        if (strcspn(p, " ") == n && strncmp(p, text, n) == 0) {
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

static tb_rc read_units(struct plan *p, struct tb_ctx *ctx, struct tb_err *err)
{
    static const char *const dates[] = { "dmy", "mdy", "ymd", NULL }, *const decimal[] = { "comma", "point",
                                                                                           NULL };
    tb_rc rc = choose_unit(&p->intake.length_unit, ctx, "unit", "m yd ft", err);

    if (rc == TB_OK)
        rc = choose_unit(&p->intake.width_unit, ctx, "width-unit", "m cm mm in", err);
    if (rc == TB_OK)
        rc = choose_unit(&p->intake.mass_unit, ctx, "mass-unit", "g/m2 oz/yd2 momme g/m oz/yd kg", err);
    if (rc == TB_OK)
        rc = choose_letter(&p->intake.dates, ctx, "dates", dates, "dmy", err);
    if (rc == TB_OK)
        rc = choose_letter(&p->intake.decimal, ctx, "decimal", decimal, ",.", err);
    return rc;
}

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

/* The site's own words first: what is said on the command line comes after them and counts. */
static tb_rc read_words(struct plan *p, struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_header_word *site = NULL, *all;
    size_t sites = 0, maps = 0;
    tb_rc rc = ctx->book ? tb_receive_words(&site, &sites, ctx->book, &p->mem, err) : TB_OK;

    while (tb_opt_nth(ctx, "map", maps))
        maps++;
    all = tb_arena_alloc(&p->mem, (sites + maps + 1) * sizeof *all);
    for (size_t i = 0; i < sites; i++)
        all[i] = site[i];
    for (size_t i = 0; rc == TB_OK && i < maps; i++)
        rc = one_map(&all[sites + i], tb_opt_nth(ctx, "map", i), &p->mem, err);
    p->intake.word = all;
    p->intake.words = sites + maps;
    return rc;
}

static void read_sheets(struct plan *p, const struct tb_ctx *ctx)
{
    const char **sheet;
    size_t n = 0;

    while (tb_opt_nth(ctx, "sheet", n))
        n++;
    sheet = tb_arena_alloc(&p->mem, (n + 1) * sizeof *sheet);
    for (size_t i = 0; i < n; i++)
        sheet[i] = tb_opt_nth(ctx, "sheet", i);
    p->intake.sheet = sheet;
    p->intake.sheets = n;
}

/* Dates the file leaves open are meant as the site says, where it says. */
static tb_rc site_dates(struct plan *p, struct tb_ctx *ctx, struct tb_err *err)
{
    const char *dates = "ask";
    tb_rc rc = TB_OK;

    if (!p->intake.dates && ctx->book)
        rc = tb_setting_text(&dates, ctx->book, "dates", TB_BOOK_NOW, &p->mem, err);
    if (rc == TB_OK && strcmp(dates, "ask") != 0)
        p->intake.dates = dates[0];
    return rc;
}

static tb_rc make_plan(struct plan *p, struct tb_ctx *ctx, struct tb_err *err)
{
    static char today[TB_DAY_LEN + 1];
    tb_rc rc;

    p->dry = tb_opt_on(ctx, "dry-run");
    p->intake.supplier = tb_opt(ctx, "supplier");
    p->intake.note = tb_opt(ctx, "note");
    p->intake.order = tb_opt(ctx, "order");
    p->intake.article = tb_opt(ctx, "article");
    p->intake.declared = tb_opt(ctx, "declared");
    p->intake.currency = tb_opt(ctx, "currency");
    p->intake.number_by_lot = tb_opt_on(ctx, "numbers-by-lot");
    p->receive.who = ctx->who;
    p->receive.remark = tb_opt(ctx, "remark");
    p->receive.again = tb_opt_on(ctx, "again");
    if (isatty(STDERR_FILENO)) {
        p->intake.progress = say_reading;
        p->receive.progress = say_storing;
    }
    tb_today(today);
    p->arrived = today;
    if ((rc = tb_opt_day(&p->arrived, ctx, "on", err)) != TB_OK || (rc = read_units(p, ctx, err)) != TB_OK)
        return rc;
    if (strcmp(p->arrived, today) > 0)
        return tb_fail(err, TB_EINVAL,
                       "--on is %s, and today is %s: goods that are still to come are not received",
                       p->arrived, today);
    p->receive.arrived = p->arrived;
    read_sheets(p, ctx);
    /* a dry run needs no book, and uses the words of one that is there */
    if ((!p->dry || access(ctx->book_path, R_OK) == 0) && (rc = tb_ctx_book(ctx, err)) != TB_OK)
        return rc;
    if ((rc = read_words(p, ctx, err)) != TB_OK)
        return rc;
    return site_dates(p, ctx, err);
}

/* The same file again is noticed before it is read: reading a long one takes time. */
static tb_rc check_seen(char digest[TB_DIGEST_LEN + 1], const struct plan *p, struct tb_ctx *ctx,
                        const char *path, struct tb_err *err)
{
    tb_rc rc = tb_file_digest(digest, path, err);

    return rc == TB_OK && ctx->book && !p->receive.again ? tb_receive_seen(ctx->book, digest, err) : rc;
}

static tb_rc take_file(struct plan *p, struct tb_ctx *ctx, const char *path, json_t *files,
                       struct tb_err *err)
{
    struct tb_packing_list list = { 0 };
    struct tb_receipt r = { .path = path, .list = &list, .arrived = p->arrived, .dry = p->dry };
    char digest[TB_DIGEST_LEN + 1];
    tb_rc rc = check_seen(digest, p, ctx, path, err);

    p->intake.digest = digest;
    r.remark = tb_receive_remark(p->receive.remark, &p->mem);

    if (rc == TB_OK) {
        rc = tb_packing_list_read(&list, path, &p->intake, err);
        if (rc == TB_OK && !p->dry) {
            p->receive.file_name = path;
            rc = tb_receive(&r.ref, &r.lot, ctx->book, &list, &p->receive, &p->mem, err);
        }
        wipe_progress(p);
        if (!ctx->json && rc == TB_OK)
            tb_receipt_print(ctx, &r);
        if (!ctx->json && rc != TB_OK)
            tb_receipt_bad(&r);
    }
    if (ctx->json && (rc == TB_OK || list.bad_count))
        (void)json_array_append_new(files, tb_receipt_json(&r));
    tb_packing_list_free(&list);
    return rc == TB_OK ? TB_OK : tb_within(err, rc, "%s", path);
}

static tb_rc take_files(struct plan *p, struct tb_ctx *ctx, struct tb_err *err)
{
    json_t *files = json_array();
    size_t refused = 0;
    tb_rc rc = TB_OK, last = TB_OK;

    for (size_t i = 0; i < ctx->argc; i++) {
        last = take_file(p, ctx, ctx->argv[i], files, err);
        if (last == TB_OK)
            continue;
        rc = last;
        if (++refused && ctx->argc > 1)
            (void)fprintf(stderr, "tenterbook: %s\n", err->msg);
    }
    if (ctx->json && json_array_size(files)) {
        struct tb_err print = { 0 };

        if (tb_print_json(ctx, json_pack("{s:O}", "files", files), &print) != TB_OK && rc == TB_OK)
            rc = tb_fail(err, TB_EIO, "%s", print.msg);
    }
    json_decref(files);
    if (refused && ctx->argc > 1)
        return tb_fail(err, rc,
                       p->dry                 ? "%zu of %zu files would be refused"
                       : refused == ctx->argc ? "%zu of %zu files were refused; nothing was stored"
                                              : "%zu of %zu files were refused; the others are in the book",
                       refused, ctx->argc);
    return rc;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct plan p = { 0 };
    tb_rc rc = make_plan(&p, ctx, err);

    if (rc == TB_OK)
        rc = take_files(&p, ctx, err);
    tb_arena_free(&p.mem);
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
    .about =
        "Reads packing lists as the mills send them and stores their deliveries, lots and bolts. A file is "
        "stored wholly or not at all: every value that cannot be taken is listed with its line and "
        "column.\n\n"
        "Columns are found by their headers, in any order and in eight languages. Bolt number and length "
        "must be "
        "there; article and declared composition may also stand above the table or be given as options. What "
        "a file "
        "leaves open (two readings of a date or a figure, metres or yards) is asked for, never guessed.\n\n"
        "Fields for --map: supplier, note, day, order, article, design, colour, lot, shade_group, bolt, "
        "length, unit, "
        "width, width_usable, mass, mass_linear, composition, origin, price, currency, parts, and ignore. To "
        "keep a "
        "header word for good: tenterbook set header:WORD FIELD.",
    .example = "tenterbook receive list.xlsx --dry-run\n"
               "tenterbook receive list.csv --supplier \"Kestrel Mill\" --note 4711 --dates dmy",
    .opts = opts,
    .min = 1,
    .max = 1000,
    .flags = TB_BOOK_MAYBE,
    .run = run,
};
