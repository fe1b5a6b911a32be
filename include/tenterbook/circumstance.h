/*
 * circumstance.h - under which circumstances records were written: by whom, as they are called and as the operating system
 * knew them, and what the clock did. Each journal row says so in its content, under "act", and of the login beside it, by its
 * digest there (docs/book.md).
 */
#ifndef TENTERBOOK_CIRCUMSTANCE_H
#define TENTERBOOK_CIRCUMSTANCE_H

#include "tenterbook/date.h"
#include "tenterbook/limits.h"

#include <jansson.h>

#define TB_CONTENT_ACT "act"   /* member of a row's content that is no table */
#define TB_ACT_ASIDE "aside"   /* member of that: digest of what stands beside the row */
#define TB_ASIDE_LOGIN "login" /* members of what stands beside the row */
#define TB_ASIDE_BASE "base_rate"
#define TB_ASIDE_FILE "file"
#define TB_LOGIN_MOST 64
#define TB_PERSON_MOST TB_NAME_MOST
#define TB_WRITERS_MOST 16
/* A step of the clock forward that is told: 31 days without a record, or a clock that was set. */
#define TB_CLOCK_AHEAD (31L * 86400)

struct tb_writer {
    char person[TB_PERSON_MOST + 1],
        login[TB_LOGIN_MOST +
              1]; /* login "": older programs did not record it, and a case does not tell it */
    int64_t rows;
};

/* Steps of the clock between one row and the next, all in one direction. */
struct tb_clock_steps {
    int64_t times, most, row; /* the greatest in seconds, above 0; the row before which it was */
};

/* Of a number of journal rows. Zero-initialise, then add the rows in their order. */
struct tb_circumstances {
    struct tb_writer writer[TB_WRITERS_MOST];
    size_t writers;
    int64_t other; /* rows of more writers than there is room for */
    int64_t told;  /* rows that say how they came about: older programs told nothing of it */
    int64_t given; /* rows dated by a clock given by hand */
    struct tb_clock_steps back, ahead;
    int64_t last; /* the row that was added last */
    char last_at[TB_MOMENT_LEN + 1];
};

/* How far the clock stepped from one moment to the next, in seconds; 0: it only went on, or `before` is "". */
int64_t tb_clock_step(const char *now, const char *before);
/* What the row of a record written now says of it to anybody: a new reference, yours. `before`: moment of the row before it, or "". */
json_t *tb_circumstance_now(const char *now, const char *before);
/* One more row. Where it does not say itself what the clock did, that follows from the row before it, if that was added. */
void tb_circumstances_add(struct tb_circumstances *c, int64_t number, const char *at, const char *person,
                          const char *content, const char *aside);

/* The login name of whoever runs the program, as the operating system knows it: never a variable. */
void tb_login(char out[TB_LOGIN_MOST + 1]);

#endif
