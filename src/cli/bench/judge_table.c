/* judge_table.c - judge --from: a table of burns in, one JSON object a line out, every processor at work. */
#include "cli/bench/judge.h"
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

struct result {
    char *line; /* of JSON */
    bool bad;
};

struct judging {
    const struct tb_evidence *ev;
    const struct tb_named_row *row;
    struct result *result;
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

static struct result judge_row(const struct tb_named_row *r, const struct tb_evidence *ev)
{
    struct tb_declaration decl = { 0 };
    struct tb_observation o = { 0 };
    struct tb_verdict v = { 0 };
    struct tb_err err = { 0 };
    const char *id = r->field[COL_ID];
    struct result out = { 0 };

    tb_declaration_read(&decl, r->field[COL_DECLARED], strlen(r->field[COL_DECLARED]));
    if (tb_observation_read(&o, r->field[COL_SAW], r->field[COL_NOT], r->field[COL_LOOKED], &err) == TB_OK &&
        tb_evidence_judge(&v, ev, &decl, &o, 1, TB_WANT_CUES | TB_WANT_NEXT, &err) == TB_OK) {
        out.line = line_of(tb_verdict_json(&v, *id ? id : NULL, &decl));
        if (!out.line)
            (void)tb_fail(&err, TB_EFORMAT, "the row holds bytes that are not text (UTF-8)");
    }
    if (!out.line) {
        out.bad = true;
        out.line = line_of(json_pack("{s:o, s:I, s:o}", "id", text_json(id), "line", (json_int_t)r->line,
                                     "error", text_json(err.msg)));
    }
    tb_verdict_free(&v);
    tb_declaration_free(&decl);
    return out;
}

static void judge_one(void *arg, size_t i)
{
    struct judging *j = arg;

    j->result[i] = judge_row(&j->row[i], j->ev);
}

static tb_rc print_all(FILE *out, const struct judging *j, size_t n, const char *path, struct tb_err *err)
{
    size_t bad = 0, first = 0;

    for (size_t i = 0; i < n; i++) {
        (void)fprintf(out, "%s\n", j->result[i].line);
        if (j->result[i].bad && bad++ == 0)
            first = j->row[i].line;
    }
    if (bad)
        return tb_fail(err, TB_EINVAL,
                       "%s: %zu of %zu rows could not be judged, the first on line %zu; the output says why",
                       path, bad, n, first);
    return TB_OK;
}

tb_rc tb_judge_table(struct tb_ctx *ctx, const char *path, struct tb_err *err)
{
    struct tb_evidence *ev = NULL;
    struct tb_named_row *row = NULL;
    struct tb_arena mem = { 0 };
    size_t n = 0;
    tb_rc rc;

    if ((rc = tb_judge_model(&ev, ctx, err)) == TB_OK &&
        (rc = tb_named_rows_read(&row, &n, path, columns, COLS, true, &mem, err)) == TB_OK) {
        struct judging j = { ev, row, tb_array(struct result, n + 1) };

        tb_in_parallel(judge_one, &j, n);
        rc = print_all(ctx->out, &j, n, path, err);
        for (size_t i = 0; i < n; i++)
            free(j.result[i].line);
        free(j.result);
    }
    tb_arena_free(&mem);
    tb_evidence_free(ev);
    return rc;
}
