/*
 * cut.h - cutting a text into parts, as the files that find the names of parts and where they end share it.
 */
#ifndef TENTERBOOK_FIBRE_CUT_H
#define TENTERBOOK_FIBRE_CUT_H

#include "tenterbook/token.h"

struct cutter {
    const struct tb_tokens *t;
    struct tb_cut *c;
    size_t *loud; /* the tokens that count, by number: quiet signs and what is set aside are passed over */
    size_t n;
    size_t open; /* the part that takes what comes */
    bool closed; /* its name stood behind it: what comes is of another part */
    bool first;  /* words for parts stand before what they are made of, as far as is known */
};

/* Token i of those that count; beyond the ends a separator. */
const struct tb_token *tb_cut_at(const struct cutter *k, size_t i);
/* Is it a filler that the table marks so: "with", "except"? */
bool tb_cut_is_filler(const struct tb_token *t, const char *means);
bool tb_cut_is_part(const struct tb_token *t);
/* "PU coating" names a part and what it is of in one word. */
bool tb_cut_is_both(const struct tb_token *t);
/* Does token i begin a name of a part? Then *end is the last token of the name. */
bool tb_cut_names(const struct cutter *k, size_t i, size_t *end);
/* "cotton backing 100% cotton": does the word before the part i only say what kind of part it is? */
bool tb_cut_has_kind(const struct cutter *k, size_t i);
/* Do words for parts stand before what they are made of, as far as the whole text tells? */
bool tb_cut_parts_first(const struct cutter *k);
/* Does the name at i .. end open what follows, or close what stands before it? Notes which, for the names to come. */
bool tb_cut_opens(struct cutter *k, size_t i, size_t end);

#endif
