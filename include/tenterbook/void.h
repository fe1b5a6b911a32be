/*
 * void.h - what was recorded by mistake, as the book keeps it: it stays there and counts nowhere; and what was amended of a
 * delivery. The rules for reading and writing are those of book.h.
 */
#ifndef TENTERBOOK_VOID_H
#define TENTERBOOK_VOID_H

#include "tenterbook/base.h"

#include <stdint.h>

struct tb_book;

/* One record that is void, or was for a time. */
struct tb_voiding {
    const char *id;
    const char *
        about; /* the table of its subject: delivery, lot, bolt, swatch, burn, bench_test, analysis, dispute_step, sending */
    const char *subject; /* id of a row of it */
    const char *lot;     /* id of its lot; NULL: a delivery, or known cloth */
    const char *why;
    const char *instead;   /* id of the burn or test of another swatch in its place; "" none was */
    const char *voided_at; /* moment */
    const char *voided_by; /* read-only: name */
    const char *replaces;  /* id of the voiding that this one takes back; NULL: its subject is void */
    /* read-only */
    const char *
        ref; /* of the subject: reference, number of the bolt, tag of the swatch, laboratory of an analysis or a sending, step of the dispute */
    const char *back_at;            /* moment it was taken back; NULL: it was not */
    const char *back_by, *back_why; /* by whom, and why; "" */
};
/* tb_voiding_add - record one: fills id and voided_at. */
tb_rc tb_voiding_add(struct tb_voiding *v, struct tb_book *b, struct tb_arena *mem, struct tb_err *err);
/* tb_voiding_list - those of a lot, with those taken back. lot_id NULL: of known cloth, and of deliveries. */
tb_rc tb_voiding_list(struct tb_voiding **out, size_t *n, struct tb_book *b, const char *lot_id,
                      struct tb_arena *mem, struct tb_err *err);
/* tb_voiding_open - what of this name is void by itself, bolts of the lot of this reference, or of any (NULL). */
tb_rc tb_voiding_open(struct tb_voiding **out, size_t *n, struct tb_book *b, const char *name,
                      const char *lot_ref, struct tb_arena *mem, struct tb_err *err);
/* tb_voiding_with - it and those still open that were recorded together with it: of a delivery, its lots. */
tb_rc tb_voiding_with(struct tb_voiding **out, size_t *n, struct tb_book *b, const char *id,
                      struct tb_arena *mem, struct tb_err *err);
/*
 * tb_voided_refuse - what to say of a delivery, lot or swatch that does not count.
 *   fails  always: TB_EREFUSED with who voided it, when and why; `otherwise` where nothing of that name is void
 */
tb_rc tb_voided_refuse(struct tb_book *b, const char *ref, tb_rc otherwise, struct tb_err *err);
/* tb_bolt_voided_refuse - the same of a bolt of this lot, by its number with or without the zeros before it. */
tb_rc tb_bolt_voided_refuse(struct tb_book *b, const char *lot_id, const char *number, tb_rc otherwise,
                            struct tb_err *err);

/* Something that counts and can be voided. */
struct tb_void_subject {
    const char *about, *id; /* its table; its key */
    const char *lot;        /* id; NULL: a delivery, or known cloth */
    const char *ref;        /* as in tb_voiding */
    const char *lot_ref;    /* "" of no lot */
    const char *
        replaces; /* of a burn or a test: id of the record it corrects, which counts again without it; NULL */
    const char *corrected_by; /* of a burn or a test: id of the record that stands in its place; NULL */
};
/* tb_void_subjects - all that is called so, bolts of the lot of this reference, or of any (NULL). */
tb_rc tb_void_subjects(struct tb_void_subject **out, size_t *n, struct tb_book *b, const char *name,
                       const char *lot_ref, struct tb_arena *mem, struct tb_err *err);
/* How much of what counts hangs on a record. */
struct tb_hanging {
    int64_t lots, bolts, swatches, burns, tests;
    int64_t uses;      /* cuts into bolts */
    int64_t analyses;  /* of laboratories */
    int64_t draws;     /* that took one of the bolts */
    int64_t sendings;  /* samples of it that went to a laboratory */
    int64_t answers;   /* of drills */
    int64_t singles;   /* decisions about single bolts that are in force */
    int64_t decisions; /* of people about whole lots */
    int64_t
        holds; /* the hold of its lot, where a verdict that rests on it made that by itself and nobody decided since */
    int64_t dealt;    /* swatches in a joint sample, of which the supplier holds pieces */
    int64_t disputes; /* that are open */
    int64_t beside;   /* of a bolt: others of its lot; of a lot: others of its delivery */
};
/* tb_hanging_on - what hangs on the record with this id. */
tb_rc tb_hanging_on(struct tb_hanging *out, struct tb_book *b, const char *id, struct tb_err *err);

/* One thing that was written down of a delivery otherwise than it was. The latest of a field counts. */
struct tb_amendment {
    const char *id, *delivery, *lot; /* ids */
    const char *field;               /* arrived, note, order, note_day, remark, supplier, unit */
    const char *old, *new;           /* what counted until then, and since */
    const char *supplier;            /* id, of the field supplier; NULL */
    const char *why;
    const char *amended_at; /* moment */
    const char *amended_by; /* read-only: name */
};
/* tb_amendment_add - record one: fills id and amended_at. */
tb_rc tb_amendment_add(struct tb_amendment *a, struct tb_book *b, struct tb_arena *mem, struct tb_err *err);
/* tb_amendment_list - those of the delivery of a lot. */
tb_rc tb_amendment_list(struct tb_amendment **out, size_t *n, struct tb_book *b, const char *lot_id,
                        struct tb_arena *mem, struct tb_err *err);

/* A burn or a test that was recorded of another swatch first: its id, the tag of that swatch, who moved it, when and why. */
struct tb_moved {
    const char *record, *from_tag, *moved_at, *moved_by, *why;
};
/* tb_moved_list - those of a lot (its id; NULL: of known cloth), void or not. */
tb_rc tb_moved_list(struct tb_moved **out, size_t *n, struct tb_book *b, const char *lot_id,
                    struct tb_arena *mem, struct tb_err *err);

#endif
