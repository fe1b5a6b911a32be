/* Classes of fibres that burn alike: what a known cloth is, and what a tester's word means. */
#include "tenterbook/act_drill.h"

#include "tenterbook/fibre.h"

#include <string.h>

const char *tb_drill_class_of(const char *known)
{
    struct tb_declaration d;
    const char *class_key = NULL;

    tb_declaration_read(&d, known, strlen(known));
    for (size_t i = 0; i < d.comp.n; i++)
        for (size_t k = 0; k < d.comp.part[i].n; k++) {
            int fibre = d.comp.part[i].share[k].fibre;
            const char *here = fibre >= 0 ? tb_fibre_at(fibre)->burn_class : TB_CLASS_MIXED;

            class_key = !class_key || strcmp(class_key, here) == 0 ? here : TB_CLASS_MIXED;
        }
    tb_declaration_free(&d);
    return class_key ? class_key : TB_CLASS_MIXED;
}

const char *tb_drill_class_named(const char *word)
{
    if (strcmp(word, TB_CLASS_MIXED) == 0)
        return TB_CLASS_MIXED;
    if (strcmp(word, TB_CLASS_UNKNOWN) == 0)
        return TB_CLASS_UNKNOWN;
    for (size_t i = 0; i < tb_fibre_count(); i++)
        if (strcmp(tb_fibre_at((int)i)->burn_class, word) == 0 || strcmp(tb_fibre_at((int)i)->key, word) == 0)
            return tb_fibre_at((int)i)->burn_class;
    return NULL;
}
