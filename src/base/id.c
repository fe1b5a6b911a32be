/* id.c - identifiers that sort in the order they were made. */
#include "tenterbook/date.h"

#include <sodium.h>
#include <stdint.h>
#include <string.h>
#include <time.h>

/* One generator a thread: within it keys only grow, between threads the random part keeps them apart. */
static _Thread_local unsigned char last_key[16];

/* Of the real clock, for the order of keys between machines; it may go back, and tb_id_make() allows for that. */
static uint64_t milliseconds(void)
{
    struct timespec ts;

    (void)clock_gettime(CLOCK_REALTIME, &ts);
    return (uint64_t)ts.tv_sec * 1000u + (uint64_t)ts.tv_nsec / 1000000u;
}

void tb_id_make(char out[TB_ID_LEN + 1])
{
    static const char alphabet[] = "0123456789abcdefghijklmnopqrstuv";
    uint64_t ms = milliseconds();
    unsigned char key[16];
    unsigned bits = 0, have = 0, n = 0;

    for (int i = 0; i < 6; i++)
        key[i] = (unsigned char)(ms >> (8 * (5 - i)));
    if (memcmp(key, last_key, 6) > 0) {
        randombytes_buf(key + 6, sizeof key - 6);
        key[6] &= 0x7F; /* room to count upwards within one millisecond */
    } else {
        /* the same millisecond, or a clock that went back: count on from the last key */
        memcpy(key, last_key, sizeof key);
        for (int i = 15; i >= 0 && ++key[i] == 0; i--)
            ;
    }
    memcpy(last_key, key, sizeof key);
    for (int i = 0; i < 16; i++) {
        bits = (bits << 8) | key[i];
        for (have += 8; have >= 5; have -= 5)
            out[n++] = alphabet[(bits >> (have - 5)) & 31];
        bits &= (1u << have) - 1;
    }
    out[n++] = alphabet[(bits << (5 - have)) & 31];
    out[n] = '\0';
}
