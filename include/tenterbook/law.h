/*
 * law.h - what a market's law says of a label's words, and what a label may say of a composition.
 *
 * Markets, names, phrases and rules are rows of sql/reference: market.csv, law_name.csv, label_phrase.csv, law_rule.csv
 * and the tables beside them. docs/law.md says what each holds and how a market is added. This module holds the kinds of
 * check. Pure: values in, values out; nothing is stored, nothing is read from a clock or a file. Percentages are by mass.
 *
 * Information, not legal advice: the official text and local counsel decide.
 */
#ifndef TENTERBOOK_LAW_H
#define TENTERBOOK_LAW_H

#include "tenterbook/base.h"
#include "tenterbook/fibre.h"
#include "tenterbook/tolerance.h"

/* --- markets ----------------------------------------------------------------------------------------------------- */

/* How far the rules of a market are known here. */
enum tb_coverage {
    TB_COVERAGE_BASE,    /* rows that markets are based on: no market itself */
    TB_COVERAGE_PARTIAL, /* as far as the facts carry: no list of names, and no wording */
    TB_COVERAGE_FULL
};
/* "base", "partial", "full": the words of market.csv and of JSON. Static. */
const char *tb_coverage_key(enum tb_coverage c);

/* A market: one row of market.csv. All text is static. */
struct tb_market {
    const char *key;   /* "us" */
    const char *name;  /* "United States" */
    const char *law;   /* the texts the rules come from */
    const char *langs; /* "en", "en+fr" (all of them), "bg|cs|da|..." (any one of them); "" not held */
    enum tb_coverage coverage;
    const char *as_of; /* the day up to which the rule set was looked up, YYYY-MM-DD */
    const char *basis; /* key of the mass its shares are counted on: tb_lab_basis_key() */
};

/* How many markets there are; the rows they are based on are not counted. */
size_t tb_market_count(void);
/* Market number i < tb_market_count(), in the order of the table. */
struct tb_market tb_market_at(size_t i);
/* The market with this key (NULL: none) into out; false, and out untouched, when there is none. */
bool tb_market_find(struct tb_market *out, const char *key);
/*
 * tb_market_check - is there a market with this key?
 *
 *   fails  TB_ENOTFOUND, with a sentence that names every market there is
 */
tb_rc tb_market_check(const char *key, struct tb_err *err);

/* Markets, each once, in the order they were named. The keys are static. */
#define TB_MARKETS_MOST 32
struct tb_market_list {
    const char *key[TB_MARKETS_MOST];
    size_t n;
};
/*
 * tb_market_list_add - those named in words, separated by spaces or commas: "eu, us". One that is there stays once.
 *   fails  TB_ENOTFOUND as tb_market_check; TB_EINVAL more than TB_MARKETS_MOST
 */
tb_rc tb_market_list_add(struct tb_market_list *list, const char *words, struct tb_err *err);

/* --- a question and its answer ----------------------------------------------------------------------------------- */

enum tb_severity {
    TB_SEVERITY_FAULT,  /* the words may not stand */
    TB_SEVERITY_ADVICE, /* they may, and something is to be done or known */
    TB_SEVERITY_NOTE
};
/* "fault", "advice", "note": the words of law_rule.csv and of JSON. Static. */
extern const struct tb_words tb_severity_words;
const char *tb_severity_key(enum tb_severity s);

/* One clause and what it says of this text. */
struct tb_finding {
    enum tb_severity severity;
    const char *rule; /* key of the row: "US-009"; static */
    char clause
        [TB_CLAUSE_ROOM]; /* "16 CFR 303.43"; of a market whose law was taken from another's, as it is cited there */
    char *message;        /* one sentence for a person, in the language of the reader; owned by the answer */
    const char *says;   /* the rule in our own words; static */
    const char *source; /* where the rule was read; static */
    const char
        *status; /* "seen", "second-hand", "reading" (ours, of a seen text), "memory" (not checked); static */
};

/* What a text cannot hold comes from the person who asks. Begin with tb_law_facts_none(). */
struct tb_law_facts {
    const char *lang;   /* language the label is in or shall be in; NULL: any of the market's */
    const char *day;    /* YYYY-MM-DD: rules in force on that day; NULL: all that have no end */
    const char *origin; /* country of origin, UTF-8, at most 80 bytes; NULL: not said */
    const int
        *functional; /* fibres that serve a purpose below the share from which fibres are named, by number */
    size_t functionals; /* how many */
    bool carded;        /* the cloth went through carding */
    bool virgin;        /* there is proof that the wool is virgin */
    bool bast;          /* there is proof that "bamboo" is the bast fibre, extracted mechanically */
    bool one_language;  /* sold only where one of the market's languages is in use */
    bool unchecked;     /* names and phrases from memory may be printed */
    double micron;      /* mean fibre diameter, micrometres; NAN here and below: not said */
    double coarse;      /* % by mass of fibres over 30 micrometres, 0..100 */
    double cv;          /* coefficient of variation of the diameter, % */
    double area_share;  /* % of the surface that decoration, elastic or trimming takes, 0..100 */
    double left_out;    /* % by mass of what the phrase "exclusive of ..." leaves out, 0..100 */
    double part_share[TB_PART_KINDS]; /* % by mass of each part in the whole cloth, 0..100 */
};
/* Nothing said: every pointer NULL, every figure NAN. */
void tb_law_facts_none(struct tb_law_facts *f);

/* The caller owns everything a question points to; it is borrowed for the call. */
struct tb_law_question {
    const char *market; /* key */
    const char *text;   /* the label's words: any bytes. "" asks for the wording of what was found */
    size_t text_len;    /* bytes, at most TB_LABEL_MOST */
    const struct tb_composition *found; /* what was found in the cloth; NULL: nobody looked */
    struct tb_law_facts facts;
};
#define TB_LABEL_MOST 8192

struct tb_law_answer {
    struct tb_market market;
    const char *regime; /* "textile", "wool", ...: which act was applied; "" where there is one; static */
    size_t rules; /* rules of the words that were in force; 0: nothing was looked at, nothing is known */
    bool known;   /* the rules say whether the words may stand; false: they do not, and ok says nothing */
    bool ok;      /* known, and no finding is a fault */
    bool origin_missing; /* the country of origin has to stand on the label, and nobody said which it is */
    struct tb_finding *finding; /* faults, then advice, then notes; each kind of check together */
    size_t n, cap;
    char **wording; /* the lines a label may carry; none when there is no lawful wording */
    size_t wordings, wording_cap;
    char *refusal; /* why there is no wording, one sentence; NULL when there is */
};

/* --- asking ------------------------------------------------------------------------------------------------------ */

/*
 * The tables made ready for reading. Made once, never changed: threads may share it. Takes some milliseconds.
 */
struct tb_law;
/* Never NULL; free with tb_law_free. */
struct tb_law *tb_law_new(void);
void tb_law_free(struct tb_law *law); /* NULL is nothing to do */

/*
 * tb_law_check - read a label's words and say what each clause of the market says of them, and what may be printed:
 * what was found where the words are wrong, else what the words say.
 *
 *   out     filled; free with tb_law_answer_free, also after a failure: it has no findings and no wording then
 *   fails   TB_ENOTFOUND: there is no such market; TB_EINVAL: the market has no such language, the day is not a valid
 *           date, the origin is not a short text, the text is longer than TB_LABEL_MOST bytes
 *   source  the clause of each finding; docs/law.md, "Readings of ours"
 */
tb_rc tb_law_check(struct tb_law_answer *out, const struct tb_law *law, const struct tb_law_question *q,
                   struct tb_err *err);
/* Frees what the answer holds, not the answer; it is empty afterwards and may be freed again. */
void tb_law_answer_free(struct tb_law_answer *a);

/*
 * tb_law_country - a country's name in a language, by its name in any language that is known or its two letters.
 *
 *   returns  static; NULL: no such country is known, or not in this language
 *   source   country_name.csv
 */
const char *tb_law_country(const char *country, const char *lang);
/* tb_law_country_known - whether it is a country by its name in any language that is known, or by its two letters. */
bool tb_law_country_known(const char *country);

#endif
