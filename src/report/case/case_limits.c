/* case_limits.c - what a burn can prove and what it cannot: fibres that burn alike, and how often a burn catches. */
#include "report/case/case_page.h"

#include <math.h>
#include <stdio.h>

#define NEARLY_ALL 0.995 /* a simulation of so many burns cannot tell all of them from nearly all */

static void share_words(char out[16], double v)
{
    if (isnan(v))
        (void)snprintf(out, 16, "-");
    else if (v >= NEARLY_ALL)
        (void)snprintf(out, 16, "%s", _("over 99 %"));
    else
        (void)snprintf(out, 16, "%.0f %%", 100 * v);
}

/* Error rates belong beside a verdict: how often would such burns have caught the usual substitutes? */
static void power(struct page *p, const struct tb_stored_verdict *v)
{
    static const struct page_column column[] = { { N_("If it were instead"), 0.34, false, false },
                                                 { N_("One burn"), 0.14, true, false },
                                                 { N_("Two burns"), 0.14, true, false },
                                                 { N_("With a bench test"), 0.18, true, false },
                                                 { N_("Which"), 0.20, false, false } };

    if (!v->n_power)
        return;
    tb_page_text(
        p, _("How often burns like these would contradict the declaration if the cloth were something else, "
             "by simulation from the published descriptions:"));
    tb_page_table_begin(p, column, TB_COUNT(column));
    for (size_t i = 0; i < v->n_power; i++) {
        const struct tb_stored_power *one = &v->power[i];
        char a[16], b[16], c[16];
        const char *cell[] = { one->instead, a, b, c, one->blind ? _("burns alike") : one->test };

        share_words(a, one->one);
        share_words(b, one->two);
        share_words(c, one->with_test);
        tb_page_row(p, cell);
    }
    tb_page_table_end(p);
}

/* Said in the case, not in a manual: whoever answers the claim has only these pages. */
void tb_case_limits(struct case_page *c)
{
    struct page *p = &c->page;
    const struct tb_stored_verdict *v = &c->story->verdict;

    tb_page_heading(p, _("What a burn can prove, and what it cannot"));
    tb_page_text(
        p,
        _("A burn shows kinds of fibre: those that melt, those that smell of hair, those that leave soft "
          "ash. It cannot measure percentages, cannot show a few percent of a fibre, and cannot tell apart "
          "fibres that burn alike. A verdict is a weighing of evidence with known error rates, not a "
          "measurement; a laboratory's analysis proves more."));
    for (size_t i = 0; i < v->n_twins; i++) {
        tb_text_clear(&c->text);
        for (size_t k = 0; k < v->twins[i].n; k++) {
            const char *key = v->twins[i].fibre[k];
            int fibre = tb_fibre_by_key(key);

            tb_text_addf(&c->text, "%s%s", k ? ", " : "", fibre >= 0 ? tb_fibre_at(fibre)->name : key);
        }
        tb_page_pair(p, _("Burn alike"), tb_text_str(&c->text));
    }
    power(p, v);
}
