/* What the book holds that an amended delivery is at odds with: more cut off a bolt than it has, something done before the goods came. */
#include "work/amend_odds.h"

#include "base/say.h"
#include "tenterbook/bench.h"
#include "tenterbook/dispute.h"

#include <math.h>
#include <string.h>

tb_rc tb_odds_of_unit(const char **out, struct tb_job *j, const struct tb_lot *lot,
                      const struct tb_unit_change *unit)
{
    struct tb_bolt_use *use = NULL;
    struct tb_bolt *bolt = NULL;
    size_t uses = 0, bolts = 0;
    tb_rc rc = tb_bolt_use_list(&use, &uses, j->b, lot->id, j->mem, j->err);

    if (rc != TB_OK || !uses || (rc = tb_bolt_list(&bolt, &bolts, j->b, lot->id, j->mem, j->err)) != TB_OK)
        return rc;
    for (size_t i = 0; i < bolts; i++) {
        double has = bolt[i].metres * unit->metres / unit->metres_was;
        double gone = tb_bolt_cut_off(use, uses, bolt[i].id);

        if (!isfinite(has) || gone <= has + TB_METRES_SLACK)
            continue;
        *out = tb_arena_printf(j->mem, _("bolt %s of lot %s has %.2f m then, and %.2f m were cut off it"),
                               bolt[i].number, lot->ref, has, gone);
        return TB_OK;
    }
    return TB_OK;
}

/* The earliest so far, and what it was. */
struct first {
    const char *at, *what, *of;
};

static void take(struct first *f, const char *at, const char *what, const char *of)
{
    if (at && (!f->at || strcmp(at, f->at) < 0))
        *f = (struct first){ .at = at, .what = what, .of = of };
}

static tb_rc find_first(struct first *f, struct tb_job *j, const struct tb_lot *lot)
{
    struct tb_swatch *swatch = NULL;
    struct tb_burn *burn = NULL;
    struct tb_bolt_use *use = NULL;
    struct tb_standing *decided = NULL;
    size_t swatches = 0, burns = 0, uses = 0, decisions = 0;
    tb_rc rc = tb_swatch_list(&swatch, &swatches, j->b, lot->id, j->mem, j->err);

    if (rc != TB_OK || (rc = tb_burn_list(&burn, &burns, j->b, lot->id, j->mem, j->err)) != TB_OK ||
        (rc = tb_bolt_use_list(&use, &uses, j->b, lot->id, j->mem, j->err)) != TB_OK ||
        (rc = tb_standing_list(&decided, &decisions, j->b, lot->id, j->mem, j->err)) != TB_OK)
        return rc;
    for (size_t i = 0; i < swatches; i++)
        take(f, swatch[i].cut_at, _("swatch %s was cut at %s"), swatch[i].tag);
    for (size_t i = 0; i < burns; i++)
        take(f, burn[i].burned_at, _("swatch %s was burned at %s"), burn[i].tag);
    for (size_t i = 0; i < uses; i++)
        take(f, use[i].used_at, _("bolt %s was cut into use at %s"), use[i].bolt_number);
    for (size_t i = 0; i < decisions; i++)
        if (!decided[i].gone)
            take(f, decided[i].settled_at, _("lot %s was decided of at %s"), lot->ref);
    return TB_OK;
}

tb_rc tb_odds_of_day(const char **out, struct tb_job *j, const struct tb_lot *lot, const char *day)
{
    struct first f = { 0 };
    struct tb_text t = { 0 };
    tb_rc rc;

    if (strcmp(day, lot->arrived) <= 0)
        return TB_OK;
    if ((rc = find_first(&f, j, lot)) != TB_OK)
        return rc;
    if (!f.at || strncmp(f.at, day, TB_DAY_LEN) >= 0)
        return TB_OK;
    tb_text_addf(&t, f.what, f.of, f.at);
    *out = tb_arena_take(j->mem, &t);
    return TB_OK;
}
