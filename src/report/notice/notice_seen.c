/* notice_seen.c - what was seen: the laboratory first, burns alike in one sentence, bench tests, and what follows. */
#include "report/notice/notice_impl.h"
#include "tenterbook/tell.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* With how many records it stands for, for the count of what is left out. */
static void see(struct tb_notice *n, const char *text, size_t records)
{
    TB_PUSH_ROOM(n->seen, n->seens, n->seen_cap);
    n->seen[n->seens++] = (struct notice_item){ text, records };
}

/* The cues that were seen, or that were said not to be there, by their meaning; "" where there are none. */
static void cue_list(struct tb_text *out, const struct tb_burn *u, bool seen)
{
    for (size_t i = 0; i < u->cues; i++) {
        int at = tb_cue_by_key(u->cue[i].cue);
        struct tb_cue cue = { .meaning = u->cue[i].cue };

        if (u->cue[i].seen != seen)
            continue;
        if (at >= 0)
            tb_cue_at(&cue, at);
        tb_text_addf(out, "%s%s", out->n ? "; " : "", cue.meaning);
    }
}

/* Burns of one part on one day by one person that showed the same. */
struct alike {
    const struct tb_burn *first;
    struct tb_text seen, bolts, tags;
    size_t n, bolted, tagged; /* burns, the bolts and the swatches they were of */
};

#define ALIKE_MOST 25 /* swatches in one sentence */

/* What was looked for and not there is said as well: it may be what decides. */
static void what_was_seen(struct tb_text *t, const struct tb_burn *u)
{
    struct tb_text there = { 0 }, absent = { 0 };

    cue_list(&there, u, true);
    cue_list(&absent, u, false);
    if (there.n && absent.n)
        tb_text_addf(t, _("%s. Not there: %s."), there.s, absent.s);
    else if (there.n)
        tb_text_addf(t, "%s.", there.s);
    else if (absent.n)
        tb_text_addf(t, _("Not there: %s."), absent.s);
    else
        tb_text_addf(t, _("looked at %s, nothing named."), u->looked);
    tb_text_free(&there);
    tb_text_free(&absent);
}

/* Groups stay small enough that their sentence can be read. */
static struct alike *find_alike(struct alike *a, size_t n, const struct tb_burn *u, const char *seen)
{
    for (size_t i = 0; i < n; i++)
        if (a[i].n < ALIKE_MOST && a[i].first->part == u->part &&
            strcmp(a[i].first->burned_by, u->burned_by) == 0 &&
            strncmp(a[i].first->burned_at, u->burned_at, TB_DAY_LEN) == 0 &&
            strcmp(tb_text_str(&a[i].seen), seen) == 0)
            return &a[i];
    return NULL;
}

/* Burns of one bolt, or of one swatch, name it once. */
static void add_once(struct tb_text *list, size_t *n, const char *name)
{
    size_t len = strlen(name);

    for (const char *at = tb_text_str(list); (at = strstr(at, name)) != NULL; at++)
        if ((at == list->s || (at >= list->s + 2 && at[-2] == ',' && at[-1] == ' ')) &&
            (at[len] == '\0' || at[len] == ','))
            return;
    tb_text_addf(list, "%s%s", list->n ? ", " : "", name);
    ++*n;
}

/* One bolt or several, one swatch or several: each a sentence of its own. */
static void say_alike(struct tb_notice *n, struct alike *a)
{
    see(n,
        tb_notice_put(n,
                      a->tagged == 1   ? _("Bolt %s, %s, swatch %s, burnt %.10s by %s: %s")
                      : a->bolted == 1 ? _("Bolt %s, %s, swatches %s, burnt %.10s by %s: %s")
                                       : _("Bolts %s, %s, swatches %s, burnt %.10s by %s: %s"),
                      a->bolts.s, tb_part_key(a->first->part), a->tags.s, a->first->burned_at,
                      a->first->burned_by, tb_text_str(&a->seen)),
        a->n);
    tb_text_free(&a->seen);
    tb_text_free(&a->bolts);
    tb_text_free(&a->tags);
}

/* Burns alike become one sentence: forty lines of the same words hide the one that differs. */
static void burns(struct tb_notice *n, const struct notice_facts *f)
{
    struct alike *a = tb_array(struct alike, f->of.burns + 1);
    size_t groups = 0;

    for (size_t i = 0; i < f->of.burns; i++) {
        const struct tb_burn *u = &f->of.burn[i];
        struct tb_text seen = { 0 };
        struct alike *g;

        what_was_seen(&seen, u);
        if (!(g = find_alike(a, groups, u, tb_text_str(&seen)))) {
            g = &a[groups++];
            g->first = u;
            g->seen = seen;
        } else {
            tb_text_free(&seen);
        }
        add_once(&g->bolts, &g->bolted, u->bolt_number);
        add_once(&g->tags, &g->tagged, u->tag);
        g->n++;
    }
    for (size_t i = 0; i < groups; i++)
        say_alike(n, &a[i]);
    free(a);
}

/* By the name of the test and the meaning of its result, where the table of cues has them. */
static void bench_tests(struct tb_notice *n, const struct notice_facts *f)
{
    for (size_t i = 0; i < f->of.tests; i++) {
        const struct tb_bench_test *x = &f->of.test[i];
        struct tb_channel test = { .name = x->test };
        const char *showed = "";
        size_t read = 0;
        int at, channel = tb_channel_by_key(x->test);

        while (tb_result_next(&at, x->test, x->result, &read)) {
            struct tb_cue cue = { .meaning = x->result };

            if (at >= 0)
                tb_cue_at(&cue, at);
            showed = tb_notice_put(n, "%s%s%s", showed, *showed ? ", " : "", cue.meaning);
        }
        if (channel >= 0)
            tb_channel_at(&test, channel);
        see(n,
            tb_notice_put(n, _("Swatch %s, %s, tested %.10s by %s: %s: %s."), x->tag, tb_part_key(x->part),
                          x->tested_at, x->tested_by, test.name, showed),
            1);
    }
}

/* Laboratory first: it proves more than a burn. */
static void laboratory(struct tb_notice *n, const struct notice_facts *f)
{
    for (size_t i = 0; i < f->analyses; i++) {
        const struct tb_analysis *a = &f->analysis[i];

        see(n,
            tb_notice_put(n, _("Laboratory %s, report %s, %s, %s: found %s."),
                          *a->laboratory ? a->laboratory : "-", *a->report ? a->report : "-", a->analysed_on,
                          tb_part_key(a->part), a->found),
            1);
    }
}

static bool bolt_burnt(const struct notice_facts *f, const char *bolt)
{
    for (size_t k = 0; k < f->of.burns; k++)
        if (strcmp(f->of.burn[k].bolt_number, bolt) == 0)
            return true;
    return false;
}

static bool bolt_tested(const struct notice_facts *f, const char *bolt)
{
    for (size_t k = 0; k < f->of.tests; k++)
        if (strcmp(f->of.test[k].bolt_number, bolt) == 0)
            return true;
    return false;
}

/* Named with their lengths, so that the supplier can tell which goods were looked at. */
static void bolts_looked_at(struct tb_notice *n, const struct notice_facts *f)
{
    n->bolts_all = f->of.lot.bolts;
    n->metres = isnan(f->of.lot.metres) ? 0 : f->of.lot.metres;
    n->unknown = f->of.lot.unknown;
    for (size_t i = 0; i < f->of.bolts; i++) {
        const struct tb_bolt *bolt = &f->of.bolt[i];
        bool burnt = bolt_burnt(f, bolt->number);
        struct tb_lengths lengths;
        struct tb_text length = { 0 };

        if (!burnt && !bolt_tested(f, bolt->number))
            continue;
        n->unburnt += !burnt;
        n->metres_seen += isnan(bolt->metres) ? 0 : bolt->metres;
        TB_PUSH_ROOM(n->bolt, n->bolts, n->bolt_cap);
        lengths = tb_lengths_of_bolt(bolt);
        tb_length_words(&length, &lengths);
        n->bolt[n->bolts++] = tb_notice_put(n, "%s (%s)", bolt->number, length.s);
        tb_text_free(&length);
    }
}

/* No more than was found: a burn that is in doubt is not called a fault. */
static void conclude(struct tb_notice *n, const struct notice_facts *f)
{
    const struct tb_concluded *c = &f->of.concluded;
    size_t alone = f->alone_against;

    if (c->kind == TB_DOES_NOT && c->by == TB_BY_LABORATORY)
        n->concluded = _("What the laboratory found does not conform to the declaration.");
    else if (c->kind == TB_DOES_NOT)
        n->concluded = alone && n->bolts > 1
                           ? tb_notice_put(n,
                                           n->unburnt ? _n("What was seen does not fit the declaration; "
                                                           "judged alone, %zu of the %zu bolts "
                                                           "burnt or tested does not fit it.",
                                                           "What was seen does not fit the declaration; "
                                                           "judged alone, %zu of the %zu bolts "
                                                           "burnt or tested do not fit it.",
                                                           alone)
                                                      : _n("What was seen does not fit the declaration; "
                                                           "judged alone, %zu of the %zu bolts "
                                                           "burnt does not fit it.",
                                                           "What was seen does not fit the declaration; "
                                                           "judged alone, %zu of the %zu bolts "
                                                           "burnt do not fit it.",
                                                           alone),
                                           alone, n->bolts)
                           : _("What was seen does not fit the declaration.");
    else
        n->concluded = _("What was seen leaves a doubt about the declaration; the examination goes on.");
}

void tb_notice_seen(struct tb_notice *n, const struct notice_facts *f)
{
    bolts_looked_at(n, f);
    conclude(n, f);
    laboratory(n, f); /* first: it proves more than a burn */
    burns(n, f);
    bench_tests(n, f);
    n->seen_shown = n->seens;
    n->bolts_shown = n->bolts;
}
