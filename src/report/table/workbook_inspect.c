/*
 * workbook_inspect.c - a finished workbook is read again. The library does not look whether the disk took its temporary
 * files: what is missing of one is missing in the archive, with a checksum that fits.
 */
#include "report/table/workbook_impl.h"

#include <expat.h>
#include <stdlib.h>
#include <string.h>

#include "gen/late_archive.h"

#define ROWS_BEGIN "<sheetData>"
#define ROWS_END "</sheetData>"
#define BLOCK 65536

static tb_rc cannot(const struct tb_workbook *w, struct tb_err *err)
{
    return tb_fail(err, TB_EIO, "%s cannot be written: the disk is full or failed", w->file->path);
}

/* The library keeps the last row of each worksheet back until it closes: none comes after it now. */
tb_rc tb_workbook_account(struct tb_workbook *w, struct tb_err *err)
{
    lxw_worksheet *ws;

    STAILQ_FOREACH(ws, w->lxw->worksheets, list_pointers)
    {
        FILE *f = ws->optimize_tmpfile;
        off_t bytes = 0;

        lxw_worksheet_write_single_row(ws);
        if (f && (fflush(f) != 0 || ferror(f) || (bytes = ftello(f)) < 0))
            return cannot(w, err);
        TB_PUSH_ROOM(w->expect, w->expects, w->expect_cap);
        w->expect[w->expects++] = (struct expected){ ws->index + 1, bytes };
    }
    return TB_OK;
}

/*
 * One part being read. Its XML is looked at, but for the rows of a worksheet: a million of them would take as long again
 * as writing them. They are counted to the byte.
 */
struct part {
    XML_Parser xml;
    const struct expected *rows; /* NULL: there are none */
    off_t left;                  /* bytes of rows still to come, once they have begun; -1: before */
    char head[BLOCK * 2];        /* what came before the rows, as far as it is not parsed yet */
    size_t n;
};

static bool parse(struct part *p, const char *text, size_t n, bool last)
{
    return XML_Parse(p->xml, text, (int)n, last) == XML_STATUS_OK;
}

/* Parsed up to the rows; true also where they have not begun yet. A mark over two blocks is kept for the next. */
static bool feed_head(struct part *p, const char *text, size_t n, size_t *used)
{
    size_t mark = strlen(ROWS_BEGIN), whole;
    const char *at;

    memcpy(p->head + p->n, text, n);
    at = memmem(p->head, p->n + n, ROWS_BEGIN, mark);
    if (at) {
        whole = (size_t)(at - p->head) + mark;
        *used = whole - p->n;
        p->left = p->rows->bytes;
        p->n = 0;
        return parse(p, p->head, whole, false);
    }
    *used = n;
    p->n += n;
    whole = p->n > mark ? p->n - mark : 0;
    if (whole && !parse(p, p->head, whole, false))
        return false;
    memmove(p->head, p->head + whole, p->n - whole);
    p->n -= whole;
    return true;
}

/* After the rows the next thing is their end: the parser, which has not seen them, takes the list as empty. */
static bool feed(struct part *p, const char *text, size_t n)
{
    while (p->rows && n) {
        size_t used = n;

        if (p->left < 0) {
            if (!feed_head(p, text, n, &used))
                return false;
        } else if (p->left > 0) {
            used = (off_t)n < p->left ? n : (size_t)p->left;
            p->left -= (off_t)used;
        } else {
            p->rows = NULL;
            break;
        }
        text += used;
        n -= used;
    }
    return !n || parse(p, text, n, false);
}

/* A worksheet without rows has no list of them to begin. */
static const struct expected *rows_of(const struct tb_workbook *w, const char *name)
{
    static const char folder[] = "xl/worksheets/sheet";

    if (strncmp(name, folder, strlen(folder)) != 0)
        return NULL;
    for (size_t i = 0; i < w->expects; i++)
        if (w->expect[i].worksheet == strtol(name + strlen(folder), NULL, 10))
            return w->expect[i].bytes ? &w->expect[i] : NULL;
    return NULL;
}

/* The archive's checksum is compared by reading to the end. */
static bool read_part(zip_file_t *f, const struct expected *rows)
{
    struct part *p = tb_new(struct part);
    char *block = tb_alloc(BLOCK, 1);
    zip_int64_t n = 0;
    bool good = (p->xml = XML_ParserCreate(NULL)) != NULL;

    p->rows = rows;
    p->left = -1;
    while (good && (n = zip_fread(f, block, BLOCK)) > 0)
        good = feed(p, block, (size_t)n);
    good = good && n == 0 && !p->rows && parse(p, "", 0, true);
    XML_ParserFree(p->xml);
    free(block);
    free(p);
    return good;
}

static bool is_whole(zip_t *z, const struct tb_workbook *w)
{
    zip_int64_t parts = zip_get_num_entries(z, 0);
    bool good = parts > 0;

    for (zip_int64_t i = 0; i < parts && good; i++) {
        const char *name = zip_get_name(z, (zip_uint64_t)i, 0);
        zip_file_t *f = zip_fopen_index(z, (zip_uint64_t)i, 0);

        good = name && f && read_part(f, rows_of(w, name));
        if (f)
            good = zip_fclose(f) == 0 && good;
    }
    return good;
}

tb_rc tb_workbook_inspect(struct tb_workbook *w, struct tb_err *err)
{
    int why = 0;
    zip_t *z = zip_open(w->file->part, ZIP_RDONLY | ZIP_CHECKCONS, &why);
    bool good = z && is_whole(z, w);

    if (z)
        zip_discard(z);
    return good ? TB_OK : cannot(w, err);
}
