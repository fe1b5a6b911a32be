/* Seeds: made from the system's random source, and told from those that people give. */
#include "work/seed.h"

#include "tenterbook/act_draw.h"

#include <sodium.h>
#include <string.h>

void tb_seed_make(char out[TB_SEED_LEN + 1])
{
    unsigned char bytes[TB_SEED_LEN / 2];

    randombytes_buf(bytes, sizeof bytes);
    (void)sodium_bin2hex(out, TB_SEED_LEN + 1, bytes, sizeof bytes);
}

bool tb_seed_by_hand(const char *seed)
{
    return strlen(seed) != TB_SEED_LEN || strspn(seed, "0123456789abcdef") != TB_SEED_LEN;
}
