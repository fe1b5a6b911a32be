/* case_custody.c - the burns as they were recorded, and who had goods and swatches when. */
#include "report/case/case_page.h"

#include "tenterbook/tell.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void tb_case_cue_words(struct tb_text *out, const struct tb_burn *b)
{
    for (size_t k = 0; k < b->cues; k++)
        tb_text_addf(out, "%s%s%s", k ? ", " : "", b->cue[k].seen ? "" : "!", b->cue[k].cue);
}

/* What was looked at and not seen counts too, so the channels looked at are named. */
static void burn_row(struct case_page *c, const struct tb_burn *b)
{
    struct tb_text where = { 0 }, when = { 0 }, cues = { 0 };
    struct tb_text *t = &c->text;

    tb_text_addf(&where, "%s, %s", b->bolt_number, tb_part_key(b->part));
    tb_text_addf(&when, "%.*s %.5s, %s", DAY(b->burned_at), b->burned_at + TB_DAY_LEN + 1, b->burned_by);
    tb_case_cue_words(&cues, b);
    tb_text_clear(t);
    if (b->cues)
        tb_text_addf(t, _("%s; looked at: %s"), cues.s, b->looked);
    else
        tb_text_addf(t, _("looked at: %s"), b->looked);
    if (*b->could_not)
        tb_text_addf(t, _(". Could not be judged: %s"), b->could_not);
    if (b->note[0])
        tb_text_addf(t, ". %s", b->note);
    {
        const char *cell[] = { b->tag, where.s, when.s, tb_text_str(t) };

        tb_page_row(&c->page, cell);
    }
    tb_text_free(&where);
    tb_text_free(&when);
    tb_text_free(&cues);
}

void tb_case_burns(struct case_page *c)
{
    static const struct page_column column[] = { { N_("Swatch"), 0.19, false, true },
                                                 { N_("Bolt, part"), 0.17, false, false },
                                                 { N_("When, by whom"), 0.20, false, false },
                                                 { N_("Seen; !: expressly not; looked at"), 0.44, false,
                                                   false } };
    const struct story *s = c->story;

    if (!s->of.burns)
        return;
    tb_page_heading(&c->page, _("The burns, as they were recorded"));
    tb_page_table_begin(&c->page, column, TB_COUNT(column));
    for (size_t i = 0; i < s->of.burns; i++)
        burn_row(c, &s->of.burn[i]);
    tb_page_table_end(&c->page);
}

/* The names above are those people gave. Cases of older programs say nothing of logins, and their pages stay as they are. */
static void written(struct case_page *c)
{
    const struct tb_circumstances *w = &c->story->written;
    struct tb_text *t = &c->text;

    bool told = false;

    for (size_t i = 0; i < w->writers; i++)
        if (*w->writer[i].login) {
            told = true;
            tb_page_pair(&c->page, _("Logged in"),
                         tb_page_say(t,
                                     _n("%s as %s: %lld journal row", "%s as %s: %lld journal rows",
                                        w->writer[i].rows),
                                     w->writer[i].person, w->writer[i].login, (long long)w->writer[i].rows));
        }
    if (!told)
        return;
    tb_text_clear(t);
    tb_clock_words(t, w);
    for (const char *line = tb_text_str(t); *line; line += strcspn(line, "\n"), line += *line == '\n') {
        char *sentence = tb_strndup(line, strcspn(line, "\n"));

        tb_page_pair(&c->page, _("Clock"), sentence);
        free(sentence);
    }
}

/* After the events: where the unburnt halves are, and every decision with its reason. */
void tb_case_custody(struct case_page *c)
{
    static const struct page_column column[] = { { N_("When (UTC)"), 0.24, false, false },
                                                 { N_("What"), 0.24, false, false },
                                                 { N_("Number"), 0.28, false, true },
                                                 { N_("By"), 0.24, false, false } };
    struct page *p = &c->page;
    struct tb_text *t = &c->text;
    struct story *s = c->story;
    struct event *e;
    size_t n;

    tb_story_events(&e, &n, s);
    tb_page_heading(p, _("Chain of custody"));
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
            tb_page_pair(p, s->swatch[i].tag, tb_page_say(t, _("unburnt half kept: %s"), s->swatch[i].kept));
    for (size_t i = 0; i < s->of.standings; i++)
        tb_page_pair(p, tb_standing_key(s->of.standing[i].standing),
                     tb_page_say(t, "%.*s, %s: %s", DAY(s->of.standing[i].settled_at),
                                 s->of.standing[i].settled_by, s->of.standing[i].why));
    for (size_t i = 0; i < s->of.singles; i++)
        tb_page_pair(p, tb_standing_key(s->of.single[i].standing),
                     tb_page_say(t,
                                 s->of.single[i].counts ? _("%.*s, %s, bolt %s: %s")
                                                        : _("%.*s, %s, bolt %s: %s (not in force any more)"),
                                 DAY(s->of.single[i].settled_at), s->of.single[i].settled_by,
                                 s->of.single[i].number, s->of.single[i].why));
    written(c);
}
