/* case_limits.c - what a burn can prove and what it cannot: fibres that burn alike, and how often a burn catches. */
#include "report/case/case_page.h"
#include "tenterbook/fibre_words.h"
#include "tenterbook/seen_words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void share_words(char out[16], enum tb_tongue to, double v)
{
    if (isnan(v))
        (void)snprintf(out, 16, "-");
    else
        (void)snprintf(out, 16, tb_tr(to, "%.0f %%"), 100 * tb_power_told(v));
}

/* Error rates belong beside a verdict: how often would such burns have caught the usual substitutes? */
static void power(struct case_page *c, const struct tb_stored_verdict *v)
{
    static const struct page_column column[] = { { TR_("If it were instead"), 0.34, false, false },
                                                 { TR_("One burn"), 0.14, true, false },
                                                 { TR_("Two burns"), 0.14, true, false },
                                                 { TR_("With a bench test"), 0.18, true, false },
                                                 { TR_("Which"), 0.20, false, false } };

    struct page *p = &c->page;

    if (!v->n_power)
        return;
    tb_page_text(
        p, tb_page_say(&c->text,
                       tb_tr(p->tongue,
                             "How often burns like these would contradict the declaration if the cloth were "
                             "something else, by simulation from the published descriptions. No hit rate of "
                             "burns has been published, so none is taken to be above %.0f %%."),
                       100 * TB_POWER_MOST));
    tb_page_table_begin(p, column, TB_COUNT(column));
    for (size_t i = 0; i < v->n_power; i++) {
        const struct tb_stored_power *one = &v->power[i];
        char one_burn[16], two_burns[16], with_test[16];
        struct tb_text instead = { 0 };

        tb_composition_in(&instead, p->tongue, one->instead);
        share_words(one_burn, p->tongue, one->one);
        share_words(two_burns, p->tongue, one->two);
        share_words(with_test, p->tongue, one->with_test);
        tb_page_row(p, (const char *[]){ tb_text_str(&instead), one_burn, two_burns, with_test,
                                         one->blind ? tb_tr(p->tongue, "burns alike")
                                                    : tb_channel_in(p->tongue, one->test) });
        tb_text_free(&instead);
    }
    tb_page_table_end(p);
}

/* Said in the case, not in a manual: whoever answers the claim has only these pages. */
void tb_case_limits(struct case_page *c)
{
    struct page *p = &c->page;
    const struct tb_stored_verdict *v = &c->story->recorded;

    tb_page_heading(p, tb_tr(p->tongue, "What a burn can prove, and what it cannot"));
    tb_page_text(
        p, tb_tr(p->tongue,
                 "A burn shows kinds of fibre: those that melt, those that smell of hair, those that leave "
                 "soft ash. It cannot measure percentages, cannot show a few percent of a fibre, and cannot "
                 "tell apart fibres that burn alike. A verdict is a weighing of evidence, not a measurement. "
                 "How often it errs was tested on published burns of bare cloths of one fibre; for any other "
                 "cloth its limits are argued, not tested. A laboratory's analysis proves more."));
    for (size_t i = 0; i < v->n_twins; i++) {
        tb_text_clear(&c->text);
        for (size_t k = 0; k < v->twins[i].n; k++) {
            tb_text_add(&c->text, k ? tb_tr(p->tongue, ", ") : "");
            tb_text_add(&c->text, tb_fibre_key_in(p->tongue, v->twins[i].fibre[k]));
        }
        tb_page_pair(p, tb_tr(p->tongue, "Burn alike"), tb_text_str(&c->text));
    }
    power(c, v);
}
