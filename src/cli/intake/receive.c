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

/* Options that say how a list is read: the same words answer what a list leaves open. */
static const char *const reading[] = { "supplier",  "note",       "order",        "article",    "declared",
                                       "currency",  "dates",      "decimal",      "unit",       "width-unit",
                                       "mass-unit", "price-unit", "map",          "sheet",      "total-line",
                                       "bolt-line", "part-line",  "heading-line", "note-date",  "without",
                                       "encoding",  "columns",    "hidden-rows",  "struck-rows" };

static tb_rc read_reading(struct tb_intake_opts *o, struct tb_ctx *ctx, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < TB_COUNT(reading); i++)
        for (size_t k = 0; rc == TB_OK && k < tb_opt_count(ctx, reading[i]); k++) {
            const char *value = tb_opt_nth(ctx, reading[i], k);

            rc = tb_intake_answer(o, reading[i], value ? value : "", &ctx->mem, err);
        }
    return rc == TB_EINVAL ? tb_misuse(err, "%s", tb_arena_strdup(&ctx->mem, err->msg)) : rc;
}

/* What the options say, the same for every file. */
static tb_rc read_request(struct tb_receive_request *r, struct tb_ctx *ctx, struct tb_err *err)
{
    r->dry = tb_opt_on(ctx, "dry-run");
    r->again = tb_opt_on(ctx, "again");
    r->why = tb_opt(ctx, "why");
    r->another = tb_opt_on(ctx, "another-supplier");
    r->remark = tb_opt(ctx, "remark");
    r->list.number_by_lot = tb_opt_on(ctx, "numbers-by-lot");
    if (isatty(STDERR_FILENO)) {
        r->list.progress = say_reading;
        r->progress = say_storing;
    }
    r->arrived = tb_opt_day(ctx, "on");
    return ctx->rc == TB_OK ? read_reading(&r->list, ctx, err) : ctx->rc;
}

/* Values that were not taken are listed even where nothing was stored: they are what has to be mended. */
tb_rc tb_receive_list(struct tb_ctx *ctx, const struct tb_receive_request *said, const char *path,
                      json_t *files, struct tb_err *err)
{
    struct tb_receive_request request = *said; /* what is answered for one file is not said of the next */
    struct tb_receive_outcome out;
    tb_rc rc = TB_OK;

    if (tb_receive_at_terminal(ctx) && (rc = tb_receive_converse(ctx, &request, err)) != TB_OK)
        return rc;
    rc = tb_act_receive(&out, &ctx->actor, &request, &ctx->mem, err);
    if (request.progress)
        (void)fputs("\r\033[K", stderr);
    if (ctx->json && (rc == TB_OK || out.list.bad_count || out.list.question_count || out.twin.there.ref))
        tb_json_push(files, tb_json_receipt(path, &out));
    if (!ctx->json && rc == TB_OK) {
        tb_receipt_print(ctx->out, &out);
    } else if (!ctx->json) {
        tb_receipt_twin(ctx, &out.twin);
        tb_receipt_bad(ctx, path, &out.list);
        tb_receive_open(ctx, path, &out.list);
    }
    tb_receive_outcome_free(&out);
    return rc;
}

static tb_rc take_file(struct tb_ctx *ctx, const struct tb_receive_request *said, const char *path,
                       json_t *files, struct tb_err *err)
{
    struct tb_receive_request request = *said;
    struct tb_sent sent = { .name = _("standard input") };
    struct tb_text bytes = { 0 };
    tb_rc rc = TB_OK;

    request.path = path;
    if (strcmp(path, "-") != 0)
        return tb_receive_list(ctx, &request, path, files, err);
    if ((rc = tb_receive_standard(&bytes, err)) == TB_OK) {
        sent.bytes = tb_text_str(&bytes);
        sent.size = bytes.n;
        request.sent = &sent;
        rc = tb_receive_list(ctx, &request, path, files, err);
    }
    tb_text_free(&bytes);
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

/* What is typed comes from a person, or through a pipe as if it did: one list, and answers that can be read. */
static tb_rc check_by_hand(struct tb_ctx *ctx, struct tb_err *err)
{
    bool by_hand = tb_opt_on(ctx, "by-hand");

    if (!by_hand && !ctx->argc)
        return tb_misuse(err, "receive takes the name of a file, - for standard input, or --by-hand");
    if (!by_hand && tb_opt(ctx, "keep"))
        return tb_misuse(err, "--keep goes with --by-hand");
    if (by_hand && ctx->json)
        return tb_misuse(err, "--by-hand asks for one line after the other; it does not go with --json");
    if (by_hand && ctx->argc > 1)
        return tb_misuse(err, "--by-hand goes on with one file of answers that were kept");
    return TB_OK;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_receive_request request = { 0 };
    struct tb_err print = { 0 };
    json_t *files = json_array();
    tb_rc rc = check_by_hand(ctx, err);

    if (rc == TB_OK)
        rc = read_request(&request, ctx, err);
    /* a dry run needs no book, and uses the words of one that is there */
    if (rc == TB_OK && (!request.dry || access(ctx->book_path, R_OK) == 0))
        rc = tb_ctx_book(ctx, err);
    if (rc == TB_OK)
        rc = tb_opt_on(ctx, "by-hand") ? tb_receive_by_hand(ctx, &request, err)
                                       : take_files(ctx, &request, files, err);
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
    { "note-date", "DAY", "day of the delivery note, where the file does not say it or nobody can read it",
      false },
    { "without", "WHAT",
      "leave out what the file says of it: note-date, order, width, mass, price or origin; bolt-numbers: the "
      "bolts have none, and are given some",
      true },
    { "dates", "ORDER", "dmy, mdy or ymd: how dates are meant that can be read two ways", false },
    { "decimal", "SIGN", "comma or point: how figures are meant that can be read two ways", false },
    { "encoding", "NAME", "code page of a text file that is not UTF-8: Windows-1250, GB18030, Shift-JIS ...",
      false },
    { "unit", "UNIT", "m, yd or ft: unit of lengths that name none", false },
    { "width-unit", "UNIT", "m, cm, mm or in: unit of widths that name none", false },
    { "mass-unit", "UNIT", "g/m2, oz/yd2, momme, g/m, oz/yd, or kg for the weight of a bolt", false },
    { "price-unit", "UNIT", "m, yd, ft or kg: what a price is for that does not say it", false },
    { "map", "HEADER=FIELD", "what a column header means", true },
    { "columns", "FIELDS",
      "what the columns of a list without header hold, in their order: article,colour,bolt,length; - leaves "
      "one out, length*10 is ten lengths side by side",
      false },
    { "sheet", "NAME", "only this sheet of a workbook", true },
    { "total-line", "LINE", "that line is a total, not a bolt (in a workbook SHEET:LINE)", true },
    { "bolt-line", "LINE", "that line is a bolt, not a total", true },
    { "part-line", "LINE", "that line is a further length of the bolt above it", true },
    { "heading-line", "LINE", "of two labels of one thing without bolts between, the one on that line holds",
      true },
    { "hidden-rows", "take|leave", "rows with bolts that the workbook does not show", false },
    { "struck-rows", "take|leave", "rows with bolts that the workbook strikes through", false },
    { "numbers-by-lot", NULL, "bolt numbers start again in every dye lot: keep them as LOT/NUMBER", false },
    { "by-hand", NULL, "type the list in, question by question; with FILE, go on with what was kept of one",
      false },
    { "keep", "NAME.txt", "with --by-hand: where to keep what was typed, should the list not be taken in",
      false },
    { "yes", NULL, "at a terminal: do not ask, neither what the list leaves open nor whether to take it in",
      false },
    { "again", NULL, "take a file in although it, or its note, or most of its bolts were taken in before",
      false },
    { "why", "TEXT", "with --again: why the same file, note or bolts come again", false },
    { "another-supplier", NULL, "another one than the supplier whose name looks or is nearly the same",
      false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_receive = {
    .name = "receive",
    .args = "FILE|-...|--by-hand [--supplier NAME] [--note NUMBER] [--on DAY] [--dry-run]",
    .brief = "take in packing lists (CSV, XLSX, ODS, XLS, PDF, text)",
    .about =
        "Reads packing lists as the mills send them and stores their deliveries, lots and bolts. A file "
        "is stored wholly or not at all: every value that cannot be taken is listed with its line and "
        "column.\n\n"
        "What a file is shows in its content: CSV, workbooks (XLSX, ODS, XLS), PDF with text, and text whose "
        "columns stand below one "
        "another, as it is pasted from a mail; - is standard input. A PDF of pictures is refused: a list "
        "that cannot be read is typed in with --by-hand, through a pipe too.\n\n"
        "Columns are found by their headers, in any order, in the languages of the European Union, Turkish, "
        "Russian, Chinese, Japanese and Korean. Bolt number and "
        "length must be there; article and declared composition may also stand above the table or be "
        "given as options. What a file leaves open (two readings of a date or a figure, metres or "
        "yards) is asked for, never guessed: all of it at once, with a command line that gives the likely "
        "answers. At a terminal the questions are asked one by one, and what would be taken in is shown "
        "before it is stored.\n\n"
        "Fields for --map: supplier, note, day, order, article, design, colour, lot, shade_group, bolt, "
        "length, unit, width, width_usable, mass, mass_linear, composition, origin, price, currency, "
        "parts, total and ignore. To keep a header word for good: tenterbook set header:WORD FIELD.",
    .example = "tenterbook receive list.xlsx --dry-run\n"
               "tenterbook receive --by-hand --keep today.txt\n"
               "tenterbook receive list.csv --supplier \"Kestrel Mill\" --note 4711 --dates dmy",
    .opts = opts,
    .min = 0,
    .max = 1000,
    .flags = TB_BOOK_MAYBE,
    .run = run,
};
