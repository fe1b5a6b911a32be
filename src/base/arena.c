/* arena.c - memory that lives and dies together. */
#include "tenterbook/base.h"

#include <stdalign.h>
#include <stdlib.h>
#include <string.h>

#define BLOCK 16384

struct tb_arena_block {
    struct tb_arena_block *next;
    max_align_t room[];
};

/* Blocks come zeroed and are never reused, so what is handed out is zeroed without clearing it again. */
void *tb_arena_alloc(struct tb_arena *a, size_t size)
{
    size_t need = (size + alignof(max_align_t) - 1) / alignof(max_align_t) * alignof(max_align_t);
    char *p;

    if (need > a->left) {
        size_t room = need > BLOCK ? need : BLOCK;
        struct tb_arena_block *b = tb_alloc(1, sizeof *b + room);

        b->next = a->first;
        a->first = b;
        a->next = (char *)b->room;
        a->left = room;
    }
    p = a->next;
    a->next += need;
    a->left -= need;
    return p;
}

char *tb_arena_strndup(struct tb_arena *a, const char *s, size_t n)
{
    char *copy = tb_arena_alloc(a, n + 1);

    memcpy(copy, s, n);
    return copy;
}

char *tb_arena_strdup(struct tb_arena *a, const char *s)
{
    return s ? tb_arena_strndup(a, s, strlen(s)) : NULL;
}

void *tb_arena_grow(struct tb_arena *a, const void *list, size_t n, size_t size, size_t *cap)
{
    void *grown;

    *cap = *cap ? *cap * 2 : 8;
    grown = tb_arena_alloc(a, *cap * size);
    if (n)
        memcpy(grown, list, n * size);
    return grown;
}

char *tb_arena_take(struct tb_arena *a, struct tb_text *t)
{
    char *kept = tb_arena_strdup(a, tb_text_str(t));

    tb_text_free(t);
    return kept;
}

char *tb_arena_printf(struct tb_arena *a, const char *fmt, ...)
{
    struct tb_text t = { 0 };
    va_list ap;

    va_start(ap, fmt);
    tb_text_vaddf(&t, fmt, ap);
    va_end(ap);
    return tb_arena_take(a, &t);
}

/* The struct is left empty, so that freeing it twice does nothing. */
void tb_arena_free(struct tb_arena *a)
{
    while (a->first) {
        struct tb_arena_block *next = a->first->next;

        free(a->first);
        a->first = next;
    }
    *a = (struct tb_arena){ 0 };
}
