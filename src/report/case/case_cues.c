/* case_cues.c - the cues for and against the declaration, by weight. */
#include "report/case/case_page.h"
#include "tenterbook/fibre_words.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define SAYS_NOTHING 0.127 /* natural logarithm: a ratio of 1.13 */

const char *tb_case_sight(enum tb_tongue to, const struct tb_stored_cue *cue)
{
    return cue->sight == TB_SIGHT_SEEN     ? tb_tr(to, "seen")
           : cue->elsewhere                ? tb_tr(to, "not seen in every burn")
           : cue->sight == TB_SIGHT_DENIED ? tb_tr(to, "expressly not there")
                                           : tb_tr(to, "looked for, not seen");
}

/* One that this program does not know has its name alone. */
const char *tb_case_cue(struct tb_text *out, enum tb_tongue to, const char *key)
{
    struct tb_channel channel;
    struct tb_cue cue;
    int at = tb_cue_by_key(key);

    tb_text_clear(out);
    if (at < 0) {
        tb_text_add(out, key);
        return tb_text_str(out);
    }
    tb_cue_at(&cue, at);
    tb_channel_at(&channel, cue.channel);
    tb_text_addf(out, tb_tr(to, "%s: %s"), tb_tr(to, channel.name), tb_tr(to, cue.meaning));
    return tb_text_str(out);
}

/* How many times likelier, and which way, in words, so that no figure has a sign; no further than the verdict goes. */
static void weight(char out[TB_PLAIN], enum tb_tongue to, const struct tb_bounds *bounds, double log_ratio)
{
    double times = exp(fabs(tb_bounded(bounds, log_ratio)));
    bool most = tb_bounds_reached(bounds, log_ratio) != 0;
    char figure[TB_PLAIN];

    (void)tb_tongue_plain(figure, to, times, times < 9.95 ? 1 : 0);
    if (isnan(log_ratio))
        (void)snprintf(out, TB_PLAIN, "-");
    else if (fabs(log_ratio) < SAYS_NOTHING)
        (void)snprintf(out, TB_PLAIN, "%s", tb_tr(to, "neither"));
    else if (log_ratio > 0)
        (void)snprintf(out, TB_PLAIN,
                       most ? tb_tr(to, "for it, at least %s times") : tb_tr(to, "for it, %s times"), figure);
    else
        (void)snprintf(out, TB_PLAIN,
                       most ? tb_tr(to, "against it, at least %s times") : tb_tr(to, "against it, %s times"),
                       figure);
}

static bool of_one_cue(const struct tb_stored_cue *a, const struct tb_stored_cue *b)
{
    return a->part == b->part && strcmp(a->cue, b->cue) == 0;
}

/* One row a cue: that one burn showed it and another did not is said, and weighed, in it. */
static double joined(bool *mixed, const struct tb_stored_verdict *v, size_t at)
{
    double db = 0;

    *mixed = false;
    for (size_t i = 0; i < v->n_cue; i++)
        if (of_one_cue(&v->cue[i], &v->cue[at])) {
            db += isnan(v->cue[i].alone_db) ? 0 : v->cue[i].alone_db;
            *mixed |= v->cue[i].elsewhere;
        }
    return db * log(10) / 10;
}

static void total(struct case_page *c, const struct tb_stored_verdict *v)
{
    enum tb_tongue to = c->page.tongue;
    char all[TB_PLAIN];

    weight(all, to, &v->bounds, v->log_ratio);
    tb_page_row(&c->page, (const char *[]){ tb_tr(to, "All of it together"), "", "", all });
}

struct row {
    const struct tb_stored_cue *cue;
    double log_ratio; /* of all its lines */
    bool mixed;
};

static int by_weight(const void *a, const void *b)
{
    const struct row *x = a, *y = b;
    double p = fabs(x->log_ratio), q = fabs(y->log_ratio);

    return p < q ? 1 : p > q ? -1 : x->cue < y->cue ? -1 : x->cue > y->cue;
}

/* Those that say something, the weightiest first; *silent: how many cues do not. */
static size_t rows_of(struct row *out, size_t *silent, const struct tb_stored_verdict *v)
{
    size_t n = 0;

    *silent = 0;
    for (size_t i = 0; i < v->n_cue; i++) {
        struct row r = { .cue = &v->cue[i] };

        if (r.cue->elsewhere)
            continue; /* told in the row of the burn that showed it */
        r.log_ratio = joined(&r.mixed, v, i);
        if (fabs(r.log_ratio) < SAYS_NOTHING)
            ++*silent;
        else
            out[n++] = r;
    }
    qsort(out, n, sizeof *out, by_weight);
    return n;
}

static void put_rows(struct case_page *c, const struct tb_stored_verdict *v, const struct row *row, size_t n)
{
    enum tb_tongue to = c->page.tongue;

    for (size_t i = 0; i < n; i++) {
        const struct tb_stored_cue *cue = row[i].cue;
        char alone[TB_PLAIN];
        const char *cell[] = { tb_case_cue(&c->text, to, cue->cue), tb_part_in(to, cue->part),
                               row[i].mixed ? tb_tr(to, "seen, not in every burn") : tb_case_sight(to, cue),
                               alone };

        weight(alone, to, &v->bounds, row[i].log_ratio);
        tb_page_row(&c->page, cell);
    }
}

/* Each cue by itself, and below them what they come to: a reader sees how far the whole goes beyond its parts, or not. */
void tb_case_cues(struct case_page *c)
{
    static const struct page_column column[] = { { TR_("What was looked for"), 0.41, false, false },
                                                 { TR_("Part"), 0.10, false, false },
                                                 { TR_("Observed"), 0.21, false, false },
                                                 { TR_("By itself, times"), 0.28, true, false } };
    struct page *p = &c->page;
    const struct tb_stored_verdict *v = &c->story->recorded;
    struct row *row;
    size_t n, silent;

    if (!v->n_cue || isnan(v->log_ratio))
        return;
    row = tb_array(struct row, v->n_cue);
    n = rows_of(row, &silent, v);
    tb_page_heading(p, tb_tr(p->tongue, "What speaks for the declaration and against it, by weight"));
    tb_page_small(
        p,
        tb_tr(p->tongue,
              "How many times likelier each observation is, by itself, from the declared cloth (for it) or "
              "from what else it could be (against it). No figure goes beyond the limits of the whole "
              "verdict. They "
              "do not multiply, since what is seen of one burn hangs together: the last row is what all of "
              "them come to."));
    tb_page_table_begin(p, column, TB_COUNT(column));
    put_rows(c, v, row, n);
    total(c, v);
    tb_page_table_end(p);
    free(row);
    if (silent)
        tb_page_small(
            p, tb_page_say(&c->text,
                           tb_tr(p->tongue, "Observations that say hardly anything are left out here: %zu. "
                                            "They are in the attached data."),
                           silent));
}
