/*
 * names.h - names and words of a label that a site takes over from its own saved copy of the law (law_names.h).
 *
 * They are settings of the site, one a word: "name:eu:pl:cotton". The journal row that brings them names the copy by its
 * digest; setting a name to nothing goes back to what the program holds.
 */
#ifndef TENTERBOOK_NAMES_H
#define TENTERBOOK_NAMES_H

#include "tenterbook/act.h"
#include "tenterbook/law_names.h"
#include "tenterbook/sheet.h"

#define TB_NAMES_FAMILY "name:"

struct tb_names {
    const char *market, *lang; /* keys */
    struct tb_law_word *word;
    size_t words;
    char digest[TB_DIGEST_LEN + 1]; /* SHA-256 of the copy */
};
/*
 * tb_names_read - what a copy says; nothing is recorded. The copy is taken to pieces in a process apart.
 *
 *   out     text in mem
 *   fails   as tb_in_open; TB_EFORMAT the process broke off, the file changed meanwhile, or as tb_law_copy_words
 */
tb_rc tb_names_read(struct tb_names *out, const char *market, const char *lang, const char *path,
                    struct tb_arena *mem, struct tb_err *err);

struct tb_names_request {
    const struct tb_names *names;
    const int *without; /* numbers of rows whose words are not taken over */
    size_t withouts;
};
struct tb_names_outcome {
    size_t kept; /* words */
};
/*
 * tb_act_names - keep them: from now on they are printed on labels. What was kept before for the language and is not among
 * them is forgotten.
 *   fails  TB_EINVAL nothing is left to keep; a word is that of another fibre, in the copy or as it was seen
 */
tb_rc tb_act_names(struct tb_names_outcome *out, const struct tb_actor *actor,
                   const struct tb_names_request *request, struct tb_arena *mem, struct tb_err *err);

/* tb_names_law - the law with all words the book keeps; b may be NULL. Yours to free with tb_law_free. */
tb_rc tb_names_law(struct tb_law **out, struct tb_book *b, struct tb_err *err);

#endif
