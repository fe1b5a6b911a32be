/* show.h - how commands print: JSON through jansson, tables in columns, and the pieces several of them share. */
#ifndef TENTERBOOK_CLI_SHOW_H
#define TENTERBOOK_CLI_SHOW_H

#include "cli/cmd.h"
#include "tenterbook/act_bench.h"
#include "tenterbook/json.h"
#include "tenterbook/table.h"

/* A sentence in the reader's language. */
void tb_say(FILE *out, const char *fmt, ...) TB_PRINTF(2, 3);
/* One more part of an enumeration, in the reader's language; ", " stands between the parts. */
void tb_part(struct tb_text *list, const char *fmt, ...) TB_PRINTF(2, 3);
/* One more clause of a sentence; "; " stands between the clauses. */
void tb_clause(struct tb_text *sentence, const char *fmt, ...) TB_PRINTF(2, 3);

/* Print and release. Numbers with 17 digits, so that reading them back gives the same. */
tb_rc tb_print_json(struct tb_ctx *ctx, json_t *json, struct tb_err *err);
json_t *tb_json_lot(const struct tb_lot *lot);

/* "1 lot", "3 lots": a count in a sentence that has others; `word` is the one that goes with n. Returns out. */
#define TB_COUNTED 64
const char *tb_counted(char out[TB_COUNTED], size_t n, const char *word);

/* An option that gives a moment (tb_past_moment) or a day; one that is not given leaves *out alone. */
tb_rc tb_opt_moment(const char **out, const struct tb_ctx *ctx, const char *name, struct tb_arena *mem,
                    struct tb_err *err);
tb_rc tb_opt_day(const char **out, const struct tb_ctx *ctx, const char *name, struct tb_err *err);

/* One or two lines: the verdict, its ratio in words, the coverage, and a hold. */
void tb_print_rejudged(struct tb_ctx *ctx, const struct tb_rejudged *r);
/* "260 to 1 for it", "45 to 1 against it", "about even": an evidence ratio in plain words. */
void tb_ratio_words(struct tb_text *out, double log_ratio);
/*
 * What to say of a moment before the delivery arrived; nothing is added when it is not, or is
 * NULL (now). The arrival is a day of the
 * site's own clock, the moment is UTC: the day before may be the same morning east of Greenwich.
 */
void tb_early_words(struct tb_text *out, const char *moment, const struct tb_lot *lot);
/* The same as a line "Note: ..." on the output, or the key "note" of the JSON. */
void tb_print_early(struct tb_ctx *ctx, json_t *json, const char *moment, const struct tb_lot *lot);
/* The cautions, one a line, under a heading. */
void tb_print_cautions(struct tb_ctx *ctx, const struct tb_composition *c, const char *test);

#endif
