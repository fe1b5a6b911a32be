/* catalogue.h - what the build makes of src/text/po. Internal. */
#ifndef TENTERBOOK_TEXT_CATALOGUE_H
#define TENTERBOOK_TEXT_CATALOGUE_H

#include <stddef.h>

#define CATALOGUE_FORMS 3 /* of a plural; no language here has more */

struct catalogue_row {
    const char *sentence;              /* in English; of a plural, the one about one */
    const char *form[CATALOGUE_FORMS]; /* NULL behind the last */
};
/* By sentence, as strcmp orders them. */
struct catalogue {
    const struct catalogue_row *row;
    size_t n;
};
extern const struct catalogue tb_catalogue_de, tb_catalogue_es, tb_catalogue_fr, tb_catalogue_it,
    tb_catalogue_pl, tb_catalogue_pt, tb_catalogue_tr, tb_catalogue_zh;
/* That of an enum tb_tongue (the program that makes the tables knows no such type); without rows where it has none. */
const struct catalogue *tb_catalogue(int tongue);

#endif
