/* cue_words.c - every cue with its meaning, channel by channel, or those whose name or meaning has the words that are looked for. */
#include "base/say.h"
#include "tenterbook/fibre.h"
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

struct looking {
    const char *const *word;
    size_t n;
    const char *fibre; /* key: what its descriptions say is looked for, not words; NULL */
};

/* Said by at least one description in five: what one author saw once is no sign of a fibre. */
static bool is_sign(double *said, double *of, const char *fibre, const char *cue)
{
    return tb_cue_told(said, of, fibre, cue) && *said >= 1 && *said >= *of / 5;
}

static size_t channel_words(struct tb_text *out, const struct looking *l, const struct tb_channel *ch)
{
    size_t found = 0;

    for (int c = ch->first; c < ch->first + ch->n; c++) {
        double said = 0, of = 0;
        struct tb_cue cue;

        tb_cue_at(&cue, c);
        if (l->fibre ? !is_sign(&said, &of, l->fibre, cue.key) : !has_all(&cue, l->word, l->n))
            continue;
        if (!found++)
            tb_text_addf(out, ch->bench ? _("%s: %s (a test without a flame)\n") : "%s: %s\n", ch->key,
                         ch->name);
        if (l->fibre)
            tb_text_addf(out, _("  %-32s %s (said by %g of %g)\n"), cue.key, cue.meaning, said, of);
        else
            tb_text_addf(out, "  %-32s %s\n", cue.key, cue.meaning);
    }
    return found;
}

static size_t all_channels(struct tb_text *out, const struct looking *l)
{
    size_t found = 0;

    for (size_t i = 0; i < tb_channel_count(); i++) {
        struct tb_channel ch;

        tb_channel_at(&ch, (int)i);
        found += channel_words(out, l, &ch);
    }
    return found;
}

/* The fibre that the words name together, like "virgin wool"; NULL where they name none. */
static const char *fibre_of(const char *const *word, size_t n)
{
    struct tb_text words = { 0 };
    int fibre;

    for (size_t i = 0; i < n; i++)
        tb_text_addf(&words, "%s%s", i ? " " : "", word[i]);
    fibre = n ? tb_fibre_by_word(words.s) : -1;
    tb_text_free(&words);
    return fibre < 0 ? NULL : tb_fibre_at(fibre)->key;
}

size_t tb_cues_words(struct tb_text *out, const char *const *word, size_t n)
{
    const char *fibre = fibre_of(word, n);
    struct tb_text shows = { 0 };
    size_t found = all_channels(out, &(struct looking){ word, n, NULL }), signs = 0;

    if (fibre)
        signs = all_channels(&shows, &(struct looking){ .fibre = fibre });
    if (signs) {
        tb_text_say(out, "What published descriptions say of %s:\n", fibre);
        tb_text_add(out, shows.s);
    }
    tb_text_free(&shows);
    return found + signs;
}
