/* todo: what is left to do, for whoever takes over. */
#include "cli/show.h"

#include <stdint.h>

#define SHOWN 20 /* of a kind: a screen holds so many, and a large book has more */

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_todo_request request = { .person = tb_opt(ctx, "by"), .day = tb_opt_day(ctx, "day") };
    bool all = tb_opt_on(ctx, "all");
    char today[TB_DAY_LEN + 1];
    struct tb_text t = { 0 };
    struct tb_todo todo;
    struct tb_outdated outdated = { .n = 0 };
    json_t *j;
    tb_rc rc = ctx->rc;

    tb_today(today);
    request.today = today;
    if (request.person && !*request.person)
        return tb_misuse(err, "--by takes the name of a person who wrote in the book");
    if (rc != TB_OK || (rc = tb_todo_read(&todo, ctx->book, &request, &ctx->mem, err)) != TB_OK)
        return rc;
    /* nobody began it: it is no part of what one person or one day left */
    if (!todo.part && (rc = tb_outdated_read(&outdated, ctx->book, NULL, &ctx->mem, err)) != TB_OK)
        return rc;
    tb_todo_words(&t, &todo, all ? SIZE_MAX : SHOWN);
    for (int k = 0; k < TB_TODO_KINDS; k++)
        if (!all && todo.of[k] > SHOWN) {
            tb_text_say(&t, "All of it: tenterbook todo --all\n");
            break;
        }
    tb_outdated_words(&t, &outdated);
    j = tb_json_todo(&todo);
    tb_json_put(j, "judge_again", tb_json_outdated(&outdated));
    return tb_print(ctx, j, &t, err);
}

static const struct tb_opt opts[] = {
    { "by", "NAME", "only what this person began, and claims", false },
    { "day", "YYYY-MM-DD", "only what began on this day", false },
    { "all", NULL, "every line; else 20 of each kind", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_todo = {
    .name = "todo",
    .args = "[--by NAME] [--day YYYY-MM-DD]",
    .brief = "what is left to do, the most urgent first",
    .about =
        "For whoever takes over: claims that run, with the days left; lots that are held, and single bolts "
        "that are; lots that were "
        "burned and are undecided, with the next test; lots whose words are in doubt; lots that were judged "
        "and not settled; swatches that were cut and not burned; bolts that "
        "were drawn and not cut; lots that wait and of which nothing was drawn; joint samples at a "
        "laboratory, and those kept here. Each with the person "
        "and the day it waits from, the longest first.",
    .example = "tenterbook todo\ntenterbook todo --by \"Ada Fell\"",
    .opts = opts,
    .flags = TB_BOOK,
    .run = run,
};
