/* What is said of published standards: by number and edition, and how far that was looked up. */
#include "base/say.h"
#include "tenterbook/status.h"
#include "tenterbook/tell.h"

#include <stdio.h>

const char *tb_standard_words(char out[TB_STANDARD], const struct tb_lab_standard *standard)
{
    bool seen = tb_status_seen(standard->status);

    if (tb_status_memory(standard->status))
        (void)snprintf(out, TB_STANDARD, _("a part of %s (its number is not verified)"), standard->series);
    else if (standard->year)
        (void)snprintf(out, TB_STANDARD, seen ? "%s:%d" : _("%s:%d (number read second-hand)"),
                       standard->number, standard->year);
    else
        (void)snprintf(out, TB_STANDARD, seen ? "%s" : _("%s (number read second-hand)"), standard->number);
    return out;
}
