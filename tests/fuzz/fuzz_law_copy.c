/*
 * Any bytes as a saved copy of the law. Rows come in the order of their numbers, texts are short and whole, and the words
 * that are made of them are of fibres and phrases that are known.
 */
#include "tenterbook/law_names.h"
#include "tenterbook/utf8.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void check(const struct tb_law_copy *copy)
{
    int row = 0;

    if (copy->n > TB_LAW_SEEN_MOST)
        abort();
    for (size_t i = 0; i < copy->n; i++) {
        const struct tb_law_seen *s = &copy->seen[i];
        size_t n = strlen(s->text);

        if (n > TB_LAW_TEXT_MOST || !tb_utf8_valid(s->text, n) || s->number < 1 || s->number > 99)
            abort();
        if (!s->quoted && s->number <= row)
            abort();
        row = s->quoted ? row : s->number;
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct tb_law_copy copy;
    struct tb_law_word *word;
    struct tb_arena mem = { 0 };
    struct tb_err err = { 0 };
    size_t n = 0;

    tb_law_copy_read(&copy, (const char *)data, size);
    check(&copy);
    if (copy.n && tb_law_copy_words(&word, &n, &copy, "eu", "pl", &mem, &err) == TB_OK)
        for (size_t i = 0; i < n; i++)
            if (!*word[i].text || (!word[i].phrase && tb_fibre_by_key(word[i].key) < 0))
                abort();
    tb_arena_free(&mem);
    tb_law_copy_free(&copy);
    return 0;
}
