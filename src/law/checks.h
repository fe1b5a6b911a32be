/*
 * checks.h - a question at work: the rules that apply to it, the label, what was found, and what the checks say.
 *
 * A check is a function over one row of the rules. It reads the question and adds findings; what several checks need
 * (which part of the label answers to which part of the cloth, what the law lets go) stands in struct compared.
 */
#ifndef TENTERBOOK_LAW_CHECKS_H
#define TENTERBOOK_LAW_CHECKS_H

#include "law/inside.h"

/* Three thirds printed to two places add up to 99.99. */
#define TB_LAW_SUM_NEAR 0.01

/* --- the question ------------------------------------------------------------------------------------------------ */

/* One fibre of the cloth against the label; built once for each part that can be compared. */
struct found {
    int fibre;
    double percent; /* as found */
    double base;    /* of what is left when permitted fibre was taken off */
    unsigned marks; /* enum tb_mark */
    size_t share;   /* share of the label it answers to; TB_NOWHERE: none */
    bool permitted; /* extraneous fibre the law lets go */
    bool reported;  /* a finding speaks of it */
};

struct compared {
    const struct tb_part *part; /* of the label; NULL: nothing to compare */
    struct found *found;
    size_t n, cap;
    size_t *with; /* for each share of the part: the share it is compared with as one; its own place mostly */
    bool *judged; /* for each share of the part: a tolerance was applied */
    double extraneous; /* % found that answers to no share */
};

struct at_work {
    const struct tb_law *law;
    const struct tb_law_question *q;
    const struct tb_law_facts *facts;
    const struct tb_ref_market *market;
    const char *regime;   /* key of the act that applies; "" where the market has one only */
    struct rule_list own; /* chosen for a day; empty where the market's list of now serves */
    const struct tb_ref_law_rule *const *rule;
    size_t rules;
    struct label *label;
    struct compared
        cmp;        /* the part of the label and of the cloth that are held against each other just now */
    char named[96]; /* the fibre the message at hand speaks of */
    char said[2][QUOTED_MOST]; /* the words it quotes */
    unsigned quotes;
    bool undecided; /* the rules lack what would decide: a tolerance for such a claim */
    struct tb_law_answer *answer;
};

/* Every part of a label, every share of a part; an empty list has no first item to point beyond. */
#define EACH_PART(w, p)                                                                                      \
    for (struct tb_part *p = (w)->label->comp.part, *p##_end = p ? p + (w)->label->comp.n : p; p != p##_end; \
         p++)
#define EACH_SHARE(p, s)                                                                                     \
    for (struct tb_share *s = (p)->share, *s##_end = s ? s + (p)->n : s; s != s##_end; s++)

/* The language of the label: the one asked for, else the market's own. Messages give names in it too. */
const char *tb_law_lang(const struct at_work *w);
/* Is one of the share's words a name of the market in the language (NULL: any)? *status: "seen" or "memory". */
bool tb_law_share_named(const struct at_work *w, const struct tb_share *s, const char *lang,
                        const char **status);
/* What the market would have said in place of the word; NULL: nothing is known. */
const char *tb_law_say(const struct at_work *w, const struct tb_ref_law_word *word);

/* --- rules at work ----------------------------------------------------------------------------------------------- */

/* Is `value` on the allowed side of the rule's number? A rule without one, or a NAN, allows everything. */
bool tb_law_allows(const struct tb_ref_law_rule *r, double value);
/* Does a comparison let the number itself pass: "<=" and not "<"? For the words "at most" and "less than". */
bool tb_law_includes(const struct tb_ref_law_rule *r);

/* What the conditions of a row speak of: a part, how it was made and sold, and one share of it. */
struct held {
    const struct tb_ref_market *market;
    const struct tb_part *part; /* NULL: nothing is compared */
    size_t fibres; /* of the part; one under two names ("Pima cotton, Upland cotton") counts once */
    const struct tb_share *share; /* one of its shares; NULL: the part as a whole */
    bool carded, virgin;
};
/* Are all conditions of the row's column `holds` true? */
bool tb_law_holds(const struct tb_ref_law_rule *r, const struct held *h);

/* Has the market a rule of this kind (and, where arg is not NULL, with this arg), under whatever act? */
bool tb_law_has_rule(const struct at_work *w, const char *kind, const char *arg);
/* The first such rule of the act that applies; NULL: there is none. */
const struct tb_ref_law_rule *tb_law_rule(const struct at_work *w, const char *kind, const char *arg);
/*
 * Does the act have reclaimed fibre of this kind named apart (kind "recycled"), as recycled wool is? Elsewhere it is the
 * fibre it was, under one more word.
 */
bool tb_law_past_counts(const struct at_work *w, int fibre);
/* How loud a row is, unless the check says otherwise. */
enum tb_severity tb_law_severity(const struct tb_ref_law_rule *r);
/* Is the row at work under the act that applies? */
bool tb_law_of_regime(const struct at_work *w, const struct tb_ref_law_rule *r);

/* Is a fibre (>= 0) named however little there is: by a rule of the act, or because it serves a purpose? */
bool tb_law_named_when_small(const struct at_work *w, int fibre);

/* Is it the name of a trade bloc, which is no country? */
bool tb_law_trade_bloc(const char *name);

/* --- findings ---------------------------------------------------------------------------------------------------- */

/*
 * tb_law_finding - add what a rule says, in one sentence; as loud as the rule, or as `s` where it is given.
 * The format is looked up in the message catalogue, as by tb_fail. What a clause said already is not said again.
 */
void tb_law_finding(struct at_work *w, const struct tb_ref_law_rule *r, const char *fmt, ...) TB_PRINTF(3, 4);
void tb_law_finding_as(struct at_work *w, const struct tb_ref_law_rule *r, enum tb_severity s,
                       const char *fmt, ...) TB_PRINTF(4, 5);
/* The clause of a rule as a market cites it: "Assimilated Reg. (EU) ..." where its law was taken from the market it is based on. */
void tb_law_clause(char *out, size_t room, const struct tb_ref_market *m, const struct tb_ref_law_rule *r);
/* Faults first, then advice, then notes; within each as they were found. */
void tb_law_sort_findings(struct tb_law_answer *a);
/* Is a rule of this kind (and, where begin is not NULL, with an arg that begins so) broken? */
bool tb_law_broken(const struct at_work *w, const char *kind, const char *begin);

/* A word of the label for a message; the first word of a share. Good until the second call after it. */
const char *tb_law_quote(struct at_work *w, const struct token *t);
const char *tb_law_share_text(struct at_work *w, const struct tb_share *s);
/* The fibre for a message, with the part where the label has several: "cotton (lining)". Good until the next call. */
const char *tb_law_fibre_text(struct at_work *w, int fibre);

/* --- the label against the cloth --------------------------------------------------------------------------------- */

/* Pair number `pair` (0: the first) of a part of the label and the same part found, into w->cmp; false: none. */
bool tb_law_compare(struct at_work *w, size_t pair);
void tb_law_compared_free(struct compared *c);
/* The part at a place among those of its kind: the second "other" part answers to the second found. NULL: none. */
const struct tb_part *tb_law_part(const struct tb_composition *c, enum tb_part_kind kind, size_t place);
/* The share of the compared part that holds what is not named, "other fibres"; NULL: there is none. */
const struct tb_share *tb_law_bucket(const struct at_work *w);
/*
 * What the label states of a share that speaks for itself and for others of the same fibre ("Pima cotton" and "Upland
 * cotton"): their percentages added. Only such shares are compared: tb_law_speaks().
 */
struct tb_share tb_law_stated(const struct at_work *w, size_t share);
bool tb_law_speaks(const struct at_work *w, size_t share);
/* How many fibres the compared part claims, each counted once under however many of its names. */
size_t tb_law_fibres(const struct at_work *w);
/* % found for a share of the compared part, after permitted fibre was taken off. */
double tb_law_found_for(const struct at_work *w, size_t share);
/* Is the compared part sold under a virgin wool name? */
bool tb_law_virgin_said(const struct at_work *w);
/* Are two parts of the same fibres, of several in the same shares? */
/* Share of a part in the cloth: from the words, else from the person who asks; NAN: nobody said. */
double tb_law_part_share(const struct at_work *w, enum tb_part_kind kind);
bool tb_law_same_content(const struct tb_part *a, const struct tb_part *b);
/* Do all conditions of the row hold for a share of the compared part (NULL: for the part)? */
bool tb_law_holds_for(const struct at_work *w, const struct tb_ref_law_rule *r, const struct tb_share *s);

/* --- kinds of check ---------------------------------------------------------------------------------------------- */

/* Checks read the words once, and the claims and the cloth once for each pair of parts. */
enum check_of { CHECK_WORDS, CHECK_PARTS };
typedef void check_fn(struct at_work *w, const struct tb_ref_law_rule *r);
struct check_kind {
    const char *name; /* as in the column `kind` of the rules */
    check_fn *run;
    enum check_of of;
};
/* In the order they run, which matters: tolerances stand on what may go unnamed. Ends with a NULL name. */
extern const struct check_kind tb_law_checks[];
/* Run them all over the question. */
void tb_law_run_checks(struct at_work *w);

check_fn tb_law_check_names, tb_law_check_words, tb_law_check_percent, tb_law_check_sum, tb_law_check_range,
    tb_law_check_order, tb_law_check_list, tb_law_check_small, tb_law_check_functional, tb_law_check_pure,
    tb_law_check_rounding, tb_law_check_form, tb_law_check_composite, tb_law_check_inequality,
    tb_law_check_except, tb_law_check_language;
check_fn tb_law_check_regime, tb_law_check_exclusion, tb_law_check_virgin, tb_law_check_recycled,
    tb_law_check_diameter, tb_law_check_section, tb_law_check_union, tb_law_check_unknown,
    tb_law_check_origin;
check_fn tb_law_check_always, tb_law_check_disclose, tb_law_check_other, tb_law_check_present,
    tb_law_check_extraneous, tb_law_check_base, tb_law_check_cumulate, tb_law_check_tolerance,
    tb_law_check_care, tb_law_check_compared;

#endif
