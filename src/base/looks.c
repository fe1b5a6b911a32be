/* What a name looks like, whatever letters it is written in. */
#include "tenterbook/utf8.h"

#include "tenterbook/base.h"

#include "gen/late_letters.h"
#include <stdlib.h>
#include <string.h>

static char *seen_only(const char *s)
{
    struct tb_text t = { 0 };
    size_t n = strlen(s);

    for (size_t at = 0; at < n;) {
        unsigned cp;
        size_t used = tb_utf8_next(s + at, n - at, &cp);

        if (!tb_utf8_unseen(cp))
            tb_text_addn(&t, s + at, used);
        at += used;
    }
    tb_text_addn(&t, "", 0);
    return tb_text_take(&t);
}

bool tb_name_same(const char *a, const char *b)
{
    char *seen[] = { seen_only(a), seen_only(b) };
    char *one = tb_fold_accented(seen[0], strlen(seen[0])),
         *other = tb_fold_accented(seen[1], strlen(seen[1]));
    bool same = strcmp(one, other) == 0;

    free(seen[0]);
    free(seen[1]);
    free(one);
    free(other);
    return same;
}

/* A text that ICU cannot take, or an ICU without its data, leaves it as it is: then only what folds alike looks alike. */
static char *skeleton(const char *s)
{
    UErrorCode status = U_ZERO_ERROR;
    USpoofChecker *checker = uspoof_open(&status);
    size_t room = 4 * strlen(s) + 16; /* one letter may be drawn as several: m as rn */
    char *out = tb_alloc(room, 1);
    int32_t n = uspoof_getSkeletonUTF8(checker, 0, s, -1, out, (int32_t)room - 1, &status);

    if (U_SUCCESS(status) && n > (int32_t)room - 1)
        status = U_BUFFER_OVERFLOW_ERROR;
    if (U_FAILURE(status)) {
        free(out);
        out = tb_strdup(s);
    } else {
        out[n] = '\0';
    }
    uspoof_close(checker);
    return out;
}

char *tb_looks(const char *s, bool capitals)
{
    char *seen = seen_only(s), *first, *out;

    if (capitals) {
        first = skeleton(seen);
        out = tb_fold(first, strlen(first));
    } else {
        first = tb_fold(seen, strlen(seen));
        out = skeleton(first);
    }
    free(seen);
    free(first);
    return out;
}
