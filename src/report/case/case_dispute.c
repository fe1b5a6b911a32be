/* case_dispute.c - what was claimed, sent, answered and agreed so far. */
#include "report/case/case_page.h"
#include "tenterbook/tell.h"

#include <math.h>

/* One more of what was said of a step. */
static void detail(struct tb_text *out, enum tb_tongue to, const char *format, const char *word)
{
    tb_text_add(out, out->n ? tb_tr(to, ", ") : "");
    tb_text_addf(out, format, word);
}

static void details(struct tb_text *out, enum tb_tongue to, const struct tb_dispute_step *s)
{
    char due[TB_PLAIN];

    tb_text_clear(out);
    if (*s->channel)
        /* TRANSLATORS: how a notice went: "by registered post"; the words are a person's */
        detail(out, to, tb_tr(to, "by %s"), s->channel);
    if (*s->proof)
        detail(out, to, tb_tr(to, "proof of posting %s"), s->proof);
    if (s->due)
        detail(out, to,
               s->step == TB_NOTIFIED ? tb_tr(to, "answer awaited by %s") : tb_tr(to, "to be done by %s"),
               tb_tongue_date(due, to, s->due));
    if (s->document)
        detail(out, to, tb_tr(to, "paper %s"), s->document_name);
    if (*s->words)
        /* TRANSLATORS: somebody's own words, between quotation marks */
        detail(out, to, tb_tr(to, "\"%s\""), s->words);
}

static void step_row(struct case_page *c, const struct tb_dispute_step *s)
{
    struct tb_text what = { 0 }, amount = { 0 };
    enum tb_tongue to = c->page.tongue;
    char figure[TB_PLAIN];

    tb_text_add(&what, tb_dispute_step_words(to, s->step));
    if (s->remedy != TB_REMEDY_NONE)
        tb_text_addf(&what, ": %s", tb_tr(to, tb_remedy_key(s->remedy)));
    if (!isnan(s->amount))
        tb_text_addf(&amount, "%s %s", tb_tongue_plain(figure, to, s->amount, 2), s->currency);
    details(&c->text, to, s);
    {
        const char *cell[] = { s->day, tb_text_str(&what), tb_text_str(&amount), tb_text_str(&c->text) };

        tb_page_row(&c->page, cell);
    }
    tb_text_free(&what);
    tb_text_free(&amount);
}

bool tb_case_keeps_back(const struct story *s)
{
    return s->form == TB_EXTRACT_FORM_STAMPS || s->form == TB_CASE_FORM_LANGUAGE_WITHOUT;
}

/* In the money each side named: nothing is converted here. */
void tb_case_dispute(struct case_page *c)
{
    static const struct page_column column[] = { { TR_("Day"), 0.13, false, false },
                                                 { TR_("What happened"), 0.20, false, false },
                                                 { TR_("Amount"), 0.18, true, false },
                                                 { TR_("How, and in whose words"), 0.49, false, false } };
    const struct story *s = c->story;

    if (tb_case_keeps_back(s) || !s->disputes)
        return;
    tb_page_heading(&c->page, tb_tr(c->page.tongue, "The dispute so far"));
    tb_page_table_begin(&c->page, column, TB_COUNT(column));
    for (size_t i = 0; i < s->disputes; i++)
        for (size_t k = 0; k < s->dispute[i].steps; k++)
            step_row(c, &s->dispute[i].step[k]);
    tb_page_table_end(&c->page);
}
