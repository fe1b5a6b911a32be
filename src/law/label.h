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
    size_t stray_from;       /* first stray word since the percentage that waits */
    unsigned what;           /* what the phrase at hand sets: a row of label_says.c says which */
    enum tb_part_kind ratio; /* the part whose share of the cloth comes next; TB_PART_KINDS: none */
};

/* Token i of the label; beyond the last one an empty sign. */
const struct token *tb_label_at(const struct parser *p, size_t i);
/* Does the word at hand touch the last word of the share, a stroke, hyphen or registered sign aside? */
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
/* Nothing more comes for the percentage that waits. */
void tb_label_end_share(struct parser *p);

/* The word at hand says something of the label or of its next share, and was dealt with. */
bool tb_label_says(struct parser *p, const struct token *t);

#endif
