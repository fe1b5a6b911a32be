/* Files that are kept in the book: photographs and papers, told by their first bytes. */
#include "tenterbook/attachment.h"

#include "base/infile.h"
#include "base/say.h"
#include "tenterbook/said.h"
#include "tenterbook/utf8.h"
#include "work/media.h"

#include <stdlib.h>
#include <string.h>

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

static tb_rc check_size(const char *name, size_t bytes, struct tb_err *err)
{
    if (bytes == 0)
        return tb_fail(err, TB_EINVAL, "%s is empty", name);
    if (bytes > TB_ATTACHMENT_MOST)
        return tb_fail(err, TB_EINVAL, "%s has %zu MB; a photograph may have %d", name, bytes >> 20,
                       TB_ATTACHMENT_MOST >> 20);
    return TB_OK;
}

tb_rc tb_attachment_check(const struct tb_attachment *a, struct tb_err *err)
{
    const char *media;
    tb_rc rc;

    if (!a->name || !*a->name)
        return tb_fail(err, TB_EINVAL, "a photograph or paper needs the name of its file");
    if ((rc = tb_said_check(_("the name of a file"), a->name, err)) != TB_OK ||
        (rc = check_size(a->name, a->size, err)) != TB_OK)
        return rc;
    media = media_of(a->bytes, a->size);
    if (!media)
        return tb_fail(err, TB_EINVAL, "%s is neither JPEG, PNG nor PDF", a->name);
    if (!a->media || strcmp(a->media, media) != 0)
        return tb_fail(err, TB_EINVAL, "%s is said to be %s, and begins as %s does", a->name,
                       a->media ? a->media : "-", media);
    return TB_OK;
}

tb_rc tb_attachment_of(struct tb_attachment *out, const char *name, const void *bytes, size_t size,
                       struct tb_arena *mem, struct tb_err *err)
{
    struct tb_attachment a = { .name = tb_file_name(name, mem), .bytes = bytes, .size = size };
    bool whole = false;
    tb_rc rc = check_size(a.name, size, err);

    if (rc != TB_OK)
        return rc;
    a.media = media_of(bytes, size);
    if ((rc = a.media ? tb_attachment_check(&a, err)
                      : tb_fail(err, TB_EINVAL, "%s is neither JPEG, PNG nor PDF", a.name)) != TB_OK)
        return rc;
    if ((rc = tb_media_whole(&whole, a.media, bytes, size, err)) != TB_OK)
        return tb_within(err, rc, "%s", a.name);
    if (!whole)
        return tb_fail(err, TB_EINVAL, "%s ends before its end: it is a part of a file; copy it again",
                       a.name);
    out->name = a.name;
    out->media = a.media;
    out->bytes = bytes;
    out->size = size;
    return TB_OK;
}

tb_rc tb_attachment_read(struct tb_attachment *a, const char *path, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_text whole = { 0 };
    tb_rc rc = tb_in_whole(&whole, path, TB_ATTACHMENT_MOST, err);
    void *bytes;

    if (rc != TB_OK)
        return tb_within(err, rc, "%s", path);
    bytes = tb_arena_alloc(mem, whole.n + 1);
    memcpy(bytes, whole.s, whole.n);
    rc = tb_attachment_of(a, path, bytes, whole.n, mem, err);
    tb_text_free(&whole);
    return rc;
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
