/* code_page.c - code pages of text files: names, conversion by iconv, a hint by libuchardet. */
#include "tenterbook/code_page.h"

#include "tenterbook/words.h"

#include "gen/late_code_page.h"
#include <errno.h>
#include <iconv.h>
#include <stdint.h>
#include <string.h>

/* The Windows pages for what ISO 8859 names too: they hold the same letters and more. */
static const struct tb_code_page page[] = {
    { "Windows-1252", "CP1252", "1252 cp1252 win1252 ansi latin1 iso88591 iso885915 ascii", true, false },
    { "Windows-1250", "CP1250", "1250 cp1250 win1250", true, false },
    { "Windows-1251", "CP1251", "1251 cp1251 win1251", true, false },
    { "Windows-1253", "CP1253", "1253 cp1253 win1253 iso88597", true, false },
    { "Windows-1254", "CP1254", "1254 cp1254 win1254 iso88599 latin5", true, false },
    { "Windows-1257", "CP1257", "1257 cp1257 win1257 iso885913", true, false },
    { "GB18030", "GB18030", "gbk gb2312 cp936 936", true, true },
    { "Big5", "BIG5-HKSCS", "cp950 950 big5hkscs", true, true },
    { "Shift-JIS", "CP932", "shiftjis sjis cp932 932 windows31j", true, true },
    { "EUC-KR", "CP949", "euckr cp949 949 uhc", true, true },
    { "UTF-16LE", "UTF-16LE", "utf16", false, true },
    { "UTF-16BE", "UTF-16BE", "", false, true },
    { "UTF-8", "UTF-8", "utf8", false, false },
    { "ISO-8859-2", "ISO-8859-2", "latin2", false, false },
    { "ISO-8859-5", "ISO-8859-5", "", false, false },
    { "KOI8-R", "KOI8-R", "koi8", false, false },
    { "CP850", "CP850", "850", false, false },
    { "CP852", "CP852", "852", false, false },
    { "CP866", "CP866", "866", false, false },
    { "Mac-Roman", "MACINTOSH", "macintosh macroman", false, false },
    { "Mac-CE", "MAC-CENTRALEUROPE", "maccentraleurope", false, false },
    { "EUC-JP", "EUC-JP", "", false, true },
};

const struct tb_code_page *tb_code_pages(size_t *n)
{
    *n = TB_COUNT(page);
    return page;
}

/* Letters and digits only, in lower case. False: it is longer than any name. */
static bool plain_name(char out[32], const char *name)
{
    size_t n = 0;

    for (; *name; name++) {
        char c = *name >= 'A' && *name <= 'Z' ? (char)(*name + ('a' - 'A')) : *name;

        if (!((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')))
            continue;
        if (n == 31)
            return false;
        out[n++] = c;
    }
    out[n] = '\0';
    return n > 0;
}

const struct tb_code_page *tb_code_page_find(const char *name)
{
    char want[32], have[32];

    if (!plain_name(want, name))
        return NULL;
    for (size_t i = 0; i < TB_COUNT(page); i++)
        if ((plain_name(have, page[i].name) && strcmp(have, want) == 0) ||
            tb_word_listed(page[i].also, want, strlen(want), " "))
            return &page[i];
    return NULL;
}

bool tb_code_page_convert(struct tb_text *out, const struct tb_code_page *p, const void *bytes, size_t n)
{
    iconv_t how = iconv_open("UTF-8", p->iconv);
    char *from = (char *)bytes, buf[4096];
    bool there = (intptr_t)how != -1, good = there;

    while (good && n) {
        char *to = buf;
        size_t room = sizeof buf, done = iconv(how, &from, &n, &to, &room);

        tb_text_addn(out, buf, (size_t)(to - buf));
        good = done != (size_t)-1 || errno == E2BIG;
    }
    if (there)
        (void)iconv_close(how);
    return good;
}

const struct tb_code_page *tb_code_page_hint(const void *bytes, size_t n)
{
    uchardet_t u = uchardet_new();
    const struct tb_code_page *found = NULL;

    if (!u)
        return NULL;
    if (uchardet_handle_data(u, bytes, n) == 0) {
        uchardet_data_end(u);
        found = tb_code_page_find(uchardet_get_charset(u));
    }
    uchardet_delete(u);
    return found;
}
