/*
 * setting.h - the settings a site may choose: names, ranges, defaults, what they do.
 *
 * The book keeps the values; this table says which there are. The help and the manual are drawn from it.
 */
#ifndef TENTERBOOK_SETTING_H
#define TENTERBOOK_SETTING_H

#include "tenterbook/law.h"

#include <stdint.h>

struct tb_book;

enum tb_setting_kind {
    TB_SETTING_TEXT,
    TB_SETTING_PATH, /* a full path, or nothing */
    TB_SETTING_NUMBER,
    TB_SETTING_WHOLE,
    TB_SETTING_CHOICE,
    TB_SETTING_WORDS
};

struct tb_setting_spec {
    const char *name; /* "flame"; "header:" stands for every name that begins so */
    enum tb_setting_kind kind;
    const char
        *choices; /* "yes|no", for TB_SETTING_CHOICE; the words of a TB_SETTING_WORDS, separated by spaces */
    double least, most;   /* for TB_SETTING_NUMBER, TB_SETTING_WHOLE */
    const char *fallback; /* the value until the site sets one */
    bool weighs;          /* verdicts rest on it, or what may be burned */
    const char *brief;    /* what it does, one line */
};

extern const struct tb_setting_spec tb_setting_specs[]; /* ends with a record whose name is NULL */

/* The record for a name. TB_ENOTFOUND names the nearest. */
tb_rc tb_setting_spec(const struct tb_setting_spec **out, const char *name, struct tb_err *err);
/* Whether a value may be set: TB_EINVAL says what it takes. */
tb_rc tb_setting_check(const struct tb_setting_spec *spec, const char *value, struct tb_err *err);
/* The value in force after a journal row (TB_BOOK_NOW: now): the book's, or the fallback. Text is in mem. */
tb_rc tb_setting_text(const char **out, struct tb_book *b, const char *name, int64_t upto,
                      struct tb_arena *mem, struct tb_err *err);
#define TB_TARGET_FAMILY "target:" /* and the day from which it is aimed at */
/*
 * tb_setting_target - "5 % at most one lot in twenty": a share above 0 and below 100 %, and what else the site says of it.
 *   words  behind the sign; borrowed
 *   false  the value does not begin with such a share
 */
bool tb_setting_target(double *share, const char **words, const char *value);
/* Markets the cloth is sold to: those of the setting market, added to the list. */
tb_rc tb_setting_markets(struct tb_market_list *list, struct tb_book *b, struct tb_err *err);
/* The same as a number; a text that is not one gives 0, which tb_setting_check keeps from being set. */
tb_rc tb_setting_number(double *out, struct tb_book *b, const char *name, int64_t upto, struct tb_err *err);

#endif
