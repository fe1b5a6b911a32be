/* send.h - inside the module: what an analysis has to know of the samples that went to laboratories. */
#ifndef TENTERBOOK_WORK_SEND_H
#define TENTERBOOK_WORK_SEND_H

#include "tenterbook/sending.h"
#include "work/act.h"

/*
 * tb_laboratory_of_sendings - a name of a laboratory becomes the one that stands where a sample of this lot was sent, whatever its case
 * and its blanks: a report answers what was sent by that name. NULL, or a name that is like none of them, stays.
 */
tb_rc tb_laboratory_of_sendings(const char **name, struct tb_job *job, const char *lot_id);

/*
 * tb_sent_later - the first sample of a lot at this laboratory (or at any, where it is not named), if all that waits there was sent
 * after `day`: a report of that day can hardly be about it.
 *   out    sent_on NULL: there is no such doubt
 */
tb_rc tb_sent_later(struct tb_sending *out, struct tb_job *job, const char *lot_id, const char *laboratory,
                    const char *day);

#endif
