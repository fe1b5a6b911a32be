/* recall.c - the sums of burns that were weighed before. */
#include "evidence/recall.h"

#include "evidence/sums.h"

#include <stdlib.h>
#include <string.h>

#define KEPT_MOST 128 /* eighty kilobytes each */

struct kept {
    struct tb_text key;
    struct tb_sums sums;
};

struct tb_recall {
    const struct tb_evidence *ev;
    struct kept *kept[KEPT_MOST]; /* made as they come: most burns keep a few */
    size_t n, oldest;
    struct tb_pool pool;
    tb_together_fn *together;
};

struct tb_recall *tb_recall_new(const struct tb_evidence *ev)
{
    struct tb_recall *r = tb_new(struct tb_recall);

    r->ev = ev;
    return r;
}

void tb_recall_free(struct tb_recall *r)
{
    for (size_t i = 0; r && i < r->n; i++) {
        tb_text_free(&r->kept[i]->key);
        tb_sums_free(&r->kept[i]->sums);
        free(r->kept[i]);
    }
    if (r)
        tb_pool_free(&r->pool);
    free(r);
}

void tb_recall_together(struct tb_recall *r, tb_together_fn *together)
{
    r->together = together;
}

bool tb_recall_side_by_side(const struct tb_recall *r)
{
    return r && r->together;
}

void tb_recall_each(const struct tb_recall *r, void (*fn)(void *arg, size_t i), void *arg, size_t n)
{
    if (tb_recall_side_by_side(r) && n > 1)
        r->together(fn, arg, n);
    else
        for (size_t i = 0; i < n; i++)
            fn(arg, i);
}

const struct tb_pool *tb_recall_pool(struct tb_recall *r, const struct tb_group *g)
{
    return r ? tb_pool_of(&r->pool, r->ev, g) : NULL;
}

static void add_number(struct tb_text *key, double x)
{
    tb_text_addn(key, (const char *)&x, sizeof x);
}

/* Whether a cue was denied or just not seen makes no difference to the sums, so it is not in the key. */
struct tb_text tb_recall_key(const struct tb_pick *p, const struct tb_terms *const *terms)
{
    struct tb_text key = { 0 };

    if (p->roof.strip) {
        tb_text_add(&key, "roughly");
        add_number(&key, p->roof.leave);
    }
    for (size_t i = 0; i < p->n; i++) {
        add_number(&key, p->of[i].power);
        add_number(&key, (double)terms[i]->n);
        for (size_t t = 0; t < terms[i]->n; t++) {
            const struct tb_term *term = &terms[i]->term[t];

            tb_text_addn(&key, (const char[]){ (char)term->cue, (char)term->seen }, 2);
        }
    }
    return key;
}

bool tb_recall_find(struct tb_sums *out, const struct tb_recall *r, const struct tb_text *key)
{
    for (size_t i = 0; i < r->n; i++)
        if (r->kept[i]->key.n == key->n && memcmp(r->kept[i]->key.s, key->s, key->n) == 0) {
            tb_sums_copy(out, &r->kept[i]->sums, r->ev);
            return true;
        }
    return false;
}

void tb_recall_keep(struct tb_recall *r, const struct tb_text *key, const struct tb_sums *s)
{
    size_t at = r->n < KEPT_MOST ? r->n++ : r->oldest++ % KEPT_MOST;
    struct kept *k = r->kept[at];

    if (!k)
        k = r->kept[at] = tb_new(struct kept);
    tb_text_free(&k->key);
    tb_sums_free(&k->sums);
    tb_text_addn(&k->key, key->s, key->n);
    tb_sums_copy(&k->sums, s, r->ev);
}
