/* What a journal row recorded of each lot (share.h). */
#include "book/share.h"

#include "book/private.h"

#include <stdlib.h>
#include <string.h>

/* People, suppliers, deliveries, settings and known cloth are of no lot; disputes were left out
 * of cases once, and are in no share. */
static const struct tb_owner owners[] = {
    { "amendment", "lot", true, true },
    { "analysis", "lot", true, true },
    { "attachment", "subject", false, true },
    { "bench_test", "swatch", false, true },
    { "bolt", "lot", true, true },
    { "bolt_standing", "lot", true, true },
    { "bolt_use", "bolt", false, true },
    { "bolt_weight", "bolt", false, true },
    { "burn", "swatch", false, true },
    { "cue_seen", "burn", false, true },
    { "declaration", "lot", true, true },
    { "declaration_why", "declaration", false, true },
    { "dispute", "lot", true, false },
    { "joint_piece", "sample", false, true },
    { "joint_sample", "lot", true, true },
    { "lot", "id", true, true },
    { "lot_price", "lot", true, true },
    { "lot_weight", "lot", true, true },
    { "sending", "lot", true, true },
    { "sending_piece", "sending", false, true },
    { "standing", "lot", true, true },
    { "swatch", "lot", true, true },
    { "verdict", "lot", true, true },
    { "verdict_grade", "lot", true, true },
    { "voiding", "lot", true, true },
};

const struct tb_owner *tb_owner_of(const char *table)
{
    for (size_t i = 0; i < TB_COUNT(owners); i++)
        if (strcmp(owners[i].table, table) == 0)
            return &owners[i];
    return NULL;
}

static int order(const struct tb_lot_share *s, const char *lot, const char *table)
{
    int by = strcmp(s->lot, lot);

    return by ? by : strcmp(s->table, table);
}

/* Where the share is in the list, or the free slot for it (FNV-1a, then one slot after the other). */
static size_t *slot_of(const struct tb_shares *s, const char *lot, const char *table)
{
    uint64_t h = 14695981039346656037u;
    size_t i;

    for (const char *c = lot; *c; c++)
        h = (h ^ (unsigned char)*c) * 1099511628211u;
    for (const char *c = table; *c; c++)
        h = (h ^ (unsigned char)*c) * 1099511628211u;
    for (i = (size_t)h & (s->slots - 1); s->slot[i]; i = (i + 1) & (s->slots - 1))
        if (order(&s->share[s->slot[i] - 1], lot, table) == 0)
            break;
    return &s->slot[i];
}

/* At most half of the slots are taken. */
static void index_all(struct tb_shares *s)
{
    while (s->slots < 2 * (s->n + 1))
        s->slots = s->slots ? 2 * s->slots : 64;
    free(s->slot);
    s->slot = tb_alloc(s->slots, sizeof *s->slot);
    for (size_t i = 0; i < s->n; i++)
        *slot_of(s, s->share[i].lot, s->share[i].table) = i + 1;
}

/* Facts come lot by lot or table by table, of a delivery of 20,000 lots too: mostly it is the one before. */
static struct tb_lot_share *find(struct tb_shares *s, const char *lot, const char *table)
{
    size_t *at;

    if (s->n && order(&s->share[s->last], lot, table) == 0)
        return &s->share[s->last];
    if (s->slots < 2 * (s->n + 1))
        index_all(s);
    at = slot_of(s, lot, table);
    if (!*at) {
        TB_PUSH_ROOM(s->share, s->n, s->cap);
        s->share[s->n] = (struct tb_lot_share){ .table = table };
        (void)snprintf(s->share[s->n].lot, sizeof s->share[s->n].lot, "%s", lot);
        (void)crypto_hash_sha256_init(&s->share[s->n].hash);
        *at = ++s->n;
    }
    s->last = *at - 1;
    return &s->share[s->last];
}

static int by_lot(const void *a, const void *b)
{
    const struct tb_lot_share *x = a, *y = b;

    return order(x, y->lot, y->table);
}

static void sort(struct tb_shares *s)
{
    if (s->n)
        qsort(s->share, s->n, sizeof *s->share, by_lot);
    s->last = 0;
    index_all(s);
}

void tb_shares_lot(struct tb_shares *s, const char *lot)
{
    if (strlen(lot) == TB_ID_LEN)
        (void)find(s, lot, "");
}

void tb_shares_fact(struct tb_shares *s, const char *lot, const char *table,
                    const unsigned char leaf[TB_HASH])
{
    if (strlen(lot) == TB_ID_LEN)
        (void)crypto_hash_sha256_update(&find(s, lot, table)->hash, leaf, TB_HASH);
}

/* From the first share of a lot on; answers the first one behind them. */
static size_t digest(unsigned char out[TB_HASH], const struct tb_shares *s, size_t first)
{
    crypto_hash_sha256_state all, one;
    unsigned char leaves[TB_HASH];
    struct tb_text name = { 0 };
    size_t i = first;

    (void)crypto_hash_sha256_init(&all);
    (void)crypto_hash_sha256_update(&all, (const unsigned char *)"\5", 1);
    for (; i < s->n && strcmp(s->share[i].lot, s->share[first].lot) == 0; i++) {
        if (i == first)
            (void)crypto_hash_sha256_update(&all, (const unsigned char *)s->share[i].lot, TB_ID_LEN);
        if (!*s->share[i].table)
            continue;
        one = s->share[i].hash;
        (void)crypto_hash_sha256_final(&one, leaves);
        tb_text_clear(&name);
        tb_canon_text(&name, s->share[i].table);
        (void)crypto_hash_sha256_update(&all, (const unsigned char *)name.s, name.n);
        (void)crypto_hash_sha256_update(&all, leaves, TB_HASH);
    }
    (void)crypto_hash_sha256_final(&all, out);
    tb_text_free(&name);
    return i;
}

void tb_shares_about(struct tb_text *out, struct tb_shares *s)
{
    unsigned char hash[TB_HASH];
    char hex[TB_DIGEST_HEX];

    sort(s);
    for (size_t i = 0, next; i < s->n; i = next) {
        next = digest(hash, s, i);
        tb_hash_hex(hex, hash);
        tb_text_addf(out, "%s%s:%s", i ? " " : "", s->share[i].lot, hex);
    }
}

void tb_shares_one(unsigned char out[TB_HASH], struct tb_shares *s)
{
    sort(s);
    (void)digest(out, s, 0);
}

void tb_shares_clear(struct tb_shares *s)
{
    s->n = s->last = 0;
    if (s->slot)
        memset(s->slot, 0, s->slots * sizeof *s->slot);
}

void tb_shares_free(struct tb_shares *s)
{
    free(s->share);
    free(s->slot);
    *s = (struct tb_shares){ 0 };
}
