/* burn.h - what one burn and a file of burns share. */
#ifndef TENTERBOOK_CLI_BURN_H
#define TENTERBOOK_CLI_BURN_H

#include "cli/cmd.h"
#include "tenterbook/book.h"

/* TB_EREFUSED, with the way without a flame, until the site has said that flame work is permitted here. */
tb_rc tb_flame_permitted(struct tb_ctx *ctx, struct tb_err *err);
/* Read the words for what was seen into the record: fills looked, cue and cues (in mem). Any may be NULL. */
tb_rc tb_burn_read(struct tb_burn *burn, const char *saw, const char *not_seen, const char *looked,
                   struct tb_arena *mem, struct tb_err *err);
/* Record every burn of a file in one transaction, then judge the lots it touched. */
tb_rc tb_burn_from(struct tb_ctx *ctx, const char *path, struct tb_arena *mem, struct tb_err *err);

#endif
