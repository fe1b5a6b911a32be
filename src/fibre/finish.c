/* Finishes that a declaration may name: what they are called, and how they are said beside a composition. */
#include "tenterbook/fibre.h"

#include "gen/ref_finish.h"

#include <assert.h>
#include <string.h>

_Static_assert(TB_FINISHES_MOST <= 32, "finishes are bits of an unsigned int");

size_t tb_finish_count(void)
{
    return tb_ref_finish_n;
}

const char *tb_finish_key(int finish)
{
    assert(finish >= 0 && (size_t)finish < tb_ref_finish_n);
    return tb_ref_finish[finish].key;
}

int tb_finish_by_key(const char *key)
{
    for (size_t i = 0; i < tb_ref_finish_n && i < TB_FINISHES_MOST; i++)
        if (strcmp(tb_ref_finish[i].key, key) == 0)
            return (int)i;
    return -1;
}

void tb_finish_list(struct tb_text *out, unsigned finishes)
{
    bool any = false;

    for (size_t i = 0; i < tb_ref_finish_n; i++)
        if (finishes & 1u << i) {
            tb_text_addf(out, "%s%s", any ? ", " : "", tb_ref_finish[i].name);
            any = true;
        }
}
