/* What is said of analyses: fibres, bases, answers. */
#include "base/say.h"
#include "tenterbook/tell.h"

const char *tb_basis_words(enum tb_lab_basis basis)
{
    switch (basis) {
    case TB_LAB_DRY:
        return _("dry mass");
    case TB_LAB_EU:
        return _("EU agreed allowances");
    case TB_LAB_US:
        return _("US commercial regain");
    case TB_LAB_BASES:
        break;
    }
    return "";
}

const char *tb_fibre_words(int fibre)
{
    return fibre >= 0 ? tb_fibre_at(fibre)->name : _("other fibres");
}

const char *tb_answer_words(enum tb_lab_answer answer)
{
    switch (answer) {
    case TB_LAB_CONFORMS:
        return _("conforms");
    case TB_LAB_FAILS:
        return _("does not conform");
    case TB_LAB_UNSAID:
        break;
    }
    return _("cannot be said");
}
