/* Bytes that somebody sent, as a file: what reads tables reads files, and some of them twice. */
#include "tenterbook/sheet.h"

#include <errno.h>
#include <string.h>

tb_rc tb_sent_file_open(struct tb_sent_file *f, const struct tb_sent *sent, struct tb_err *err)
{
    f->file = tmpfile();
    if (!f->file || (sent->size && fwrite(sent->bytes, 1, sent->size, f->file) != sent->size) ||
        fflush(f->file) != 0)
        return tb_fail(err, TB_EIO, "what was sent cannot be kept for reading: %s", strerror(errno));
    (void)snprintf(f->path, sizeof f->path, "/proc/self/fd/%d", fileno(f->file));
    return TB_OK;
}

void tb_sent_file_close(struct tb_sent_file *f)
{
    if (f->file)
        (void)fclose(f->file);
    *f = (struct tb_sent_file){ 0 };
}
