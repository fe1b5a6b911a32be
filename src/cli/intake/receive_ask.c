/* What a list leaves open: all of it at once with the line that settles it, or one by one at a terminal. */
#include "base/infile.h"
#include "cli/intake/receive.h"
#include "tenterbook/said.h"
#include "terminal/typed.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define STANDARD_MOST (256ull << 20) /* bytes that are piped in */

/* A word as a shell takes it: quoted where it holds more than letters, figures and a few signs. */
static void add_word(struct tb_text *line, const char *word)
{
    static const char plain[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_./:=,@%+-";

    if (*word && !word[strspn(word, plain)]) {
        tb_text_addf(line, " %s", word);
        return;
    }
    tb_text_add(line, " '");
    for (const char *c = word; *c; c++)
        if (*c == '\'')
            tb_text_add(line, "'\\''");
        else
            tb_text_addc(line, *c);
    tb_text_addc(line, '\'');
}

static void add_option(struct tb_text *line, const char *name, const char *value)
{
    tb_text_addf(line, " --%s", name);
    if (value)
        add_word(line, value);
}

static bool takes_value(const struct tb_answer *a)
{
    return strcmp(a->option, "numbers-by-lot") != 0;
}

/* The command as it was given, for this file alone, and after it what the list leaves open as it is likely meant. */
static void command_line(struct tb_text *line, const struct tb_ctx *ctx, const char *path,
                         const struct tb_packing_list *l)
{
    const char *set = getenv("TENTERBOOK_BOOK");

    tb_text_add(line, "tenterbook");
    if (strcmp(ctx->book_path, set && *set ? set : "tenterbook.db") != 0)
        add_option(line, "book", ctx->book_path);
    tb_text_addf(line, " %s", ctx->cmd->name);
    add_word(line, path);
    for (size_t i = 0; i < ctx->givens; i++)
        add_option(line, ctx->given[i].opt->name, ctx->given[i].opt->arg ? ctx->given[i].value : NULL);
    for (size_t i = 0; i < l->questions; i++)
        if (l->question[i].answers)
            add_option(line, l->question[i].answer[0].option,
                       takes_value(&l->question[i].answer[0]) ? l->question[i].answer[0].value : NULL);
}

static void likely(struct tb_text *t, const struct tb_answer *a)
{
    tb_text_addf(t, "--%s", a->option);
    if (takes_value(a))
        add_word(t, a->value);
}

void tb_receive_open(struct tb_ctx *ctx, const char *path, const struct tb_packing_list *l)
{
    struct tb_text line = { 0 };

    if (!l->questions)
        return;
    for (size_t i = 0; i < l->questions; i++) {
        const struct tb_question *q = &l->question[i];
        struct tb_text t = { 0 };

        if (l->question_count > 1 || l->bad_count)
            tb_say(stderr, "%s: %s\n", tb_shown(ctx, path), tb_shown(ctx, q->ask));
        for (size_t k = 0; k < q->answers && (q->open ? !q->proposed : k == 0); k++) {
            tb_text_clear(&t);
            likely(&t, &q->answer[k]);
            tb_say(stderr,
                   q->open       ? N_("    one of: %s\n")
                   : q->proposed ? N_("    proposed: %s\n")
                                 : N_("    likely: %s\n"),
                   tb_shown(ctx, t.s));
        }
        tb_text_free(&t);
    }
    if (!l->tried) {
        tb_say(
            stderr,
            "No command line is printed, as none is sure to be right: say what has no likely answer, mend "
            "the "
            "values that are listed (--total-line LINE leaves out a row that is no bolt), or type the list "
            "(receive --by-hand).\n");
        return;
    }
    command_line(&line, ctx, path, l);
    tb_say(stderr, "With all of that as it stands here:\n    %s\n", tb_shown(ctx, line.s));
    tb_text_free(&line);
}

tb_rc tb_receive_standard(struct tb_text *bytes, struct tb_err *err)
{
    FILE *f;
    char path[32];
    tb_rc rc;

    if (isatty(STDIN_FILENO))
        tb_say(stderr, "Paste the list; then press Enter, and Control and D.\n");
    if ((rc = tb_in_standard(&f, STANDARD_MOST, err)) != TB_OK)
        return tb_within(err, rc, "%s", _("standard input"));
    (void)snprintf(path, sizeof path, "/proc/self/fd/%d", fileno(f));
    rc = tb_in_whole(bytes, path, STANDARD_MOST, err);
    (void)fclose(f);
    clearerr(stdin); /* at a terminal the answers come after the list */
    return rc;
}

/* ---- at a terminal ------------------------------------------------------------------------------------------ */

bool tb_receive_at_terminal(const struct tb_ctx *ctx)
{
    return !ctx->json && !tb_opt_on(ctx, "yes") && (tb_opt_on(ctx, "by-hand") || tb_at_terminal());
}

/* Enter takes the likely answer, a figure another one, and where any text does, a text. */
static const struct tb_answer *chosen(struct tb_answer *own, const struct tb_question *q, const char *line)
{
    char *end;
    unsigned long n = strtoul(line, &end, 10);

    if (!*line)
        return q->open ? NULL : &q->answer[0];
    if (!*end && n >= 1 && n <= q->answers && !q->proposed)
        return &q->answer[n - 1];
    if (!q->proposed)
        return NULL;
    *own = (struct tb_answer){ q->answer[0].option, strcmp(line, "\"\"") == 0 ? "" : line };
    return own;
}

/* One question until it is answered; TB_EINVAL: the person went away. */
static tb_rc ask_one(struct tb_ctx *ctx, struct tb_intake_opts *o, const struct tb_question *q,
                     struct tb_err *err)
{
    tb_rc rc = TB_EINVAL;

    if (!q->answers)
        return tb_fail(err, TB_EINVAL, "%s", q->ask);
    (void)fprintf(ctx->out, "%s\n", tb_shown(ctx, q->ask));
    for (size_t i = 0; i < q->answers; i++) {
        struct tb_text t = { 0 };

        likely(&t, &q->answer[i]);
        if (q->proposed && q->open)
            tb_say(ctx->out, "  Type the text of --%s, or two quotation marks where there is none.\n",
                   q->answer[i].option);
        else if (q->proposed)
            tb_say(ctx->out, "  Enter: %s; or type another\n", tb_shown(ctx, t.s));
        else
            tb_say(ctx->out, i || q->open ? N_("  %zu: %s\n") : N_("  %zu or Enter: %s\n"), i + 1,
                   tb_shown(ctx, t.s));
        tb_text_free(&t);
    }
    while (rc != TB_OK) {
        struct tb_answer own;
        const struct tb_answer *a;
        char *line;

        (void)fputs("> ", ctx->out);
        if (!(line = tb_typed(ctx->out)))
            return tb_fail(err, TB_EINVAL, "the questions were not answered; nothing of this file is stored");
        a = chosen(&own, q, line);
        rc = a ? tb_intake_answer(o, a->option, a->value, &ctx->mem, err) : TB_EINVAL;
        if (!a)
            tb_say(ctx->out, "That is not one of the answers.\n");
        else if (rc != TB_OK)
            (void)fprintf(ctx->out, "%s\n", tb_shown(ctx, err->msg));
        free(line);
    }
    return rc;
}

/* Yes unless it is said otherwise: everything was shown before. */
static tb_rc confirm(struct tb_ctx *ctx, const struct tb_receive_outcome *out, struct tb_err *err)
{
    char *line;
    bool yes;

    tb_receipt_preview(ctx->out, out);
    tb_say(ctx->out, "Take it in? Enter takes it in, n leaves it.\n> ");
    line = tb_typed(ctx->out);
    yes = line && (!*line || *line == 'y' || *line == 'Y');
    free(line);
    return yes ? TB_OK : tb_fail(err, TB_EINVAL, "the list was left; nothing of it is stored");
}

static tb_rc ask_all(struct tb_ctx *ctx, struct tb_intake_opts *o, const struct tb_packing_list *l,
                     struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; rc == TB_OK && i < l->questions; i++)
        rc = ask_one(ctx, o, &l->question[i], err);
    return rc;
}

/* A reason, typed; NULL: the person leaves it. "n" is an answer to another question. */
static char *typed_reason(struct tb_ctx *ctx)
{
    for (;;) {
        char *line;

        tb_say(ctx->out, "Type why it comes again, if it is another delivery; Enter leaves it.\n> ");
        line = tb_typed(ctx->out);
        if (!line || tb_reason_told(line))
            return line;
        if (!line[strspn(line, " ")]) {
            free(line);
            return NULL;
        }
        tb_say(ctx->out, "'%s' is no reason: whoever reads the book later learns nothing from it.\n",
               tb_shown(ctx, line));
        free(line);
    }
}

/* Goods that the book seems to have: shown beside what is there, and taken in where the person says why they come again. */
static tb_rc ask_why(struct tb_ctx *ctx, struct tb_receive_request *trial,
                     const struct tb_receive_outcome *out, struct tb_err *err)
{
    struct tb_err refused = *err;
    char *line;

    (void)fprintf(ctx->out, "%s\n", tb_shown(ctx, err->msg));
    (void)fflush(ctx->out);
    tb_receipt_twin(ctx, &out->twin);
    if ((line = typed_reason(ctx))) {
        trial->again = true;
        trial->why = tb_arena_strdup(&ctx->mem, line);
        free(line);
        return TB_OK;
    }
    *err = refused;
    return TB_EEXISTS;
}

/* The answers may leave other things open than the likely ones did, so the list is read again until nothing is. */
tb_rc tb_receive_converse(struct tb_ctx *ctx, struct tb_receive_request *request, struct tb_err *err)
{
    struct tb_receive_request trial = *request;
    bool open = true;
    tb_rc rc = TB_OK;

    trial.dry = true;
    while (rc == TB_OK && open) {
        struct tb_receive_outcome out;

        rc = tb_act_receive(&out, &ctx->actor, &trial, &ctx->mem, err);
        if (trial.progress)
            (void)fputs("\r\033[K", stderr);
        open = rc == TB_EINVAL && out.list.questions;
        if (open)
            rc = ask_all(ctx, &trial.list, &out.list, err);
        else if (rc == TB_EEXISTS && out.twin.there.ref && !trial.again)
            open = (rc = ask_why(ctx, &trial, &out, err)) == TB_OK;
        else if (rc == TB_OK && !request->dry)
            rc = confirm(ctx, &out, err);
        else if (rc != TB_OK)
            tb_receipt_bad(ctx, request->path, &out.list);
        tb_receive_outcome_free(&out);
    }
    request->list = trial.list;
    request->again = trial.again;
    request->why = trial.why;
    return rc;
}
