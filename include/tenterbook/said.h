/*
 * said.h - what people say, before it goes into records: it is text, of a length somebody wrote, without what a terminal
 * obeys, and not only blanks.
 */
#ifndef TENTERBOOK_SAID_H
#define TENTERBOOK_SAID_H

#include "tenterbook/base.h"
#include "tenterbook/limits.h"

/*
 * tb_said_check - whether a text may be recorded, and come out again on screens and in workbooks.
 *   what   begins the sentence: "the note"
 *   fails  TB_EINVAL: too long, bytes that are not UTF-8, a control character
 */
tb_rc tb_said_check(const char *what, const char *text, struct tb_err *err);
/* Whether there is nothing in it but blanks: a reason of three spaces is none. */
bool tb_said_blank(const char *text);
/*
 * Whether a text gives a reason to whoever reads the book later: fewer than three letters, one letter over and over, and words that
 * say that there is none ("n/a", "none") do not. NULL does not.
 */
bool tb_reason_told(const char *why);
/* tb_reason_check - the same as a refusal: TB_EINVAL for a text that is not blank and gives no reason. NULL and blank ones pass. */
tb_rc tb_reason_check(const char *why, struct tb_err *err);
/* Whether a name may stand in the journal for who wrote. TB_EINVAL: nobody is named, more than
 * TB_NAME_MOST bytes, or as tb_said_check. */
tb_rc tb_said_person(const char *who, struct tb_err *err);

#endif
