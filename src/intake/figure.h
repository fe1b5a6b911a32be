/* figure.h - inside the packing-list reader: numbers as people write them. */
#ifndef TENTERBOOK_INTAKE_FIGURE_H
#define TENTERBOOK_INTAKE_FIGURE_H

#include <stdbool.h>
#include <stddef.h>

#define TB_FIGURE_PARTS_MOST 64
struct tb_figure {
    double point, comma; /* the value when '.' / ',' is the decimal sign; NAN: impossible that way */
    double point_high, comma_high; /* end of a range, NAN when it is one number */
    unsigned parts;                /* of a sum "50+30+20"; 1 for one number */
    bool range;
    const char *rest; /* what follows the number: a unit; borrowed from the text */
    size_t rest_n;
    const char *before; /* what stands before it: a currency */
    size_t before_n;
};
/* False: there is no number, or text stands between its digits. `rest` and `before` last until the next call. */
bool tb_figure_scan(struct tb_figure *out, const char *text);
/* The number, and the end of its range, with this decimal sign ('.' or ','); NAN: impossible that way. */
double tb_figure_value(const struct tb_figure *f, char decimal);
/* The end of its range, with this decimal sign; NAN: it is one number. */
double tb_figure_high(const struct tb_figure *f, char decimal);

#endif
