/*
 * address.h - how to write to a supplier, and what stands above a letter of ours: what the book keeps, and the act that sets
 * it. The rules for reading and writing are those of book.h and act.h.
 */
#ifndef TENTERBOOK_ADDRESS_H
#define TENTERBOOK_ADDRESS_H

#include "tenterbook/act.h"
#include "tenterbook/tongue.h"

#define TB_STREETS_MOST 4 /* lines between the name and the place */

/* The latest of a supplier, or of the site itself. "" is what was not said. */
struct tb_address {
    const char *id;
    const char *supplier;      /* id; NULL: the site itself */
    const char *supplier_name; /* read-only; NULL */
    const char *name;          /* as a letter has it; "": as the book calls them */
    const char *street;        /* up to TB_STREETS_MOST lines, separated by '\n' */
    const char *postcode, *place;
    const char *country; /* ISO 3166-1 alpha-2 */
    const char *contact; /* person */
    const char *email, *phone;
    const char *registration;    /* as it is to be printed: "VAT IT00743110157" */
    const char *language;        /* a word of tb_tongue_words */
    const char *set_at, *set_by; /* read-only: moment, name */
};

/* tb_address_of - of a supplier, or of the site (supplier_id NULL). All "" and id NULL where none was set. */
tb_rc tb_address_of(struct tb_address *out, struct tb_book *b, const char *supplier_id, struct tb_arena *mem,
                    struct tb_err *err);
/* tb_address_list - all in force: the site's first, then suppliers by name. */
tb_rc tb_address_list(struct tb_address **out, size_t *n, struct tb_book *b, struct tb_arena *mem,
                      struct tb_err *err);
/*
 * tb_address_add - record one: fills id and set_at.
 *   fails  TB_EINVAL a country that is no code, a language papers are not written in, an e-mail address that is none, a text that is
 *          too long for a line
 */
tb_rc tb_address_add(struct tb_address *a, struct tb_book *b, struct tb_arena *mem, struct tb_err *err);

/* What is NULL stays as it was set before; "" takes it back. */
struct tb_address_request {
    const char *supplier; /* name; NULL: the site itself */
    const char *name;
    const char *const *street; /* lines */
    size_t streets;            /* 0: not said; one that is "": no line stays */
    const char *postcode, *place, *country, *contact, *email, *phone, *registration, *language;
};
/*
 * tb_act_address - set how to write to a supplier, or what stands above our own letters.
 *   out    what is in force now, in mem
 *   fails  TB_ENOTFOUND no such supplier; TB_EINVAL more than TB_STREETS_MOST lines, or as tb_address_add
 */
tb_rc tb_act_address(struct tb_address *out, const struct tb_actor *actor,
                     const struct tb_address_request *request, struct tb_arena *mem, struct tb_err *err);

#endif
