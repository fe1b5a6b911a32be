/* cues.c - the table of cues and channels, and the one a person means by a word. */
#include "tenterbook/evidence.h"
#include "tenterbook/utf8.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "gen/ref_bench_count.h"
#include "gen/ref_channel.h"
#include "gen/ref_cue.h"

#define NEAREST_MOST 4
#define EDITS_MOST 8 /* a word that is further away is another word */

size_t tb_channel_count(void)
{
    return tb_ref_channel_n;
}

/* A channel is filled in rather than pointed to: its cues are where the table of cues says. */
void tb_channel_at(struct tb_channel *out, int channel)
{
    const struct tb_ref_channel *r;
    int first = -1, n = 0;

    assert(channel >= 0 && (size_t)channel < tb_ref_channel_n);
    r = tb_ref_channel + channel;
    for (size_t i = 0; i < tb_ref_cue_n; i++)
        if (strcmp(tb_ref_cue[i].channel, r->key) == 0) {
            first = first < 0 ? (int)i : first;
            n++;
        }
    *out = (struct tb_channel){ .key = r->key,
                                .name = r->name,
                                .bench = strcmp(r->kind, "bench") == 0,
                                .exclusive = r->exclusive == 1,
                                .first = first,
                                .n = n };
}

int tb_channel_by_key(const char *key)
{
    for (size_t i = 0; i < tb_ref_channel_n; i++)
        if (strcmp(tb_ref_channel[i].key, key) == 0)
            return (int)i;
    return -1;
}

size_t tb_cue_count(void)
{
    return tb_ref_cue_n;
}

/* The tests hold the table to these four words, so the last one needs no comparison. */
static enum tb_cue_law law_by_key(const char *key)
{
    return strcmp(key, "any") == 0     ? TB_LAW_ANY
           : strcmp(key, "all") == 0   ? TB_LAW_ALL
           : strcmp(key, "share") == 0 ? TB_LAW_SHARE
                                       : TB_LAW_PARTLY;
}

/* Only remembered, nowhere read: true of a bench result all of whose figures are from memory. Others have no figures here. */
static bool only_memory(const char *key, int channel)
{
    bool bench = strcmp(tb_ref_channel[channel].kind, "bench") == 0;
    double seen = 0, memory = 0;

    for (size_t i = 0; bench && i < tb_ref_bench_count_n; i++)
        if (strcmp(tb_ref_bench_count[i].cue, key) == 0) {
            seen += tb_ref_bench_count[i].said_seen;
            memory += tb_ref_bench_count[i].said_memory;
        }
    return seen <= 0 && memory > 0;
}

/* Every key is its channel's, a colon and a name: the tests hold the table to it. */
void tb_cue_at(struct tb_cue *out, int cue)
{
    const struct tb_ref_cue *r;

    assert(cue >= 0 && (size_t)cue < tb_ref_cue_n);
    r = tb_ref_cue + cue;
    *out = (struct tb_cue){ .key = r->key,
                            .name = strchr(r->key, ':') + 1,
                            .meaning = r->meaning,
                            .channel = tb_channel_by_key(r->channel),
                            .law = law_by_key(r->law) };
    out->memory = only_memory(r->key, out->channel);
}

int tb_cue_by_key(const char *key)
{
    for (size_t i = 0; i < tb_ref_cue_n; i++)
        if (strcmp(tb_ref_cue[i].key, key) == 0)
            return (int)i;
    return -1;
}

bool tb_result_next(int *cue, const char *test, const char *results, size_t *at)
{
    size_t of = strlen(test), n;

    *at += strspn(results + *at, ", ");
    n = strcspn(results + *at, ", ");
    *cue = -1;
    for (size_t i = 0; i < tb_ref_cue_n && *cue < 0; i++) {
        const char *key = tb_ref_cue[i].key;

        if (strncmp(key, test, of) == 0 && key[of] == ':' && strlen(key + of + 1) == n &&
            strncmp(key + of + 1, results + *at, n) == 0)
            *cue = (int)i;
    }
    *at += n;
    return n > 0;
}

/* A person's word in the form of the table: folded, blanks and hyphens as underscores, none about the colon. */
static char *tidy(const char *word)
{
    char *s = tb_fold(word, strlen(word)), *to = s;

    for (const char *p = s; *p; p++) {
        bool by_colon = (p > s && p[-1] == ':') || p[1] == ':';

        if (*p == ' ' && by_colon)
            continue;
        *to++ = *p == ' ' || *p == '-' ? '_' : *p;
    }
    *to = '\0';
    return s;
}

struct near {
    const char *key;
    size_t far;
};

/* Keep the nearest few, in order. */
static void keep(struct near *best, const char *key, size_t far)
{
    size_t at = NEAREST_MOST;

    while (at > 0 && far < best[at - 1].far)
        at--;
    if (at == NEAREST_MOST)
        return;
    memmove(best + at + 1, best + at, (NEAREST_MOST - at - 1) * sizeof *best);
    best[at] = (struct near){ key, far };
}

/*
 * The keys nearest to a word, in order, and only those nearly as near as the nearest: a far one would look like a
 * suggestion. A word without a channel is compared with the cues without theirs, or the channel would be the difference.
 */
static void nearest(struct tb_text *t, const char *word, bool cue)
{
    struct near best[NEAREST_MOST];

    for (size_t i = 0; i < NEAREST_MOST; i++)
        best[i] = (struct near){ NULL, EDITS_MOST + 1 };
    for (size_t i = 0; i < (cue ? tb_ref_cue_n : tb_ref_channel_n); i++) {
        const char *key = cue ? tb_ref_cue[i].key : tb_ref_channel[i].key;

        keep(best, key,
             tb_edit_distance(word, cue && !strchr(word, ':') ? strchr(key, ':') + 1 : key, EDITS_MOST));
    }
    for (size_t i = 0; i < NEAREST_MOST; i++)
        if (best[i].key && best[i].far <= best[0].far + 2)
            tb_text_addf(t, "%s%s", t->n ? ", " : "", best[i].key);
}

/* Whether a name and its meaning have a word that begins so: people know what they saw, not what a table calls it. */
static bool has_word(const char *name, const char *meaning, const char *word)
{
    struct tb_text all = { 0 };
    size_t n = strlen(word);
    char *folded;
    bool found = false;

    tb_text_addf(&all, "%s %s", name, meaning);
    folded = tidy(all.s);
    for (const char *p = folded; n && p && !found; p = strchr(p, '_')) {
        p += *p == '_';
        found = strncmp(p, word, n) == 0;
    }
    free(folded);
    tb_text_free(&all);
    return found;
}

static bool cue_has_word(const struct tb_ref_cue *cue, const char *word)
{
    const char *name = strchr(word, ':');

    if (name && strncmp(cue->key, word, (size_t)(name + 1 - word)) != 0)
        return false;
    return has_word(strchr(cue->key, ':') + 1, cue->meaning, name ? name + 1 : word);
}

static void by_meaning(struct tb_text *t, const char *word)
{
    size_t n = 0;

    for (size_t i = 0; i < tb_ref_cue_n && n < NEAREST_MOST; i++)
        if (cue_has_word(&tb_ref_cue[i], word))
            tb_text_addf(t, "%s%s", n++ ? ", " : "", tb_ref_cue[i].key);
}

/* The cues that carry this name in any channel. */
static size_t bare_matches(struct tb_text *t, int *one, const char *word)
{
    size_t n = 0;

    for (size_t i = 0; i < tb_ref_cue_n; i++)
        if (strcmp(strchr(tb_ref_cue[i].key, ':') + 1, word) == 0) {
            *one = (int)i;
            tb_text_addf(t, "%s%s", n ? ", " : "", tb_ref_cue[i].key);
            n++;
        }
    return n;
}

/* A cue name without its channel is taken where it is clear, since that is how people talk at the bench. */
tb_rc tb_cue_find(int *out, const char *word, struct tb_err *err)
{
    char *key = tidy(word);
    int one = tb_cue_by_key(key);
    struct tb_text t = { 0 };
    tb_rc rc = TB_OK;

    if (one < 0 && !strchr(key, ':') && bare_matches(&t, &one, key) > 1)
        rc = tb_fail(err, TB_EINVAL, "'%s' may be any of %s: say which", word, tb_text_str(&t));
    if (rc == TB_OK && one < 0) {
        by_meaning(&t, key);
        if (!t.n)
            nearest(&t, key, true);
        rc = t.n ? tb_fail(err, TB_EINVAL, "there is no cue '%s'; the nearest: %s", word, tb_text_str(&t))
                 : tb_fail(err, TB_EINVAL, "there is no cue '%s'", word);
    }
    if (rc == TB_OK)
        *out = one;
    tb_text_free(&t);
    free(key);
    return rc;
}

tb_rc tb_channel_find(int *out, const char *word, struct tb_err *err)
{
    char *key = tidy(word);
    int one = tb_channel_by_key(key);
    struct tb_text t = { 0 };
    tb_rc rc = TB_OK;

    if (one < 0) {
        for (size_t i = 0; i < tb_ref_channel_n; i++)
            if (has_word(tb_ref_channel[i].key, "", key))
                tb_text_addf(&t, "%s%s", t.n ? ", " : "", tb_ref_channel[i].key);
        if (!t.n)
            nearest(&t, key, false);
        rc = t.n ? tb_fail(err, TB_EINVAL, "there is no channel '%s'; the nearest: %s", word, tb_text_str(&t))
                 : tb_fail(err, TB_EINVAL, "there is no channel '%s'", word);
    } else {
        *out = one;
    }
    tb_text_free(&t);
    free(key);
    return rc;
}
