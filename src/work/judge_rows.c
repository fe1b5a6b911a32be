/* A table of burns judged row by row: one JSON object for each, every processor at work. */
#include "tenterbook/judge_rows.h"

#include "tenterbook/sheet.h"
#include "work/threads.h"

#include <stdlib.h>
#include <string.h>

enum column { COL_ID, COL_DECLARED, COL_SAW, COL_NOT, COL_LOOKED, COLS };
static const struct tb_named_column columns[COLS] = { [COL_ID] = { "id", false },
                                                      [COL_DECLARED] = { "declared", true },
                                                      [COL_SAW] = { "saw", true },
                                                      [COL_NOT] = { "not", false },
                                                      [COL_LOOKED] = { "looked", false } };

struct judging {
    const struct tb_evidence *ev;
    const struct tb_named_row *row;
    struct tb_judged_row *out;
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

static struct tb_judged_row judge_row(const struct tb_named_row *r, const struct tb_evidence *ev)
{
    struct tb_declaration decl = { 0 };
    struct tb_observation o = { 0 };
    struct tb_verdict v = { 0 };
    struct tb_err err = { 0 };
    const char *id = r->field[COL_ID];
    struct tb_judged_row out = { .line = r->line };

    tb_declaration_read(&decl, r->field[COL_DECLARED], strlen(r->field[COL_DECLARED]));
    if (tb_observation_read(&o, r->field[COL_SAW], r->field[COL_NOT], r->field[COL_LOOKED], &err) == TB_OK &&
        tb_evidence_judge(&v, ev, &decl, &o, 1, TB_WANT_CUES | TB_WANT_NEXT, &err) == TB_OK) {
        out.json = line_of(tb_verdict_json(&v, *id ? id : NULL, &decl));
        if (!out.json)
            (void)tb_fail(&err, TB_EFORMAT, "the row holds bytes that are not text (UTF-8)");
    }
    if (!out.json) {
        out.bad = true;
        out.json = line_of(json_pack("{s:o, s:I, s:o}", "id", text_json(id), "line", (json_int_t)r->line,
                                     "error", text_json(err.msg)));
    }
    tb_verdict_free(&v);
    tb_declaration_free(&decl);
    return out;
}

static void judge_one(void *arg, size_t i)
{
    struct judging *j = arg;

    j->out[i] = judge_row(&j->row[i], j->ev);
}

tb_rc tb_judge_rows(struct tb_judged_rows *out, const char *path, const struct tb_evidence *ev,
                    struct tb_err *err)
{
    struct tb_named_row *row = NULL;
    struct tb_arena mem = { 0 };
    tb_rc rc;

    *out = (struct tb_judged_rows){ 0 };
    if ((rc = tb_named_rows_read(&row, &out->n, path, columns, COLS, true, &mem, err)) == TB_OK) {
        struct judging j = { ev, row, tb_array(struct tb_judged_row, out->n + 1) };

        out->row = j.out;
        tb_in_parallel(judge_one, &j, out->n);
        for (size_t i = 0; i < out->n; i++)
            out->bad += out->row[i].bad;
    }
    tb_arena_free(&mem);
    return rc;
}

void tb_judged_rows_free(struct tb_judged_rows *rows)
{
    for (size_t i = 0; i < rows->n && rows->row; i++)
        free(rows->row[i].json);
    free(rows->row);
    *rows = (struct tb_judged_rows){ 0 };
}
