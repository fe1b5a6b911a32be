/* void.h - inside the module: what voiding a record and moving it to another swatch share. */
#ifndef TENTERBOOK_WORK_VOID_H
#define TENTERBOOK_WORK_VOID_H

#include "tenterbook/act_void.h"
#include "work/act.h"
#include "work/remains.h"

/*
 * tb_void_find - the record that is meant, and that it can be voided.
 *   lot    reference, for the number of a bolt; NULL
 *   fails  TB_ENOTFOUND, TB_EINVAL several bolts are called so, TB_EREFUSED it is void already or was corrected
 */
tb_rc tb_void_find(struct tb_void_subject *out, struct tb_book *b, const char *name, const char *lot,
                   struct tb_arena *mem, struct tb_err *err);

/*
 * tb_void_rejudge - after a record of a lot was voided, or counts again: the lot is judged by what is left, the verdict is recorded
 * where it changed, the hold where it is due.
 *   out    lifted, disputed, ahead and judged are set
 *   was    what the lot stood as before
 *   left   what was weighed before the lock
 */
tb_rc tb_void_rejudge(struct tb_void_lot *out, struct tb_job *job, const char *lot_ref,
                      enum tb_standing_kind was, struct tb_remains *left);

/* Whether that is the table of what was on paper: a laboratory's report, a step of a dispute. */
bool tb_void_is_paper(const char *about);
/* tb_void_check_last - the step that a dispute went on with after this one; NULL: it is the last, or something else. */
tb_rc tb_void_check_last(const char **later, struct tb_book *b, const struct tb_void_subject *subject,
                         struct tb_arena *mem, struct tb_err *err);
/* tb_void_check_turn - that a step that counts again stands in its turn; TB_EREFUSED. Anything else does. */
tb_rc tb_void_check_turn(struct tb_book *b, const struct tb_void_subject *subject, struct tb_arena *mem,
                         struct tb_err *err);
/* tb_void_paper_after - after such a record was voided, or counts again: the lot as it is, what is concluded of it, whether its hold is lifted. */
tb_rc tb_void_paper_after(struct tb_void_lot *out, struct tb_job *job, const char *lot_ref,
                          enum tb_standing_kind was);

#endif
