/* refcheck.h - what the parts of refcheck share: the reference tables as they were read, and how a row is complained of. */
#ifndef TENTERBOOK_GEN_REFCHECK_H
#define TENTERBOOK_GEN_REFCHECK_H

#include "gen/gen.h"

/* A table of the reference: the rows of all files of its name, in the order in which they were given. */
struct ref_table {
    char *name;
    char **column; /* as the header has them, with ":number" */
    size_t columns;
    struct csv_row *row;
    size_t rows;
};

/* The tables are kept until the program ends. */
/* Reads DIR/NAME.csv behind the rows of that name which are there. Ends the program when it is no such table. */
void ref_read(const char *dir, const char *file_name);
/* The table of that name; ends the program with a sentence when there is none. */
const struct ref_table *ref_table(const char *name);
/* The cell of a row; ends the program with a sentence when the table has no such column. */
const char *ref_cell(const struct ref_table *t, const struct csv_row *r, const char *column);

/* Says what is wrong with a row on standard error, and counts it. */
__attribute__((format(printf, 2, 3))) void ref_wrong(const struct csv_row *r, const char *fmt, ...);
/* How often ref_wrong was called. */
size_t ref_wrongs(void);

/* What can only be seen of several rows together: cues beside their channel, markets whose rules are complete. */
void ref_check_together(void);

#endif
