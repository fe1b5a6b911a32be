/*
 * month.h - a span of trade on sheets: what came in, what was judged, what is open, which supplier, how sure.
 *
 * The sheets are filled from a source that hands over rows one by one (month_rows.h), so a month of a million bolts
 * takes the memory of a few rows. docs/reports.md tells what each sheet says and how it is counted.
 */
#ifndef TENTERBOOK_MONTH_H
#define TENTERBOOK_MONTH_H

#include "tenterbook/evidence.h"
#include "tenterbook/law.h"
#include "tenterbook/month_rows.h"
#include "tenterbook/outfile.h"

#define TB_MONTH_MONEY 8 /* currencies told apart; the rest is left out of the sums, and said so */

/* What the summary says: for the command's own words. */
#define TB_MONTH_REFS 160 /* room for the references of a few lots */
struct tb_month_sums {
    int64_t lots, bolts, bolts_burnt;
    int64_t bolts_tested;     /* burnt, or tested without a flame */
    double metres;            /* of the goods whose length is known */
    double kg;                /* of the bolts whose length is not known */
    int64_t derived, unknown; /* bolts whose length is computed from kilograms; is not known, and in no sum */
    int64_t fits, contradicts, against, undecided,
        unjudged; /* by verdicts alone; against: it speaks against the words */
    int64_t conforms, nothing_against, does_not, open; /* concluded; open: and looked at */
    int64_t laboratory, does_not_laboratory; /* of them by laboratories: all; those that do not conform */
    struct tb_month_standing {
        int64_t lots;  /* with a bolt that stands so */
        double metres; /* of such bolts */
        double kg;     /* of those of them whose length is not known */
    } waiting, held, released, relabelled, returned;
    int64_t in_part; /* lots with single bolts that stand otherwise than the rest */
    struct {
        char currency[12];
        double all, held;
        int64_t
            held_unknown; /* lots of which nobody knows what the held part is worth: in `all`, and not in `held` */
    } money[TB_MONTH_MONEY];
    size_t monies;
    int64_t unpriced; /* lots without a price */
    struct tb_month_work work;
    int64_t markets, labels, label_faults; /* markets asked; lots times markets; those with a fault */
    int64_t claims, claims_overdue;        /* open ones */
    int64_t claims_unsaid; /* of them: nobody can say whether they are overdue (no terms, no delay set) */
    double low,
        high; /* exact 95 % interval of the share that does not conform of those looked at, 0..1; NAN: none was */
    /* verdicts of these lots that would be others by what is known at `now`, and those weighed with other figures */
    int64_t otherwise, other_figures;
    char otherwise_lots[TB_MONTH_REFS]; /* "M26-007.03, M26-009.03 and 2 more" */
    char nothing
        [96]; /* of a span without a delivery what there is to say: none arrived, the book begins later; "" one did */
};

struct tb_claim_open;
struct tb_outdated;
struct tb_money;
struct tb_law;

/* What the site aimed at from a day on. */
struct tb_month_target {
    const char *from;
    double share; /* that may not conform; 0 none was set from then on */
};

struct tb_month_plan {
    struct tb_outset *files;   /* all that is written becomes part of this set, which the caller ends */
    const char *path;          /* ends in ".xlsx"; CSV twins beside it */
    const char *from, *until;  /* days of arrival in [from, until) */
    const char *name;          /* "2026-03" */
    const char *now;           /* moment the sheets speak of: days open are counted to it */
    const char *page;          /* ends in ".pdf": the same on one page; NULL: no page */
    const char *const *market; /* keys of law.h: the markets the cloth is sold to */
    size_t markets;
    const struct tb_claim_open *claim; /* open claims (lot_claim.h), by the day they are due */
    size_t claims;
    const struct tb_outdated *outdated; /* verdicts that have to be reached again (outdated.h); NULL: none */
    const struct tb_law *law;     /* with the names the site took over; NULL: those of the program alone */
    const struct tb_money *money; /* amounts of claims that were named in the span; NULL: not read */
    const struct tb_money *trend_money; /* the same of all months from tb_month_back on; NULL: not read */
    double base_rate; /* share of lots that is taken not to be as declared, 0..1; 0: nobody said */
    enum tb_base_from base_from;
    double contradicts_below, speaks_below, fits_above; /* evidence ratios in force; 0: those of the model */
    const char *target_from,
        *target_words; /* the target of the site: its day of effect, its words; NULL: none */
    double target;     /* the share that may not conform, 0..1 */
    const struct tb_month_target *aimed; /* all of them by their day; one that ends those before it is 0 */
    size_t aims;
    bool print_all; /* long lists are printed whole, and the bolts too */
    bool earlier;   /* the book as it was at `now`, an earlier moment */
};

/*
 * tb_month_write - the workbook and its twins, and the page, as parts of a set of files.
 *
 *   out     filled on success, else untouched
 *   source  rows are taken from it several times: a sheet of lots, one of each market, one of what is open
 *   fails   TB_EINVAL: a day that is not valid; TB_ENOTFOUND: no such market; TB_EFORMAT: a stored verdict is damaged, its
 *           lot is named; TB_EIO: the disk, a font; as tb_outset_add; what the source answered
 *   memory  plan is borrowed for the call
 */
tb_rc tb_month_write(struct tb_month_sums *out, const struct tb_month_plan *plan,
                     const struct tb_month_source *source, struct tb_err *err);

/* tb_month_twin - key of the sheet number i that has a CSV file, in the order of the tabs: "summary". NULL: no more. */
const char *tb_month_twin(size_t i);

/* tb_month_back - the first day that is looked back to: thirteen months up to the end of the span, or all of a longer span. */
void tb_month_back(char out[TB_DAY_LEN + 1], const char *from, const char *until);

struct tb_month_request {
    struct tb_outset *files;       /* as struct tb_month_plan has it */
    const char *first, *last;      /* months, "2026-03"; both are in the span */
    const char *path, *page;       /* as struct tb_month_plan has them */
    struct tb_market_list markets; /* none: those of the setting market */
    bool unproved;                 /* the book is not proved first */
    bool print_all;                /* as struct tb_month_plan has it */
    const char *as_of;             /* the book as it was at the end of this day (tb_book_as_of); NULL: now */
};
/* "2026-03", or "2026-03..2026-05" where the months differ. */
#define TB_SPAN_NAME_LEN 16
void tb_month_span_name(char out[TB_SPAN_NAME_LEN + 1], const char *first, const char *last);
/*
 * tb_month_make - the sheets of a span of months from the book as it stands now, or stood on a day, open claims included.
 *
 *   out    filled on success
 *   fails  TB_EFORMAT the book does not prove, and nothing is written; TB_EINVAL the day of as_of is not over yet, or before the
 *          span; as tb_book_as_of, tb_month_from_book, tb_claim_open_list and tb_month_write
 */
tb_rc tb_month_make(struct tb_month_sums *out, struct tb_book *b, const struct tb_month_request *request,
                    struct tb_err *err);

#endif
