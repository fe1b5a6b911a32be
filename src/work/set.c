/* Setting: one value of the site's, checked against what knows its names. */
#include "base/say.h"
#include "tenterbook/act_site.h"
#include "tenterbook/date.h"
#include "tenterbook/intake.h"
#include "tenterbook/law.h"
#include "tenterbook/money_rate.h"
#include "tenterbook/names.h"
#include "tenterbook/setting.h"
#include "work/act.h"

#include <string.h>

/* The day is in the name, so that a target of a later day leaves the earlier one to the months before it. */
static tb_rc check_target(const struct tb_set_request *r, struct tb_err *err)
{
    const char *day = r->name + strlen(TB_TARGET_FAMILY), *words;
    double share;

    if (!tb_day_valid(day))
        return tb_fail(err, TB_EINVAL,
                       "'%s' is not a valid date; a target is set from a day on: target:2026-01-01", day);
    if (*r->value && !tb_setting_target(&share, &words, r->value))
        return tb_fail(
            err, TB_EINVAL,
            "'%s' does not begin with a share in percent, such as \"5 %% at most one lot in twenty\"",
            r->value);
    return TB_OK;
}

/* What a market or a field is called is known to the law and to the packing lists, not to the table of settings. */
static tb_rc check(const struct tb_set_request *r, struct tb_err *err)
{
    const struct tb_setting_spec *spec;
    struct tb_market_list markets = { .n = 0 };
    tb_rc rc;

    if ((rc = tb_setting_spec(&spec, r->name, err)) != TB_OK ||
        (rc = tb_setting_check(spec, r->value, err)) != TB_OK)
        return rc;
    if (strcmp(spec->name, "header:") == 0 && *r->value && tb_field_by_key(r->value) < 0)
        return tb_fail(err, TB_EINVAL,
                       "'%s' is not a field of a packing list; 'tenterbook help receive' lists them",
                       r->value);
    if (strcmp(spec->name, TB_NAMES_FAMILY) == 0 && *r->value)
        return tb_fail(
            err, TB_EINVAL,
            "a name of the law is taken over from a saved copy of it (tenterbook names); it can only be set "
            "to nothing");
    if (strcmp(spec->name, TB_TARGET_FAMILY) == 0 && (rc = check_target(r, err)) != TB_OK)
        return rc;
    if (strcmp(spec->name, TB_RATE_FAMILY) == 0 &&
        (rc = tb_rate_name_check(r->name + strlen(TB_RATE_FAMILY), err)) != TB_OK)
        return rc;
    return strcmp(spec->name, "market") == 0 ? tb_market_list_add(&markets, r->value, err) : TB_OK;
}

/* The subject is the name of the setting: whoever plans with it sees in the journal that it changed. */
static tb_rc plan(struct tb_job *j)
{
    const struct tb_set_request *r = j->request;

    j->subject = r->name;
    return check(r, j->err);
}

static tb_rc write(struct tb_job *j)
{
    const struct tb_set_request *r = j->request;

    return tb_setting_set(j->b, r->name, r->value, j->err);
}

static const struct tb_said said[] = {
    TB_SAYS(tb_set_request, name, N_("the name of the setting")),
    TB_SAYS(tb_set_request, value, N_("the value")),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_set(const struct tb_actor *actor, const struct tb_set_request *request, struct tb_err *err)
{
    static const struct tb_act act = {
        .verb = TB_VERB_SET, .plan = plan, .write = write, .size = sizeof(struct tb_set_request), .said = said
    };

    return tb_act_do(&act, &(struct tb_job){ .request = request }, actor, err);
}
