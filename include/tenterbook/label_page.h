/*
 * label_page.h - the label itself, to be sewn on, stuck on a roll or hung up as a placard: the lawful lines of one market on
 * paper of the size that is asked for.
 */
#ifndef TENTERBOOK_LABEL_PAGE_H
#define TENTERBOOK_LABEL_PAGE_H

#include "tenterbook/label_lot.h"
#include "tenterbook/outfile.h"

#define TB_LABEL_WIDTH 60.0 /* millimetres, where nothing is said */
#define TB_LABEL_HEIGHT 40.0
#define TB_LABEL_LEAST 10.0 /* millimetres each way */
#define TB_LABEL_MOST_MM 500.0

/* The lines of one label; borrowed. */
struct tb_label_lines {
    char *const *line;
    size_t n;
};

struct tb_label_plan {
    struct tb_outset *files;
    const char
        *path; /* ends in ".pdf": a page a label; in ".png": a picture of 300 dots an inch, of one label */
    const struct tb_label_lines *label;
    size_t n;
    double width, height; /* millimetres */
    const char *language; /* of the words, "de"; NULL: not said */
    const char *subject;  /* for the title among the properties, "W26-001.01 (eu, gb)"; NULL: not said */
    const char *created;  /* moment for the properties; NULL: now */
};
/*
 * tb_label_write - the labels as a file of a set: letters as large as the size allows, no word broken, no figure torn off its fibre.
 *
 *   fails  TB_EINVAL: a size out of range, more than one label for a picture, words that do not fit in letters of 4 points; TB_EIO:
 *          a font is missing, the drawing library failed; as tb_outset_add
 */
tb_rc tb_label_write(const struct tb_label_plan *plan, struct tb_err *err);

/*
 * tb_label_finished - may these labels be handed over? Asked before one is written.
 *
 *   out      as tb_label_check gave it for this request
 *   fails    TB_EREFUSED: the lot was returned or does not conform in the market; without `anyway` the book has something else against
 *            it (enum tb_label_goods); the market is not known well enough; it has no wording, or a clause has something against the
 *            wording itself. The sentence says which
 */
tb_rc tb_label_finished(const struct tb_label_outcome *out, struct tb_book *b,
                        const struct tb_label_request *request, struct tb_err *err);

/* Whether what a market says of some words ends in a label that may be printed, and if not, what is in its way. */
enum tb_label_stand {
    TB_LABEL_STANDS,
    TB_LABEL_NOT_KNOWN,  /* the rules known do not say whether the words may stand */
    TB_LABEL_NO_WORDING, /* there is none; why says what the law module says of it */
    TB_LABEL_FAULT,      /* a clause has something against the wording itself; why says which and what */
    TB_LABEL_NO_ORIGIN,  /* the market asks for the country of origin on the label, and nobody said it */
};
/*
 * tb_label_stands - of an answer of the law module; the wording is put before the law again.
 *   why     added to
 *   facts   those of the question
 */
tb_rc tb_label_stands(enum tb_label_stand *out, struct tb_text *why, const struct tb_law *law,
                      const struct tb_law_answer *a, const struct tb_law_facts *facts, struct tb_err *err);

#endif
