/*
 * goods.h - what came in, as the book keeps it: suppliers, deliveries, lots, bolts, and what they are declared to be.
 * The rules for reading and writing are those of book.h.
 */
#ifndef TENTERBOOK_GOODS_H
#define TENTERBOOK_GOODS_H

#include "tenterbook/base.h"
#include "tenterbook/standing.h"
#include "tenterbook/verdict.h"

#include <stdint.h>

struct tb_book;

/* For functions that end in `upto`, which see the book as it was after a journal row: as it is. */
#define TB_BOOK_NOW INT64_MAX

/* ---- suppliers ------------------------------------------------------------------------------------------ */

struct tb_supplier {
    const char *id;
    const char *name; /* as it was first written */
};
/*
 * tb_supplier_find - by name, the one it is the same as. Case and spaces do not matter; accents only where two suppliers are told
 * apart by them (tb_supplier_apart). TB_ENOTFOUND when nobody is called so.
 */
tb_rc tb_supplier_find(struct tb_supplier *out, struct tb_book *b, const char *name, struct tb_arena *mem,
                       struct tb_err *err);
/* tb_supplier_as_written - the name itself, though it be the same as another one. Fails as tb_supplier_find. */
tb_rc tb_supplier_as_written(struct tb_supplier *out, struct tb_book *b, const char *name,
                             struct tb_arena *mem, struct tb_err *err);
/* tb_supplier_names - the ids of all names that are the same as this supplier, its own among them. */
tb_rc tb_supplier_names(const char ***out, size_t *n, struct tb_book *b, const char *supplier_id,
                        struct tb_arena *mem, struct tb_err *err);
/* tb_supplier_joined - the other names that are the same as this supplier, as they are written. */
tb_rc tb_supplier_joined(const char ***out, size_t *n, struct tb_book *b, const char *supplier_id,
                         struct tb_arena *mem, struct tb_err *err);
/* tb_supplier_same - record that a name is the same as a supplier that is the same as no other; as itself: on its own again. */
tb_rc tb_supplier_same(struct tb_book *b, const char *supplier_id, const char *same_as_id, const char *why,
                       struct tb_err *err);
/* tb_supplier_list - all of them, by name, also those that are the same as another one. */
tb_rc tb_supplier_list(struct tb_supplier **out, size_t *n, struct tb_book *b, struct tb_arena *mem,
                       struct tb_err *err);
/*
 * tb_supplier_ensure - find a supplier as it is written, or record it: what comes in under a name stays with that name, also where it is
 * the same as another one now. TB_EINVAL when the name has no letters.
 */
tb_rc tb_supplier_ensure(struct tb_supplier *out, struct tb_book *b, const char *name, struct tb_arena *mem,
                         struct tb_err *err);

/* tb_supplier_apart - record a supplier whose name may differ from one in the book by accents alone. TB_EEXISTS it is there. */
tb_rc tb_supplier_apart(struct tb_supplier *out, struct tb_book *b, const char *name, struct tb_arena *mem,
                        struct tb_err *err);
/* Whether two names are one but for case and spaces. */
bool tb_supplier_spelled(const char *a, const char *b);

/* What was noticed of a name that somebody said. All NULL: nothing. */
struct tb_name_noticed {
    const char *near,
        *near_to; /* a supplier in the book with nearly the name of a new one, which stands behind */
    const char *taken,
        *taken_as; /* a name, and the supplier it is taken for, who is written otherwise in the book */
};

/* ---- deliveries ----------------------------------------------------------------------------------------- */

/* What receive writes into the remark of goods that nobody examined at the door, alone or before what was said. */
#define TB_UNEXAMINED TR_("received unexamined")

struct tb_delivery {
    const char *id, *ref;      /* W26-014 */
    int64_t year, serial;      /* of arrival; which delivery of the site in that year: both are in ref */
    const char *supplier;      /* id */
    const char *supplier_name; /* read-only */
    const char *
        written_as; /* read-only: the supplier as its papers write it, which may be the same as another one */
    const char *note, *order_no;                      /* as printed; "" not given */
    const char *note_day;                             /* NULL not given */
    const char *arrived;                              /* day the goods came in */
    const char *received_at, *received_by /* name */; /* read-only: when it was recorded, and by whom */
    const char *file_name, *file_digest; /* of the supplier's file, SHA-256; "" when it was typed */
    const char *remark;                  /* damage noted at the door; "" nothing */
};
/* tb_delivery_add - record one: fills id, ref, year and serial. TB_EINVAL: arrived or note_day is not a valid date. */
tb_rc tb_delivery_add(struct tb_delivery *d, struct tb_book *b, struct tb_arena *mem, struct tb_err *err);
/* tb_delivery_find - by its reference; TB_ENOTFOUND when there is none, TB_EREFUSED when it is void. */
tb_rc tb_delivery_find(struct tb_delivery *out, struct tb_book *b, const char *ref, struct tb_arena *mem,
                       struct tb_err *err);
/* tb_delivery_ever - by its id, void or not. TB_ENOTFOUND, without a sentence, when there is none. */
tb_rc tb_delivery_ever(struct tb_delivery *out, struct tb_book *b, const char *id, struct tb_arena *mem,
                       struct tb_err *err);
/* tb_delivery_named - by its reference as the book writes it, void or not. TB_ENOTFOUND, without a sentence, when there is none. */
tb_rc tb_delivery_named(struct tb_delivery *out, struct tb_book *b, const char *ref, struct tb_arena *mem,
                        struct tb_err *err);
/* tb_lot_refs_of_delivery - the references of its lots, void ones too, as they came. */
tb_rc tb_lot_refs_of_delivery(const char ***out, size_t *n, struct tb_book *b, const char *delivery_id,
                              struct tb_arena *mem, struct tb_err *err);
/* tb_delivery_by_file - what the file with this digest was received as; TB_ENOTFOUND, without a sentence, when it never
 * was. */
tb_rc tb_delivery_by_file(struct tb_delivery *out, struct tb_book *b, const char *digest,
                          struct tb_arena *mem, struct tb_err *err);

/*
 * tb_delivery_of_note - the last one of a supplier with this note, other than `except` (its id; NULL: any); TB_ENOTFOUND, without a
 * sentence, when there is none.
 */
tb_rc tb_delivery_of_note(struct tb_delivery *out, struct tb_book *b, const char *supplier_id,
                          const char *note, const char *except, struct tb_arena *mem, struct tb_err *err);
/*
 * tb_deliveries_of_bolt - the references of those of a supplier (its id; "" nobody's) that have a bolt of this number, with
 * zeros before it or without, and of a length from least to most metres, and of those of anybody that arrived since this day, the latest first.
 */
tb_rc tb_deliveries_of_bolt(const char ***out, size_t *n, struct tb_book *b, const char *supplier_id,
                            const char *number, double least, double most, const char *since,
                            struct tb_arena *mem, struct tb_err *err);
/* The note of a delivery, and its date; NULL: none is known. */
struct tb_delivery_note {
    const char *ref, *note, *note_day;
};
/* tb_delivery_notes - those of a supplier that have a note, the latest first. */
tb_rc tb_delivery_notes(struct tb_delivery_note **out, size_t *n, struct tb_book *b, const char *supplier_id,
                        struct tb_arena *mem, struct tb_err *err);
/* How much of a delivery counts. */
struct tb_delivery_goods {
    int64_t lots, bolts;
    double metres;   /* of those whose length is known */
    int64_t unknown; /* bolts whose length is not */
};
tb_rc tb_delivery_sum(struct tb_delivery_goods *out, struct tb_book *b, const char *delivery_id,
                      struct tb_err *err);

/* ---- lots ----------------------------------------------------------------------------------------------- */

struct tb_lot {
    const char *id, *ref, *delivery;                 /* its reference W26-014.02; id of the delivery */
    const char *article, *colour, *dye_lot, *origin; /* origin: country as written; "" not given */
    double unit_price;                               /* per metre; NAN not given */
    const char *currency;                            /* ISO 4217; "" not given */
    int64_t bolts;                                   /* how many came */
    double metres;    /* together, of those whose length is known; NAN: none is */
    double kg;        /* of the bolts that were counted in kilograms; not above 0: none was */
    int64_t derived;  /* bolts whose length is computed from kilograms, width and mass per area */
    int64_t unknown;  /* bolts whose length is not known */
    double weight_kg; /* net, of the bolts that were measured and weighed besides */
    int64_t weighed;  /* so many; 0: weight_kg says nothing */
    /* read-only, as it is now */
    const char *delivery_ref, *arrived, *supplier /* id */, *supplier_name;
    const char *declared;    /* words of the declaration that counts; "" none */
    const char *reading;     /* composition read from them, as printed; "" none */
    bool clear;              /* nothing blocks a verdict */
    const char *doubts;      /* sentences, one a line */
    const char *declaration; /* its id; NULL none */
    enum tb_standing_kind standing;
    enum tb_verdict_kind verdict;
    double
        log_ratio; /* natural logarithm of its evidence ratio; NAN not judged, or nothing could be weighed */
    int64_t bolts_burnt;  /* N of "N of M bolts burnt" */
    int64_t bolts_tested; /* burnt, or tested without a flame */
    int64_t burns, tests; /* that count; tests without a flame */
    int64_t serial;       /* which lot of the delivery */
    bool voided;          /* it does not count: it or its delivery was recorded by mistake */
    /* bolts released, returned or held, where only part of the lot is; 0: all of it stands as `standing` says */
    int64_t released_in_part, returned_in_part, held_in_part;
    bool own_words;        /* the words that count are those of a new label of ours, not the supplier's */
    const char *judged;    /* id of the verdict; NULL none */
    const char *judged_at; /* NULL none */
    const char
        *grade; /* of the verdict, as struct tb_judged has it and what follows; "" in its details alone */
    double lowest, highest; /* NAN: in its details alone */
    bool one_look, untested;
    const char *seen; /* as struct tb_known has it */
    bool at_odds;     /* as struct tb_verdict has it */
    const char *against;
    int64_t analyses; /* of laboratories, that count */
};
/*
 * tb_lot_add - record a lot of a delivery: fills id, ref, delivery and serial.
 *   serial         which lot of the delivery, from 1
 *   bolts, metres  of the lot must be those of the bolts that are added after, and so kg, derived, unknown, weight_kg and weighed
 */
tb_rc tb_lot_add(struct tb_lot *lot, struct tb_book *b, const struct tb_delivery *d, int64_t serial,
                 struct tb_arena *mem, struct tb_err *err);
/*
 * tb_lot_find - a lot by its reference, or by the number of a bolt that only one lot has.
 *   fails  TB_ENOTFOUND neither is there; TB_EREFUSED it is void; TB_EINVAL several lots have such a bolt, and names them
 */
tb_rc tb_lot_find(struct tb_lot *out, struct tb_book *b, const char *ref_or_bolt, struct tb_arena *mem,
                  struct tb_err *err);

/* tb_lot_ever - the same, a void one too: what it was is still asked. TB_ENOTFOUND as above. */
tb_rc tb_lot_ever(struct tb_lot *out, struct tb_book *b, const char *ref_or_bolt, struct tb_arena *mem,
                  struct tb_err *err);

/* tb_lot_of_id - by its id, void or not. TB_ENOTFOUND, without a sentence, when there is none. */
tb_rc tb_lot_of_id(struct tb_lot *out, struct tb_book *b, const char *id, struct tb_arena *mem,
                   struct tb_err *err);

/* How a lot was priced: price times quantity is its value, in the unit and the money of the invoice. */
struct tb_invoiced {
    double price;         /* of one unit; NAN not given */
    const char *unit;     /* m, yd, ft, kg ... */
    double unit_metres;   /* metres in one unit; NAN: it is not a length */
    const char *currency; /* "" not given */
    double quantity;      /* of the lot, in that unit; NAN: not known of all its bolts */
    double value;         /* NAN: no price, or no quantity */
};
/* How much some bolts are, as struct tb_lot has it. */
struct tb_measured {
    double metres, kg, weight_kg;
    int64_t bolts, derived, unknown, weighed;
};
struct tb_measured tb_measured_of(const struct tb_lot *lot);
/*
 * tb_invoiced_quantity - how many units of the invoice such bolts have: their length in them; of goods priced by weight their kilograms,
 * where each was counted in them or weighed besides.
 *   unit_metres  metres in one unit; NAN: kilograms
 *   result       NAN: not known of all of them
 */
double tb_invoiced_quantity(double unit_metres, const struct tb_measured *m);
/* tb_lot_price_add - record a price that is not one a metre: price, unit, unit_metres and currency are read. */
tb_rc tb_lot_price_add(const struct tb_invoiced *price, struct tb_book *b, const char *lot_id,
                       struct tb_err *err);
/* tb_lot_invoiced - of a lot as it is in the book; text in mem. Where the unit of its lengths was amended, in the amended one. */
tb_rc tb_lot_invoiced(struct tb_invoiced *out, struct tb_book *b, const struct tb_lot *lot,
                      struct tb_arena *mem, struct tb_err *err);

struct tb_lot_filter {
    const char *from, *until;       /* day of arrival in [from, until); NULL: no bound */
    const char *supplier;           /* id; NULL: any */
    enum tb_standing_kind standing; /* TB_STANDING_NONE: any */
    const char *delivery;           /* id; NULL: any */
};
/* Called with one lot, borrowed for the call; an answer other than TB_OK ends the walk and is what it answers. */
typedef tb_rc tb_lot_fn(void *arg, const struct tb_lot *lot, struct tb_err *err);
/*
 * tb_lot_each - call for each lot, by arrival and reference. One lot at a time is in memory.
 *   filter  NULL: all of them
 */
tb_rc tb_lot_each(struct tb_book *b, const struct tb_lot_filter *filter, tb_lot_fn *fn, void *arg,
                  struct tb_err *err);

/* ---- bolts ---------------------------------------------------------------------------------------------- */

struct tb_bolt {
    const char *id, *lot /* id */, *number; /* number as on the ticket */
    double metres;                          /* NAN: counted in kilograms, and its length is not known */
    double width_cm, mass_gm2;              /* width, mass (g/m2): NAN not given */
    double kg;                              /* not above 0: it was not counted in kilograms */
    double weight_kg;    /* net, of one that was measured and weighed besides; not above 0: it was not */
    bool derived;        /* its metres are computed from kilograms, width and mass per area */
    const char *said;    /* the length as written, where it was not plain metres; "" else */
    const char *lot_ref; /* read-only */
};
/*
 * tb_bolt_add - record a bolt of bolt->lot; it gets a key that is not told.
 *   fails  TB_EINVAL: a length that is not above 0, none at all of a bolt that has no kilograms
 *   cost   a million of them in one transaction is the plan: nothing is allocated for each
 */
tb_rc tb_bolt_add(const struct tb_bolt *bolt, struct tb_book *b, struct tb_err *err);
/* tb_bolts_begin - so many bolts will be added in this transaction: the index by number is made at its end if that is
 * cheaper. */
tb_rc tb_bolts_begin(struct tb_book *b, int64_t how_many, struct tb_err *err);
/* tb_bolts_end - they were added. Call it before the commit. */
tb_rc tb_bolts_end(struct tb_book *b, struct tb_err *err);
/* tb_bolt_list - the bolts of a lot, as they were added. */
tb_rc tb_bolt_list(struct tb_bolt **out, size_t *n, struct tb_book *b, const char *lot_id,
                   struct tb_arena *mem, struct tb_err *err);
/* tb_bolt_find - the bolt of a lot with this number; TB_ENOTFOUND when the lot has none. */
tb_rc tb_bolt_find(struct tb_bolt *out, struct tb_book *b, const char *lot_id, const char *number,
                   struct tb_arena *mem, struct tb_err *err);

/* ---- what a lot is declared to be ------------------------------------------------------------------------ */

/* Where the words of a declaration come from. */
enum tb_origin_kind {
    TB_ORIGIN_ROW,     /* a row of the packing list */
    TB_ORIGIN_TITLE,   /* above its table, or above a block of rows */
    TB_ORIGIN_OPTION,  /* said at the door */
    TB_ORIGIN_ANSWER,  /* the supplier answered */
    TB_ORIGIN_RELABEL, /* the label was changed here */
    TB_ORIGIN_SLIP,    /* the words before were typed here by mistake: these are the supplier's */
};
/* "row", "title", "option", "answer", "relabel", "slip": what the book says. */
extern const struct tb_words tb_origin_words;

/* One declaration of a lot. The latest counts. */
struct tb_declared {
    const char *id, *text; /* the words as they were received */
    const char *reading;   /* composition read from them, as printed; "" none */
    const char *doubts;    /* sentences, one a line */
    enum tb_origin_kind origin;
    const char *replaces;    /* id of the one it corrects; NULL */
    bool clear;              /* nothing blocks a verdict */
    const char *at, *person; /* when it was recorded, and by whom */
    const char *why;         /* why it counts in place of words that could be read; "" not said */
};
/*
 * tb_declaration_add - record words for a lot; the fibre module reads them.
 *   replaces  id of the declaration they correct, or NULL
 */
tb_rc tb_declaration_add(struct tb_book *b, const char *lot_id, const char *text, enum tb_origin_kind origin,
                         const char *replaces, struct tb_err *err);
/* tb_declaration_reason - why a declaration counts in place of others, for its id. Once for each. */
tb_rc tb_declaration_reason(struct tb_book *b, const char *declaration_id, const char *why,
                            struct tb_err *err);
/* tb_declaration_list - all declarations of a lot. */
tb_rc tb_declaration_list(struct tb_declared **out, size_t *n, struct tb_book *b, const char *lot_id,
                          struct tb_arena *mem, struct tb_err *err);
/* tb_declarations_upto - the words of all declarations of a lot up to journal row `upto`, the one that counted then last. */
tb_rc tb_declarations_upto(const char ***text, size_t *n, struct tb_book *b, const char *lot_id, int64_t upto,
                           struct tb_arena *mem, struct tb_err *err);

#endif
