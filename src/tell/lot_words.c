/* What is said of a lot and its declaration. */
#include "base/say.h"
#include "tenterbook/tell.h"

const char *tb_declared_origin_words(enum tb_origin_kind origin)
{
    switch (origin) {
    case TB_ORIGIN_ROW:
        return _("in the packing list");
    case TB_ORIGIN_TITLE:
        return _("above the table of the packing list");
    case TB_ORIGIN_OPTION:
        return _("said at the door");
    case TB_ORIGIN_ANSWER:
        return _("answered by the supplier");
    default:
        return _("the new label");
    }
}
