/* case_dispute.c - what was claimed, sent, answered and agreed so far. */
#include "report/case/case_page.h"
#include "tenterbook/tell.h"

#include <math.h>

static void step_row(struct case_page *c, const struct tb_dispute_step *s)
{
    struct tb_text what = { 0 }, amount = { 0 };

    tb_text_add(&what, tb_dispute_step_words(s->step));
    if (s->remedy != TB_REMEDY_NONE)
        tb_text_addf(&what, ": %s", tb_remedy_key(s->remedy));
    if (!isnan(s->amount))
        tb_text_addf(&amount, "%.2f %s", s->amount, s->currency);
    tb_text_clear(&c->text);
    if (*s->channel)
        tb_part(&c->text, _("by %s"), s->channel);
    if (*s->proof)
        tb_part(&c->text, _("proof of posting %s"), s->proof);
    if (s->due)
        tb_part(&c->text, s->step == TB_NOTIFIED ? _("answer asked by %s") : _("to be done by %s"), s->due);
    if (s->document)
        tb_part(&c->text, _("paper %s"), s->document_name);
    if (*s->words)
        tb_part(&c->text, "\"%s\"", s->words);
    {
        const char *cell[] = { s->day, tb_text_str(&what), tb_text_str(&amount), tb_text_str(&c->text) };

        tb_page_row(&c->page, cell);
    }
    tb_text_free(&what);
    tb_text_free(&amount);
}

/* In the money each side named: nothing is converted here. */
void tb_case_dispute(struct case_page *c)
{
    static const struct page_column column[] = { { N_("Day"), 0.13, false, false },
                                                 { N_("What happened"), 0.20, false, false },
                                                 { N_("Amount"), 0.18, true, false },
                                                 { N_("How, and in whose words"), 0.49, false, false } };
    const struct story *s = c->story;

    if (!s->disputes)
        return;
    tb_page_heading(&c->page, _("The dispute so far"));
    tb_page_table_begin(&c->page, column, TB_COUNT(column));
    for (size_t i = 0; i < s->disputes; i++)
        for (size_t k = 0; k < s->dispute[i].steps; k++)
            step_row(c, &s->dispute[i].step[k]);
    tb_page_table_end(&c->page);
}
