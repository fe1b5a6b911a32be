/*
 * case.h - the buyer's file on one lot: a PDF a supplier can read and anyone can check, and a workbook.
 *
 * The pages are drawn from the attached data alone (an extract of the book, see extract.h, and what the buyer asks),
 * and the same data give the same pages byte for byte: so a reader with the program can draw them again and see
 * whether a page was changed. Nothing on the pages is not in the book, except what is asked.
 *
 * The data are JSON; docs/reports.md, "The attached data", names their members.
 */
#ifndef TENTERBOOK_CASE_H
#define TENTERBOOK_CASE_H

#include "tenterbook/extract.h"
#include "tenterbook/outfile.h"

#include <jansson.h>

struct tb_book;
struct tb_held;

struct tb_case_plan {
    const char *lot;       /* reference, or number of a bolt */
    const char *made;      /* moment */
    const char *by;        /* who makes it */
    const char *asked;     /* what the supplier is asked, in plain words; NULL: what the program suggests */
    const char *answer_by; /* day (YYYY-MM-DD); NULL: no day is asked for */
    bool without_dispute;  /* keep back what was claimed, sent, answered and agreed */
    const char *language;  /* of the pages, "de"; NULL: the one set for the supplier, else English */
};

/*
 * tb_case_data - the data of a case: what the book holds of the lot, and the verdict that papers speak of (paper_verdict.h).
 *
 *   out     a new reference, yours to json_decref; untouched on failure
 *   fails   TB_ENOTFOUND: no such lot; TB_EINVAL: answer_by is not a valid date or is past, papers are not written in language, what is asked
 *           is not UTF-8, the lot
 *           cannot be judged; TB_EREFUSED: its verdict no longer follows from what is known; TB_EFORMAT: the book does not prove; what reading the book answers
 *   memory  plan is borrowed for the call
 */
tb_rc tb_case_data(json_t **out, struct tb_book *b, const struct tb_case_plan *plan, struct tb_err *err);

/* What a case gives away besides what was seen of the cloth: whoever sends it should have read that first. */
struct tb_case_tells {
    size_t steps;           /* of disputes, each with its words and amount */
    size_t people;          /* whose names are in it */
    size_t settings, known; /* of the bench; swatches of known cloth */
    /* by older programs, where digests cover it: journal rows with a login, verdicts with the share of false lots of the site, records with
     * the words of a label of our own */
    size_t logins, bases, labels;
    bool price;
    size_t typeds, papers, photographs;
    struct tb_text typed; /* reasons and notes as people typed them, one a line, each once */
    struct tb_text files; /* names of papers and photographs, one a line */
};
/* tb_case_tells - of the data of a case. Free it with tb_case_tells_free, also where it is zeroed. */
void tb_case_tells(struct tb_case_tells *out, const json_t *data);
void tb_case_tells_free(struct tb_case_tells *t);

/*
 * tb_case_pdf - draw the pages and attach the data, in memory.
 *
 *   out     the file is added; free it with tb_text_free. Same data, same bytes
 *   fails   TB_EFORMAT: the data are not those of a case, are damaged, or of a later program; TB_EIO: a font is
 *           missing, or the drawing library failed
 */
tb_rc tb_case_pdf(struct tb_text *out, const json_t *data, struct tb_err *err);

/* tb_case_write - the same into a file of a set, whose name ends in .pdf. Fails also as tb_outset_add. */
tb_rc tb_case_write(struct tb_outset *files, const char *path, const json_t *data, struct tb_err *err);

/*
 * tb_case_sheets - the case as a workbook, for those who would rather sort and count.
 *
 *   path    ends in .xlsx; each sheet stands beside it as a CSV file (workbook.h)
 *   fails   TB_EFORMAT: as tb_case_pdf; TB_EIO; as tb_outset_add
 */
tb_rc tb_case_sheets(struct tb_outset *files, const char *path, const json_t *data, struct tb_err *err);

/* What tb_case_prove found. Counts are those of struct tb_extract_proof (extract.h). */
struct tb_case_proof {
    char lot[64], made[32]; /* reference; moment */
    int64_t journal, named, facts, partly, shared, absent, kept_back, ours, misnamed, compared, last;
    int64_t later;                  /* rows a book has beyond the file; 0 without a book */
    int64_t newer_rows;             /* of these, so many are about the lot */
    struct tb_text newer;           /* they, one a line */
    int64_t beyond;                 /* rows noted elsewhere that the file does not reach */
    struct tb_extract_stamp *stamp; /* its time stamps, by row (extract.h) */
    size_t stamps;
    char digest[65]; /* of the last journal row */
    char data[65];   /* SHA-256 of the attached data */
    bool pages;      /* the pages are those the data give */
    bool
        saved_anew; /* another program wrote the file since; the data, and what was compared of the pages, are the same */
    bool judged;            /* the verdict was computed again here */
    bool unjudged;          /* there is one, and it could not be computed again here */
    double ratio, recorded; /* natural logarithm of the evidence ratio, now and as told; NAN: not judged */
    struct tb_text wrong;   /* what does not agree, one sentence a line; empty: all agrees */
    bool looks; /* one of them: a page looks otherwise, and each word on it is as the data give it */
    struct tb_text notes; /* what could not be checked here, likewise */
};
/*
 * tb_case_prove - does a case file agree with itself, and with a book.
 *
 *   out      filled also when something does not agree: that is an answer (TB_OK). Free it with tb_case_proof_free,
 *            whatever the answer
 *   against  the book it is said to come from; NULL: without one
 *   held     what was noted of the book elsewhere; { 0 }: nothing (anchor.h)
 *   fails    TB_ENOTFOUND: no such file; TB_EFORMAT: no case file, damaged, or saved anew without its data; TB_EIO; as tb_extract_held
 */
tb_rc tb_case_prove(struct tb_case_proof *out, const char *path, struct tb_book *against,
                    const struct tb_held *held, struct tb_err *err);
/* tb_case_proof_free - free texts and lists; does nothing to a zeroed struct. */
void tb_case_proof_free(struct tb_case_proof *p);

#endif
