/* case_page.h - what the sections of the pages of a case share. */
#ifndef TENTERBOOK_REPORT_CASE_PAGE_H
#define TENTERBOOK_REPORT_CASE_PAGE_H

#include "report/case/case_impl.h"
#include "report/draw/page.h"

/* The day of a moment, for "%.*s". */
#define DAY(moment) TB_DAY_LEN, (moment)

struct case_page {
    struct page page;
    struct story *story;
    struct tb_text text; /* for one sentence at a time */
};

/* A section draws its heading and all below it, or nothing where the case has nothing to say of it. */
typedef void case_section(struct case_page *c);

case_section tb_case_front;   /* page one: declared, found, how sure, what is at stake */
case_section tb_case_dispute; /* what was claimed, sent, answered and agreed */
case_section tb_case_joint;   /* samples that both sides hold */
case_section tb_case_asked;   /* what the supplier is asked, and who signs */
case_section tb_case_claimed; /* what the supplier declares, on which delivery */
/* Which swatches, of which bolts, the laboratory of an analysis had: dealt or sent to it until then; or that nobody recorded it. */
void tb_case_had(struct tb_text *out, const struct story *s, const struct tb_analysis *a);
/* Whether the file keeps back what was claimed, sent, answered and agreed: then no page tells that there was any. */
bool tb_case_keeps_back(const struct story *s);
case_section tb_case_found;    /* the verdict and the rule it was made by */
case_section tb_case_cues;     /* what speaks for and against */
case_section tb_case_burns;    /* the burns as recorded */
case_section tb_case_photos;   /* photographs and papers */
case_section tb_case_limits;   /* what a burn can prove */
case_section tb_case_bench;    /* bench tests and laboratory */
case_section tb_case_coverage; /* how much of the delivery was looked at */
case_section tb_case_custody;  /* who had what when */
case_section tb_case_void;     /* what was recorded by mistake, and amended */
case_section tb_case_words;    /* the words explained */
case_section tb_case_check;    /* how to check the file */

/* How many bolts are false, at least and at most, in a sentence; false: what was added says why that is not known, or nothing was. */
bool tb_case_bounds(struct tb_text *out, const struct story *s);

/*
 * A photograph as a picture to draw, yours to destroy; NULL: it cannot be shown. The orientation is that of EXIF, 1 to 8
 * (jpeg_head.h): how it has to be turned to stand upright.
 */
cairo_surface_t *tb_case_picture(int *orientation, const struct tb_attachment *a);

#endif
