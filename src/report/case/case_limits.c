/* case_limits.c - what a burn can prove and what it cannot: fibres that burn alike, and how often a burn catches. */
#include "report/case/case_page.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void share_words(char out[16], double v)
{
    if (isnan(v))
        (void)snprintf(out, 16, "-");
    else
        (void)snprintf(out, 16, "%.0f %%", 100 * tb_power_told(v));
}

/* A test by the name people call it; one this program does not know by its key. */
static const char *test_name(const char *key)
{
    const char *bare = strncmp(key, "bench:", 6) == 0 ? key + 6 : key;
    struct tb_channel channel = { .name = key };
    int at = tb_channel_by_key(bare);

    if (at >= 0)
        tb_channel_at(&channel, at);
    return channel.name;
}

/* Error rates belong beside a verdict: how often would such burns have caught the usual substitutes? */
static void power(struct case_page *c, const struct tb_stored_verdict *v)
{
    static const struct page_column column[] = { { N_("If it were instead"), 0.34, false, false },
                                                 { N_("One burn"), 0.14, true, false },
                                                 { N_("Two burns"), 0.14, true, false },
                                                 { N_("With a bench test"), 0.18, true, false },
                                                 { N_("Which"), 0.20, false, false } };

    struct page *p = &c->page;

    if (!v->n_power)
        return;
    tb_page_text(
        p, tb_page_say(&c->text,
                       _("How often burns like these would contradict the declaration if the cloth were "
                         "something else, by simulation from the published descriptions. No hit rate of "
                         "burns has been published, so none is taken to be above %.0f %%."),
                       100 * TB_POWER_MOST));
    tb_page_table_begin(p, column, TB_COUNT(column));
    for (size_t i = 0; i < v->n_power; i++) {
        const struct tb_stored_power *one = &v->power[i];
        char one_burn[16], two_burns[16], with_test[16];
        const char *cell[] = { one->instead, one_burn, two_burns, with_test,
                               one->blind ? _("burns alike") : test_name(one->test) };

        share_words(one_burn, one->one);
        share_words(two_burns, one->two);
        share_words(with_test, one->with_test);
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
          "fibres that burn alike. A verdict is a weighing of evidence, not a measurement. How often it errs "
          "was tested on published burns of bare cloths of one fibre; for any other cloth its limits are "
          "argued, not tested. A laboratory's analysis proves more."));
    for (size_t i = 0; i < v->n_twins; i++) {
        tb_text_clear(&c->text);
        for (size_t k = 0; k < v->twins[i].n; k++) {
            const char *key = v->twins[i].fibre[k];
            int fibre = tb_fibre_by_key(key);

            tb_text_addf(&c->text, "%s%s", k ? ", " : "", fibre >= 0 ? tb_fibre_at(fibre)->name : key);
        }
        tb_page_pair(p, _("Burn alike"), tb_text_str(&c->text));
    }
    power(c, v);
}
