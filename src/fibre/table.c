/*
 * The table of fibres, and the words for them: look-ups over what the build made. src/gen/fibregen.c folds and hashes the
 * words once, so that there is nothing to set up and no state.
 */
#include "fibre/fold.h"
#include "fibre/index.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

size_t tb_fibre_count(void)
{
    return tb_fibre_table_n;
}

const struct tb_fibre *tb_fibre_at(int fibre)
{
    assert(fibre >= 0 && (size_t)fibre < tb_fibre_table_n);
    return &tb_fibre_table[fibre];
}

int tb_fibre_by_key(const char *key)
{
    for (size_t i = 0; i < tb_fibre_table_n; i++)
        if (strcmp(tb_fibre_table[i].key, key) == 0)
            return (int)i;
    return -1;
}

bool tb_fibre_twins(int a, int b)
{
    return strcmp(tb_fibre_at(a)->twin_group, tb_fibre_at(b)->twin_group) == 0;
}

size_t tb_name_count(void)
{
    return tb_name_table_n;
}

const struct tb_name *tb_name_at(size_t row)
{
    assert(row < tb_name_table_n);
    return &tb_name_table[row];
}

unsigned tb_name_marks(size_t row)
{
    assert(row < tb_name_table_n);
    return tb_name_more[row].marks;
}

/* Open addressing: the table is never more than a quarter full, so an empty slot soon ends the walk. */
int tb_name_lookup(const char *folded, size_t n, uint32_t hash)
{
    for (uint32_t h = hash;; h++) {
        uint16_t row = tb_name_slot[h & (tb_name_slots - 1)];
        const char *word;

        if (row == 0)
            return -1;
        word = tb_name_more[row - 1].folded;
        if (strncmp(word, folded, n) == 0 && word[n] == '\0')
            return row - 1;
    }
}

const struct tb_name *tb_name_find(const char *word, size_t len, size_t *n)
{
    char *folded = tb_fold_word(word, len);
    uint32_t h = TB_HASH_START;
    int row;

    for (const char *s = folded; *s; s++)
        h = tb_hash_byte(h, *s);
    row = tb_name_lookup(folded, strlen(folded), h);
    free(folded);
    *n = row < 0 ? 0 : tb_name_more[row].rows;
    return row < 0 ? NULL : &tb_name_table[row];
}

int tb_fibre_by_word(const char *word)
{
    size_t n = 0;
    const struct tb_name *name = tb_name_find(word, strlen(word), &n);
    int fibre = tb_fibre_by_key(word);

    for (size_t i = 0; i < n && fibre < 0; i++)
        fibre = name[i].fibre;
    return fibre;
}
