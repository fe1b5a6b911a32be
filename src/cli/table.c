#include "cli/help/help.h"

#include <string.h>

#define TB_CMD(n) extern const struct tb_cmd tb_cmd_##n;
#include "cli/commands.h"
#undef TB_CMD

#define TB_CMD(n) &tb_cmd_##n,
const struct tb_cmd *const tb_commands[] = {
#include "cli/commands.h"
    NULL,
};
#undef TB_CMD

const struct tb_cmd *tb_cmd_find(const char *name)
{
    for (size_t i = 0; tb_commands[i]; i++)
        if (strcmp(tb_commands[i]->name, name) == 0)
            return tb_commands[i];
    return NULL;
}
