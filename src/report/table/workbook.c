/* workbook.c - the file itself: begun, closed, looked at, pushed to the disk; the set gives it its name. */
#include "report/table/workbook_impl.h"

#include "base/say.h"
#include "tenterbook/date.h"
#include "tenterbook/utf8.h"

#include <assert.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

tb_rc tb_lxw(struct tb_err *err, lxw_error e, const char *path)
{
    if (e == LXW_NO_ERROR)
        return TB_OK;
    (void)tb_fail(err, TB_EIO,
                  e >= LXW_ERROR_CREATING_XLSX_FILE && e <= LXW_ERROR_ZIP_CLOSE
                      ? N_("%s cannot be written: the disk is full or failed")
                      : N_("%s cannot be written"),
                  path);
    tb_detail(err, "xlsxwriter: %s", lxw_strerror(e));
    return TB_EIO;
}

long tb_moment_seconds(const char *moment)
{
    return ((moment[11] - '0') * 10 + moment[12] - '0') * 3600 +
           ((moment[14] - '0') * 10 + moment[15] - '0') * 60 + (moment[17] - '0') * 10 + moment[18] - '0';
}

/*
 * The moment of the plan, else that of the clock: the library would stamp its own, and no two files would be alike.
 */
static lxw_error set_properties(struct tb_workbook *w, const char *created)
{
    char now[TB_MOMENT_LEN + 1];
    lxw_doc_properties p = { .title = w->title, .subject = w->subject };

    tb_paper_now(now);
    if (!created || !tb_moment_valid(created))
        created = now;
    p.created = (time_t)(tb_day_number(created) * 86400 + tb_moment_seconds(created));
    return workbook_set_properties(w->lxw, &p);
}

/* Counted in characters, so that none is cut in half. */
char *tb_caption_words(const char *words, size_t most)
{
    char *valid = tb_utf8_mend(words, strlen(words));
    struct tb_text t = { 0 };
    size_t n = strlen(valid);

    for (size_t at = 0, count = 0; at < n; count++) {
        unsigned cp;
        size_t used = tb_utf8_next(valid + at, n - at, &cp);

        if (count == most) {
            tb_text_add(&t, "\xE2\x80\xA6");
            break;
        }
        if (tb_utf8_control(cp))
            tb_text_addc(&t, ' ');
        else
            tb_text_addn(&t, valid + at, used);
        at += used;
    }
    free(valid);
    return tb_text_take(&t);
}

tb_rc tb_workbook_open(struct tb_workbook **out, const struct tb_workbook_plan *plan, struct tb_err *err)
{
    lxw_workbook_options options = { .constant_memory = LXW_TRUE };
    struct tb_workbook *w;
    struct tb_outfile *file;
    char *folder;
    lxw_error e;
    tb_rc rc = tb_outset_add(&file, plan->files, plan->path, ".xlsx", err);

    /* large passing files go beside the result: there is room for it there, or not at all */
    if (rc != TB_OK || (rc = tb_outfile_lend(file, err)) != TB_OK ||
        (rc = tb_outset_work(&folder, plan->files, err)) != TB_OK)
        return rc;
    w = tb_new(struct tb_workbook);
    w->file = file;
    w->plan = *plan;
    w->title = tb_caption_words(plan->title ? plan->title : "", TB_TITLE_MOST);
    w->subject = tb_caption_words(plan->subject ? plan->subject : "", TB_TITLE_MOST);
    w->stem = tb_strndup(plan->path, strlen(plan->path) - strlen(".xlsx"));
    options.tmpdir = w->folder = folder;
    w->lxw = workbook_new_opt(w->file->part, &options);
    e = w->lxw ? set_properties(w, plan->created) : LXW_ERROR_MEMORY_MALLOC_FAILED;
    if ((rc = tb_lxw(err, e, plan->path)) != TB_OK) {
        tb_workbook_drop(w);
        return rc;
    }
    *out = w;
    return TB_OK;
}

/* STEM-lots.csv beside STEM.xlsx. */
static tb_rc open_twin(struct tb_tab *s, struct tb_err *err)
{
    struct tb_text path = { 0 };
    tb_rc rc;

    tb_text_addf(&path, "%s-%s.csv", s->w->stem, s->plan.key);
    rc = tb_outset_add(&s->twin, s->w->plan.files, tb_text_str(&path), ".csv", err);
    if (rc == TB_OK)
        s->csv = s->twin->f;
    tb_text_free(&path);
    return rc;
}

/*
 * The sheet is the workbook's from the first line on: whoever closes or drops that frees it, also after a failure here.
 */
tb_rc tb_tab_begin(struct tb_tab **out, struct tb_workbook *w, const struct tb_tab_plan *plan,
                   struct tb_err *err)
{
    struct tb_tab *s = tb_new(struct tb_tab);
    tb_rc rc;

    assert(plan->columns > 0 && strlen(plan->tab) <= 25);
    s->w = w;
    s->decimals = DECIMALS_OF_COLUMN;
    s->plan = *plan;
    s->col = tb_array(struct column, plan->columns);
    for (size_t i = 0; i < plan->columns; i++)
        s->col[i].plan = plan->column[i];
    TB_PUSH_ROOM(w->sheet, w->sheets, w->sheet_cap);
    w->sheet[w->sheets++] = s;
    if (!plan->no_twin && (rc = open_twin(s, err)) != TB_OK)
        return rc;
    tb_csv_heading(s);
    if ((rc = tb_piece_begin(s, err)) != TB_OK)
        return rc;
    *out = s;
    return TB_OK;
}

/* Standard error while the library closes a workbook: where it is kept, and who says the last words of a run without memory. */
static int kept;
static tb_no_memory_fn *say_last;

static void aloud(void)
{
    (void)dup2(kept, STDERR_FILENO);
    if (say_last)
        say_last();
}

/* The library prints what fails on standard error; what there is to say is said in one sentence, by whoever asked. */
static lxw_error close_quietly(lxw_workbook *lxw)
{
    int nowhere = open("/dev/null", O_WRONLY | O_CLOEXEC);
    lxw_error e;

    kept = fcntl(STDERR_FILENO, F_DUPFD_CLOEXEC, STDERR_FILENO + 1);
    say_last = tb_on_no_memory(aloud);
    if (kept >= 0 && nowhere >= 0)
        (void)dup2(nowhere, STDERR_FILENO);
    e = workbook_close(lxw);
    if (kept >= 0) {
        (void)dup2(kept, STDERR_FILENO);
        (void)close(kept);
    }
    (void)tb_on_no_memory(say_last);
    if (nowhere >= 0)
        (void)close(nowhere);
    return e;
}

/* Everything of it that can fail. */
static tb_rc finish(struct tb_workbook *w, struct tb_err *err)
{
    lxw_workbook *lxw;
    tb_rc rc;

    for (size_t i = 0; i < w->sheets; i++)
        if ((rc = tb_tab_end(w->sheet[i], err)) != TB_OK)
            return rc;
    if ((rc = tb_workbook_account(w, err)) != TB_OK)
        return rc;
    lxw = w->lxw;
    w->lxw = NULL; /* freed by the call, whatever it answers */
    if ((rc = tb_lxw(err, close_quietly(lxw), w->file->path)) != TB_OK ||
        (rc = tb_workbook_inspect(w, err)) != TB_OK || (rc = tb_outfile_settle(w->file, err)) != TB_OK)
        return rc;
    for (size_t i = 0; i < w->sheets; i++)
        if (w->sheet[i]->twin && (rc = tb_outfile_settle(w->sheet[i]->twin, err)) != TB_OK)
            return rc;
    return TB_OK;
}

tb_rc tb_workbook_close(struct tb_workbook *w, struct tb_err *err)
{
    tb_rc rc = finish(w, err);

    tb_workbook_drop(w);
    return rc;
}

void tb_workbook_drop(struct tb_workbook *w)
{
    if (!w)
        return;
    for (size_t i = 0; i < w->sheets; i++)
        tb_tab_free(w->sheet[i]);
    if (w->lxw)
        lxw_workbook_free(w->lxw);
    free(w->sheet);
    free(w->format);
    free(w->expect);
    free(w->title);
    free(w->subject);
    free(w->folder);
    free(w->stem);
    free(w);
}
