/* legible.c - text read in the wrong code page shows signs inside its words: such a file is not taken. */
#include "intake/reader.h"

#include <string.h>

static bool letter(unsigned char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/*
 * U+00A1 to U+00BF without those that Western words hold (ordinals, the Catalan dot, soft hyphen), between two letters:
 * where another code page has a letter of its own, as "P\u00B3ocha" for "P\u0142ocha".
 */
static bool sign_in_word(const char *s)
{
    size_t n = strlen(s);

    for (size_t i = 1; i + 2 < n; i++) {
        unsigned char c = (unsigned char)s[i + 1];

        if ((unsigned char)s[i] == 0xC2 && c >= 0xA1 && c <= 0xBF && !strchr("\xAA\xAD\xB0\xB4\xB7\xBA", c) &&
            letter((unsigned char)s[i - 1]) && letter((unsigned char)s[i + 2]))
            return true;
    }
    return false;
}

/* Only text that is taken for Western European for want of anything better is looked at. */
tb_rc tb_legible(const struct tb_list_reader *r, const struct tb_row *row, struct tb_err *err)
{
    if (r->sheet.kind != TB_SHEET_CSV || strcmp(r->sheet.encoding, "Windows-1252") != 0)
        return TB_OK;
    for (size_t i = 0; i < row->n; i++)
        if (row->cell[i].type == TB_CELL_TEXT && sign_in_word(row->cell[i].text))
            return tb_fail(
                err, TB_EINVAL,
                "line %zu: '%s' is not Western European text; save the file as UTF-8 and receive it "
                "then",
                row->line, tb_store_brief(r->list->store, row->cell[i].text));
    return TB_OK;
}
