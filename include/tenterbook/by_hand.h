/*
 * by_hand.h - a packing list that a person types, question by question: for paper, and for files nobody can read.
 *
 * Each answer is checked when it is given, and `back` takes the last one back. What comes of it is a packing list as others
 * are: a table that tb_packing_list_read takes. It knows no terminal; whoever asks shows the question and hands the line on.
 */
#ifndef TENTERBOOK_BY_HAND_H
#define TENTERBOOK_BY_HAND_H

#include "tenterbook/intake.h"

struct tb_hand;

/*
 * tb_hand_new - begin; free with tb_hand_free.
 *   said  supplier, note and day that are said there are not asked; number_by_lot lets a bolt number stand in several lots.
 *         Texts are borrowed for as long as it lives
 */
struct tb_hand *tb_hand_new(const struct tb_intake_opts *said);
void tb_hand_free(struct tb_hand *h);

/* The question that is open: a whole sentence, borrowed until the next answer; NULL: all is said. */
const char *tb_hand_ask(struct tb_hand *h);
/*
 * tb_hand_answer - the answer to it, one line; "back" goes to the question before.
 *   fails  TB_EINVAL: it is no answer to that question, which stays open; the sentence says why
 */
tb_rc tb_hand_answer(struct tb_hand *h, const char *line, struct tb_err *err);
/* Whose list it is, borrowed: supplier, note and day, "" where they are not said. False until all three were asked for. */
bool tb_hand_headed(const struct tb_hand *h, const char *said[3]);
/* Has anything been answered? */
bool tb_hand_begun(const struct tb_hand *h);

/* The list as a table, added to out. All must be said. */
void tb_hand_table(struct tb_text *out, const struct tb_hand *h);
/* How that table is read; what is said there already counts. What is added lives in mem. */
void tb_hand_settles(struct tb_intake_opts *opts, const struct tb_hand *h, struct tb_arena *mem);

/*
 * tb_hand_kept - the answers, so that they can be gone on with later: a line that says what they are, then a line an answer.
 * The answer that ended the list is left out. tb_hand_go_on takes them.
 *   fails  TB_EFORMAT: not such a text; TB_EINVAL: a line that is no answer; the sentence names it
 */
void tb_hand_kept(struct tb_text *out, const struct tb_hand *h);
tb_rc tb_hand_go_on(struct tb_hand *h, const char *kept, struct tb_err *err);

#endif
