/* store.c - the memory behind a packing list: every text kept once. */
#include "intake/store.h"

#include <stdlib.h>
#include <string.h>

#define BLOCK (1u << 20)

struct tb_store_block {
    struct tb_store_block *before;
    char bytes[];
};

struct tb_list_store *tb_store_new(void)
{
    return tb_new(struct tb_list_store);
}

void tb_store_free(struct tb_list_store *s)
{
    if (!s)
        return;
    for (struct tb_store_block *b = s->block, *before; b; b = before) {
        before = b->before;
        free(b);
    }
    free(s->text);
    free(s->lot);
    free(s->bolt);
    free(s);
}

/* Blocks are never freed one by one, so a text stays where it is as long as the list. */
const char *tb_store_keep(struct tb_list_store *s, const char *text, size_t n)
{
    char *copy;

    if (n + 1 > s->room - s->used || !s->block) {
        size_t room = n + 1 > BLOCK ? n + 1 : BLOCK;
        struct tb_store_block *b = tb_realloc(NULL, sizeof *b + room, 1);

        b->before = s->block;
        s->block = b;
        s->used = 0;
        s->room = room;
    }
    copy = s->block->bytes + s->used;
    memcpy(copy, text, n);
    copy[n] = '\0';
    s->used += n + 1;
    return copy;
}

uint64_t tb_store_hash(const char *s, size_t n, uint64_t seed)
{
    uint64_t h = seed ^ 1469598103934665603ull;

    for (size_t i = 0; i < n; i++)
        h = (h ^ (unsigned char)s[i]) * 1099511628211ull;
    return h ^ h >> 29;
}

/* Positions depend on the size, so every text is placed again. */
static void grow_texts(struct tb_list_store *s)
{
    size_t slots = s->text_slots ? s->text_slots * 2 : 1024;
    const char **text = (const char **)tb_array(char *, slots);

    for (size_t i = 0; i < s->text_slots; i++) {
        size_t at;

        if (!s->text[i])
            continue;
        for (at = tb_store_hash(s->text[i], strlen(s->text[i]), 0) & (slots - 1); text[at];
             at = (at + 1) & (slots - 1))
            ;
        text[at] = s->text[i];
    }
    free(s->text);
    s->text = text;
    s->text_slots = slots;
}

/* A packing list repeats its texts in nearly every row; kept once they fit in memory. */
const char *tb_store_intern(struct tb_list_store *s, const char *text, size_t n)
{
    size_t at;

    if (s->texts * 2 >= s->text_slots)
        grow_texts(s);
    for (at = tb_store_hash(text, n, 0) & (s->text_slots - 1); s->text[at];
         at = (at + 1) & (s->text_slots - 1))
        if (strncmp(s->text[at], text, n) == 0 && s->text[at][n] == '\0')
            return s->text[at];
    s->texts++;
    return s->text[at] = tb_store_keep(s, text, n);
}

const char *tb_store_brief(struct tb_list_store *s, const char *text)
{
    size_t n = 0, characters = 0;

    for (; text[n]; n++)
        if (((unsigned char)text[n] & 0xC0) != 0x80 && ++characters > 60)
            break;
    return text[n] ? tb_store_keep(s, text, n) : tb_store_intern(s, text, n);
}
