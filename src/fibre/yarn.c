/*
 * "core polyester, cover cotton": the parts of one yarn, and none of the cloth. What both are of is a blend. Where only one of
 * the two is named, nobody knows what the rest of the yarn is, and the word stays one that is asked about.
 */
#include "fibre/reader.h"

#include <string.h>

#define YARN "yarn:"

static bool is_of_yarn(const struct tb_token *t, const char *which)
{
    const struct tb_name *row = t->kind == TB_TOKEN_WORD && t->what == TB_WORD_FILLER ? tb_row_of(t) : NULL;

    return row && strncmp(row->means, YARN, strlen(YARN)) == 0 &&
           (!which || strcmp(row->means + strlen(YARN), which) == 0);
}

/* "cover" is a part of the cloth where no core stands beside it. */
static bool is_sheath(const struct tb_token *t)
{
    return is_of_yarn(t, "sheath") || (t->kind == TB_TOKEN_WORD && t->what == TB_WORD_PART &&
                                       t->part == TB_PART_SHELL && tb_row_of(t)->fibre < 0);
}

/* It says nothing of the fibres, nor does a colon behind it. */
static void pass_over(struct tb_tokens *t, size_t i)
{
    t->item[i].kind = TB_TOKEN_QUIET;
    if (i + 1 < t->n && t->item[i + 1].kind == TB_TOKEN_COLON)
        t->item[i + 1].kind = TB_TOKEN_QUIET;
}

void tb_take_yarn(struct tb_tokens *t)
{
    bool core = false, sheath = false;

    for (size_t i = 0; i < t->n; i++) {
        core |= is_of_yarn(&t->item[i], "core");
        sheath |= is_sheath(&t->item[i]);
    }
    for (size_t i = 0; i < t->n; i++) {
        struct tb_token *x = &t->item[i];

        if (core && sheath && (is_of_yarn(x, NULL) || is_sheath(x))) {
            pass_over(t, i);
        } else if (is_of_yarn(x, NULL)) {
            x->what = TB_WORD_UNKNOWN;
            x->row = -1;
        }
    }
}
