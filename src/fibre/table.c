#include "tenterbook/fibre.h"

#include "gen/ref_fibre.h"

#include <assert.h>
#include <string.h>

size_t tb_fibre_count(void)
{
    return tb_ref_fibre_n;
}

const struct tb_fibre *tb_fibre_at(int fibre)
{
    static _Thread_local struct tb_fibre seen[8];
    static _Thread_local unsigned turn;
    struct tb_fibre *f = &seen[turn++ % 8];
    const struct tb_ref_fibre *r = &tb_ref_fibre[fibre];

    assert(fibre >= 0 && (size_t)fibre < tb_ref_fibre_n);
    *f = (struct tb_fibre){ r->key, r->name, r->burn_class, r->eu_number == TB_REF_NONE ? 0 : r->eu_number,
                            r->iso_code };
    return f;
}

int tb_fibre_by_key(const char *key)
{
    for (size_t i = 0; i < tb_ref_fibre_n; i++)
        if (strcmp(tb_ref_fibre[i].key, key) == 0)
            return (int)i;
    return -1;
}
