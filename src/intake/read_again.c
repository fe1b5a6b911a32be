/* read_again.c - a list is read with the likely answers to what it leaves open, until nothing more is asked. */
#include "intake/reader.h"

#include "base/say.h"

#include <stdlib.h>
#include <string.h>

/* All questions stand in the list; one alone is the sentence of the refusal. */
tb_rc tb_check_questions(const struct tb_packing_list *l, struct tb_err *err)
{
    if (l->question_count == 0)
        return TB_OK;
    if (l->bad_count)
        return tb_fail(
            err, TB_EINVAL,
            "things left open: %zu, values that cannot be taken: %zu; nothing of this file is stored",
            l->question_count, l->bad_count);
    if (l->question_count == 1)
        return tb_fail(err, TB_EINVAL, "%s", l->question[0].ask);
    return tb_fail(err, TB_EINVAL, "%zu things are left open; nothing of this file is stored",
                   l->question_count);
}

/* What was asked in all readings, and how a list is read that has the likely answers. */
struct asking {
    struct tb_arena mem;
    struct tb_intake_opts opts;
    struct tb_question question[TB_ASK_MOST];
    size_t n, count;
    bool open; /* one of them has no likely answer */
};

/* Takes over the questions of a reading and answers each as is likely, or may be. False: one cannot be answered. */
static bool answer_likely(struct asking *a, const struct tb_packing_list *l)
{
    bool answered = l->questions == l->question_count;
    struct tb_err spare = { 0 };

    a->count += l->question_count;
    for (size_t i = 0; i < l->questions && a->n < TB_ASK_MOST; i++) {
        struct tb_question *q = &a->question[a->n++];

        *q = l->question[i];
        q->ask = tb_arena_strdup(&a->mem, q->ask);
        for (size_t k = 0; k < q->answers; k++)
            q->answer[k] = (struct tb_answer){ tb_arena_strdup(&a->mem, q->answer[k].option),
                                               tb_arena_strdup(&a->mem, q->answer[k].value) };
        answered =
            answered && q->answers &&
            tb_intake_answer(&a->opts, q->answer[0].option, q->answer[0].value, &a->mem, &spare) == TB_OK;
        a->open = a->open || q->open || !q->answers;
    }
    return answered;
}

/* "columns", or the map of a column: what the rows hold hangs on it. A word for a total changes no bolt. */
static bool says_columns(const struct tb_answer *a)
{
    const char *field = strrchr(a->value, '=');

    return strcmp(a->option, "columns") == 0 ||
           (strcmp(a->option, "map") == 0 && field && strcmp(field + 1, tb_field_key(TB_FIELD_TOTAL)) != 0);
}

/* Where a total does not agree with what the likely columns make of the list, they are not sure. */
static void doubt_columns(struct asking *a)
{
    for (size_t i = 0; i < a->n; i++) {
        struct tb_question *q = &a->question[i];

        if (q->open || !q->answers || !says_columns(&q->answer[0]))
            continue;
        q->ask = tb_arena_printf(&a->mem, _("%s; read so, a total of the list does not agree with its bolts"),
                                 q->ask);
        q->open = a->open = true;
    }
}

/* All that was asked, in the list that the last reading made. */
static void put_questions(struct tb_packing_list *l, const struct asking *a)
{
    free(l->question);
    l->question = tb_array(struct tb_question, TB_ASK_MOST);
    l->questions = 0;
    for (size_t i = 0; i < a->n; i++) {
        const struct tb_question *from = &a->question[i];
        struct tb_question *q = &l->question[l->questions++];

        *q = *from;
        q->answers = 0;
        q->ask = tb_store_keep(l->store, from->ask, strlen(from->ask));
        for (size_t k = 0; k < from->answers; k++)
            tb_list_answer(l, q, from->answer[k].option, from->answer[k].value);
    }
    l->question_count = a->count;
}

#define READINGS_MOST 8

/*
 * A question hides those that come after it in the file. So the file is read again with the likely answers until nothing
 * more is asked: the person hears everything at once, and what they are told to say has been tried.
 */
tb_rc tb_packing_list_read(struct tb_packing_list *list, const char *path, const struct tb_intake_opts *opts,
                           struct tb_err *err)
{
    struct asking *a;
    tb_rc rc = tb_read_once(list, path, opts, err);

    if (rc != TB_EINVAL || !list->question_count)
        return rc;
    a = tb_new(struct asking);
    a->opts = *opts;
    a->opts.digest = tb_arena_strdup(&a->mem, list->digest);
    for (size_t i = 1; rc == TB_EINVAL && list->question_count && answer_likely(a, list) && i < READINGS_MOST;
         i++) {
        tb_packing_list_free(list);
        rc = tb_read_once(list, path, &a->opts, err);
    }
    if (rc == TB_OK && list->totals_off)
        doubt_columns(a);
    put_questions(list, a);
    list->tried = rc == TB_OK && !a->open;
    if (rc == TB_OK || list->bad_count || rc == TB_EINVAL)
        rc = tb_check_questions(list, err);
    tb_arena_free(&a->mem);
    free(a);
    return rc;
}
