/* receive.h - what receive prints, kept apart from what it does. */
#ifndef TENTERBOOK_CLI_RECEIVE_H
#define TENTERBOOK_CLI_RECEIVE_H

#include "cli/show.h"
#include "tenterbook/receive.h"

/* One file that was read, and stored unless it was a dry run. */
struct tb_receipt {
    const char *path;
    const struct tb_packing_list *list;
    const char **ref, **lot; /* NULL: a dry run */
    const char *arrived;
    const char *remark; /* as the book keeps it */
    bool dry;
};
void tb_receipt_print(struct tb_ctx *ctx, const struct tb_receipt *r);
json_t *tb_receipt_json(const struct tb_receipt *r);
/* Every bad value, one a line, on standard error. */
void tb_receipt_bad(const struct tb_receipt *r);

#endif
