/*
 * claim.h - how long a buyer has to tell a supplier that goods are not as declared.
 *
 * Statutes and customary terms are rows of sql/reference/claim_term.csv with their source; a site's own term with a
 * supplier is one more row beside them. Given the day of arrival, the day of discovery and the rows that are chosen,
 * the clock says by which day notice is due and which row says so: the earliest counts. Pure: days in, days out.
 *
 * Information, not legal advice: which law and term apply, and how they count, is for the contract, the official
 * text and local counsel to say (docs/claims.md).
 */
#ifndef TENTERBOOK_CLAIM_H
#define TENTERBOOK_CLAIM_H

#include "tenterbook/base.h"
#include "tenterbook/date.h"

#define TB_CLAIM_NO_TERM (-1)
#define TB_CLAIM_DAYS_MOST 3650

/* One law, custom or contract term. Text of the rows of the table is static. */
struct tb_claim_term {
    const char *key;     /* "it_1495"; "" the site's own */
    const char *country; /* ISO 3166-1 alpha-2; "" of no country */
    const char *name;    /* "Italy, Civil Code art. 1495" */
    int open_days;       /* fault an examination shows, from arrival; TB_CLAIM_NO_TERM: no number of days */
    int hidden_days;     /* fault that it does not show; TB_CLAIM_NO_TERM */
    bool hidden_from_arrival; /* counted from arrival, not from discovery */
    bool working;             /* working days */
    bool before_cutting;      /* and in any case before the cloth is cut or worked on */
    int last_months;          /* nothing after so many months from arrival; TB_CLAIM_NO_TERM */
    const char *last_of;      /* "notice", or "action": to sue */
    const char *last_status;  /* of that figure */
    const char *says;         /* in our own words */
    const char *source;
    const char *status; /* "seen", "memory" (nobody looked it up), "own" */
};

/* How many rows the table of terms has. */
size_t tb_claim_law_count(void);
/* Row number i < tb_claim_law_count(), in the order of the table. */
struct tb_claim_term tb_claim_law_at(size_t i);
/*
 * tb_claim_law_find - the row with this key.
 *
 *   out    untouched on failure
 *   fails  TB_ENOTFOUND, with a sentence that names every key there is
 */
tb_rc tb_claim_law_find(struct tb_claim_term *out, const char *key, struct tb_err *err);

/* Which days of a week are not worked. Public holidays are not known here. */
enum tb_weekend { TB_WEEKEND_SAT_SUN, TB_WEEKEND_FRI_SAT, TB_WEEKEND_SUN };
/* "sat-sun", "fri-sat" or "sun" into out; false, and out untouched, for anything else. */
bool tb_weekend_read(enum tb_weekend *out, const char *text);
/*
 * Days are texts, YYYY-MM-DD, and valid (tb_day_valid) in all that follows. None of these fails or allocates.
 */
/*
 * The day n days (0 .. TB_CLAIM_DAYS_MOST) after a day, which is not counted itself; `working`: only days that are
 * worked are counted. 2999-12-31 where it would lie beyond.
 */
void tb_day_after(char out[TB_DAY_LEN + 1], const char *day, int n, bool working, enum tb_weekend weekend);
/* The same day of the month n months (>= 0) on, or the last day of a shorter month; 2999-12-31 at most. */
void tb_day_months_after(char out[TB_DAY_LEN + 1], const char *day, int n);
/* 0 Sunday .. 6 Saturday. */
int tb_day_of_week(const char *day);

struct tb_claim_question {
    const char *arrived; /* day */
    const char *found;   /* day the fault was found; NULL: not found yet */
    const char *today;   /* day the days left are counted from */
    enum tb_weekend weekend;
    const struct tb_claim_term *term; /* chosen rows and the site's own */
    size_t n;
};

struct tb_claim_due {
    char day[TB_DAY_LEN + 1];     /* last day for the notice; "" no row gives a number of days */
    char work_by[TB_DAY_LEN + 1]; /* last working day not after it, and not before the term began */
    long left;                    /* days from today to it; below 0: it has passed */
    long work_left;               /* working days after today up to it; 0 when it has passed */
    size_t by;                    /* term[by] says so */
};

struct tb_claim_clock {
    struct tb_claim_due arrival; /* for a fault that an examination at arrival shows */
    struct tb_claim_due
        discovery; /* for a hidden one; "" also while nothing is found and no row counts from arrival */
    struct tb_claim_due first; /* the earlier of the two: the careful day */
    struct tb_claim_due last;  /* the last day of all */
    bool before_cutting;       /* some row ends with the first cut */
    size_t cutting_by;         /* term[cutting_by] */
    size_t undated;            /* rows without a number of days: "without delay", "reasonable time" */
};

/*
 * tb_claim_clock - by when notice is due.
 *
 *   out    filled; untouched on failure
 *   fails  TB_EINVAL: a day is not a valid date, goods were found faulty before they arrived, a term is out of range
 *   memory borrows the question for the call; allocates nothing
 *   count  docs/claims.md, "How days are counted"
 */
tb_rc tb_claim_clock(struct tb_claim_clock *out, const struct tb_claim_question *q, struct tb_err *err);

/* A rule on how long a file is kept, a row of sql/reference/retention.csv. All text is static. */
struct tb_keep_rule {
    const char *key;
    const char *country; /* ISO 3166-1 alpha-2; "" it applies everywhere */
    const char *name;
    const char *says; /* in our own words */
    const char *source;
    const char *status; /* "seen", "memory" */
    int months;
};
/*
 * tb_claim_keep_until - until when the file of a dispute is kept: the longest rule of no country and of these countries,
 * counted from the day it was closed.
 *
 *   out      the day; the day of closing itself where no rule applies
 *   by       may be NULL; the rule, untouched where none applies
 *   closed   a valid date
 *   country  n codes, "" are passed over
 */
void tb_claim_keep_until(char out[TB_DAY_LEN + 1], struct tb_keep_rule *by, const char *closed,
                         const char *const *country, size_t n);

#endif
