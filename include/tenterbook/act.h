/*
 * act.h - what people do with the book, one function an act: who does it is said once, a request goes in, an outcome
 * comes out, and the transaction is inside.
 *
 * A page, a command and a file of records call the same act; none of them opens a transaction or holds a rule. A
 * request holds values, no options; an outcome holds records and figures, no sentences. What was refused is said in
 * one sentence for the person, and nothing of it is in the book then.
 *
 * Every text of a request is looked at before the act begins (said.h): one that is too long, no text, or holds what a
 * terminal obeys is refused with TB_EINVAL, and one of nothing but blanks says nothing.
 *
 * Text of an outcome lies in the caller's arena. Text and arrays of a request are only read during the call.
 */
#ifndef TENTERBOOK_ACT_H
#define TENTERBOOK_ACT_H

#include "tenterbook/book.h"

/* Who acts, and in which book. Both are the caller's and stay so. */
struct tb_actor {
    struct tb_book *book;
    const char *who; /* the person's name, as the journal will have it; not empty */
};

#endif
