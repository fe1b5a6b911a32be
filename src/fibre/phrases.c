/*
 * The words and phrases that a reader knows besides the table of names: added, sorted, looked up. The law brings some
 * eight hundred; they change with the tables of the law and so are no part of the index of names.
 */
#include "fibre/fold.h"
#include "fibre/scan.h"

#include <stdlib.h>
#include <string.h>

void tb_phrases_add(struct tb_phrases *list, const char *text, size_t row, enum tb_word_kind what, int part)
{
    char *folded = tb_fold_word(text, strlen(text));
    size_t words = 1;

    for (const char *s = folded; *s; s++)
        words += *s == ' ' || *s == '/';
    if (words > list->longest)
        list->longest = words;
    TB_PUSH_ROOM(list->item, list->n, list->cap);
    list->item[list->n++] = (struct tb_phrase){ folded, row, what, part };
}

/* Of two meanings of one text, the one that was added first comes first. */
static int by_text(const void *a, const void *b)
{
    const struct tb_phrase *x = a, *y = b;
    int order = strcmp(x->folded, y->folded);

    return order ? order : (x->row > y->row) - (x->row < y->row);
}

void tb_phrases_sort(struct tb_phrases *list)
{
    if (list->n)
        qsort(list->item, list->n, sizeof *list->item, by_text);
}

void tb_phrases_free(struct tb_phrases *list)
{
    for (size_t i = 0; i < list->n; i++)
        free(list->item[i].folded);
    free(list->item);
    *list = (struct tb_phrases){ 0 };
}

/* As strcmp of the phrase and the n bytes at `folded`. */
static int compare(const char *phrase, const char *folded, size_t n)
{
    int order = strncmp(phrase, folded, n);

    return order ? order : phrase[n] != '\0';
}

size_t tb_phrases_find(const struct tb_phrases *list, const char *folded, size_t n, size_t *first)
{
    size_t low = 0, high = list->n, found = 0;

    while (low < high) {
        size_t middle = low + (high - low) / 2;

        if (compare(list->item[middle].folded, folded, n) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    while (low + found < list->n && compare(list->item[low + found].folded, folded, n) == 0)
        found++;
    *first = low;
    return found;
}
