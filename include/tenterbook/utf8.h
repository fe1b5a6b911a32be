/*
 * utf8.h - Unicode text: validity, folding for comparison, width on a terminal, nearest word.
 */
#ifndef TENTERBOOK_UTF8_H
#define TENTERBOOK_UTF8_H

#include <stdbool.h>
#include <stddef.h>

/* Are these n bytes whole characters of UTF-8? */
bool tb_utf8_valid(const char *s, size_t n);
/*
 * Bytes of the character at s (1 to 4), at most n; 1 for a byte that begins no character, and *cp is U+FFFD
 * then.
 */
size_t tb_utf8_next(const char *s, size_t n, unsigned *cp);
/*
 * A control character, which no name or sentence needs and a terminal may obey: C0 but tab and line ends, DEL,
 * C1.
 */
bool tb_utf8_control(unsigned cp);
/* The text with U+FFFD where bytes are not UTF-8. Yours to free. */
char *tb_utf8_mend(const char *s, size_t n);
/*
 * A character that is not seen itself and changes what stands around it, or where the line ends: every control character, marks
 * of direction and other format characters (Unicode categories Cc, Cf, Zl, Zp). A file can be named so that its name gives a
 * terminal orders, or reads as another.
 */
bool tb_utf8_unseen(unsigned cp);
/*
 * tb_utf8_shown - a text as it may be shown: U+FFFD for each character that is not seen, but for those of `keep` (ASCII: "\n\t"),
 * and for each byte that is not UTF-8. NULL when the text has none of them and may be shown as it is. Yours to free.
 */
char *tb_utf8_shown(const char *s, size_t n, const char *keep);
/* Columns on a terminal: 2 for wide East Asian, 0 for combining marks. */
size_t tb_utf8_columns(const char *s);
/*
 * tb_fold - the form two words are compared in: case folded, accents stripped, full-width forms made plain,
 * runs of white space one space, no space at the ends. Bytes that are not UTF-8 become U+FFFD. Yours to free.
 */
char *tb_fold(const char *s, size_t n);
/* tb_fold_same - whether two words are one in that form. */
bool tb_fold_same(const char *a, const char *b);
/* tb_fold_accented - the same with accents kept: the form in which two spellings are one for people who keep names apart by them. */
char *tb_fold_accented(const char *s, size_t n);
/*
 * tb_looks - the form in which names that look alike are equal: without characters that are not seen (zero width, direction), case
 * and accents, and with one letter for all that are drawn alike (Cyrillic and Latin a). Two names look alike where it is the same of
 * both, with `capitals` or without: letters that differ may have capitals that do not.
 *   source  Unicode Technical Standard 39, skeleton, as ICU computes it
 *   memory  yours to free
 */
char *tb_looks(const char *s, bool capitals);
/*
 * tb_name_same - whether two names are one person's: they differ by capitals, width, spaces and characters that are not seen, and by
 * nothing else.
 */
bool tb_name_same(const char *a, const char *b);
/* Edits (insert, delete, replace, swap of neighbours) between two folded words, up to `most`, else most + 1. */
size_t tb_edit_distance(const char *a, const char *b, size_t most);

#endif
