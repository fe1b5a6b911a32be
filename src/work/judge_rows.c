/* A table of burns judged row by row: one JSON object for each, every processor at work. */
#include "tenterbook/judge_rows.h"
#include "tenterbook/json.h"

#include "tenterbook/sheet.h"
#include "work/threads.h"

#include <stdlib.h>
#include <string.h>

#include <sodium.h>

enum column { COL_ID, COL_DECLARED, COL_SAW, COL_NOT, COL_LOOKED, COL_COULD_NOT, COLS };
static const struct tb_named_column columns[COLS] = {
    [COL_ID] = { "id", false },         [COL_DECLARED] = { "declared", true },
    [COL_SAW] = { "saw", true },        [COL_NOT] = { "not", false },
    [COL_LOOKED] = { "looked", false }, [COL_COULD_NOT] = { "could-not", false }
};

/* What a row says was seen; `bad`: it cannot be read. */
struct seen {
    struct tb_observation o;
    bool bad;
};

struct judging {
    const struct tb_evidence *ev;
    unsigned want;
    const struct tb_named_row *row;
    struct seen *seen;
    struct tb_likeness *mark; /* equal where the same was seen */
    struct tb_judged_row *out;
};

static char *line_of(json_t *o)
{
    char *s = o ? tb_json_shown(o, JSON_COMPACT) : NULL;
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

static tb_rc read_seen(struct tb_observation *o, const struct tb_named_row *r, struct tb_err *err)
{
    tb_rc rc = tb_observation_read(o, r->field[COL_SAW], r->field[COL_NOT], r->field[COL_LOOKED], err);

    return rc == TB_OK ? tb_observation_could_not(o, r->field[COL_COULD_NOT], err) : rc;
}

static void read_row(void *arg, size_t i)
{
    struct judging *j = arg;
    struct seen *s = &j->seen[i];
    struct tb_err err = { 0 };
    crypto_hash_sha256_state h;

    s->bad = read_seen(&s->o, &j->row[i], &err) != TB_OK;
    (void)crypto_hash_sha256_init(&h);
    (void)crypto_hash_sha256_update(&h, s->o.looked, sizeof s->o.looked);
    (void)crypto_hash_sha256_update(&h, s->o.sight, sizeof s->o.sight);
    (void)crypto_hash_sha256_update(&h, s->o.could_not, sizeof s->o.could_not);
    (void)crypto_hash_sha256_final(&h, j->mark[i].byte);
}

/* A verdict of a group of rows that saw the same, on the words it was asked of. */
struct answered {
    const char *words;
    struct tb_declaration decl;
    struct tb_verdict v;
};
struct group {
    const struct judging *j;
    struct tb_recall *recall;
    struct answered *answered;
    size_t n;
};

static void free_answered(struct answered *a)
{
    tb_verdict_free(&a->v);
    tb_declaration_free(&a->decl);
}

/* Where the same words were asked of the same burn, the same is answered. NULL: the row cannot be judged. */
static const struct answered *answer(struct group *g, const char *words, const struct tb_observation *o,
                                     struct tb_err *err)
{
    struct answered *a = &g->answered[g->n];

    for (size_t i = 0; i < g->n; i++)
        if (strcmp(g->answered[i].words, words) == 0)
            return &g->answered[i];
    a->words = words;
    tb_declaration_read(&a->decl, words, strlen(words));
    if (tb_evidence_judge_sets(&a->v, NULL, g->j->ev, g->recall, &a->decl, o, 1, NULL, 0, g->j->want, err) ==
        TB_OK) {
        g->n++;
        return a;
    }
    free_answered(a);
    *a = (struct answered){ 0 };
    return NULL;
}

/* A row that cannot be read is read once more, for what is wrong with it. */
static char *verdict_of(struct group *g, size_t i, struct tb_err *err)
{
    const struct tb_named_row *r = &g->j->row[i];
    const char *id = r->field[COL_ID];
    struct seen *seen = &g->j->seen[i];
    const struct answered *a;
    char *json;

    if ((seen->bad && read_seen(&seen->o, r, err) != TB_OK) ||
        !(a = answer(g, r->field[COL_DECLARED], &seen->o, err)))
        return NULL;
    json = line_of(tb_verdict_json(&a->v, *id ? id : NULL, &a->decl));
    if (!json)
        (void)tb_fail(err, TB_EFORMAT, "the row holds bytes that are not text (UTF-8)");
    return json;
}

/* Rows that saw the same, one after the other: only the first is weighed against all compositions. */
static void judge_alike(void *arg, const size_t *row, size_t n)
{
    const struct judging *j = arg;
    struct group g = { .j = j, .recall = tb_recall_new(j->ev), .answered = tb_array(struct answered, n) };

    for (size_t k = 0; k < n; k++) {
        const struct tb_named_row *r = &j->row[row[k]];
        struct tb_judged_row *out = &j->out[row[k]];
        struct tb_err err = { 0 };

        *out = (struct tb_judged_row){ .line = r->line, .json = verdict_of(&g, row[k], &err) };
        out->bad = !out->json;
        if (out->bad)
            out->json = line_of(json_pack("{s:o, s:I, s:o}", "id", text_json(r->field[COL_ID]), "line",
                                          (json_int_t)r->line, "error", text_json(err.msg)));
    }
    for (size_t i = 0; i < g.n; i++)
        free_answered(&g.answered[i]);
    free(g.answered);
    tb_recall_free(g.recall);
}

static void judge_rows(struct tb_judged_rows *out, const struct tb_named_row *row, bool outcomes,
                       const struct tb_evidence *ev)
{
    struct judging j = { ev,
                         TB_WANT_CUES | TB_WANT_NEXT | (outcomes ? TB_WANT_OUTCOMES : 0),
                         row,
                         tb_array(struct seen, out->n + 1),
                         tb_array(struct tb_likeness, out->n + 1),
                         out->row };

    tb_in_parallel(read_row, &j, out->n);
    tb_alike_in_parallel(judge_alike, &j, j.mark, out->n);
    for (size_t i = 0; i < out->n; i++)
        out->bad += out->row[i].bad;
    free(j.seen);
    free(j.mark);
}

tb_rc tb_judge_rows(struct tb_judged_rows *out, const char *path, bool outcomes, const struct tb_evidence *ev,
                    struct tb_err *err)
{
    struct tb_named_row *row = NULL;
    struct tb_arena mem = { 0 };
    tb_rc rc;

    *out = (struct tb_judged_rows){ 0 };
    if ((rc = tb_named_rows_read(&row, &out->n, path, columns, COLS, true, &mem, err)) == TB_OK) {
        out->row = tb_array(struct tb_judged_row, out->n + 1);
        judge_rows(out, row, outcomes, ev);
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
