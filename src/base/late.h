/* late.h - functions of a library that is loaded while the program runs, where it is needed and nowhere else. */
#ifndef TENTERBOOK_BASE_LATE_H
#define TENTERBOOK_BASE_LATE_H

#include <stdbool.h>

/*
 * tb_late_find - looks a function up by its name.
 *   to       a pointer to a function of its type; NULL afterwards where the library has none of that name
 *   library  as dlopen gave it
 *   returns  whether there is one
 */
bool tb_late_find(void *to, void *library, const char *name);

#endif
