/* Which methods separate a mixture: those of the Regulation, and published standards where these do not reach. */
#include "tenterbook/assay.h"

#include <stdlib.h>

tb_rc tb_assay_plan_make(struct tb_assay_plan *out, const char *text, struct tb_err *err)
{
    const struct tb_part *mixture;
    tb_rc rc;

    *out = (struct tb_assay_plan){ .way = tb_array(struct tb_lab_way, TB_LAB_WAYS_MOST),
                                   .path = tb_array(struct tb_lab_path, TB_LAB_PATHS_MOST) };
    if ((rc = tb_assay_part_read(&out->mixture, "plan", text, false, err)) != TB_OK)
        return rc;
    mixture = &out->mixture.comp.part[0];
    if ((rc = tb_lab_paths(out->path, &out->paths, mixture, err)) != TB_OK)
        return rc;
    rc = tb_lab_plan(out->way, &out->ways, mixture, NULL, err);
    return rc == TB_ENOTFOUND && out->paths ? TB_OK : rc;
}

void tb_assay_plan_free(struct tb_assay_plan *plan)
{
    tb_declaration_free(&plan->mixture);
    free(plan->way);
    free(plan->path);
    *plan = (struct tb_assay_plan){ 0 };
}
