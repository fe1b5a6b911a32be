/*
 * inside.h - what the files of src/law share: words of a label, the label read from them, the rules at work.
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

struct tb_law {
    struct tb_law_names names;
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
    size_t at, len;        /* bytes of the text */
    double value;          /* of a percentage or number; NAN when it is malformed */
    char mark;             /* , ; : / ( ) - * & . " R (registered sign) _ (blank to fill in) \n */
    const struct lex *lex; /* entries it matches; NULL: none */
    size_t lexes;
};

struct words {
    const char *text;
    struct token *token;
    size_t n, cap;
    struct lex *lex; /* the entries of all tokens, one after the other */
    size_t lexes, lex_cap;
    size_t hidden; /* characters nobody sees: controls, direction marks, broken UTF-8 */
};
void tb_law_words(struct words *out, const struct tb_law *law, const char *langs, const char *text, size_t n);
void tb_law_words_free(struct words *w);
bool token_is(const struct token *t, const char *phrase_key); /* a phrase with this key */
bool token_class(const struct token *t, const char *word_class);
const struct lex *token_entry(const struct token *t, enum lex_kind kind); /* first of the kind, or NULL */
/* The words of the text, for a message: yours to free. */
char *token_text(const struct words *w, const struct token *t);

/* --- the label ------------------------------------------------------------------------------------------- */

/* Beside a fibre, TB_FIBRE_OTHER and TB_FIBRE_UNKNOWN a share may be: */
#define SHARE_NO_FIBRE (-4)  /* a word in a fibre's place that names none */
#define SHARE_COMPOSITE (-5) /* a fibre of several constituents: see label.inner */

#define PERCENT_NEAR 1e-9 /* two percentages this near are one figure */

#define SHARE_WORDS_MOST 8
struct share {
    int fibre;
    double percent; /* NAN: not said */
    unsigned marks; /* enum tb_mark */
    size_t word[SHARE_WORDS_MOST];
    size_t words;     /* tokens that name it, in any language */
    bool more, less;  /* "85 % or more", "less than 15 %" */
    bool plural;      /* "other fibers", not "other fiber" */
    bool aggregate;   /* "man-made fibers: ..." */
    bool from_bamboo; /* "viscose from bamboo" */
    bool pure;        /* "all", "pure", "100 %" */
};

struct part {
    enum tb_part_kind kind;
    bool opened;  /* a word for the part stood before its shares */
    bool elastic; /* an elastic section */
    struct share *share;
    size_t n, cap;
};

enum exclusion {
    EXCLUDES_ORNAMENT = 1,
    EXCLUDES_DECORATION = 2,
    EXCLUDES_ELASTIC = 4,
    EXCLUDES_TRIMMING = 8,
    EXCLUDES_REINFORCEMENT = 16,
    EXCLUDES_UNSAID = 32
};

struct label {
    struct words words;
    struct part *part;
    size_t n, cap;
    struct part inner;           /* constituents of a composite fibre */
    unsigned excludes;           /* enum exclusion */
    double except;               /* % of "except N % X added to ..."; NAN: no such words */
    double ratio[TB_PART_KINDS]; /* "(face 60 %, back 40 %)"; NAN: not said */
    char *origin;                /* NULL: not said */
    bool imported, registered, blanks, united, united_parts, mixed, chiefly, animal_parts;
    bool freely;    /* read as a supplier's words, not as a label's */
    int super;      /* grade; 0: none */
    size_t orphans; /* percentages that belong to nothing */
    size_t *stray;  /* tokens that were not understood and stand in no fibre's place */
    size_t strays, stray_cap;
};
void tb_law_label_read(struct label *out, const struct tb_law *law, const char *langs, const char *text,
                       size_t n);
/* Where no figure was read: what the reader of declarations makes of the text, if it has no doubt that blocks. */
void tb_law_label_read_freely(struct label *l, const char *text, size_t n);
void tb_law_label_free(struct label *l);
/* Shares that name something, over all parts. */
size_t label_shares(const struct label *l);
/* A composition of it; empty when a share has no percentage or names no fibre. */
bool label_composition(struct tb_composition *out, const struct label *l);

/* --- rules at work --------------------------------------------------------------------------------------- */

/* One fibre of the cloth against the label; built once per question for the part that can be compared. */
struct found {
    int fibre;
    double percent; /* as found; `base` after permitted fibre was taken off */
    double base;
    unsigned marks;
    size_t share;   /* share of the label it answers to; TB_NOWHERE: none */
    bool permitted; /* extraneous fibre the law lets go */
    bool reported;  /* a finding speaks of it */
};

struct compared {
    const struct part *part; /* of the label; NULL: nothing to compare */
    struct found *found;
    size_t n, cap;
    bool *judged; /* per share: a tolerance was applied */
    double extraneous;
};

struct at_work {
    const struct tb_law *law;
    const struct tb_law_question *q;
    const struct tb_law_facts *facts;
    const struct tb_ref_market *market;
    const char *regime;
    struct rule_list own; /* chosen for a day; empty where the market's list of now serves */
    const struct tb_ref_law_rule *const *rule;
    size_t rules;
    struct label *label;
    struct compared
        cmp;        /* the part of the label and of the cloth that are held against each other just now */
    char named[96]; /* the fibre the message at hand speaks of */
    struct tb_law_answer *answer;
};

typedef void (*check_fn)(struct at_work *w, const struct tb_ref_law_rule *r);
struct check_kind {
    const char *name;
    check_fn run;
};
/* Three tables, each ends with a NULL name: of the words, of the claims, of the cloth against the label. */
extern const struct check_kind tb_law_text_checks[], tb_law_claim_checks[], tb_law_found_checks[];
check_fn tb_law_check_of(const char *kind); /* NULL: no such kind; "inform" has none */
int tb_law_kind_of(const char *kind);       /* its place over the three tables, -1 when there is none */

/* The row of the market with this key, the base of others included; NULL: there is none. */
const struct tb_ref_market *tb_law_market(const char *key);
/* Is the rule in force on the day (NULL: now)? */
bool tb_law_in_force(const struct tb_ref_law_rule *r, const char *day);
/* The rules of a market on a day (NULL: now), its own first, then those it builds on. */
void choose_rules(struct rule_list *out, const struct tb_ref_market *m, const char *day);
void finding_add(struct at_work *w, const struct tb_ref_law_rule *r, const char *fmt, ...) TB_PRINTF(3, 4);
void finding_add_as(struct at_work *w, const struct tb_ref_law_rule *r, enum tb_severity s, const char *fmt,
                    ...) TB_PRINTF(4, 5);
/* Is `value` on the allowed side of the rule's number? Equal within 1e-9. */
bool rule_allows(const struct tb_ref_law_rule *r, double value);
bool group_has(const struct tb_ref_market *m, const char *group, int fibre);
/* What the conditions of a row speak of: a part, how it was made and sold, and one share of it. */
struct held {
    const struct tb_ref_market *market;
    const void *part;                            /* whatever fibre_at understands */
    int (*fibre_at)(const void *part, size_t i); /* fibre of its share i */
    size_t fibres;                               /* shares of the part */
    enum tb_part_kind kind;
    bool carded, virgin;
    bool share; /* the next three are of one share; false: of the part as a whole */
    int fibre;
    double percent;
    bool inequality; /* "or more", "less than" */
};
/* Are all the row's conditions true? */
bool rule_holds(const struct tb_ref_law_rule *r, const struct held *h);
bool market_has(const struct at_work *w, const char *kind, const char *arg);
/* Does the list "a|b+c" hold the word? */
bool list_has(const char *list, const char *word);
/* Pair number `pair` (0: the first) of a part of the label and the same part found, into w->cmp; false: none. */
bool compare_found(struct at_work *w, size_t pair);
void compared_free(struct compared *c);
/* Named fibres of a part: shares that are fibres or composites. */
size_t part_named(const struct part *p);

/* --- names a market accepts -------------------------------------------------------------------------------- */

/* The language of the label: the one asked for, else the market's own. Messages give names in it too. */
const char *tb_law_lang(const struct at_work *w);
/* Is one of the share's words a name of the market in the language (NULL: any)? *status: "seen" or "memory". */
bool tb_law_share_named(const struct at_work *w, const struct share *s, const char *lang,
                        const char **status);
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
const struct tb_ref_label_phrase *tb_law_phrase(const struct tb_ref_market *m, const char *key,
                                                const char *lang);
bool tb_law_stands_after(const struct tb_ref_label_phrase *p);
/* Its words in the market's own language, for a message; `otherwise` when there are none. */
const char *tb_law_phrase_text(const struct tb_ref_market *m, const char *key, const char *otherwise);
/* What the market would have said in place of the word; NULL: nothing is known. */
const char *tb_law_say(const struct at_work *w, const struct tb_ref_law_word *word);
/* The languages of a market one by one: false after the last. `at` starts at 0. */
bool next_lang(const char *langs, size_t *at, char out[8]);

/*
 * Wording of a composition in the market and regime at work: lines into the answer, or TB_EREFUSED.
 * `others`: fibres behind its "other fibres"; 0: nobody counted.
 */
tb_rc law_wording(const struct at_work *w, const struct tb_composition *c, size_t others, struct tb_err *err);
void percent_print(struct tb_text *t, double percent);

/* Every part of a label, every share of a part; an empty list has no first item to point beyond. */
#define EACH_PART(w, p)                                                                                      \
    for (struct part *p = (w)->label->part, *p##_end = p ? p + (w)->label->n : p; p != p##_end; p++)
#define EACH_SHARE(p, s) for (struct share *s = (p)->share, *s##_end = s ? s + (p)->n : s; s != s##_end; s++)

#endif
