/* head_note.c - the number of a delivery note where only its form tells it: under the word "Note", or in full-width figures. */
#include "intake/heads.h"

#include <string.h>
#include <strings.h>

#define NUMBER_MOST 32 /* bytes */

size_t tb_head_plain(char *out, size_t size, const char *text, size_t n)
{
    size_t m = 0;

    for (size_t i = 0; i < n && m + 1 < size; i++) {
        unsigned char last = i + 2 < n ? (unsigned char)text[i + 2] : 0;

        /* U+FF0D to U+FF19 are the signs from '-' to '9' */
        if (strncmp(text + i, "\xEF\xBC", 2) == 0 && last >= 0x8D && last <= 0x99) {
            out[m++] = (char)(last - 0x8D + '-');
            i += 2;
        } else {
            out[m++] = text[i];
        }
    }
    out[m] = '\0';
    return m;
}

/* One word that begins with a figure and is no day. */
static bool is_number(const char *text)
{
    char plain[NUMBER_MOST];
    struct tb_day_reading day;
    size_t n = strlen(text);

    if (n >= sizeof plain)
        return false;
    n = tb_head_plain(plain, sizeof plain, text, n);
    return n > 0 && plain[0] >= '0' && plain[0] <= '9' && !strpbrk(plain, " ,:;") &&
           !tb_day_scan(&day, plain);
}

/* What stands behind the word and its colon: NULL where the text begins otherwise. */
static const char *behind_word(const char *text)
{
    static const char word[] = "note", wide[] = "\xEF\xBC\x9A"; /* U+FF1A, a full-width colon */
    const char *p = text + sizeof word - 1;

    if (strncasecmp(text, word, sizeof word - 1) != 0 ||
        (*p && !strchr(" :", *p) && strncmp(p, wide, 3) != 0))
        return NULL;
    while (*p == ' ' || *p == ':' || strncmp(p, wide, 3) == 0)
        p += *p == ' ' || *p == ':' ? 1 : 3;
    return p;
}

bool tb_head_note(struct tb_heads *h, struct tb_list_store *s, const struct tb_row *row, size_t *at)
{
    const char *value = h->value[TB_FIELD_NOTE] ? NULL : behind_word(row->cell[*at].text);
    size_t i = *at;

    if (value && !*value) {
        for (i++; i < row->n && row->cell[i].type == TB_CELL_EMPTY; i++)
            ;
        value = i < row->n ? row->cell[i].text : NULL;
    }
    if (!value || !is_number(value))
        return false;
    tb_head_set(h, s, TB_FIELD_NOTE, value, strlen(value));
    *at = i;
    return true;
}
