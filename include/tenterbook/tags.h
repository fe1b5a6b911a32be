/*
 * tags.h - tags for swatches and bolts: sheets of labels as PDF, to be printed on label stock and found again by a scanner.
 *
 * Each tag carries the swatch's number as words, QR code (ISO/IEC 18004) and, where its bars have room in whole dots of the printer, Code 128
 * (ISO/IEC 15417), the part of the cloth with the direction of its threads, what was declared, when it was cut, and a mark when it was burnt.
 */
#ifndef TENTERBOOK_TAGS_H
#define TENTERBOOK_TAGS_H

#include "tenterbook/fibre.h"
#include "tenterbook/outfile.h"

struct tb_tag {
    const char *number; /* printable ASCII, at most 40: "W26-014.02.03" */
    enum tb_part_kind part;
    const char *declared; /* the supplier's words, or what a known cloth is */
    const char *bolt;     /* number; "": of no bolt */
    const char
        *cut; /* day it was cut; NULL: the tag is of the bolt itself, and `bolt` tells it: "T3, 50.20 m" */
    const char *burnt;  /* day it was burnt; NULL: not burnt */
    const char *stands; /* how the bolt stands, in large letters: "HELD"; NULL: it is not said */
    const char *stood;  /* the day it stood so */
    bool stop;          /* it must not go into use: light letters on a dark ground */
};

#define TB_TAG_DOTS_LEAST 100.0 /* an inch */
#define TB_TAG_DOTS_MOST 2400.0

/* Label stock, in millimetres. Labels stand in rows from the upper left corner. */
struct tb_tag_sheet {
    double page_width, page_height;   /* 25 .. 500, 15 .. 500 */
    double label_width, label_height; /* 25 .. page, 15 .. page */
    double left, top;                 /* edge of the page to the first label */
    double gap_x, gap_y;              /* between labels */
    long skip;                        /* labels of the first page that are gone already */
    double dots;                      /* of the printer, an inch; 100 .. 2400, 0: not known, 300 are taken */
};

/* tb_tag_sheet_usual - A4 with 3 x 8 labels of 70 x 37 mm, without margins. */
void tb_tag_sheet_usual(struct tb_tag_sheet *out);

/* tb_tag_sheet_roll - labels of this size on a roll: each is a page of its own, without margins, for a printer of 203 dots an inch. */
void tb_tag_sheet_roll(struct tb_tag_sheet *out, double width, double height);

/*
 * tb_tag_sheet_holds - how many labels stand on a page.
 *   out     1 or more; untouched on failure
 *   fails   TB_EINVAL: no label fits, a measure is out of its range, or more labels are gone than a page holds
 */
tb_rc tb_tag_sheet_holds(long *out, const struct tb_tag_sheet *sheet, struct tb_err *err);

/*
 * tb_tags_write - the sheets as a PDF, a file of a set.
 *
 *   tag      n tags in the order of the labels; borrowed
 *   anchor   of the book, as one line, for a label behind the last tag (anchor.h); NULL: none is printed
 *   created  moment for the file's properties; NULL: now. Same tags, same moment: same bytes
 *   fails    TB_EINVAL: there is no tag, a number that no code can carry, a sheet that cannot be, labels too small for the anchor; TB_EIO: a font is
 *            missing, the drawing library failed; as tb_outset_add
 */
tb_rc tb_tags_write(struct tb_outset *files, const char *path, const struct tb_tag *tag, size_t n,
                    const struct tb_tag_sheet *sheet, const char *anchor, const char *created,
                    struct tb_err *err);

struct tb_book;
struct tb_tag_list {
    struct tb_tag *tag;
    size_t n, cap;
};
/*
 * tb_tags_find - add the tags of swatches of the book to a list.
 *
 *   list           all zero before the first use; free it with tb_tag_list_free, after a failure too
 *   lot_or_swatch  a lot, by its reference or the number of a bolt: all of its swatches; the number of a swatch: that
 *                  one; NULL: the swatches of known cloth
 *   fails          as tb_lot_find
 *   memory         text is in mem
 */
tb_rc tb_tags_find(struct tb_tag_list *list, struct tb_book *b, const char *lot_or_swatch,
                   struct tb_arena *mem, struct tb_err *err);
/*
 * tb_tags_bolts - add a tag for each bolt of a lot: its number is that of the lot, a space, and that of the bolt. For bolts without
 * tickets, which have a number of the program's own.
 *   stood          the day that goes with how each bolt stands, "2026-11-26"; NULL: how it stands is not said
 *   fails, memory  as tb_tags_find
 */
tb_rc tb_tags_bolts(struct tb_tag_list *list, struct tb_book *b, const char *lot, const char *stood,
                    struct tb_arena *mem, struct tb_err *err);
void tb_tag_list_free(struct tb_tag_list *list);

#endif
