/* store.c - the memory behind a packing list: every text kept once. */
#include "intake/store.h"

#include <stdlib.h>
#include <string.h>

struct tb_list_store *tb_store_new(void)
{
    return tb_new(struct tb_list_store);
}

void tb_store_free(struct tb_list_store *s)
{
    if (!s)
        return;
    tb_arena_free(&s->mem);
    free(s->text);
    free(s->lot);
    free(s->bolt);
    free(s);
}

const char *tb_store_keep(struct tb_list_store *s, const char *text, size_t n)
{
    return tb_arena_strndup(&s->mem, text, n);
}

const char *tb_store_internf(struct tb_list_store *s, const char *fmt, ...)
{
    struct tb_text t = { 0 };
    const char *kept;
    va_list ap;

    va_start(ap, fmt);
    tb_text_vaddf(&t, fmt, ap);
    va_end(ap);
    kept = tb_store_intern(s, tb_text_str(&t), t.n);
    tb_text_free(&t);
    return kept;
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
