/*
 * cmd.h - what a command is, and what one run of it was told. Adding one: copy a small file of src/cli, add one line to its commands.h.
 *
 * The record below is the only description: --help, `tenterbook help`, the manual page and the checks of
 * argument counts and options are drawn from it.
 */
#ifndef TENTERBOOK_LINE_CMD_H
#define TENTERBOOK_LINE_CMD_H

#include "base/say.h"
#include "tenterbook/act.h"
#include "tenterbook/base.h"

#include <stdio.h>

struct tb_ctx;

/* One option, always long. */
struct tb_opt {
    const char *name;  /* "month": given as --month */
    const char *arg;   /* "YYYY-MM"; NULL: a switch */
    const char *brief; /* what it does, one line */
    bool repeats;      /* may be given more than once */
};

enum tb_cmd_flags {
    TB_NO_BOOK = 0,     /* works without a book */
    TB_BOOK = 1 << 0,   /* needs the book: opened before run(), closed after */
    TB_WRITES = 1 << 1, /* writes it (implies TB_BOOK) */
    TB_BOOK_MAYBE =
        1 << 2, /* stateless with options, on the book with arguments: run() calls tb_ctx_book() */
};

struct tb_cmd {
    const char *name;
    const char *args;  /* "LOT --as STANDING --why TEXT" for the usage line */
    const char *brief; /* one line: the list of commands */
    const char *about; /* paragraphs for --help and the manual, separated by \n\n */
    /* what the tables of reference say besides, a paragraph added to out; NULL: nothing */
    void (*also)(struct tb_text *out);
    const char *example;       /* lines a reader may type, separated by \n; NULL: none */
    const struct tb_opt *opts; /* ends with a record whose name is NULL; NULL: none besides --help, --json */
    size_t min, max;           /* how many arguments */
    unsigned flags;
    tb_rc (*run)(struct tb_ctx *ctx, struct tb_err *err);
};

struct tb_ctx {
    const struct tb_cmd *cmd;
    const char *book_path; /* --book, or TENTERBOOK_BOOK, or "tenterbook.db" */
    const char *who;       /* --as-person, or TENTERBOOK_WHO, or the login name */
    struct tb_book *book;  /* open when the command's flags ask for it */
    struct tb_actor actor; /* the book and the person, for acts; set when the book is open */
    struct tb_arena mem;   /* for what lives as long as the command; freed after it */
    bool json;             /* --json */
    bool far_off;          /* --far-off: a day years from today is meant */
    FILE *out;             /* standard output */
    bool done;             /* files that were asked for are there: what fails from here on does not undo it */
    size_t argc;           /* arguments left after the options */
    const char **argv;     /* names without what a scanner puts around them */
    /* options given, in order */
    struct {
        const struct tb_opt *opt;
        const char *value;
    } * given;
    size_t givens;
    struct tb_err *err; /* of the whole run */
    tb_rc rc;           /* TB_OK, or the refusal of the first option that cannot be taken */
};

/* A sentence in the reader's language. */
void tb_say(FILE *out, const char *fmt, ...) TB_PRINTF(2, 3);
/* A name from elsewhere, of a file above all, as it may stand in a line: a line end in it would begin another. Lives as ctx->mem. */
const char *tb_shown(struct tb_ctx *ctx, const char *name);

/* Value of an option, NULL when it was not given; a switch gives "". Of one that repeats the first. */
const char *tb_opt(const struct tb_ctx *ctx, const char *name);
/* Whether it was given at all. */
bool tb_opt_on(const struct tb_ctx *ctx, const char *name);
/* The first option given that is one of these names, separated by spaces; NULL when none was. */
const char *tb_opt_among(const struct tb_ctx *ctx, const char *names);
/* The i-th value of a repeated option, NULL when there are fewer. */
const char *tb_opt_nth(const struct tb_ctx *ctx, const char *name, size_t i);
/* All values of a repeated option in one list, separated by commas, in ctx->mem; NULL when it was not given. */
const char *tb_opt_list(struct tb_ctx *ctx, const char *name);
/* Each of them, of an option that may be given more than once or name several with commas between. */
const char *const *tb_opt_each(size_t *n, struct tb_ctx *ctx, const char *name);
/* What the value of an option was found to mean, from here on; nothing where it was not given. */
void tb_opt_means(struct tb_ctx *ctx, const char *name, const char *value);
/* How many values it was given. */
size_t tb_opt_count(const struct tb_ctx *ctx, const char *name);
/* All values of a repeated option, *n of them. */
const char *const *tb_opt_all(size_t *n, struct tb_ctx *ctx, const char *name);
/*
 * What an option gives, `unless` where it was not given. What it cannot take is refused with the option's name and what it
 * takes: the first such refusal is kept in ctx->rc, for a command to answer once it has read its options.
 */
/* A decimal comma will do; 65 % is 0.65, where the option takes no percent anyway. */
double tb_opt_number(struct tb_ctx *ctx, const char *name, double unless, double least, double most);
long tb_opt_whole(struct tb_ctx *ctx, const char *name, long unless, long least, long most);
/* A chance, above 0 and below 1, or at most 1 where a certainty is possible too: 0.95, 95 % or 95. */
double tb_opt_chance(struct tb_ctx *ctx, const char *name, double unless, bool certain_too);
/* An enumerator of a closed set of words. */
int tb_opt_word(struct tb_ctx *ctx, const char *name, int unless, const struct tb_words *words);
/*
 * A moment that has passed (tb_past_moment), and a day, as lists may have them; NULL where it was not given. Years from today they
 * are taken with --far-off only.
 */
const char *tb_opt_moment(struct tb_ctx *ctx, const char *name);
const char *tb_opt_day(struct tb_ctx *ctx, const char *name);
/* A day of any year: one by which something is kept, or from which a law holds. */
const char *tb_opt_any_day(struct tb_ctx *ctx, const char *name);
/* A month, "2026-03" whatever sign and order it was written with; a misuse where it is none. */
const char *tb_opt_month(struct tb_ctx *ctx, const char *name);
/* Open the book now (for TB_BOOK_MAYBE); does nothing when it is open. */
tb_rc tb_ctx_book(struct tb_ctx *ctx, struct tb_err *err);
/* A failure on standard error, with the options of this command by which it can be helped. */
void tb_print_failure(const struct tb_ctx *ctx, const struct tb_err *err);
/* A misuse found by the command itself: exit 2 with the usage line. */
tb_rc tb_misuse(struct tb_err *err, const char *fmt, ...) TB_PRINTF(2, 3);

/* The book is closed; what is left of ctx can be freed. */
void tb_ctx_close(struct tb_ctx *ctx);

#endif
