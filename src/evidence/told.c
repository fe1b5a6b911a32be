/* told.c - how many published descriptions of a fibre say a cue. */
#include "tenterbook/evidence.h"

#include <string.h>

#include "gen/ref_burn_count.h"

bool tb_cue_told(double *said, double *of, const char *fibre_key, const char *cue_key)
{
    for (size_t i = 0; i < tb_ref_burn_count_n; i++) {
        const struct tb_ref_burn_count *r = &tb_ref_burn_count[i];

        if (strcmp(r->fibre, fibre_key) == 0 && strcmp(r->cue, cue_key) == 0) {
            *said = r->said;
            *of = r->said + r->unsaid;
            return true;
        }
    }
    return false;
}
