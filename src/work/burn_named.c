/* burn_named.c - the burn a person means: an id is 26 signs long, and nobody types it where a tag says as much. */
#include "base/say.h"
#include "tenterbook/act_bench.h"

#include <string.h>

tb_rc tb_burn_named(const char **id, struct tb_book *b, const char *name, const char *who,
                    struct tb_arena *mem, struct tb_err *err)
{
    struct tb_swatch swatch;
    struct tb_burn *burn, last;
    size_t n, found = 0;
    struct tb_err none;
    tb_rc rc;

    *id = name;
    if (strcmp(name, "last") == 0) {
        if ((rc = tb_burn_latest(&last, b, who, mem, err)) == TB_OK)
            *id = last.id;
        return rc;
    }
    /* what is no tag may be an id, and is refused where it is looked up if it is neither */
    if (tb_swatch_find(&swatch, b, name, mem, &none) != TB_OK)
        return TB_OK;
    rc = tb_burn_list(&burn, &n, b, swatch.lot, mem, err);
    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if (strcmp(burn[i].swatch, swatch.id) == 0) {
            *id = burn[i].id;
            found++;
        }
    if (rc == TB_OK && found != 1)
        rc =
            tb_fail(err, TB_EINVAL,
                    found ? N_("swatch %s was burned more than once; name the burn by its number, which look "
                               "shows")
                          : N_("no burn of swatch %s counts"),
                    swatch.tag);
    return rc;
}
