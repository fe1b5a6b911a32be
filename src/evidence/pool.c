/* pool.c - what a burn makes of all compositions but the declared ones, kept for the next declaration. */
#include "evidence/pool.h"

#include <string.h>

static void add_number(struct tb_text *key, double x)
{
    tb_text_addn(key, (const char *)&x, sizeof x);
}

/* Denied or only not seen is the same to every chance. */
static void take_key(struct tb_text *key, const struct tb_pattern *p)
{
    add_number(key, p->power);
    add_number(key, (double)p->times);
    for (size_t t = 0; t < p->terms->n; t++)
        tb_text_addn(key, (const char[]){ (char)p->terms->term[t].cue, (char)p->terms->term[t].seen }, 2);
}

static void make(struct tb_pool *pool, const struct tb_evidence *ev, const struct tb_group *g)
{
    const struct tb_pattern *p = g->pattern;
    struct tb_group bare = { .pattern = g->pattern, .n = 1, .sums = g->sums }; /* borrowed */

    tb_shortlist_all(&pool->list, ev, &bare);
    tb_apart_open(&pool->apart, pool->list.chance, pool->list.n);
    tb_apart_strange(&pool->apart, ev, p);
    for (size_t i = 0; i < pool->list.n; i++)
        tb_apart_take(&pool->apart, i, ev, p, &pool->list.logs[i], pool->list.entry[i].blend.n);
    pool->list.group = NULL;
    pool->made = true;
}

const struct tb_pool *tb_pool_of(struct tb_pool *pool, const struct tb_evidence *ev, const struct tb_group *g)
{
    struct tb_text key = { 0 };
    bool same;

    if (g->n != 1)
        return NULL;
    take_key(&key, g->pattern);
    same = key.n == pool->key.n && memcmp(key.s, pool->key.s, key.n) == 0;
    if (same && !pool->made)
        make(pool, ev, g);
    if (!same) {
        tb_pool_free(pool);
        pool->key = key;
        return NULL;
    }
    tb_text_free(&key);
    return pool;
}

void tb_pool_free(struct tb_pool *pool)
{
    tb_text_free(&pool->key);
    if (pool->made)
        tb_apart_free(&pool->apart);
    tb_shortlist_free(&pool->list);
    *pool = (struct tb_pool){ 0 };
}
