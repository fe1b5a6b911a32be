/* read.c - the whole reading of a packing list: two passes over the file, one to learn and one to take. */
#include "intake/below.h"
#include "intake/beside.h"
#include "intake/box.h"
#include "intake/legend.h"
#include "intake/rows.h"
#include "intake/shares.h"

#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#define PROGRESS_EVERY 16384
#define SHOWN_PASSES 3 /* a legend, a summary beside a list, then what its columns hold */

/* By folded names: people type the name of a sheet as they read it. */
static bool named(const struct tb_list_reader *r, const char *sheet)
{
    bool same = false;

    for (size_t i = 0; i < r->opts->sheets && !same; i++)
        same = tb_fold_same(r->opts->sheet[i], sheet);
    return same;
}

/* What a title says of the goods holds for its own table; who sent them holds for the sheets that follow. */
static void title_of_next_sheet(struct tb_list_reader *r)
{
    static const enum tb_field goods[] = {
        TB_FIELD_ARTICLE, TB_FIELD_DESIGN,       TB_FIELD_COLOUR, TB_FIELD_LOT,        TB_FIELD_SHADE_GROUP,
        TB_FIELD_WIDTH,   TB_FIELD_WIDTH_USABLE, TB_FIELD_MASS,   TB_FIELD_COMPOSITION
    };

    r->title.pending_n = 0;
    r->title.saids = 0; /* what a cover says gives way to what a sheet says itself */
    if (!r->now)
        return;
    for (size_t i = 0; i < TB_COUNT(goods); i++)
        r->title.value[goods[i]] = NULL;
}

/* A sheet without bolts is mostly a cover; that it was left out is said all the same. */
static void say_left_out(struct tb_list_reader *r)
{
    if (r->sheet_taken && !r->now && !r->second_pass && r->sheet.kind != TB_SHEET_CSV && r->sheet_rows &&
        !r->sheet.hidden)
        tb_list_say(r->list, "the sheet '%s' holds no table of bolts and is left out", r->sheet_name);
}

static tb_rc hand_on(struct tb_list_reader *r, const struct tb_row *row, struct tb_err *err)
{
    struct tb_row list, whole;
    const struct tb_row *next;
    tb_rc rc = TB_OK;

    row = tb_shares_row(r, row, &whole);
    next = tb_box_row(r, row, &list);
    if (!r->second_pass)
        tb_legend_learn(r, next);
    if (!tb_legend_takes(r, next))
        rc = tb_beside_row(r, next, err);
    tb_box_learn(r, row);
    return rc;
}

static tb_rc sheet_end(struct tb_list_reader *r, struct tb_err *err)
{
    tb_rc rc = tb_below_end(r, hand_on, err);

    if (rc == TB_OK)
        rc = tb_beside_end(r, err);
    tb_box_end(r);
    if (rc == TB_OK && r->sheet_taken && !r->second_pass)
        rc = tb_learn_sheet_end(r, err);
    if (rc == TB_OK && r->sheet_taken && r->second_pass)
        tb_ask_below_end(r);
    if (rc == TB_OK && r->second_pass)
        tb_not_come_end(r);

    if (rc == TB_OK && r->sheet_taken && !r->now && !r->second_pass && r->sheet.beside)
        return tb_about(
            err,
            tb_fail(
                err, TB_EFORMAT,
                "%s of the PDF seems to hold the right part of a table that was too wide for the paper; ask "
                "for the list as XLSX, ODS or CSV",
                r->sheet_name),
            "by-hand");
    if (rc == TB_OK)
        say_left_out(r);
    return rc;
}

/* Which code page it was is no secret: a wrong one would spoil names and not be noticed. */
static void say_encoding(struct tb_list_reader *r, const char *encoding)
{
    if (strcmp(encoding, TB_SHEET_WESTERN) == 0)
        tb_list_say(r->list, "the file is not UTF-8; its text is read as Windows-1252 (Western European)");
    else if (strncmp(encoding, "UTF-", 4) != 0)
        tb_list_say(r->list, "the file is not UTF-8; its text is read as %s", encoding);
}

/* Hidden sheets are looked at in the first pass, to refuse a table in one, and never taken. */
static tb_rc on_sheet(void *arg, const struct tb_sheet *sheet, bool *skip, struct tb_err *err)
{
    struct tb_list_reader *r = arg;
    bool wanted = r->opts->sheets == 0 || named(r, sheet->name);
    tb_rc rc = sheet_end(r, err);

    if (rc != TB_OK)
        return rc;
    if (sheet->kind != TB_SHEET_XLSX && r->opts->sheets)
        return tb_fail(err, TB_EINVAL, "this is not a workbook: it has no sheets to choose from");
    if (sheet->kind != TB_SHEET_CSV && r->opts->encoding)
        return tb_fail(err, TB_EINVAL, "this is not a text file: it has no encoding to say");
    if (sheet->kind == TB_SHEET_CSV && !r->encoding && strcmp(sheet->encoding, TB_SHEET_WESTERN) == 0) {
        r->encoding_open = *skip = true;
        return TB_OK;
    }
    title_of_next_sheet(r);
    r->sheet = *sheet;
    r->sheet.hidden = sheet->hidden && r->opts->sheets == 0;
    r->sheet_name = tb_store_text(r->list->store, sheet->name);
    r->sheet_taken = wanted && !(r->sheet.hidden && r->second_pass);
    r->sheet_rows = 0;
    r->sheets_wanted += wanted && !r->second_pass;
    r->now = NULL;
    if (r->second_pass)
        tb_rows_new_sheet(r->rows);
    else if (sheet->kind == TB_SHEET_CSV)
        say_encoding(r, sheet->encoding);
    *skip = !r->sheet_taken;
    return TB_OK;
}

bool tb_is_page_number(const char *text)
{
    static const char words[] =
        "page pag pagina pagine seite blatt strona str strana stranica stran side sida sivu lk lpp "
        "puslapis oldal sayfa стр страница стор σελ σελιδα";
    size_t n = strcspn(text, " .:0123456789"), k = n + strspn(text + n, " .:");
    char *key;
    bool is;

    if (n < 2 || strlen(text) > 40 || !strspn(text + k, "0123456789"))
        return false;
    k += strspn(text + k, "0123456789");
    if (text[k] && (!strpbrk(text + k, "0123456789") || strlen(text + k) > 10 ||
                    text[strlen(text) - 1] < '0' || text[strlen(text) - 1] > '9'))
        return false;
    key = tb_fold(text, n);
    is = tb_word_listed(words, key, strlen(key), " ");
    free(key);
    return is;
}

/* Alone in a row, under whatever column it falls. */
static bool numbers_page(const struct tb_row *row)
{
    size_t i = 0;

    if (!tb_row_alone(row))
        return false;
    while (row->cell[i].type == TB_CELL_EMPTY)
        i++;
    return row->cell[i].type == TB_CELL_TEXT && tb_is_page_number(row->cell[i].text);
}

/* Progress is reported in steps, as a call for every row would cost more than reading it. */
static tb_rc on_row(void *arg, const struct tb_row *row, struct tb_err *err)
{
    struct tb_list_reader *r = arg;

    r->sheet_rows++;
    if (++r->list->rows % PROGRESS_EVERY == 0 && r->opts->progress)
        r->opts->progress(r->opts->progress_arg, r->list->rows, r->second_pass);
    if (numbers_page(row))
        return TB_OK;
    if (r->given.n)
        return tb_given_row(r, row, err);
    return tb_below_row(r, row, hand_on, err);
}

static tb_rc pass(struct tb_list_reader *r, const char *path, struct tb_err *err)
{
    const struct tb_sheet_sink sink = { on_sheet, on_row, r, r->encoding };
    tb_rc rc;

    r->list->rows = 0;
    r->sheet_taken = false;
    r->now = NULL;
    r->shares.now = 0;
    rc = tb_sheet_read(path, &sink, err);
    return rc == TB_OK ? sheet_end(r, err) : rc;
}

static void drop(struct tb_list_reader *r)
{
    for (size_t i = 0; i < r->layouts; i++)
        free(r->layout[i]);
    free(r->layout);
    free(r->partial);
    tb_texts_free(&r->best);
    tb_texts_free(&r->held);
    tb_rows_free(r->rows);
    tb_beside_free(r);
    tb_below_free(r);
    free(r->box);
}

/* What the first pass has learned is forgotten, but for what it is begun anew for; of the questions the first n stay. */
static void forget(struct tb_list_reader *r, size_t questions)
{
    struct tb_packing_list *l = r->list;
    struct tb_list_reader fresh = { .list = l,
                                    .opts = r->opts,
                                    .words = r->words,
                                    .name = r->name,
                                    .given = r->given,
                                    .encoding = r->encoding,
                                    .shown = r->shown,
                                    .boxes = r->boxes,
                                    .legends = r->legends,
                                    .shares = r->shares,
                                    .days = TB_DAY_ALL,
                                    .days_written = TB_DAY_ALL };

    memcpy(fresh.box_seen, r->box_seen, sizeof fresh.box_seen);
    drop(r);
    l->columns = l->says = l->says_left_out = 0;
    tb_list_unask(l, questions);
    *r = fresh;
}

/*
 * A text that is not UTF-8 shows so when it is opened: its code page is looked for then, and the pass begins anew. So it does
 * where no header was found and the columns of this supplier are known.
 */
static tb_rc first_pass(struct tb_list_reader *r, const char *path, struct tb_err *err)
{
    tb_rc rc = pass(r, path, err);
    size_t questions = 0;

    if (rc == TB_OK && r->encoding_open && (rc = tb_page_choose(r, path, err)) == TB_OK) {
        questions = r->list->question_count;
        rc = pass(r, path, err);
    }
    for (size_t i = 0; rc == TB_OK && i < SHOWN_PASSES && (tb_legend_show(r) || tb_content_show(r)); i++) {
        forget(r, questions);
        rc = pass(r, path, err);
    }
    if (rc != TB_OK || r->layouts || r->given.n || (rc = tb_given_kept(r, err)) != TB_OK || !r->given.n)
        return rc;
    r->title = (struct tb_heads){ 0 };
    return pass(r, path, err);
}

/* Headings and options say names too, without a row that could be named. */
static tb_rc check_text(const char *text, enum tb_field field, struct tb_err *err)
{
    return strlen(text) <= TB_INTAKE_TEXT_MOST
               ? TB_OK
               : tb_fail(err, TB_EINVAL, "the %s has more than %d bytes; nothing of this file is stored",
                         tb_field_name(field), TB_INTAKE_TEXT_MOST);
}

static tb_rc check_texts(const struct tb_packing_list *l, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < l->deliveries && rc == TB_OK; i++) {
        const struct tb_list_delivery *d = &l->delivery[i];

        if ((rc = check_text(d->supplier, TB_FIELD_SUPPLIER, err)) == TB_OK &&
            (rc = check_text(d->note, TB_FIELD_NOTE, err)) == TB_OK)
            rc = check_text(d->order, TB_FIELD_ORDER, err);
    }
    for (size_t i = 0; i < l->lots && rc == TB_OK; i++) {
        const struct tb_list_lot *t = &l->lot[i];

        if ((rc = check_text(t->article, TB_FIELD_ARTICLE, err)) == TB_OK &&
            (rc = check_text(t->shade, TB_FIELD_COLOUR, err)) == TB_OK &&
            (rc = check_text(t->dye_lot, TB_FIELD_LOT, err)) == TB_OK &&
            (rc = check_text(t->origin, TB_FIELD_ORIGIN, err)) == TB_OK)
            rc = check_text(t->declared, TB_FIELD_COMPOSITION, err);
    }
    return rc;
}

/* Any bad value refuses the whole file: half a delivery would look like a whole one. */
static tb_rc check_result(struct tb_list_reader *r, struct tb_err *err)
{
    const struct tb_packing_list *l = r->list;
    tb_rc rc = tb_check_questions(l, err);

    if (rc != TB_OK)
        return rc;
    if (l->bad_count == 1)
        return tb_fail(err, TB_EINVAL, "one value cannot be taken; nothing of this file is stored");
    if (l->bad_count)
        return tb_fail(err, TB_EINVAL, "%zu values cannot be taken; nothing of this file is stored",
                       l->bad_count);
    if (l->bolts == 0)
        return tb_fail(err, TB_EINVAL, "there is no bolt under the header of line %zu", r->layout[0]->line);
    return check_texts(l, err);
}

/* A file that changed between the passes was learned as one and taken as another. */
static tb_rc read_passes(struct tb_list_reader *r, const char *path, struct tb_err *err)
{
    struct stat before = { 0 }, after = { 0 };
    tb_rc rc;

    (void)stat(path, &before);
    if (r->opts->digest)
        memcpy(r->list->digest, r->opts->digest, TB_DIGEST_LEN);
    else if ((rc = tb_file_digest(r->list->digest, path, err)) != TB_OK)
        return rc;
    if ((rc = first_pass(r, path, err)) != TB_OK)
        return rc;
    if (r->opts->sheets && !r->sheets_wanted)
        return tb_fail(err, TB_EINVAL, "the workbook has no sheet '%s'", r->opts->sheet[0]);
    if ((rc = tb_intake_settle(r, err)) != TB_OK)
        return rc;
    r->second_pass = true;
    r->title = (struct tb_heads){ 0 };
    r->rows = tb_rows_new();
    if ((rc = pass(r, path, err)) != TB_OK)
        return rc;
    if (stat(path, &after) != 0 || before.st_size != after.st_size ||
        before.st_mtim.tv_sec != after.st_mtim.tv_sec || before.st_mtim.tv_nsec != after.st_mtim.tv_nsec)
        return tb_fail(err, TB_EIO, "the file changed while it was read; try again when it is at rest");
    tb_unseen_end(r);
    tb_legend_say(r);
    tb_list_remarks(r);
    tb_ask_undeclared(r);
    return check_result(r, err);
}

tb_rc tb_read_once(struct tb_packing_list *list, const char *path, const struct tb_intake_opts *opts,
                   struct tb_err *err)
{
    struct tb_list_reader r = { .list = list, .opts = opts, .days = TB_DAY_ALL, .days_written = TB_DAY_ALL };
    tb_rc rc;

    *list = (struct tb_packing_list){ .store = tb_store_new() };
    r.name = opts->name ? opts->name : path;
    r.encoding = opts->encoding;
    r.words = tb_header_words_new(opts->word, opts->words);
    rc = opts->columns ? tb_given_read(&r.given, opts->columns, err) : TB_OK;
    if (rc == TB_OK)
        rc = read_passes(&r, path, err);
    drop(&r);
    tb_legends_free(r.legends);
    tb_header_words_free(r.words);
    return rc;
}
