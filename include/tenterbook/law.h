/*
 * law.h - what a market's law says of a label's words, and what a label may say of a composition.
 *
 * The rules are rows of sql/reference/law_rule.csv; the names a market accepts are in fibre_name.csv, its phrases
 * in label_phrase.csv, words that are no fibre names in law_word.csv, the markets in market.csv. This module
 * holds the kinds of check. Pure: values in, values out. Percentages are by mass.
 *
 * Information, not legal advice: the official text and local counsel decide.
 */
#ifndef TENTERBOOK_LAW_H
#define TENTERBOOK_LAW_H

#include "tenterbook/base.h"
#include "tenterbook/fibre.h"

/* How far the rules of a market are known here. */
enum tb_coverage {
    TB_COVERAGE_BASE,    /* rows that markets are based on: no market itself */
    TB_COVERAGE_PARTIAL, /* as far as the facts carry: no list of names, and no wording */
    TB_COVERAGE_FULL
};
const char *tb_coverage_key(enum tb_coverage c); /* "full" */

/* A market. All text is static. */
struct tb_market {
    const char *key;   /* "us" */
    const char *name;  /* "United States" */
    const char *law;   /* the texts the rules come from */
    const char *langs; /* "en", "en+fr" (all of them), "bg|cs|da|..." (any one of them) */
    enum tb_coverage coverage;
    const char *as_of;   /* the day up to which the rule set was looked up, ISO 8601 */
    const char *decides; /* where the deciding text is found */
    const char *basis;   /* key of the mass its shares are counted on: tb_lab_basis_key */
};
size_t tb_market_count(void);
struct tb_market tb_market_at(size_t i); /* i < tb_market_count() */
/* The market with this key; false, and out untouched, when there is none. */
bool tb_market_find(struct tb_market *out, const char *key);
/*
 * tb_market_check - TB_ENOTFOUND, naming every market there is, when key is none of them.
 */
tb_rc tb_market_check(const char *key, struct tb_err *err);

enum tb_severity { TB_SEVERITY_FAULT, TB_SEVERITY_ADVICE, TB_SEVERITY_NOTE };
const char *tb_severity_key(enum tb_severity s); /* "fault" */

/* One clause and what it says of this text. */
struct tb_finding {
    enum tb_severity severity;
    const char *rule;   /* key of the row: "US-009"; static */
    const char *clause; /* "16 CFR 303.43"; static */
    char *message;      /* one sentence for a person; owned by the answer */
    const char *says;   /* the rule in our own words; static */
    const char *source; /* where the rule was read; static */
    const char
        *status; /* "seen", "second-hand", "reading" (ours, of a seen text) or "memory" (not checked) */
};

/* What a text cannot hold comes from the person who asks. Zeroed means: not said. NAN: no figure. */
struct tb_law_facts {
    const char *lang;   /* language the label is in or shall be in; NULL: any of the market's */
    const char *day;    /* YYYY-MM-DD: rules in force on that day; NULL: all that have no end */
    const char *origin; /* country of origin; NULL: not said */
    const int
        *functional; /* fibres that serve a purpose below the share from which fibres are named, by number */
    size_t functionals; /* how many */
    bool carded;        /* the cloth went through carding */
    bool virgin;        /* there is proof that the wool is virgin */
    bool bast;          /* there is proof that "bamboo" is the bast fibre, extracted mechanically */
    bool one_language;  /* sold only where one of the market's languages is in use */
    bool unchecked;     /* names and phrases from memory may be printed */
    double micron;      /* mean fibre diameter, micrometres */
    double coarse;      /* % by mass of fibres over 30 micrometres */
    double cv;          /* coefficient of variation of the diameter, % */
    double area_share;  /* % of the surface that decoration, elastic or trimming takes */
    double left_out;    /* % by mass of what the phrase "exclusive of ..." leaves out */
    double part_share[TB_PART_KINDS]; /* % by mass of each part in the whole cloth */
};
/* Everything not said. Start from this. */
void tb_law_facts_none(struct tb_law_facts *f);

struct tb_law_question {
    const char *market; /* key */
    const char *text;   /* the label's words: any bytes */
    size_t text_len;
    const struct tb_composition *found; /* what was found in the cloth; NULL: nobody looked */
    struct tb_law_facts facts;
};

struct tb_law_answer {
    struct tb_market market;
    const char *regime; /* "textile", "wool", ...: which act was applied; "" where there is one; static */
    bool ok;            /* no finding is a fault */
    struct tb_finding *finding; /* faults, then advice, then notes; each kind of check together */
    size_t n, cap;
    char **wording; /* the lines a label may carry; none when there is no lawful wording */
    size_t wordings, wording_cap;
    char *refusal; /* why there is no wording; NULL when there is */
};

/*
 * The rule set, indexed for reading. Built once, never changed: threads may share it.
 * Takes some milliseconds; free with tb_law_free.
 */
struct tb_law;
struct tb_law *tb_law_new(void);
void tb_law_free(struct tb_law *law);

/*
 * tb_law_check - read a label's words and say what each clause of the market says of them.
 *
 *   out    filled; free with tb_law_answer_free (also after a failure: it is empty then)
 *   fails  TB_ENOTFOUND: no such market; TB_EINVAL: the market has no such language, the day is none, the text
 *          is longer than TB_LABEL_MOST bytes
 */
#define TB_LABEL_MOST 8192
tb_rc tb_law_check(struct tb_law_answer *out, const struct tb_law *law, const struct tb_law_question *q,
                   struct tb_err *err);
void tb_law_answer_free(struct tb_law_answer *a);

/* Plain text: "clause: sentence" lines, wording, caution. JSON: one object, keys as in docs/law.md; free() it. */
void tb_law_print(struct tb_text *out, const struct tb_law_answer *a);
char *tb_law_json(const struct tb_law_answer *a);

#endif
