/* cue_words.c - every cue with its meaning, channel by channel, or those whose name or meaning has the words that are looked for. */
#include "base/say.h"
#include "tenterbook/tell.h"
#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>

/* Case and accents aside, since nobody remembers how a table writes a word. */
static bool has_all(const struct tb_cue *cue, const char *const *word, size_t n)
{
    struct tb_text text = { 0 };
    char *folded;
    bool all = true;

    tb_text_addf(&text, "%s %s", cue->key, cue->meaning);
    for (char *c = text.s; *c; c++)
        *c = *c == '_' || *c == ':' ? ' ' : *c;
    folded = tb_fold(text.s, text.n);
    for (size_t i = 0; i < n && all; i++) {
        char *wanted = tb_fold(word[i], strlen(word[i]));

        all = strstr(folded, wanted) != NULL;
        free(wanted);
    }
    free(folded);
    tb_text_free(&text);
    return all;
}

size_t tb_cues_words(struct tb_text *out, const char *const *word, size_t n)
{
    size_t found = 0;

    for (size_t i = 0; i < tb_channel_count(); i++) {
        struct tb_channel ch;
        bool any = false;

        tb_channel_at(&ch, (int)i);
        for (int c = ch.first; c < ch.first + ch.n; c++) {
            struct tb_cue cue;

            tb_cue_at(&cue, c);
            if (!has_all(&cue, word, n))
                continue;
            if (!any)
                tb_text_addf(out, ch.bench ? _("%s: %s (a test without a flame)\n") : "%s: %s\n", ch.key,
                             ch.name);
            tb_text_addf(out, "  %-32s %s\n", cue.key, cue.meaning);
            any = true;
            found++;
        }
    }
    return found;
}
