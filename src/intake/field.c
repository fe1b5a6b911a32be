/* Fields of a packing list: the keys of --map and the reference table, and what a person reads. */
#include "intake_in.h"

#include <string.h>

static const struct {
    const char *key, *name;
} field[TB_FIELDS] = {
    [TB_FIELD_NONE] = { "", "" },
    [TB_FIELD_SUPPLIER] = { "supplier", "supplier" },
    [TB_FIELD_NOTE] = { "note", "delivery note number" },
    [TB_FIELD_DAY] = { "day", "date" },
    [TB_FIELD_ORDER] = { "order", "order number" },
    [TB_FIELD_ARTICLE] = { "article", "article" },
    [TB_FIELD_DESIGN] = { "design", "design" },
    [TB_FIELD_COLOUR] = { "colour", "colour" },
    [TB_FIELD_LOT] = { "lot", "dye lot" },
    [TB_FIELD_SHADE_GROUP] = { "shade_group", "shade band" },
    [TB_FIELD_BOLT] = { "bolt", "bolt number" },
    [TB_FIELD_LENGTH] = { "length", "length" },
    [TB_FIELD_UNIT] = { "unit", "unit of length" },
    [TB_FIELD_WIDTH] = { "width", "width" },
    [TB_FIELD_WIDTH_USABLE] = { "width_usable", "usable width" },
    [TB_FIELD_MASS] = { "mass", "mass per area" },
    [TB_FIELD_MASS_LINEAR] = { "mass_linear", "mass per length" },
    [TB_FIELD_COMPOSITION] = { "composition", "declared composition" },
    [TB_FIELD_ORIGIN] = { "origin", "country of origin" },
    [TB_FIELD_PRICE] = { "price", "unit price" },
    [TB_FIELD_CURRENCY] = { "currency", "currency" },
    [TB_FIELD_PARTS] = { "parts", "cut lengths on the bolt" },
    [TB_FIELD_COUNT] = { "count", "number of bolts" },
    [TB_FIELD_PACKAGE] = { "package", "package number" },
    [TB_FIELD_LENGTH_GROSS] = { "length_gross", "gross length" },
    [TB_FIELD_ALLOWANCE] = { "allowance", "length allowance" },
    [TB_FIELD_WEIGHT_NET] = { "weight_net", "net weight" },
    [TB_FIELD_WEIGHT_GROSS] = { "weight_gross", "gross weight" },
    [TB_FIELD_YARN] = { "yarn", "yarn or construction" },
    [TB_FIELD_CLASS] = { "class", "quality class" },
    [TB_FIELD_FAULTS] = { "faults", "faults" },
    [TB_FIELD_TARIFF] = { "tariff", "tariff number" },
    [TB_FIELD_REMARK] = { "remark", "remark" },
    [TB_FIELD_TOTAL] = { "total", "total" },
    [TB_FIELD_IGNORE] = { "ignore", "left out" },
};

const char *tb_field_key(enum tb_field f)
{
    return f > TB_FIELD_NONE && f < TB_FIELDS ? field[f].key : "";
}

const char *tb_field_name(enum tb_field f)
{
    return f > TB_FIELD_NONE && f < TB_FIELDS ? field[f].name : "";
}

int tb_field_by_key(const char *key)
{
    for (int f = TB_FIELD_NONE + 1; f < TB_FIELDS; f++)
        if (strcmp(field[f].key, key) == 0)
            return f;
    return -1;
}
