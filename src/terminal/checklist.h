/*
 * checklist.h - pages of things that may be there or not, answered with one key each: a machine that takes keys and shows screens. It
 * reads no terminal, so that every way through it can be tried.
 *
 * On a page: 1 to 9 mark a thing as seen, and again take the mark back; ! before a figure says that it was looked for and is not
 * there; ! and Enter that nothing of the page is there; a space that nobody looked; ? that it could not be judged; + shows the
 * things that do not fit; Enter goes on; 0 or Backspace goes back, on a page
 * of many things to those shown before. Behind the pages stands a summary: Enter takes it. q leaves.
 */
#ifndef TENTERBOOK_TERMINAL_CHECKLIST_H
#define TENTERBOOK_TERMINAL_CHECKLIST_H

#include "tenterbook/base.h"
#include "terminal/keys.h"

enum tb_check_mark { TB_CHECK_UNMARKED, TB_CHECK_SEEN, TB_CHECK_ABSENT };
enum tb_check_look { TB_CHECK_NOT_LOOKED, TB_CHECK_LOOKED, TB_CHECK_COULD_NOT };
enum tb_check_end { TB_CHECK_GOES_ON, TB_CHECK_TAKEN, TB_CHECK_LEFT };

struct tb_check_item {
    const char *name; /* what it is called in the summary */
    const char *text; /* what a person is asked */
    int mark;         /* enum tb_check_mark */
    const char
        *by; /* what was marked elsewhere and means that this is there: it cannot be denied. NULL: nothing */
};
struct tb_check_page {
    const char *name, *text;
    struct tb_check_item *item;
    size_t items;
    size_t from; /* the first thing shown */
    int look;    /* enum tb_check_look */
};
struct tb_checklist {
    const char *head; /* what all of it is about, a line */
    struct tb_check_page *page;
    size_t pages;
    size_t at;        /* page; `pages`: the summary */
    bool absent;      /* ! was pressed: the next figure says that a thing is not there */
    const char *hint; /* why the last key did nothing; NULL */
    enum tb_check_end end;
};

#define TB_CHECK_KEYS 9       /* things a screen has figures for */
#define TB_KEY_BACKSPACE '\b' /* what a terminal sends for it, or DEL */

/* One key, as a byte or as keys.h names it; others than those above do nothing but say so. */
void tb_checklist_key(struct tb_checklist *c, int key);
/* What stands on the screen now, whole lines, added to out. */
void tb_checklist_screen(struct tb_text *out, const struct tb_checklist *c);

#endif
