/* notice_seen.c - what was seen: the laboratory first, burns alike in one sentence, bench tests. */
#include "report/notice/notice_impl.h"
#include "tenterbook/fibre_words.h"
#include "tenterbook/seen_words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* With how many records it stands for, for the count of what is left out. */
static void see(struct tb_notice *n, const char *text, size_t records)
{
    TB_PUSH_ROOM(n->seen, n->seens, n->seen_cap);
    n->seen[n->seens++] = (struct notice_item){ text, records };
}

/* English says "sealing wax" and "brown" of a cue: the reader of a letter is told of what. Catalogues say it in each word. */
static const char *of_what(enum tb_tongue tongue, const char *cue)
{
    if (tongue != TB_ENGLISH)
        return "";
    return strncmp(cue, "odour:", 6) == 0 ? "smell: " : strncmp(cue, "residue_", 8) == 0 ? "residue: " : "";
}

/* The cues that were seen, or that were said not to be there, by their meaning; "" where there are none. */
static void cue_list(struct tb_text *out, enum tb_tongue tongue, const struct tb_burn *u, bool seen)
{
    const char *last = "";

    for (size_t i = 0; i < u->cues; i++) {
        const char *what = of_what(tongue, u->cue[i].cue);

        if (u->cue[i].seen != seen)
            continue;
        tb_text_addf(out, "%s%s%s", out->n ? tb_tr(tongue, "; ") : "", strcmp(what, last) == 0 ? "" : what,
                     tb_cue_in(tongue, u->cue[i].cue));
        last = what;
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
static void what_was_seen(struct tb_text *t, enum tb_tongue tongue, const struct tb_burn *u)
{
    struct tb_text there = { 0 }, absent = { 0 };

    cue_list(&there, tongue, u, true);
    cue_list(&absent, tongue, u, false);
    if (there.n && absent.n)
        /* TRANSLATORS: what was seen at a burn, and what was looked for and not seen */
        tb_text_addf(t, tb_tr(tongue, "%s. Looked for and not there: %s."), there.s, absent.s);
    else if (there.n)
        tb_text_addf(t, tb_tr(tongue, "%s."), there.s);
    else if (absent.n)
        tb_text_addf(t, tb_tr(tongue, "Looked for and not there: %s."), absent.s);
    else
        tb_text_add(t, tb_tr(tongue, "nothing was named of what was looked at."));
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
    enum tb_tongue to = n->tongue;
    const char *bolts = a->first->part == TB_PART_WHOLE
                            ? a->bolts.s
                            : tb_notice_put(n, "%s (%s)", a->bolts.s, tb_part_in(to, a->first->part));

    see(n,
        tb_notice_put(n,
                      a->tagged == 1   ? tb_tr(to, "Bolt %s, swatch %s, burnt on %s by %s: %s")
                      : a->bolted == 1 ? tb_tr(to, "Bolt %s, swatches %s, burnt on %s by %s: %s")
                                       : tb_tr(to, "Bolts %s, swatches %s, burnt on %s by %s: %s"),
                      bolts, a->tags.s, tb_notice_day(n, a->first->burned_at), a->first->burned_by,
                      tb_text_str(&a->seen)),
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

        what_was_seen(&seen, n->tongue, u);
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

/* The name of the test and the meaning of its result, where the table of cues has them. */
static const char *result_words(struct tb_notice *n, const struct tb_bench_test *x)
{
    struct tb_text showed = { 0 };

    tb_results_in(&showed, n->tongue, x->test, x->result);
    return tb_notice_put(n, tb_tr(n->tongue, "%s: %s"), tb_channel_in(n->tongue, x->test),
                         tb_notice_take(n, &showed));
}

static void bench_tests(struct tb_notice *n, const struct notice_facts *f)
{
    for (size_t i = 0; i < f->of.tests; i++) {
        const struct tb_bench_test *x = &f->of.test[i];
        const char *tag = x->part == TB_PART_WHOLE
                              ? x->tag
                              : tb_notice_put(n, "%s (%s)", x->tag, tb_part_in(n->tongue, x->part));

        see(n,
            tb_notice_put(n, tb_tr(n->tongue, "Swatch %s, tested on %s by %s: %s."), tag,
                          tb_notice_day(n, x->tested_at), x->tested_by, result_words(n, x)),
            1);
    }
}

/* One of several results that answers nothing by itself is not read as one that does. */
static const char *unsaid(struct tb_notice *n, const struct notice_facts *f, const struct tb_analysis *a,
                          const char *told)
{
    bool open = *a->answers && !strstr(a->answers, ":conforms") && !strstr(a->answers, ":does_not_conform");

    return f->of.concluded.kind == TB_DOES_NOT && open
               ? tb_notice_two(n, told,
                               tb_tr(n->tongue,
                                     "By this result alone it cannot be said whether the goods are "
                                     "as declared."))
               : told;
}

/* Laboratory first: it proves more than a burn. */
static void laboratory(struct tb_notice *n, const struct notice_facts *f)
{
    for (size_t i = 0; i < f->analyses; i++) {
        const struct tb_analysis *a = &f->analysis[i];
        struct tb_text t = { 0 };
        const char *found;

        tb_composition_in(&t, n->tongue, a->found);
        found = tb_notice_take(n, &t);
        if (a->part != TB_PART_WHOLE)
            found = tb_notice_put(n, tb_tr(n->tongue, "%s: %s"), tb_part_in(n->tongue, a->part), found);
        see(n,
            unsaid(n, f, a,
                   tb_notice_put(n,
                                 tb_tr(n->tongue,
                                       "Laboratory %s, report %s, analysed on %s: %s (largest standard "
                                       "uncertainty of a share: %s points)."),
                                 *a->laboratory ? a->laboratory : "-", *a->report ? a->report : "-",
                                 tb_notice_day(n, a->analysed_on), found, tb_notice_figure(n, a->u, 1))),
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
    n->counted_in = isnan(f->of.lot.metres) ? "kg" : "m";
    n->all_of = isnan(f->of.lot.metres) ? f->of.lot.kg : f->of.lot.metres;
    for (size_t i = 0; i < f->of.bolts; i++) {
        const struct tb_bolt *bolt = &f->of.bolt[i];

        if (!bolt_burnt(f, bolt->number) && !bolt_tested(f, bolt->number))
            continue;
        n->seen_of += isnan(f->of.lot.metres) ? bolt->kg : isnan(bolt->metres) ? 0 : bolt->metres;
        TB_PUSH_ROOM(n->bolt, n->bolts, n->bolt_cap);
        n->bolt[n->bolts++] = tb_notice_put(n, "%s (%s)", bolt->number, tb_notice_bolt_length(n, bolt));
    }
}

void tb_notice_seen(struct tb_notice *n, const struct notice_facts *f)
{
    bolts_looked_at(n, f);
    laboratory(n, f); /* first: it proves more than a burn */
    burns(n, f);
    bench_tests(n, f);
    n->seen_shown = n->seens;
    n->bolts_shown = n->bolts;
}
