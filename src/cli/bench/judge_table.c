/* judge_table.c - judge --from: a table of burns in, one JSON object a line out, every processor at work. */
#include "cli/bench/judge.h"
#include "work/threads.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

#include <csv.h>

#define CELLS_MOST 64

enum column { COL_ID, COL_DECLARED, COL_SAW, COL_NOT, COL_LOOKED, COLS };
static const char *const column_name[COLS] = { "id", "declared", "saw", "not", "looked" };

struct row {
    size_t line;
    char *cell[COLS];
    char *result; /* one line of JSON */
    bool bad;
};

struct table {
    struct row *row;
    size_t n, cap;
    int at[COLS]; /* column of each name; -1 where the file has none */
    bool header_done;
    size_t line;    /* of the row being read */
    size_t newline; /* line feeds inside quoted cells of that row */
    char *cell[CELLS_MOST];
    size_t cells;
    struct tb_err *err;
    tb_rc rc;
};

/* --- reading ------------------------------------------------------------------------------------------------ */

static void on_cell(void *data, size_t n, void *arg)
{
    struct table *t = arg;

    if (t->cells < CELLS_MOST)
        t->cell[t->cells] = tb_strndup(data ? data : "", data ? n : 0);
    t->cells++;
    for (size_t i = 0; data && i < n; i++)
        t->newline += ((const char *)data)[i] == '\n';
}

static void take_header(struct table *t)
{
    for (int c = 0; c < COLS; c++) {
        t->at[c] = -1;
        for (size_t i = 0; i < t->cells && i < CELLS_MOST; i++)
            if (strcasecmp(t->cell[i], column_name[c]) == 0)
                t->at[c] = (int)i;
    }
    if (t->at[COL_DECLARED] < 0 || t->at[COL_SAW] < 0)
        t->rc = tb_fail(
            t->err, TB_EINVAL,
            "the first row must name the columns id, declared, saw, not, looked; at least declared and saw");
    t->header_done = true;
}

static void take_row(struct table *t)
{
    struct row r = { .line = t->line };

    for (int c = 0; c < COLS; c++)
        r.cell[c] = tb_strdup(t->at[c] >= 0 && (size_t)t->at[c] < t->cells ? t->cell[t->at[c]] : "");
    TB_PUSH_ROOM(t->row, t->n, t->cap);
    t->row[t->n++] = r;
}

static void on_row(int ch, void *arg)
{
    struct table *t = arg;
    bool empty = t->cells == 0 || (t->cells == 1 && t->cell[0][0] == '\0');

    (void)ch;
    if (t->rc == TB_OK && !empty && !t->header_done)
        take_header(t);
    else if (t->rc == TB_OK && !empty)
        take_row(t);
    for (size_t i = 0; i < t->cells && i < CELLS_MOST; i++)
        free(t->cell[i]);
    t->cells = 0;
    t->line += 1 + t->newline;
    t->newline = 0;
}

static tb_rc parse(struct table *t, FILE *in, const char *path, struct tb_err *err)
{
    struct csv_parser p;
    char buf[65536], *from;
    size_t n;
    bool first = true;

    if (csv_init(&p, CSV_STRICT | CSV_STRICT_FINI | CSV_APPEND_NULL) != 0)
        return tb_fail(err, TB_EIO, "%s could not be read", path);
    while (t->rc == TB_OK && (n = fread(buf, 1, sizeof buf, in)) > 0) {
        from = first && n >= 3 && memcmp(buf, "\xef\xbb\xbf", 3) == 0 ? buf + 3 : buf;
        n -= (size_t)(from - buf);
        first = false;
        if (csv_parse(&p, from, n, on_cell, on_row, t) != n)
            t->rc = tb_fail(err, TB_EFORMAT, "%s, line %zu: %s", path, t->line, csv_strerror(csv_error(&p)));
    }
    if (t->rc == TB_OK && ferror(in))
        t->rc = tb_fail(err, TB_EIO, "%s could not be read: %s", path, strerror(errno));
    if (t->rc == TB_OK && csv_fini(&p, on_cell, on_row, t) != 0)
        t->rc = tb_fail(err, TB_EFORMAT, "%s, line %zu: a quotation mark is not closed", path, t->line);
    for (size_t i = 0; i < t->cells && i < CELLS_MOST; i++)
        free(t->cell[i]);
    csv_free(&p);
    if (t->rc == TB_OK && !t->header_done)
        t->rc = tb_fail(err, TB_EINVAL, "%s is empty", path);
    return t->rc;
}

/* --- judging -------------------------------------------------------------------------------------------------- */

struct judging {
    const struct tb_evidence *ev;
    struct row *row;
};

static char *line_of(json_t *o)
{
    char *s = o ? json_dumps(o, JSON_COMPACT | JSON_REAL_PRECISION(17)) : NULL;
    char *mine = s ? tb_strdup(s) : NULL;

    free(s);
    json_decref(o);
    return mine;
}

static json_t *text_json(const char *s)
{
    json_t *o = json_string(s);

    return o ? o : json_string("(not UTF-8)");
}

static void judge_row(struct row *r, const struct tb_evidence *ev)
{
    struct tb_declaration decl = { 0 };
    struct tb_observation o = { 0 };
    struct tb_verdict v = { 0 };
    struct tb_err err = { 0 };
    const char *id = r->cell[COL_ID];

    tb_declaration_read(&decl, r->cell[COL_DECLARED], strlen(r->cell[COL_DECLARED]));
    if (tb_observation_read(&o, r->cell[COL_SAW], r->cell[COL_NOT], r->cell[COL_LOOKED], &err) == TB_OK &&
        tb_evidence_judge(&v, ev, &decl, &o, 1, TB_WANT_CUES | TB_WANT_NEXT, &err) == TB_OK) {
        r->result = line_of(tb_verdict_json(&v, *id ? id : NULL, &decl));
        if (!r->result)
            (void)tb_fail(&err, TB_EFORMAT, "the row holds bytes that are not text (UTF-8)");
    }
    if (!r->result) {
        r->bad = true;
        r->result = line_of(json_pack("{s:o, s:I, s:o}", "id", text_json(id), "line", (json_int_t)r->line,
                                      "error", text_json(err.msg)));
    }
    tb_verdict_free(&v);
    tb_declaration_free(&decl);
}

static void judge_one(void *arg, size_t i)
{
    struct judging *j = arg;

    judge_row(&j->row[i], j->ev);
}

static tb_rc print_all(FILE *out, const struct table *t, const char *path, struct tb_err *err)
{
    size_t bad = 0, first = 0;

    for (size_t i = 0; i < t->n; i++) {
        (void)fprintf(out, "%s\n", t->row[i].result);
        if (t->row[i].bad && bad++ == 0)
            first = t->row[i].line;
    }
    if (bad)
        return tb_fail(err, TB_EINVAL,
                       "%s: %zu of %zu rows could not be judged, the first on line %zu; the output says why",
                       path, bad, t->n, first);
    return TB_OK;
}

tb_rc tb_judge_table(struct tb_ctx *ctx, const char *path, struct tb_err *err)
{
    struct tb_evidence_settings set;
    struct tb_evidence *ev = NULL;
    struct table t = { .line = 1, .err = err };
    bool standard = strcmp(path, "-") == 0;
    FILE *in = standard ? stdin : fopen(path, "rb");
    tb_rc rc;

    tb_evidence_defaults(&set);
    if (!in)
        return tb_fail(err, TB_EIO, "%s cannot be opened: %s", path, strerror(errno));
    if ((rc = tb_judge_settings(&set, ctx, err)) == TB_OK && (rc = parse(&t, in, path, err)) == TB_OK &&
        (rc = tb_evidence_new(&ev, &set, NULL, 0, err)) == TB_OK) {
        tb_in_parallel(judge_one, &(struct judging){ ev, t.row }, t.n);
        rc = print_all(ctx->out, &t, path, err);
    }
    if (!standard)
        (void)fclose(in);
    for (size_t i = 0; i < t.n; i++) {
        for (int c = 0; c < COLS; c++)
            free(t.row[i].cell[c]);
        free(t.row[i].result);
    }
    free(t.row);
    tb_evidence_free(ev);
    return rc;
}
