/*
 * act_site.h - the acts about the warehouse itself: set one of its settings.
 *
 * A book is made and copied by tb_book_make and tb_book_keep (book.h), which are whole as they are.
 */
#ifndef TENTERBOOK_ACT_SITE_H
#define TENTERBOOK_ACT_SITE_H

#include "tenterbook/act.h"

struct tb_set_request {
    const char *name;  /* of a setting of setting.h; "header:WORD" teaches packing lists a word */
    const char *value; /* "" takes back a text; see tb_setting_check */
};
/*
 * tb_act_set - set one setting; what was set before stays in the book.
 *   fails  TB_ENOTFOUND no such setting or market; TB_EINVAL a value the setting does not take
 */
tb_rc tb_act_set(const struct tb_actor *actor, const struct tb_set_request *request, struct tb_err *err);

#endif
