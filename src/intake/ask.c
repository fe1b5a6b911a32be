/* ask.c - what a file leaves open: questions, each with the options that settle it. */
#include "intake/store.h"

#include <stdlib.h>
#include <string.h>

/* Counted even where it is no longer kept: a file with a question more than shown is not taken either. */
struct tb_question *tb_list_ask(struct tb_packing_list *l, size_t line, const char *fmt, ...)
{
    struct tb_text t = { 0 };
    struct tb_question *q;
    va_list ap;

    l->question_count++;
    if (l->questions == TB_ASK_MOST)
        return NULL;
    if (!l->question)
        l->question = tb_array(struct tb_question, TB_ASK_MOST);
    va_start(ap, fmt);
    tb_text_vsay(&t, fmt, ap);
    va_end(ap);
    q = &l->question[l->questions++];
    *q = (struct tb_question){ .line = line, .ask = tb_store_keep(l->store, tb_text_str(&t), t.n) };
    tb_text_free(&t);
    return q;
}

void tb_list_unask(struct tb_packing_list *l, size_t n)
{
    l->questions = n < l->questions ? n : l->questions;
    l->question_count = n < l->question_count ? n : l->question_count;
}

void tb_list_answer(struct tb_packing_list *l, struct tb_question *q, const char *option, const char *value)
{
    for (size_t i = 0; q && i < q->answers; i++)
        if (strcmp(q->answer[i].option, option) == 0 && strcmp(q->answer[i].value, value) == 0)
            return;
    if (q && q->answers < TB_ANSWERS_MOST)
        q->answer[q->answers++] =
            (struct tb_answer){ tb_store_text(l->store, option), tb_store_text(l->store, value) };
}

bool tb_list_asked(const struct tb_packing_list *l, const char *option, const char *value)
{
    for (size_t i = 0; i < l->questions; i++) {
        const struct tb_answer *a = &l->question[i].answer[0];

        if (l->question[i].answers && strcmp(a->option, option) == 0 &&
            (!value || strcmp(a->value, value) == 0))
            return true;
    }
    return false;
}

bool tb_list_asked_of(const struct tb_packing_list *l, const char *header)
{
    size_t n = strlen(header);

    for (size_t i = 0; i < l->questions; i++)
        for (size_t k = 0; k < l->question[i].answers; k++) {
            const struct tb_answer *a = &l->question[i].answer[k];

            if (strcmp(a->option, "map") == 0 && strncmp(a->value, header, n) == 0 && a->value[n] == '=')
                return true;
        }
    return false;
}
