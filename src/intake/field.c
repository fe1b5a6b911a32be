/* field.c - fields of a packing list: the keys of --map and the reference table, and what a person reads. */
#include "tenterbook/intake.h"

#include "base/say.h"

#include <string.h>

static const struct {
    const char *key, *name;
} field[TB_FIELDS] = {
    [TB_FIELD_NONE] = { "", "" },
    [TB_FIELD_SUPPLIER] = { "supplier", N_("supplier") },
    [TB_FIELD_NOTE] = { "note", N_("delivery note number") },
    [TB_FIELD_DAY] = { "day", N_("date") },
    [TB_FIELD_ORDER] = { "order", N_("order number") },
    [TB_FIELD_ARTICLE] = { "article", N_("article") },
    [TB_FIELD_DESIGN] = { "design", N_("design") },
    [TB_FIELD_COLOUR] = { "colour", N_("colour") },
    [TB_FIELD_LOT] = { "lot", N_("dye lot") },
    [TB_FIELD_SHADE_GROUP] = { "shade_group", N_("shade band") },
    [TB_FIELD_BOLT] = { "bolt", N_("bolt number") },
    [TB_FIELD_LENGTH] = { "length", N_("length") },
    [TB_FIELD_UNIT] = { "unit", N_("unit of length") },
    [TB_FIELD_WIDTH] = { "width", N_("width") },
    [TB_FIELD_WIDTH_USABLE] = { "width_usable", N_("usable width") },
    [TB_FIELD_MASS] = { "mass", N_("mass per area") },
    [TB_FIELD_MASS_LINEAR] = { "mass_linear", N_("mass per length") },
    [TB_FIELD_COMPOSITION] = { "composition", N_("declared composition") },
    [TB_FIELD_ORIGIN] = { "origin", N_("country of origin") },
    [TB_FIELD_PRICE] = { "price", N_("unit price") },
    [TB_FIELD_CURRENCY] = { "currency", N_("currency") },
    [TB_FIELD_PARTS] = { "parts", N_("cut lengths on the bolt") },
    [TB_FIELD_COUNT] = { "count", N_("number of bolts") },
    [TB_FIELD_PACKAGE] = { "package", N_("package number") },
    [TB_FIELD_LENGTH_GROSS] = { "length_gross", N_("gross length") },
    [TB_FIELD_LENGTH_ORDERED] = { "length_ordered", N_("ordered length") },
    [TB_FIELD_ALLOWANCE] = { "allowance", N_("length allowance") },
    [TB_FIELD_WEIGHT_NET] = { "weight_net", N_("net weight") },
    [TB_FIELD_WEIGHT_GROSS] = { "weight_gross", N_("gross weight") },
    [TB_FIELD_YARN] = { "yarn", N_("yarn or construction") },
    [TB_FIELD_CLASS] = { "class", N_("quality class") },
    [TB_FIELD_FAULTS] = { "faults", N_("faults") },
    [TB_FIELD_TARIFF] = { "tariff", N_("tariff number") },
    [TB_FIELD_REMARK] = { "remark", N_("remark") },
    [TB_FIELD_TOTAL] = { "total", N_("total") },
    [TB_FIELD_IGNORE] = { "ignore", N_("left out") },
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
