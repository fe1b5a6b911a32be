/*
 * pdf_attach.c - data attached to a PDF, written and read back.
 *
 * The library that draws cannot attach files. The format allows changes to be appended: new objects, a table of where they
 * stand, and a trailer that points to the table before. So the pages stay as they were drawn, byte for byte.
 * Reading back serves only files written here: whatever deviates from that layout is refused, not interpreted.
 */
#include "report/draw/pdf_attach.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <zlib.h>

/* One sentence for the person; which of the many ways it deviates is for the log. */
static tb_rc other(struct tb_err *err, const char *what)
{
    (void)tb_fail(err, TB_EFORMAT, "this is not a PDF as this program writes it");
    tb_detail(err, "%s", what);
    return TB_EFORMAT;
}

/* The last place a word stands, looking back from the end. */
static const char *last_of(const char *s, size_t n, const char *word)
{
    size_t w = strlen(word);

    for (size_t i = n >= w ? n - w + 1 : 0; i-- > 0;)
        if (memcmp(s + i, word, w) == 0)
            return s + i;
    return NULL;
}

/* A number after a key, both within the text [from, end); false when they are not there. */
static bool number_after(unsigned long *out, const char *from, const char *end, const char *key)
{
    const char *at = from ? memmem(from, (size_t)(end - from), key, strlen(key)) : NULL;
    char digits[24] = "";
    size_t n = 0;

    if (!at)
        return false;
    for (at += strlen(key); at < end && (*at == ' ' || *at == '\n' || *at == '\r'); at++)
        ;
    while (at < end && *at >= '0' && *at <= '9' && n < sizeof digits - 1)
        digits[n++] = *at++;
    *out = strtoul(digits, NULL, 10);
    return n > 0;
}

struct trailer {
    unsigned long xref, size, root, info;
    bool has_info;
};

/* The last cross-reference section and the numbers of its trailer; what they point to is checked when it is read. */
static bool read_trailer(struct trailer *t, const char *s, size_t n)
{
    const char *start = last_of(s, n, "startxref"), *end = s + n, *at;

    if (!start || !number_after(&t->xref, start, end, "startxref") || t->xref >= n)
        return false;
    at = memmem(s + t->xref, n - t->xref, "trailer", 7);
    if (!at || memcmp(s + t->xref, "xref", 4) != 0)
        return false;
    t->has_info = number_after(&t->info, at, end, "/Info");
    return number_after(&t->size, at, end, "/Size") && number_after(&t->root, at, end, "/Root");
}

/* The text of an object, found through the cross-reference section at t->xref. */
static const char *object(size_t *length, const char *s, size_t n, const struct trailer *t,
                          unsigned long number)
{
    const char *p = s + t->xref + 4, *end = s + n, *stop;
    unsigned long first, count, at;
    int used;

    while (p < end && sscanf(p, " %lu %lu%n", &first, &count, &used) == 2) {
        p += used;
        while (p < end && (*p == ' ' || *p == '\r' || *p == '\n'))
            p++;
        if (number >= first && number < first + count) {
            if ((size_t)(end - p) < (number - first + 1) * 20)
                return NULL;
            at = strtoul(p + (number - first) * 20, NULL, 10);
            if (at >= n || !(stop = memmem(s + at, n - at, "endobj", 6)))
                return NULL;
            *length = (size_t)(stop - (s + at));
            return s + at;
        }
        if ((size_t)(end - p) < count * 20)
            return NULL;
        p += count * 20;
    }
    return NULL;
}

/* The bytes themselves, packed. In a name the slash of a media type is written as its code. */
static void add_stream(struct tb_text *pdf, unsigned long number, const char *media, const char *packed,
                       size_t packed_n, size_t size)
{
    tb_text_addf(pdf, "%lu 0 obj\n<< /Type /EmbeddedFile /Subtype /", number);
    for (const char *c = media; *c; c++) {
        if (*c == '/')
            tb_text_add(pdf, "#2F");
        else
            tb_text_addc(pdf, *c);
    }
    tb_text_addf(pdf, " /Filter /FlateDecode /Length %zu /Params << /Size %zu >> >>\nstream\n", packed_n,
                 size);
    tb_text_addn(pdf, packed, packed_n);
    tb_text_add(pdf, "\nendstream\nendobj\n");
}

/* The catalogue again, with the attachment in it. */
static bool add_catalogue(struct tb_text *pdf, const char *old, size_t n, unsigned long file,
                          const char *name)
{
    const char *close = last_of(old, n, ">>");
    char *head;

    if (!close || memmem(old, n, "/Names", 6) || memmem(old, n, "/AF", 3))
        return false;
    head = tb_strndup(old, (size_t)(close - old));
    tb_text_add(pdf, head);
    if (!strstr(head, "/MarkInfo")) /* the structure is there: say so, and in which language the words are */
        tb_text_add(pdf, "   /MarkInfo << /Marked true >>\n   /Lang (en)\n   /ViewerPreferences << "
                         "/DisplayDocTitle true >>\n");
    tb_text_addf(
        pdf, "   /Names << /EmbeddedFiles << /Names [ (%s) %lu 0 R ] >> >>\n   /AF [ %lu 0 R ]\n>>\nendobj\n",
        name, file, file);
    free(head);
    return true;
}

/* Packed as tightly as can be: JSON of a lot shrinks to a tenth, and the file is sent by mail. */
static char *pack(size_t *packed_n, const void *data, size_t size)
{
    uLongf n = compressBound(size);
    char *packed = tb_alloc(n, 1);

    if (compress2((Bytef *)packed, &n, data, size, 9) != Z_OK) {
        free(packed);
        return NULL;
    }
    *packed_n = n;
    return packed;
}

/*
 * Three objects are appended: the catalogue again with the attachment named in it, the bytes, and the file specification.
 * Their places are noted as they are written, for the table that follows.
 */
tb_rc tb_pdf_attach(struct tb_text *pdf, const char *name, const char *media, const char *moment,
                    const void *data, size_t size, struct tb_err *err)
{
    struct trailer t;
    size_t catalogue_n, packed_n, at[3], xref;
    const char *found;
    char *packed, *catalogue;
    bool good;

    if (!read_trailer(&t, pdf->s, pdf->n) || !(found = object(&catalogue_n, pdf->s, pdf->n, &t, t.root)))
        return other(err, "no cross-reference table or no catalogue");
    catalogue = tb_strndup(found, catalogue_n); /* the text moves as it grows */
    packed = pack(&packed_n, data, size);
    at[0] = pdf->n;
    good = packed && add_catalogue(pdf, catalogue, catalogue_n, t.size + 1, name);
    at[1] = pdf->n;
    if (good)
        add_stream(pdf, t.size, media, packed, packed_n, size);
    at[2] = pdf->n;
    tb_text_addf(pdf,
                 "%lu 0 obj\n<< /Type /Filespec /F (%s) /UF (%s) /AFRelationship /Data /EF << /F %lu 0 R >>\n"
                 "   /Desc (data of the case, made %s) >>\nendobj\n",
                 t.size + 1, name, name, t.size, moment);
    xref = pdf->n;
    tb_text_addf(pdf, "xref\n%lu 1\n%010zu 00000 n \n%lu 2\n%010zu 00000 n \n%010zu 00000 n \n", t.root,
                 at[0], t.size, at[1], at[2]);
    tb_text_addf(pdf, "trailer\n<< /Size %lu\n   /Root %lu 0 R\n", t.size + 2, t.root);
    if (t.has_info)
        tb_text_addf(pdf, "   /Info %lu 0 R\n", t.info);
    tb_text_addf(pdf, "   /Prev %lu\n>>\nstartxref\n%zu\n%%%%EOF\n", t.xref, xref);
    free(packed);
    free(catalogue);
    return good ? TB_OK : other(err, "the catalogue has attachments already");
}

#define DEFLATE_MOST                                                                                         \
    1032 /* of one packed byte no more are ever unpacked (RFC 1951, 258 bytes for two bits) */

/* The size was written by whoever made the file: it is bounded before memory is taken. */
static tb_rc unpack(struct tb_text *out, const char *packed, size_t n, size_t size, struct tb_err *err)
{
    uLongf got = size;

    if (size > TB_PDF_ATTACHED_MOST)
        return tb_fail(err, TB_EFORMAT,
                       "the data attached to this file have more than %u MB; no case has so many",
                       TB_PDF_ATTACHED_MOST >> 20);
    if (size == 0 || size / DEFLATE_MOST > n)
        return other(err, "size of the attachment");
    out->s = tb_realloc(out->s, size + 1, 1);
    out->cap = size + 1;
    if (uncompress((Bytef *)out->s, &got, (const Bytef *)packed, n) != Z_OK || got != size) {
        tb_text_free(out);
        return tb_fail(err, TB_EFORMAT, "the data attached to this file are damaged");
    }
    out->s[size] = '\0';
    out->n = size;
    return TB_OK;
}

/* From the catalogue to the file specification to the bytes, each step checked against the end of the file. */
tb_rc tb_pdf_attached(struct tb_text *out, const char *pdf, size_t n, struct tb_err *err)
{
    struct trailer t;
    unsigned long file = 0, stream = 0, packed = 0, size = 0;
    size_t length;
    const char *at, *body;

    if (n < 8 || memcmp(pdf, "%PDF-", 5) != 0)
        return tb_fail(err, TB_EFORMAT, "this is not a PDF file");
    if (!read_trailer(&t, pdf, n) || !(at = object(&length, pdf, n, &t, t.root)) ||
        !number_after(&file, at, at + length, "/AF [") || !(at = object(&length, pdf, n, &t, file)) ||
        !number_after(&stream, at, at + length, "/EF << /F") || !(at = object(&length, pdf, n, &t, stream)))
        return tb_fail(
            err, TB_EFORMAT,
            "no data of a case are attached to this PDF; it may have been saved anew by another program");
    body = memmem(at, n - (size_t)(at - pdf), "stream\n", 7);
    if (!body || !number_after(&packed, at, body, "/Length") || !number_after(&size, at, body, "/Size") ||
        packed > n - (size_t)(body + 7 - pdf))
        return other(err, "stream of the attachment");
    return unpack(out, body + 7, packed, size, err);
}
