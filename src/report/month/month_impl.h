/* month_impl.h - what the files of the month share. */
#ifndef TENTERBOOK_REPORT_MONTH_IMPL_H
#define TENTERBOOK_REPORT_MONTH_IMPL_H

#include "base/say.h"
#include "tenterbook/concluded.h"
#include "tenterbook/month.h"
#include "tenterbook/stored_verdict.h"
#include "tenterbook/workbook.h"

#define MONTH_TREND 13       /* months shown, at least, up to the end of the span */
#define MONTH_KINDS_MOST 8   /* kinds of fibre with a row and a column of their own */
#define MONTH_RANKED_MOST 12 /* suppliers in a chart */
#define MONTH_PRINT_MOST 200 /* rows of a list that are printed, unless all are asked for */

/* Lots by what is concluded of them. */
struct tally {
    int64_t lots, conforms, nothing_against, does_not;
    int64_t open;    /* and looked at */
    int64_t against; /* those of the open ones that what was seen speaks against */
};

/* A count of lots with how sure the share is that does not conform, had those looked at been drawn at random. */
struct rate {
    int64_t judged;          /* looked at: burnt, tested or analysed */
    double share, low, high; /* NAN: none was */
    double most;             /* share if every open one of them were wrong too */
};

/* A supplier with how sure its share is. */
struct ranked {
    char *name;
    char delivery[32]; /* the last one counted */
    int64_t number;    /* as in the list of lots */
    int64_t deliveries, bolts, held;
    double metres, kg; /* of bolts whose length is known; of those that were only weighed */
    bool measured;     /* the length of one bolt is known */
    struct tally t;
    struct rate rate;
};

/* Of goods together: metres of the bolts whose length is known, and kilograms of those that were only weighed. */
struct amount {
    double metres, held_metres, kg, held_kg;
};

/* A month of arrival. */
struct trend {
    struct tally t;
    struct amount amount;
    char month[8], from[TB_DAY_LEN + 1], until[TB_DAY_LEN + 1];
    struct rate rate;
    double aim;  /* the share that may not conform by the target of the site in this month; 0: none was set */
    bool inside; /* of the span: its lots are in this workbook */
};

/* What a finding is: kinds of fibre by name, something that differs and has no name, or nothing that decides. */
enum found_as { FOUND_KIND, FOUND_ELSE, FOUND_UNDECIDED };

/* Lots declared to be of one kind and found to be of another. */
struct found_pair {
    char *declared, *found;
    enum found_as as;
    int64_t n;
};

/* What came in and what of it is held, in one unit. */
struct stake {
    char unit[12], words[96];
    const char *all_column, *held_column; /* of the list of lots */
    bool money;
    double all, held;
};

/* An open lot for the page, in one line. */
#define MONTH_URGENT_MOST 6
struct urgent {
    int class; /* 0: contradicted or held; 1: any other */
    char *line;
};

/* The sheets, in the order of their tabs: what is read first stands first. */
enum month_tab {
    TAB_SUMMARY,
    TAB_CHARTS,
    TAB_LOTS,
    TAB_BOLTS,
    TAB_SUPPLIERS,
    TAB_OPEN,
    TAB_CLAIMS,
    TAB_MONEY,
    TAB_LABELS,
    TAB_MONTHS,
    TAB_SCORES,
    TAB_STAKES,
    TAB_FOUND,
    TAB_LEGEND,
    MONTH_TABS
};

struct month {
    const struct tb_month_plan *plan;
    const struct tb_month_source *source;
    struct tb_month_sums sums;
    struct tally tally; /* of the whole span */
    struct rate rate;
    struct tb_law *own_law; /* where the plan has none, made when it is first asked for */
    double base_rate;       /* as the plan has it */
    struct tb_workbook *book;
    struct tb_outfile *page; /* NULL: none was asked for */
    struct tb_tab *tab[MONTH_TABS];
    struct tb_text title,
        stood; /* "Cloth received, 2026-10 - Mill Lane"; which deliveries, which state of the book */
    char today[TB_DAY_LEN + 1];
    struct ranked *rank; /* suppliers in the order of their first lot, until they are ranked */
    size_t ranks, rank_cap;
    struct trend *trend;
    size_t trends, trend_cap;
    struct score *score; /* of each supplier and month */
    size_t scores, score_cap;
    struct found_pair *pair;
    size_t pairs, pair_cap;
    /* the matrix of kinds: cell[row * columns + column], rows declared, columns found */
    char **declared, **seen;
    size_t rows, columns;
    size_t rest_row, rest_column; /* where the rarer kinds stand together; SIZE_MAX: there is none */
    double *cell;
    struct tb_column *found_column; /* of the sheet of the matrix */
    struct stake stake[TB_MONTH_MONEY + 2];
    size_t n_stake;
    struct urgent urgent[MONTH_URGENT_MOST];
    size_t urgents;
};

/* A sheet: its name, its columns, and how it is filled. Its words are looked up in the message catalogue. */
struct sheet {
    const char *key, *tab, *title, *note; /* note NULL: none */
    const struct tb_column *column;
    size_t columns, printed;            /* as struct tb_tab_plan has them */
    const struct tb_emphasis *emphasis; /* NULL: of verdict and standing, in a list */
    size_t emphases;
    enum tb_layout layout;
    bool no_twin;
    bool no_span; /* the title is the same for every span */
    bool folded;  /* printed only when asked for */
    bool last;    /* filled after all others, since it is drawn from them */
    /* Changes the plan where that depends on the span; NULL: it does not. What the plan points to lives in m. */
    void (*prepare)(struct month *m, struct tb_tab_plan *plan);
    tb_rc (*fill)(struct month *m, struct tb_err *err); /* NULL: filled with the sheet after it */
};
extern const struct sheet tb_month_summary, tb_month_charts, tb_month_lots, tb_month_bolts,
    tb_month_suppliers, tb_month_open, tb_month_claims, tb_month_money, tb_month_labels, tb_month_months,
    tb_month_scores, tb_month_stakes, tb_month_found, tb_month_legend;

/* Bolts of a lot that stand in one way, their metres, the kilograms of those whose length is not known, and of all that have some. */
struct standing_part {
    int64_t bolts;
    double metres, kg, all_kg;
};

/* A lot as several sheets tell it. */
struct told {
    struct tb_month_lot lot;
    struct tb_concluded concluded;
    char proof[224];         /* "laboratory (eu us), 2 of 7 bolts burnt": stands beside every conclusion */
    double quantity;         /* in the unit of the invoice; NAN: not known of all of it */
    double value;            /* price times that quantity; NAN where either is missing */
    double kg;               /* of its bolts whose length is not known */
    double held_value;       /* of what of it is held */
    const char *length_kind; /* "computed from kilograms", "not known"; "" measured */
    char standing[32];       /* "released in part" where single bolts stand otherwise */
    struct standing_part stands[TB_RETURNED + 1]; /* by each bolt's own standing */
    struct tb_arena mem;
};
/* How a lot stands, in part where bolts of it stand otherwise: how many are released, held, returned there, 0 where all stand alike. */
const char *tb_month_standing(enum tb_standing_kind whole, int64_t released, int64_t held, int64_t returned);
/* The law of the plan, or the program's own. */
const struct tb_law *tb_month_law(struct month *m);
/* What is known of it, for tb_conclude. Borrowed. */
struct tb_known tb_month_known(const struct tb_month_lot *lot);
/* TB_EFORMAT: the stored verdict is damaged; the lot is named. Free out->mem, after a failure too. */
tb_rc tb_month_tell(struct told *out, const struct tb_month_lot *lot, struct tb_err *err);
/* What a part of its bolts is worth at the price of the lot; NAN: it has none, or how much the part is cannot be said. */
double tb_month_part_value(const struct told *of, const struct standing_part *part);
/* Whether a laboratory refutes the label of ours that a lot is under, in the markets of the plan where it was held against nothing. */
tb_rc tb_month_refuted(bool *out, struct month *m, const struct tb_month_lot *lot, struct tb_err *err);
/* Is it under a label of ours? */
bool tb_month_relabelled(const struct tb_month_lot *lot);
/* Count a lot by what is concluded of it. */
void tb_month_count(struct tally *t, const struct tb_concluded *c);
/* The month of a lot's arrival, in which it is counted. TB_EINVAL: the day is not valid. */
tb_rc tb_month_trend(struct trend **out, struct month *m, const char *arrived, struct tb_err *err);

/* A lot as the card of its supplier, whose name it is, counts it. Borrowed. */
struct tb_month_scored {
    const char *ref, *supplier, *arrived, *said; /* said: by the supplier, "" nothing */
    const struct tb_concluded *concluded;
    struct amount amount;
};
void tb_month_score(struct month *m, const struct tb_month_scored *lot);
/* More of it; NAN adds nothing. */
void tb_month_amount_add(struct amount *to, const struct amount *more);
struct amount tb_month_amount(const struct told *of);
void tb_month_scores_free(struct month *m);

/* A figure that was computed, as the type of the column says. */
void tb_month_put_plain(struct tb_tab *t, double value, enum tb_column_type as);
/* A figure over the list of lots: COUNTIFS, or SUMIFS of a column (n 0: its SUM), with its value now. */
void tb_month_put_over(struct tb_tab *t, const struct month *m, const char *column,
                       const struct tb_where *where, size_t n, double value, enum tb_column_type as);
/* The sum of a row from one column to another. */
void tb_month_put_sum(struct tb_tab *t, const char *from, const char *to, double value);
/* One column by another, empty where there is nothing to divide by. */
void tb_month_put_share(struct tb_tab *t, const char *part, const char *whole, double value);

/* How sure the share is; the interval is exact, like every other of the sheets (docs/sampling.md). */
tb_rc tb_month_rate(struct rate *out, const struct tally *t, struct tb_err *err);
/* Share, low and high end of an exact 95 % interval of columns `not_conforming` of `looked_at`, as formulas in a row. */
void tb_month_put_rate(struct tb_tab *t, const struct rate *r);
/* A chart of shares month by month with their intervals, and the target where there is one: its rows, series and form. */
void tb_month_points(struct tb_sheet_chart *k, const struct month *m);
/* The parts of a floating bar: from the low end to the share, and on to the high end. */
void tb_month_put_spans(struct tb_tab *t, const struct rate *r);

/* What cloth without a declaration that can be judged is likeliest to be, from its stored verdict; nothing for any other. */
tb_rc tb_month_likeliest(struct tb_text *out, const char *detail, struct tb_err *err);

/* How many suppliers have a lot that was looked at: they stand first, once the sheet of suppliers is filled. */
size_t tb_month_ranked(const struct month *m);

/* The kinds of fibre (classes that burn alike) of a declaration, of 10 % or more: "cellulose + polyester". */
void tb_month_kind_declared(struct tb_text *out, const char *declared);
/*
 * What was found instead: as declared where nothing was found against it, what a laboratory found or the likeliest kinds where
 * the lot does not conform; "" not looked at. TB_EFORMAT where the stored verdict is damaged.
 */
tb_rc tb_month_kind_found(struct tb_text *out, enum found_as *as, const struct told *of,
                          const char *declared_kind, struct tb_err *err);
void tb_month_pair(struct month *m, const char *declared, const char *found, enum found_as as);
/*
 * Rows, columns and cells of the matrix out of the pairs: the most frequent kinds, the rest as "other kinds". A row and
 * a column of the same name hold what was found as declared, and nothing else does.
 */
void tb_month_matrix(struct month *m);

/* The lines of the summary that hold the last month against the one before, the year before and the target. */
tb_rc tb_month_compared(struct month *m, struct tb_err *err);
/* The same in one sentence, for the page. */
void tb_month_compared_words(struct tb_text *out, const struct month *m);

/* "missed by the lots looked at; ...": a share against a target, of lots some of which were looked at. */
void tb_month_target_words(struct tb_text *out, double target, const struct rate *now);

/* What claims came to in the span: the lines of the summary, and in words for the page; "" where no amount was named. */
tb_rc tb_month_money_lines(struct month *m, struct tb_err *err);
void tb_month_money_words(struct tb_text *out, const struct month *m);

/* The page, into its file of the set. */
tb_rc tb_month_page(struct month *m, struct tb_err *err);

#endif
