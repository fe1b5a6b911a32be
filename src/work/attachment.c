/* Files that are kept in the book: photographs and papers, told by their first bytes. */
#include "tenterbook/attachment.h"

#include "tenterbook/utf8.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* The first bytes tell: a name may say anything, and what the book keeps must open in ten years. */
static const char *media_of(const unsigned char *p, size_t n)
{
    if (n > 3 && memcmp(p, "\xFF\xD8\xFF", 3) == 0)
        return "image/jpeg";
    if (n > 8 && memcmp(p, "\x89PNG\r\n\x1A\n", 8) == 0)
        return "image/png";
    if (n > 5 && memcmp(p, "%PDF-", 5) == 0)
        return "application/pdf";
    return NULL;
}

/* Whole or not at all: a photograph that ends in the middle would be kept for good. */
static tb_rc read_bytes(struct tb_attachment *a, FILE *f, const char *path, struct tb_arena *mem,
                        struct tb_err *err)
{
    struct stat st;
    void *bytes;

    if (fstat(fileno(f), &st) != 0 || !S_ISREG(st.st_mode))
        return tb_fail(err, TB_EINVAL, "%s is not a plain file", path);
    if (st.st_size > TB_ATTACHMENT_MOST)
        return tb_fail(err, TB_EINVAL, "%s has %lld MB; a photograph may have %d", path,
                       (long long)(st.st_size >> 20), TB_ATTACHMENT_MOST >> 20);
    bytes = tb_arena_alloc(mem, (size_t)st.st_size + 1);
    a->size = fread(bytes, 1, (size_t)st.st_size, f);
    a->bytes = bytes;
    return ferror(f) || a->size != (size_t)st.st_size ? tb_fail(err, TB_EIO, "%s could not be read", path)
                                                      : TB_OK;
}

tb_rc tb_attachment_read(struct tb_attachment *a, const char *path, struct tb_arena *mem, struct tb_err *err)
{
    FILE *f = fopen(path, "rb");
    tb_rc rc;

    if (!f)
        return tb_fail(err, TB_ENOTFOUND, "%s cannot be opened: %s", path, strerror(errno));
    rc = read_bytes(a, f, path, mem, err);
    (void)fclose(f);
    if (rc != TB_OK)
        return rc;
    a->name = tb_file_name(path, mem);
    a->media = media_of(a->bytes, a->size);
    return a->media ? TB_OK : tb_fail(err, TB_EINVAL, "%s is neither JPEG, PNG nor PDF", path);
}

const char *tb_file_name(const char *path, struct tb_arena *mem)
{
    const char *slash = strrchr(path, '/');
    char *mended = tb_utf8_mend(slash ? slash + 1 : path, strlen(slash ? slash + 1 : path));
    struct tb_text plain = { 0 };

    for (size_t at = 0, n = strlen(mended), used; at < n; at += used) {
        unsigned cp;

        used = tb_utf8_next(mended + at, n - at, &cp);
        if (tb_utf8_control(cp) || cp < ' ')
            tb_text_add(&plain, "?");
        else
            tb_text_addn(&plain, mended + at, used);
    }
    free(mended);
    return tb_arena_take(mem, &plain);
}
