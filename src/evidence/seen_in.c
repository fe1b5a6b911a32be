/* seen_in.c - cues, channels and results of tests in the language of a paper. */
#include "tenterbook/seen_words.h"

#include <stdlib.h>
#include <string.h>

const char *tb_cue_in(enum tb_tongue tongue, const char *key)
{
    int at = tb_cue_by_key(key);
    struct tb_cue cue;

    if (at < 0)
        return key;
    tb_cue_at(&cue, at);
    return tb_tr(tongue, cue.meaning);
}

const char *tb_channel_in(enum tb_tongue tongue, const char *key)
{
    const char *bare = strncmp(key, "bench:", 6) == 0 ? key + 6 : key;
    int at = tb_channel_by_key(bare);
    struct tb_channel channel;

    if (at < 0)
        return key;
    tb_channel_at(&channel, at);
    return tb_tr(tongue, channel.name);
}

void tb_channels_in(struct tb_text *out, enum tb_tongue tongue, const char *keys)
{
    for (const char *k = keys; *k; k += strcspn(k, " "), k += strspn(k, " ")) {
        char *key = tb_strndup(k, strcspn(k, " "));

        tb_text_add(out, k == keys ? "" : tb_tr(tongue, ", "));
        tb_text_add(out, tb_channel_in(tongue, key));
        free(key);
    }
}

void tb_results_in(struct tb_text *out, enum tb_tongue tongue, const char *test, const char *results)
{
    size_t read = 0, before = out->n;
    int at;

    while (tb_result_next(&at, test, results, &read)) {
        struct tb_cue cue = { .meaning = results };

        if (at >= 0)
            tb_cue_at(&cue, at);
        tb_text_add(out, out->n > before ? tb_tr(tongue, "; ") : "");
        tb_text_add(out, at >= 0 ? tb_tr(tongue, cue.meaning) : cue.meaning);
    }
}
