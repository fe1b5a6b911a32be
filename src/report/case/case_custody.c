/* case_custody.c - the burns as they were recorded, and who had goods and swatches when. */
#include "report/case/case_page.h"

#include "tenterbook/fibre_words.h"
#include "tenterbook/seen_words.h"
#include "tenterbook/tell.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void tb_case_cue_words(struct tb_text *out, const struct tb_burn *b)
{
    for (size_t k = 0; k < b->cues; k++)
        tb_text_addf(out, "%s%s%s", k ? ", " : "", b->cue[k].seen ? "" : "!", b->cue[k].cue);
}

/* Where and when, once for each burn: below it stands what was seen of it, a cue a row. */
static void burn_words(struct tb_text *where, struct tb_text *when, enum tb_tongue to,
                       const struct tb_burn *b)
{
    char later[TB_PLAIN];

    tb_text_addf(where, "%s\n%s, %s", b->tag, b->bolt_number, tb_part_in(to, b->part));
    tb_text_addf(when, "%.*s %.5s\n%s", DAY(b->burned_at), b->burned_at + TB_DAY_LEN + 1, b->burned_by);
    if (tb_burn_typed_later(b)) {
        tb_text_addc(when, '\n');
        tb_text_addf(when, tb_tr(to, "typed up later, %s"), tb_tongue_date(later, to, b->recorded_at));
    }
}

/* Whether one of the cues of a burn is of this channel. */
static bool told_of(const struct tb_burn *b, const char *channel, size_t n)
{
    for (size_t k = 0; b && k < b->cues; k++)
        if (strncmp(b->cue[k].cue, channel, n) == 0 && b->cue[k].cue[n] == ':')
            return true;
    return false;
}

/* "the flame, the smoke": the channels of a list, in words, without those of which this burn has a cue; but NULL: all. */
static void channels(struct tb_text *out, enum tb_tongue to, const char *keys, const struct tb_burn *but)
{
    for (const char *k = keys; *k; k += strcspn(k, " "), k += strspn(k, " ")) {
        size_t n = strcspn(k, " ");
        char *key = tb_strndup(k, n);

        if (!told_of(but, k, n)) {
            tb_text_add(out, out->n ? tb_tr(to, ", ") : "");
            tb_text_add(out, tb_channel_in(to, key));
        }
        free(key);
    }
}

/* What was looked at with nothing to report counts too; what could not be judged, and what was noted besides. */
static void rest_words(struct tb_text *t, enum tb_tongue to, const struct tb_burn *b)
{
    struct tb_text list = { 0 };

    tb_text_clear(t);
    channels(&list, to, b->looked, b);
    if (list.n)
        tb_text_addf(t, tb_tr(to, "looked at, nothing recorded: %s. "), list.s);
    tb_text_clear(&list);
    channels(&list, to, b->could_not, NULL);
    if (list.n)
        tb_text_addf(t, tb_tr(to, "Could not be judged: %s. "), list.s);
    tb_text_add(t, b->note);
    while (t->n && t->s[t->n - 1] == ' ')
        t->s[--t->n] = '\0';
    tb_text_free(&list);
}

/* One row for each cue, and one for the rest; where and when stand in the first. */
static void burn_rows(struct case_page *c, const struct tb_burn *b)
{
    enum tb_tongue to = c->page.tongue;
    struct tb_text where = { 0 }, when = { 0 };

    burn_words(&where, &when, to, b);
    for (size_t k = 0; k < b->cues; k++) {
        const char *cell[] = { k ? b->tag : where.s, k ? "" : when.s,
                               tb_case_cue(&c->text, to, b->cue[k].cue),
                               b->cue[k].seen ? tb_tr(to, "seen") : tb_tr(to, "expressly not there") };

        tb_page_row(&c->page, cell);
    }
    rest_words(&c->text, to, b);
    if (c->text.n || !b->cues) {
        const char *cell[] = { b->cues ? b->tag : where.s, b->cues ? "" : when.s, tb_text_str(&c->text), "" };

        tb_page_row(&c->page, cell);
    }
    tb_text_free(&where);
    tb_text_free(&when);
}

void tb_case_burns(struct case_page *c)
{
    enum tb_tongue to = c->page.tongue;
    static const struct page_column column[] = { { TR_("Swatch; bolt, part"), 0.19, false, true },
                                                 { TR_("When (UTC), by whom"), 0.22, false, false },
                                                 { TR_("What was looked at"), 0.40, false, false },
                                                 { TR_("Observed"), 0.19, false, false } };
    const struct story *s = c->story;

    if (!s->of.burns)
        return;
    tb_page_heading(&c->page, tb_tr(to, "The burns, as they were recorded"));
    tb_page_table_begin(&c->page, column, TB_COUNT(column));
    for (size_t i = 0; i < s->of.burns; i++)
        burn_rows(c, &s->of.burn[i]);
    tb_page_table_end(&c->page);
}

/* Names are those people gave; by which login they wrote is nobody else's business. Cases of older programs say nothing of either. */
static void written(struct case_page *c)
{
    const struct tb_circumstances *w = &c->story->written;
    struct tb_text *t = &c->text;
    enum tb_tongue to = c->page.tongue;

    if (!w->told)
        return;
    tb_text_clear(t);
    tb_clock_words(t, to, w);
    for (const char *line = tb_text_str(t); *line; line += strcspn(line, "\n"), line += *line == '\n') {
        char *sentence = tb_strndup(line, strcspn(line, "\n"));

        tb_page_pair(&c->page, tb_tr(to, "Clock"), sentence);
        free(sentence);
    }
}

/* The program's own reasons have a translation; a person's have none. */
static const char *why_words(struct tb_text *out, const struct story *s, const char *why)
{
    enum tb_decided_by by = tb_decided_by(why);
    const char *own = tb_decision_why(by);
    bool hushed = (by == TB_DECIDED_BY_DISPUTE || by == TB_DECIDED_BY_OPEN_DISPUTE) && tb_case_keeps_back(s);

    tb_text_clear(out);
    tb_text_add(out, hushed ? tb_tr(s->tongue, "until it is decided") : own ? tb_tr(s->tongue, own) : why);
    return tb_text_str(out);
}

/* After the events: where the unburnt halves are, and every decision with its reason. */
void tb_case_custody(struct case_page *c)
{
    static const struct page_column column[] = { { TR_("When (UTC)"), 0.24, false, false },
                                                 { TR_("What"), 0.24, false, false },
                                                 { TR_("Number"), 0.28, false, true },
                                                 { TR_("By"), 0.24, false, false } };
    struct page *p = &c->page;
    struct tb_text *t = &c->text;
    struct story *s = c->story;
    enum tb_tongue to = p->tongue;
    char on[TB_PLAIN];
    struct tb_text why = { 0 };
    struct event *e;
    size_t n;

    tb_story_events(&e, &n, to, s);
    tb_page_heading(p, tb_tr(to, "Chain of custody"));
    tb_page_table_begin(p, column, TB_COUNT(column));
    for (size_t i = 0; i < n; i++) {
        char when[32];
        const char *cell[] = { when, e[i].what, e[i].tag, e[i].who };

        (void)snprintf(when, sizeof when, "%.*s %.8s", DAY(e[i].at), e[i].at + TB_DAY_LEN + 1);
        tb_page_row(p, cell);
    }
    tb_page_table_end(p);
    for (size_t i = 0; i < s->swatches; i++)
        if (s->swatch[i].kept[0])
            tb_page_pair(p, s->swatch[i].tag,
                         tb_page_say(t, tb_tr(to, "unburnt half kept: %s"), s->swatch[i].kept));
    for (size_t i = 0; i < s->of.standings; i++)
        tb_page_pair(p, tb_tr(to, tb_standing_key(s->of.standing[i].standing)),
                     tb_page_say(t, tb_tr(to, "%s, %s: %s"),
                                 tb_tongue_date(on, to, s->of.standing[i].settled_at),
                                 s->of.standing[i].settled_by, why_words(&why, s, s->of.standing[i].why)));
    for (size_t i = 0; i < s->of.singles; i++)
        tb_page_pair(
            p, tb_tr(to, tb_standing_key(s->of.single[i].standing)),
            tb_page_say(t,
                        s->of.single[i].counts ? tb_tr(to, "%s, %s, bolt %s: %s")
                                               : tb_tr(to, "%s, %s, bolt %s: %s (not in force any more)"),
                        tb_tongue_date(on, to, s->of.single[i].settled_at), s->of.single[i].settled_by,
                        s->of.single[i].number, why_words(&why, s, s->of.single[i].why)));
    tb_text_free(&why);
    written(c);
}
