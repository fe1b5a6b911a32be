/*
 * inside.h - what the files of src/law share: words of a label, the label read from them, rows of the tables.
 */
#ifndef TENTERBOOK_LAW_INSIDE_H
#define TENTERBOOK_LAW_INSIDE_H

#include "tenterbook/law.h"
#include "tenterbook/token.h"

#include "gen/ref_label_phrase.h"
#include "gen/ref_law_group.h"
#include "gen/ref_law_name.h"
#include "gen/ref_law_regime.h"
#include "gen/ref_law_rule.h"
#include "gen/ref_law_say.h"
#include "gen/ref_law_word.h"
#include "gen/ref_market.h"

/* --- what words mean to a label ------------------------------------------------------------------------ */

enum lex_kind {
    LEX_NONE, /* a row of the table of names that is no word on a label */
    LEX_PHRASE,
    LEX_NAME,
    LEX_CLASS
};

#define CODE_MOST 4 /* bytes of a short code: it counts only when written in capitals */

struct lex {
    enum lex_kind kind;
    const char *what; /* LEX_PHRASE: key of the phrase; LEX_CLASS: class of the word; LEX_NAME: "name" */
    const char *lang; /* "" when it has none */
    int fibre;        /* named or connoted; -1: none */
    bool code;        /* a short code */
    const struct tb_ref_law_word *word;       /* LEX_CLASS from our table */
    const struct tb_ref_label_phrase *phrase; /* LEX_PHRASE from our table */
    const struct tb_name *name;               /* from the table of names */
};

/* What markets call fibres, ready to be looked up. */
struct tb_law_names {
    const struct tb_ref_law_name **name; /* by market, language, fibre, and then as they stand in the table */
    size_t n;
    int *as; /* [place of the market * fibres + fibre]: the fibre under whose name it goes there */
};
void tb_law_names_build(struct tb_law_names *out);
void tb_law_names_free(struct tb_law_names *names);

/* Words that a person took over from a copy of the law, as the rows of the tables would have them. */
struct kept_words {
    struct tb_name *name; /* of fibres */
    size_t names;
    struct tb_ref_label_phrase *phrase;
    size_t phrases;
};

struct tb_law {
    struct tb_law_names names;
    struct kept_words kept;
    struct tb_arena mem;       /* of the words that were kept */
    struct tb_phrases phrases; /* of the law's own tables; their rows are places in own */
    struct lex *own, *name;    /* name: one for each row of the table of names */
    int *kind; /* of each row of the rule table: its place among all kinds of check; -1: none */
    /* of each row of the market table: its rules on any day of now, its own first */
    struct rule_list {
        const struct tb_ref_law_rule **rule;
        size_t n, cap;
    } * market;
};

/* --- words of a label ------------------------------------------------------------------------------------ */

enum token_kind { TOKEN_WORD, TOKEN_PERCENT, TOKEN_NUMBER, TOKEN_MARK };

struct token {
    enum token_kind kind;
    size_t at, len; /* bytes of the text */
    double value;   /* of a percentage or number; NAN when it is malformed */
    char mark;      /* , ; : / ( ) - * & . " R (registered sign) _ (blank to fill in) \n; '\0': no sign */
    const struct lex **lex; /* entries it matches */
    size_t lexes, lex_cap;
    size_t in;    /* the part it is in: as tb_cut.of */
    int part;     /* of a word for a part: which; else -1 */
    size_t share; /* id of the share it names, in whatever language; 0: none */
};
bool tb_label_is(const struct token *t, const char *phrase_key); /* a phrase with this key */
bool tb_label_is_class(const struct token *t, const char *word_class);
const struct lex *tb_label_entry(const struct token *t, enum lex_kind kind); /* first of the kind, or NULL */

/* --- the label ------------------------------------------------------------------------------------------- */

/* Beside a fibre, TB_FIBRE_OTHER and TB_FIBRE_UNKNOWN a share may be: */
#define SHARE_NO_FIBRE (-4)  /* a word in a fibre's place that names none */
#define SHARE_COMPOSITE (-5) /* a fibre of several constituents: see label.inner */

/* What a label says of a share besides, in its marks beside enum tb_mark. */
enum said_of_share {
    SAID_MORE = 1 << 16,     /* "85 % or more" */
    SAID_LESS = 1 << 17,     /* "less than 15 %" */
    SAID_PLURAL = 1 << 18,   /* "other fibers", not "other fiber" */
    SAID_TOGETHER = 1 << 19, /* "man-made fibers: ..." */
    SAID_ELASTIC = 1 << 20   /* in an elastic section */
};
#define SAID_ALL (SAID_MORE | SAID_LESS | SAID_PLURAL | SAID_TOGETHER | SAID_ELASTIC)

#define PERCENT_NEAR 1e-9 /* two percentages this near are one figure */

/* What "exclusive of ..." may leave out, in the words of rules and phrases: "elastic". Ends with NULL. */
extern const char *const tb_law_exclusions[];
/* The bit of such a word, by its place; 0: it is none of them. */
unsigned tb_law_exclusion(const char *what);

/* "(50 % recycled)", "(partly recycled)": words that are of a part of one fibre. */
struct aside {
    struct token words; /* where they stand */
    size_t share;       /* id of the share they are said of; 0: it is not clear of which */
    unsigned marks;     /* what they say: enum tb_mark */
    bool figure;        /* with a figure of their own */
    bool loose; /* nothing but marks, and its part has not ended: they are of its only fibre, if it has one */
};

struct label {
    const char *text;
    struct token *token;
    size_t tokens, token_cap;
    struct tb_cut cut;          /* where the parts lie */
    size_t hidden;              /* characters nobody sees: controls, direction marks, broken UTF-8 */
    struct tb_composition comp; /* the id of a share is that of the tokens that name it */
    size_t ids;                 /* shares made so far, each with an id from 1 */
    struct tb_part inner;       /* constituents of a composite fibre */
    unsigned excludes;          /* bits of tb_law_exclusion() */
    double left_out;            /* % of "exclusive of N % ornamentation", as printed; NAN: no figure */
    double except;              /* % of "except N % X added to ..."; NAN: no such words */
    bool
        together; /* "40 % man-made fibers: rayon, acetate": names under one figure, which none of them has alone */
    double ratio[TB_PART_KINDS]; /* "(face 60 %, back 40 %)"; NAN: not said */
    char *origin;                /* NULL: not said */
    bool excepted; /* something is excepted from the composition that is not left out by a word of the law */
    bool imported, blanks, united, united_parts, mixed, chiefly, animal_parts;
    int super;      /* grade; 0: none */
    size_t orphans; /* percentages that belong to nothing */
    struct aside *aside;
    size_t asides, aside_cap;
    size_t *stray; /* tokens that were not understood and stand in no fibre's place */
    size_t strays, stray_cap;
};
/* Every token that names the share. */
#define EACH_WORD(l, s, t)                                                                                   \
    for (struct token *t = (l)->token, *t##_end = t + (l)->tokens; t != t##_end; t++)                        \
        if (t->share == (s)->id)
#define QUOTED_MOST 80
/* The words of the text, for a message: at most QUOTED_MOST bytes. */
void tb_label_quote(char out[QUOTED_MOST], const struct label *l, const struct token *t);
/* In place of the languages of a market: short words of every language are known. */
#define ANY_LANGUAGE "*"
/* The text cut into tokens, each word with all that the law of a market with these languages makes of it. */
void tb_label_cut(struct label *out, const struct tb_law *law, const char *langs, const char *text, size_t n);
void tb_law_label_read(struct label *out, const struct tb_law *law, const char *langs, const char *text,
                       size_t n);
/* Where no figure was read: what the reader of declarations makes of the text, if it has no doubt that blocks. */
void tb_law_label_read_freely(struct label *l, const char *text, size_t n);
/* A kind of fibre in brackets at the name that takes it in is one share with it, where the market has it so. */
void tb_label_join_kinds(struct label *l, const struct tb_ref_market *m);
void tb_law_label_free(struct label *l);
/* Shares that name something, over all parts. */
size_t tb_label_shares(const struct label *l);
/*
 * Make its composition one that can be worded: a share alone is all of its part, and what was said besides is gone. False
 * when a share has no percentage or names no fibre. Nothing is checked after it.
 */
bool tb_label_settle(struct label *l);

/* --- rows of the rules ---------------------------------------------------------------------------------- */

/* The place of a kind of check among all of them; -1: there is none, as for "inform". */
int tb_law_kind_of(const char *kind);
/* The row of the market with this key, the base of others included; NULL: there is none. */
const struct tb_ref_market *tb_law_market(const char *key);
enum tb_coverage tb_law_coverage(const struct tb_ref_market *m);
/* Is the rule in force on the day (NULL: now)? */
bool tb_law_in_force(const struct tb_ref_law_rule *r, const char *day);
/* The rules of a market on a day (NULL: now), its own first, then those it builds on; free(out->rule). */
void tb_law_choose_rules(struct rule_list *out, const struct tb_ref_market *m, const char *day);
/* Is the fibre (-1: none) of the group in the market? */
bool tb_law_group_has(const struct tb_ref_market *m, const char *group, int fibre);
/* Is a fibre of the part of the group? */
bool tb_law_group_in(const struct tb_ref_market *m, const char *group, const struct tb_part *p);
/* Does the list "a|b+c d" hold the word? */
bool tb_law_list_has(const char *list, const char *word);

/* --- names a market accepts -------------------------------------------------------------------------------- */

/* Does the name of one fibre take in the other: rayon modal, wool cashmere? Both >= 0. */
bool tb_law_name_covers(const struct tb_ref_market *m, int said, int found);
/*
 * tb_law_name - the name a label in the market gives a fibre (>= 0), whether it was seen or not.
 *
 *   status    may be NULL; "seen", "second-hand" or "memory": never show a name from memory as checked
 *   returns   static text; NULL, and status untouched, when the market has no name for it in the language
 */
const char *tb_law_name(const struct tb_law *law, const struct tb_ref_market *m, int fibre, const char *lang,
                        const char **status);
/* Do two fibres (>= 0) go under one name there? */
bool tb_law_same_name(const struct tb_law *law, const struct tb_ref_market *m, int a, int b,
                      const char *lang);
/* The phrase a label of the market prints for this key; NULL: none is known. Does it stand behind the name? */
const struct tb_ref_label_phrase *tb_law_phrase(const struct tb_law *law, const struct tb_ref_market *m,
                                                const char *key, const char *lang);
bool tb_law_stands_after(const struct tb_ref_label_phrase *p);
/* Its words in the market's own language, for a message; `otherwise` when there are none. */
struct at_work;
const char *tb_law_phrase_text(const struct at_work *w, const char *key, const char *otherwise);
/* The languages of a market one by one: false after the last. `at` starts at 0. */
bool tb_law_next_lang(const char *langs, size_t *at, char out[8]);

/* "60", "33.33": as many places as it needs, two at most. */
void tb_law_percent(struct tb_text *t, double percent);

#endif
