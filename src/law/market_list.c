/* Markets named in words. */
#include "tenterbook/law.h"

#include <stdlib.h>
#include <string.h>

tb_rc tb_market_list_add(struct tb_market_list *list, const char *words, struct tb_err *err)
{
    static const char between[] = ", \t";

    for (words += strspn(words, between); *words; words += strspn(words, between)) {
        size_t n = strcspn(words, between), i = 0;
        char *key = tb_strndup(words, n);
        struct tb_market m = { 0 };
        tb_rc rc = tb_market_find(&m, key) ? TB_OK : tb_market_check(key, err);

        free(key);
        if (rc != TB_OK)
            return rc;
        while (i < list->n && list->key[i] != m.key)
            i++;
        if (i == TB_MARKETS_MOST)
            return tb_fail(err, TB_EINVAL, "more than %d markets are named", TB_MARKETS_MOST);
        if (i == list->n)
            list->key[list->n++] = m.key;
        words += n;
    }
    return TB_OK;
}
