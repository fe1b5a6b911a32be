/* conformity.c - the one place where the stored answers of an analysis are taken apart. */
#include "report/case/conformity.h"

#include "base/members.h"

#include <math.h>
#include <string.h>

static const char *text(struct tb_members *m, const json_t *o, const char *key)
{
    const char *s = tb_member_text(m, o, key);

    return s ? s : "";
}

/* A limit that is not there is null in the list: no limit on that side. */
static double limit(const json_t *share, size_t side)
{
    const json_t *v = json_array_get(json_object_get(share, "allowed"), side);

    return json_is_number(v) ? json_number_value(v) : NAN;
}

static enum tb_lab_answer answer(struct tb_members *m, const json_t *o)
{
    const char *key = text(m, o, "answer");

    for (int a = TB_LAB_UNSAID; a <= TB_LAB_FAILS; a++)
        if (strcmp(key, tb_lab_answer_key((enum tb_lab_answer)a)) == 0)
            return (enum tb_lab_answer)a;
    tb_member_bad(m, "answer", key);
    return TB_LAB_UNSAID;
}

static void read_market(struct conform_market *out, struct tb_members *m, const json_t *o)
{
    const json_t *each;

    out->market = text(m, o, "market");
    out->sure = tb_member_number(m, o, "sure");
    out->share = tb_member_list(m, o, "fibres", sizeof *out->share, &out->n, &each);
    for (size_t i = 0; i < out->n; i++) {
        const json_t *one = json_array_get(each, i);

        out->share[i] = (struct conform_share){ .fibre = text(m, one, "fibre"),
                                                .clause = text(m, one, "clause"),
                                                .status = text(m, one, "status"),
                                                .answer = answer(m, one),
                                                .declared = tb_member_number(m, one, "declared"),
                                                .found = tb_member_number(m, one, "found"),
                                                .u = tb_member_number(m, one, "u"),
                                                .low = limit(one, 0),
                                                .high = limit(one, 1) };
    }
}

tb_rc tb_conformity_parse(struct conformity *out, const char *detail, struct tb_arena *mem,
                          struct tb_err *err)
{
    struct tb_members m = { mem, err, TB_OK };
    json_t *o = json_loads(detail, JSON_REJECT_DUPLICATES, NULL);
    const json_t *each;

    *out = (struct conformity){ 0 };
    if (!o)
        return tb_fail(err, TB_EFORMAT, "the details of the analysis are damaged: they are not JSON");
    out->market = tb_member_list(&m, o, "conformity", sizeof *out->market, &out->n, &each);
    for (size_t i = 0; i < out->n; i++)
        read_market(&out->market[i], &m, json_array_get(each, i));
    json_decref(o);
    return m.rc == TB_OK ? TB_OK : tb_within(err, m.rc, "the details of the analysis are damaged");
}
