/* receive --by-hand: a list is typed, question by question, at a terminal or through a pipe. */
#include "base/infile.h"
#include "cli/intake/receive.h"
#include "tenterbook/by_hand.h"
#include "tenterbook/outfile.h"
#include "terminal/typed.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define KEPT_MOST (16u << 20) /* bytes of answers that were kept */

/* Before the bolts are typed, and not after: a note that was taken in already is mostly the same paper. */
static void warn_of_note(bool *asked, struct tb_ctx *ctx, const struct tb_hand *h)
{
    const char *said[3];
    struct tb_err why = { 0 };
    bool headed = tb_hand_headed(h, said);

    if (headed && !*asked && !tb_opt_on(ctx, "again") &&
        tb_receive_note_check(ctx->book, said[0], said[1], said[2], &why) == TB_EEXISTS) {
        tb_print_failure(ctx, &why);
        tb_say(ctx->out, "back goes back to what was typed; the list can be typed all the same.\n");
    }
    *asked = headed;
}

/* Until all is said. TB_EINVAL: the person went away. */
static tb_rc ask_all(struct tb_ctx *ctx, struct tb_hand *h, struct tb_err *err)
{
    const char *question;
    bool asked = false;

    if (isatty(STDIN_FILENO))
        tb_say(ctx->out, "Each answer on a line; back goes to the question before.\n");
    while ((question = tb_hand_ask(h)) != NULL) {
        char *line;

        warn_of_note(&asked, ctx, h);

        (void)fprintf(ctx->out, "%s\n> ", tb_shown(ctx, question));
        if (!(line = tb_typed(ctx->out)))
            return tb_fail(err, TB_EINVAL, "the list was not typed to its end; nothing of it is recorded");
        if (tb_hand_answer(h, line, err) != TB_OK)
            (void)fprintf(ctx->out, "%s\n", tb_shown(ctx, err->msg));
        free(line);
    }
    return TB_OK;
}

static tb_rc go_on(struct tb_hand *h, const char *path, struct tb_err *err)
{
    struct tb_text kept = { 0 };
    tb_rc rc = tb_in_whole(&kept, path, KEPT_MOST, err);

    if (rc == TB_OK)
        rc = strlen(tb_text_str(&kept)) == kept.n
                 ? tb_hand_go_on(h, tb_text_str(&kept), err)
                 : tb_fail(err, TB_EFORMAT, "these are not answers that were kept of a list typed by hand");
    tb_text_free(&kept);
    return rc == TB_OK ? rc : tb_within(err, rc, "%s", path);
}

static tb_rc write_kept(const struct tb_hand *h, const char *path, bool replace, struct tb_err *err)
{
    struct tb_outset files = { .replace = replace };
    struct tb_outfile *out = NULL;
    struct tb_text kept = { 0 };
    tb_rc rc = tb_outset_add(&out, &files, path, ".txt", err);

    tb_hand_kept(&kept, h);
    if (rc == TB_OK && fwrite(kept.s, 1, kept.n, out->f) != kept.n)
        rc = tb_fail(err, TB_EIO, "%s cannot be written", path);
    tb_text_free(&kept);
    return tb_outset_end(&files, rc, err);
}

/* The name of a file for the answers, from the person at the terminal; NULL: they are dropped. */
static char *ask_name(struct tb_ctx *ctx)
{
    char *name = NULL;

    if (tb_at_terminal()) {
        tb_say(ctx->out,
               "Keep what was typed? Type the name of a new file, NAME.txt, or Enter to drop it.\n> ");
        clearerr(stdin); /* Control and D ends the answers, not the talk */
        name = tb_typed(ctx->out);
    }
    if (name && !*name) {
        free(name);
        name = NULL;
    }
    return name;
}

/* What was typed and is not in the book is kept where that was said; the sentence why it is not is still to come. */
static void keep(struct tb_ctx *ctx, const struct tb_hand *h)
{
    const char *from = ctx->argc ? ctx->argv[0] : NULL, *said = tb_opt(ctx, "keep");
    const char *path = said ? said : from;
    struct tb_err spare = { 0 };
    char *typed = NULL;

    while (path || (typed = ask_name(ctx)) != NULL) {
        const char *to = path ? path : typed;

        if (write_kept(h, to, from && strcmp(to, from) == 0, &spare) == TB_OK) {
            tb_say(stderr, "What was typed is kept in %s; tenterbook receive --by-hand %s goes on with it.\n",
                   tb_shown(ctx, to), tb_shown(ctx, to));
            free(typed);
            return;
        }
        (void)fprintf(stderr, "%s\n", tb_shown(ctx, spare.msg));
        free(typed);
        path = NULL;
    }
    tb_say(stderr, "What was typed is not kept; --keep NAME.txt keeps it.\n");
}

tb_rc tb_receive_by_hand(struct tb_ctx *ctx, const struct tb_receive_request *said, struct tb_err *err)
{
    struct tb_hand *h = tb_hand_new(&said->list);
    struct tb_receive_request request = *said;
    struct tb_sent sent = { .name = _("typed by hand") };
    struct tb_text table = { 0 };
    tb_rc rc = ctx->argc ? go_on(h, ctx->argv[0], err) : TB_OK;

    if (rc != TB_OK) {
        tb_hand_free(h);
        return rc;
    }
    if ((rc = ask_all(ctx, h, err)) == TB_OK) {
        tb_hand_table(&table, h);
        tb_hand_settles(&request.list, h, &ctx->mem);
        sent.bytes = tb_text_str(&table);
        sent.size = table.n;
        request.sent = &sent;
        rc = tb_receive_list(ctx, &request, sent.name, NULL, err);
    }
    if (rc != TB_OK && tb_hand_begun(h))
        keep(ctx, h);
    tb_text_free(&table);
    tb_hand_free(h);
    return rc;
}
