/*
 * label.h - a label on its way from tokens to parts and shares, as the files that read it share it.
 */
#ifndef TENTERBOOK_LAW_LABEL_H
#define TENTERBOOK_LAW_LABEL_H

#include "law/inside.h"

struct parser {
    struct label *l;
    size_t i;                /* token at hand */
    struct tb_part *now;     /* the part it is in */
    struct tb_share next;    /* what waits for its name: a percentage (NAN: none), marks, "or more" */
    bool after;              /* in this part the percentage stands after the name */
    bool styled;             /* before or after is settled */
    size_t figure;           /* token of the percentage that waits */
    size_t stray_from;       /* first stray word since the percentage that waits */
    unsigned what;           /* what the phrase at hand sets: a row of label_says.c says which */
    enum tb_part_kind ratio; /* the part whose share of the cloth comes next; TB_PART_KINDS: none */
};

/* Token i of the label; beyond the last one an empty sign. */
const struct token *tb_label_at(const struct parser *p, size_t i);
/* Does a bracket open with it? */
bool tb_label_opens(const struct token *t);
/* Does the word at hand touch the last word of the share, a stroke, bracket, hyphen or registered sign aside? */
bool tb_label_touches(const struct parser *p, const struct tb_share *s);

/* The last share of the part at hand; NULL when it has none. */
struct tb_share *tb_label_last(const struct parser *p);
/* Note a token as a word of the share. */
void tb_label_name(const struct parser *p, const struct tb_share *s, size_t token);
/* A new share under the word at hand, with what waited for its name. */
struct tb_share *tb_label_add(struct parser *p, int fibre, size_t token);
/* "Wool / Laine", "Coton Cotton": is the word at hand another name of the last share? Then it is noted so. */
bool tb_label_again(struct parser *p, int fibre);
/* The word at hand names a fibre. */
void tb_label_fibre(struct parser *p, int fibre, unsigned marks);
/* The word at hand was not understood. */
void tb_label_add_stray(const struct parser *p);
/* Nothing more comes for the percentage that waits. */
void tb_label_end_share(struct parser *p);

/* What is said of a part of a fibre by a figure of its own, and of the whole of it without one. */
#define OF_A_PART (TB_MARK_RECYCLED | TB_MARK_VIRGIN)
/* Note the tokens from .. before `to` as said of a part of the share at hand. */
void tb_label_add_aside(const struct parser *p, size_t from, size_t to);
/* A bracket opens: "(50 % recycled)" is noted as an aside and passed over, anything else is read on. */
void tb_label_bracket(struct parser *p);
/* A bracket ends: what was said in it of a fibre's past ("partly recycled") is of no fibre that comes after it. */
void tb_label_bracket_ends(struct parser *p);
/* A figure comes, and marks wait: with other words about them ("half recycled") they are not of the name that comes after it. */
void tb_label_marks_wait(struct parser *p);
/* A clause ends, and marks wait: they are of no name that comes after it, and of the only fibre where there is one. */
void tb_label_clause_ends(struct parser *p);
/* The part ends: such marks are given to its only fibre. */
void tb_label_settle_loose(struct parser *p);
/* "of which 50 % recycled": the same behind these words. */
void tb_label_of_which(struct parser *p);

/* The words at hand leave something out: "exclusive of" or "except"; "without" does only where the law knows what. */
void tb_label_except(struct parser *p);
void tb_label_without(struct parser *p);
/* Does the word leave something out in one piece ("exclusive of elastic")? Then it was dealt with. */
bool tb_label_leaves_out(struct parser *p, const struct token *t);

/* The word at hand says something of the label or of its next share, and was dealt with. */
bool tb_label_says(struct parser *p, const struct token *t);

#endif
