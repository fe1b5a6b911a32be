/* case_dispute.c - what was said and agreed so far, and the samples that both sides hold. */
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

static void pieces(struct tb_text *out, const struct tb_joint_sample *j, enum tb_holder_kind holder)
{
    tb_text_clear(out);
    for (size_t i = 0; i < j->pieces; i++)
        if (j->piece[i].holder == holder)
            tb_part(out, "%s", j->piece[i].tag);
    if (!out->n)
        tb_text_add(out, "-");
}

/* Who was there, and the seed and the rule by which anybody can deal the same again. */
void tb_case_joint(struct case_page *c)
{
    struct page *p = &c->page;
    struct tb_text *t = &c->text;

    for (size_t i = 0; i < c->story->of.joints; i++) {
        const struct tb_joint_sample *j = &c->story->of.joint[i];

        tb_page_heading(p, _("Joint sample"));
        tb_page_pair(p, _("Dealt"),
                     tb_page_say(t, _("%lld retained swatches, %.*s, by %s"), (long long)j->swatches,
                                 DAY(j->dealt_at), j->dealt_by));
        tb_page_pair(p, _("There were"), j->present[0] ? j->present : _("not recorded"));
        tb_page_pair(p, _("Agreed rule"), j->rule[0] ? j->rule : _("none is recorded"));
        tb_page_pair(p, _("Seed"),
                     tb_page_say(t, _("%s; dealing again by it gives the same pieces"), j->seed));
        pieces(t, j, TB_HOLDER_SUPPLIER);
        tb_page_pair(p, _("To the supplier"), t->s);
        pieces(t, j, TB_HOLDER_LABORATORY);
        tb_page_pair(p, j->laboratory[0] ? j->laboratory : _("To the laboratory"), t->s);
        pieces(t, j, TB_HOLDER_OWN);
        tb_page_pair(p, _("Kept"), t->s);
    }
}
