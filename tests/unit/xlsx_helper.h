/* Workbooks made by hand, part by part: for what no honest program writes. */
#ifndef XLSX_HELPER_H
#define XLSX_HELPER_H

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <zip.h>

struct part {
    const char *name, *text;
    size_t n; /* 0: the length of text */
};

#define NS_MAIN "xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\""
#define NS_REL "xmlns:r=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships\""
#define REL_TYPE "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
#define RELS_OPEN "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">"
#define ROOT_RELS                                                                                            \
    {                                                                                                        \
        "_rels/.rels",                                                                                       \
            RELS_OPEN "<Relationship Id=\"a\" Type=\"" REL_TYPE                                              \
                      "/officeDocument\" Target=\"xl/workbook.xml\"/></Relationships>",                      \
            0                                                                                                \
    }
#define BOOK(inside)                                                                                         \
    {                                                                                                        \
        "xl/workbook.xml", "<workbook " NS_MAIN " " NS_REL ">" inside "</workbook>", 0                       \
    }
#define ONE_SHEET "<sheets><sheet name=\"List\" sheetId=\"1\" r:id=\"s1\"/></sheets>"
#define BOOK_RELS(inside)                                                                                    \
    {                                                                                                        \
        "xl/_rels/workbook.xml.rels", RELS_OPEN inside "</Relationships>", 0                                 \
    }
#define REL(id, type, target)                                                                                \
    "<Relationship Id=\"" id "\" Type=\"" REL_TYPE "/" type "\" Target=\"" target "\"/>"
#define SHEET(inside)                                                                                        \
    {                                                                                                        \
        "xl/worksheets/sheet1.xml", "<worksheet " NS_MAIN "><sheetData>" inside "</sheetData></worksheet>",  \
            0                                                                                                \
    }
#define PLAIN_RELS BOOK_RELS(REL("s1", "worksheet", "worksheets/sheet1.xml"))

/* Writes the parts to a new temporary file; to needs 64 bytes. */
static inline void make_book(char *to, const struct part *part, size_t n)
{
    int code = 0, fd;
    zip_t *z;

    (void)strcpy(to, "/tmp/tb-book-XXXXXX");
    fd = mkstemp(to);
    if (fd >= 0)
        (void)close(fd);
    z = zip_open(to, ZIP_TRUNCATE | ZIP_CREATE, &code);
    for (size_t i = 0; z && i < n; i++) {
        zip_source_t *s = zip_source_buffer(z, part[i].text, part[i].n ? part[i].n : strlen(part[i].text), 0);

        if (!s || zip_file_add(z, part[i].name, s, ZIP_FL_ENC_UTF_8) < 0)
            abort();
    }
    if (!z || zip_close(z) != 0)
        abort();
}

#endif
