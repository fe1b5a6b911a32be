/* case_cues.c - the cues for and against the declaration, by weight. */
#include "report/case/case_page.h"
#include "tenterbook/fibre_words.h"

#include <math.h>
#include <stdio.h>

#define SAYS_NOTHING 0.55 /* decibans: up to what is shown as 0.5, a ratio of 1.13 */

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

/* Which way it speaks, in a word, so that no figure has a sign. */
static void weight(char out[TB_PLAIN], enum tb_tongue to, double db)
{
    char figure[TB_PLAIN];

    (void)tb_tongue_plain(figure, to, fabs(db), 1);
    if (isnan(db))
        (void)snprintf(out, TB_PLAIN, "-");
    else if (fabs(db) < SAYS_NOTHING)
        (void)snprintf(out, TB_PLAIN, "%s", tb_tr(to, "neither"));
    else
        (void)snprintf(out, TB_PLAIN, db > 0 ? tb_tr(to, "for it, %s") : tb_tr(to, "against it, %s"), figure);
}

/* As in the reasons of a verdict: beside a burn that showed it, the lack of a cue speaks as it does by itself, or not at all. */
static double beside_db(const struct tb_stored_cue *cue)
{
    return cue->elsewhere && cue->weight_db * cue->alone_db < 0 ? 0 : cue->weight_db;
}

static bool speaks(const struct tb_stored_cue *cue)
{
    return fabs(beside_db(cue)) >= SAYS_NOTHING || fabs(cue->alone_db) >= SAYS_NOTHING;
}

static void rows(struct case_page *c, const struct tb_stored_verdict *v)
{
    enum tb_tongue to = c->page.tongue;

    for (size_t i = 0; i < v->n_cue; i++) {
        const struct tb_stored_cue *cue = &v->cue[i];
        char alone[TB_PLAIN], beside[TB_PLAIN];
        const char *cell[] = { tb_case_cue(&c->text, to, cue->cue), tb_part_in(to, cue->part),
                               tb_case_sight(to, cue), alone, beside };

        weight(alone, to, cue->alone_db);
        weight(beside, to, beside_db(cue));
        if (speaks(cue))
            tb_page_row(&c->page, cell);
    }
}

/* Each cue by itself and by its weight beside all others: one figure alone misleads where two cues say the same. */
void tb_case_cues(struct case_page *c)
{
    static const struct page_column column[] = { { TR_("What was looked for"), 0.40, false, false },
                                                 { TR_("Part"), 0.09, false, false },
                                                 { TR_("Observed"), 0.19, false, false },
                                                 { TR_("By itself, dB"), 0.16, true, false },
                                                 { TR_("Adds, dB"), 0.16, true, false } };
    struct page *p = &c->page;
    const struct tb_stored_verdict *v = &c->story->recorded;
    size_t silent = 0;

    for (size_t i = 0; i < v->n_cue; i++)
        silent += !speaks(&v->cue[i]);
    if (silent == v->n_cue)
        return;
    tb_page_heading(p, tb_tr(p->tongue, "What speaks for the declaration and against it, by weight"));
    tb_page_small(p,
                  tb_tr(p->tongue,
                        "Decibans (ten times the decimal logarithm of a ratio): 10 dB is ten times "
                        "likelier, 3 dB twice. By itself: how much likelier the observation is from the "
                        "declared cloth (for it), or from what else it could be (against it). Adds: what it "
                        "adds to all the others; it may add little where they say enough without it, or "
                        "turn where they have changed what it means. Neither: half a deciban or less."));
    tb_page_table_begin(p, column, TB_COUNT(column));
    rows(c, v);
    tb_page_table_end(p);
    if (silent)
        tb_page_small(
            p, tb_page_say(
                   &c->text,
                   tb_trn(p->tongue,
                          "%zu more observation says half a deciban or less; it is in the attached data.",
                          "%zu more observations say half a deciban or less; they are in the attached data.",
                          silent),
                   silent));
}
