/*
 * wording.h - what a label may say of a composition: the state the files of the wording share.
 */
#ifndef TENTERBOOK_LAW_WORDING_H
#define TENTERBOOK_LAW_WORDING_H

#include "law/checks.h"

#define WORDING_LANGS_MOST 4   /* names of one share, one a language */
#define WORDING_SHARES_MOST 64 /* entries of one line */

/* A share under its names, one for each language of the label. */
struct entry {
    const char *text[WORDING_LANGS_MOST];
    double percent;
    bool last;    /* "other fibres" */
    size_t place; /* of equal shares the one that was named first comes first */
};

struct wording {
    struct at_work *at;
    const struct tb_ref_market *m;
    char lang[WORDING_LANGS_MOST][8];
    size_t langs;
    size_t others; /* how many fibres stand behind "other fibres" of the composition; 0: nobody counted */
    struct tb_arena *mem; /* words put together live there as long as the question is at work */
    struct tb_err *err;
};

/*
 * tb_law_wording - lines for a composition in the market and act at work, into the answer.
 *
 *   others  fibres behind its "other fibres"; 0: nobody counted
 *   fails   TB_EREFUSED, and no line, where nothing lawful is known: the reason is in err
 */
tb_rc tb_law_wording(struct at_work *at, const struct tb_composition *c, size_t others, struct tb_err *err);

/* TB_EREFUSED for a word from memory, unless the person who asks lets it pass: it is noted then, each such word. */
tb_rc tb_law_unchecked(const struct wording *w, const char *status, const char *name, const char *lang);
/* The name of a share in a language, with its mark; `fibres`: how many its part has. */
tb_rc tb_law_word_fibre(const struct wording *w, const struct tb_share *s, size_t fibres, const char *lang,
                        const char **out);
/* The words for what is not named. */
tb_rc tb_law_word_others(const struct wording *w, bool several, const char *lang, const char **out);

/*
 * tb_law_entries - the shares of a part as they stand on the label: larger first, small ones together at the end.
 *
 *   list    room for WORDING_SHARES_MOST
 *   n       how many there are
 *   fails   TB_EREFUSED with the reason
 */
tb_rc tb_law_entries(const struct wording *w, const struct tb_part *p, struct entry *list, size_t *n);

/* One line of a part, with the word for it where label_it says so. */
tb_rc tb_law_part_line(const struct wording *w, const struct tb_part *p, bool label_it);
/* The text becomes the next line of the answer; t is empty then. */
void tb_law_add_line(const struct wording *w, struct tb_text *t);
/* What follows the composition: what is left out of it, parts of animals, the origin. */
tb_rc tb_law_lines_after(const struct wording *w);

#endif
