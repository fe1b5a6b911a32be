/* code128.c - ISO/IEC 15417, code set B. Checked by reading printed tags back with a scanner program. */
#include "report/draw/code128.h"

#include <string.h>

#define START_B 104
#define STOP 106

/* Widths of bar, space, bar, space, bar, space for the values 0 to 106. */
static const char pattern[107][7] = {
    "212222", "222122", "222221", "121223", "121322", "131222", "122213", "122312", "132212", "221213",
    "221312", "231212", "112232", "122132", "122231", "113222", "123122", "123221", "223211", "221132",
    "221231", "213212", "223112", "312131", "311222", "321122", "321221", "312212", "322112", "322211",
    "212123", "212321", "232121", "111323", "131123", "131321", "112313", "132113", "132311", "211313",
    "231113", "231311", "112133", "112331", "132131", "113123", "113321", "133121", "313121", "211331",
    "231131", "213113", "213311", "213131", "311123", "311321", "331121", "312113", "312311", "332111",
    "314111", "221411", "431111", "111224", "111422", "121124", "121421", "141122", "141221", "112214",
    "112412", "122114", "122411", "142112", "142211", "241211", "221114", "413111", "241112", "134111",
    "111242", "121142", "121241", "114212", "124112", "124211", "411212", "421112", "421211", "212141",
    "214121", "412121", "111143", "111341", "131141", "114113", "114311", "411113", "411311", "113141",
    "114131", "311141", "411131", "211412", "211214", "211232", "233111",
};

static void put(unsigned char *run, size_t *n, size_t *modules, unsigned value)
{
    for (const char *w = pattern[value]; *w; w++) {
        run[(*n)++] = (unsigned char)(*w - '0');
        *modules += (size_t)(*w - '0');
    }
}

/*
 * Set B alone: digits in pairs (set C) would save bars in long numbers, but tags mix letters and digits, and every change
 * of set costs a symbol.
 */
bool tb_code128(unsigned char run[TB_CODE128_RUNS], size_t *n, size_t *modules, const char *text)
{
    size_t length = strlen(text);
    unsigned sum = START_B;

    *n = *modules = 0;
    if (length == 0 || length > TB_CODE128_MOST)
        return false;
    put(run, n, modules, START_B);
    for (size_t i = 0; i < length; i++) {
        unsigned char c = (unsigned char)text[i];

        if (c < 0x20 || c > 0x7E)
            return false;
        put(run, n, modules, c - 0x20u);
        sum = (sum + (unsigned)(i + 1) * (c - 0x20u)) % 103;
    }
    put(run, n, modules, sum);
    put(run, n, modules, STOP);
    run[(*n)++] = 2; /* the bar that ends it */
    *modules += 2;
    return true;
}
