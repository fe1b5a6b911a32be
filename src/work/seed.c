/* Seeds: made from the system's random source, and told from those that people give. */
#include "work/seed.h"

#include "tenterbook/act_draw.h"

#include <sodium.h>
#include <string.h>

#define SEED_LEN 16

const char *tb_seed_make(struct tb_arena *mem)
{
    unsigned char bytes[SEED_LEN / 2];
    char *out = tb_arena_alloc(mem, SEED_LEN + 1);

    randombytes_buf(bytes, sizeof bytes);
    return sodium_bin2hex(out, SEED_LEN + 1, bytes, sizeof bytes);
}

bool tb_seed_by_hand(const char *seed)
{
    return strlen(seed) != SEED_LEN || strspn(seed, "0123456789abcdef") != SEED_LEN;
}
