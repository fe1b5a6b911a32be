/* cue_words.c - every cue with its meaning, channel by channel, or those whose name or meaning has the words that are looked for. */
#include "base/say.h"
#include "tenterbook/fibre.h"
#include "tenterbook/tell.h"
#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>

/* How many of the words it has, case and accents aside, since nobody remembers how a table writes a word. */
static size_t how_many(const struct tb_cue *cue, const char *const *word, size_t n)
{
    struct tb_text text = { 0 };
    char *folded;
    size_t found = 0;

    tb_text_addf(&text, "%s %s", cue->key, cue->meaning);
    for (char *c = text.s; *c; c++)
        *c = *c == '_' || *c == ':' ? ' ' : *c;
    folded = tb_fold(text.s, text.n);
    for (size_t i = 0; i < n; i++) {
        char *wanted = tb_fold(word[i], strlen(word[i]));

        found += strstr(folded, wanted) != NULL;
        free(wanted);
    }
    free(folded);
    tb_text_free(&text);
    return found;
}

struct looking {
    const char *const *word;
    size_t n, least;   /* words, and how many of them a cue has to have */
    const char *fibre; /* key: what its descriptions say is looked for, not words; NULL */
};

/* Said by at least one description in five: what one author saw once is no sign of a fibre. */
static bool is_sign(double *said, double *of, const char *fibre, const char *cue)
{
    return tb_cue_told(said, of, fibre, cue) && *said >= 1 && *said >= *of / 5;
}

static bool is_wanted(double *said, double *of, const struct looking *l, const struct tb_cue *cue)
{
    return l->fibre ? is_sign(said, of, l->fibre, cue->key) : how_many(cue, l->word, l->n) >= l->least;
}

static size_t channel_words(struct tb_text *out, const struct looking *l, const struct tb_channel *ch)
{
    size_t found = 0;

    for (int c = ch->first; c < ch->first + ch->n; c++) {
        double said = 0, of = 0;
        struct tb_cue cue;

        tb_cue_at(&cue, c);
        if (!is_wanted(&said, &of, l, &cue))
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

static json_t *cue_json(const struct tb_cue *cue, const struct tb_channel *ch)
{
    return json_pack("{s:s, s:s, s:s, s:b}", "cue", cue->key, "meaning", cue->meaning, "channel", ch->key,
                     "flame", !ch->bench);
}

static size_t channel_json(json_t *out, const struct looking *l, const struct tb_channel *ch)
{
    size_t found = 0;

    for (int c = ch->first; c < ch->first + ch->n; c++) {
        double said = 0, of = 0;
        struct tb_cue cue;
        json_t *one;

        tb_cue_at(&cue, c);
        if (!is_wanted(&said, &of, l, &cue))
            continue;
        one = cue_json(&cue, ch);
        if (l->fibre) {
            tb_json_put(one, "said", tb_json_number(said));
            tb_json_put(one, "of", tb_json_number(of));
        }
        tb_json_push(out, one);
        found++;
    }
    return found;
}

/* One of the two is NULL. */
static size_t all_channels(struct tb_text *out, json_t *json, const struct looking *l)
{
    size_t found = 0;

    for (size_t i = 0; i < tb_channel_count(); i++) {
        struct tb_channel ch;

        tb_channel_at(&ch, (int)i);
        found += json ? channel_json(json, l, &ch) : channel_words(out, l, &ch);
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
    struct looking l = { word, n, n, NULL };
    struct tb_text shows = { 0 };
    size_t found = all_channels(out, NULL, &l), signs = 0;

    if (fibre)
        signs = all_channels(&shows, NULL, &(struct looking){ .fibre = fibre });
    if (signs) {
        tb_text_say(out, "What published descriptions say of %s:\n", fibre);
        tb_text_add(out, shows.s);
    }
    tb_text_clear(&shows);
    l.least = 1;
    if (!found && !signs && n > 1 && (found = all_channels(&shows, NULL, &l)) > 0) {
        tb_text_say(out, "No cue has all of these words in its name or meaning; these have one of them:\n");
        tb_text_add(out, shows.s);
    }
    tb_text_free(&shows);
    return found + signs;
}

json_t *tb_json_cues(size_t *found, const char *const *word, size_t n)
{
    const char *fibre = fibre_of(word, n);
    struct looking l = { word, n, n, NULL };
    json_t *cues = json_array(), *signs = json_array();

    *found = all_channels(NULL, cues, &l);
    if (fibre)
        *found += all_channels(NULL, signs, &(struct looking){ .fibre = fibre });
    l.least = 1;
    if (!*found && n > 1)
        *found = all_channels(NULL, cues, &l);
    return json_pack("{s:o, s:s*, s:o}", "cues", cues, "fibre", fibre, "said_of_it", signs);
}
