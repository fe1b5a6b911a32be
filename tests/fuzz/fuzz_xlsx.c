/*
 * Workbooks. The first byte chooses: 0 the bytes are the file itself; else they are the parts, separated by a byte
 * 0xFF (sheet, shared strings, styles, workbook), packed here so that the archive's checksums are no wall.
 */
#include "fuzz_intake.h"

#include <string.h>
#include <zip.h>

static const char rels_open[] =
    "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">";
#define TYPE "http://schemas.openxmlformats.org/officeDocument/2006/relationships/"

static void add(zip_t *z, const char *name, const void *bytes, size_t n)
{
    zip_source_t *s = zip_source_buffer(z, bytes, n, 0);
    zip_int64_t at = zip_file_add(z, name, s, 0);

    must(at >= 0 && zip_set_file_compression(z, (zip_uint64_t)at, ZIP_CM_STORE, 0) == 0);
}

/* The next piece up to a separator. */
static size_t piece(const uint8_t **data, size_t *size, const uint8_t **out)
{
    const uint8_t *end = *size ? memchr(*data, 0xFF, *size) : NULL;
    size_t n = end ? (size_t)(end - *data) : *size, skip = n + (end != NULL);

    *out = *data;
    *data += skip;
    *size -= skip;
    return n;
}

static void read_parts(const uint8_t *data, size_t size, const struct tb_intake_opts *opts)
{
    static const char root[] =
        "<Relationship Id=\"a\" Type=\"" TYPE "officeDocument\" Target=\"xl/workbook.xml\"/></Relationships>";
    static const char book[] =
        "<workbook xmlns:r=\"r\"><sheets><sheet name=\"S\" sheetId=\"1\" r:id=\"s\"/></sheets></workbook>";
    static const char book_rels[] =
        "<Relationship Id=\"s\" Type=\"" TYPE "worksheet\" Target=\"s.xml\"/>"
        "<Relationship Id=\"t\" Type=\"" TYPE "sharedStrings\" Target=\"t.xml\"/>"
        "<Relationship Id=\"y\" Type=\"" TYPE "styles\" Target=\"y.xml\"/></Relationships>";
    static const char *const name[] = { "xl/s.xml", "xl/t.xml", "xl/y.xml" };
    struct tb_text rels = { 0 }, book_text = { 0 };
    zip_source_t *out = zip_source_buffer_create(NULL, 0, 0, NULL);
    zip_t *z = zip_open_from_source(out, ZIP_TRUNCATE, NULL);
    const uint8_t *part;
    zip_stat_t st;
    char *bytes;
    size_t n;

    must(z != NULL);
    zip_source_keep(out);
    tb_text_addf(&rels, "%s%s", rels_open, root);
    add(z, "_rels/.rels", rels.s, rels.n);
    tb_text_addf(&book_text, "%s%s", rels_open, book_rels);
    add(z, "xl/_rels/workbook.xml.rels", book_text.s, book_text.n);
    for (size_t i = 0; i < TB_COUNT(name); i++) {
        n = piece(&data, &size, &part);
        add(z, name[i], part, n);
    }
    n = piece(&data, &size, &part);
    add(z, "xl/workbook.xml", n ? (const void *)part : book, n ? n : sizeof book - 1);
    must(zip_close(z) == 0 && zip_source_stat(out, &st) == 0 && zip_source_open(out) == 0);
    bytes = tb_alloc(st.size, 1);
    must(zip_source_read(out, bytes, st.size) == (zip_int64_t)st.size);
    (void)zip_source_close(out);
    zip_source_free(out);
    fuzz_read(bytes, st.size, opts);
    free(bytes);
    tb_text_free(&rels);
    tb_text_free(&book_text);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static const struct tb_intake_opts opts = { .supplier = "Mill",
                                                .note = "1",
                                                .article = "A",
                                                .declared = "",
                                                .dates = 'd',
                                                .length_unit = TB_UNIT_M,
                                                .width_unit = TB_UNIT_CM };

    if (size < 1)
        return 0;
    if (data[0] == 0)
        fuzz_read(data + 1, size - 1, &opts);
    else
        read_parts(data + 1, size - 1, &opts);
    return 0;
}
