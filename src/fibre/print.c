/* Compositions as text that reads back to the same composition. */
#include "tenterbook/fibre.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Up to ten decimals, no exponent, no idle zeros: what the reader takes as a number. %g would print 1e-05. */
static void print_figure(struct tb_text *out, double v)
{
    char figure[64];
    size_t n = (size_t)snprintf(figure, sizeof figure, "%.10f", v);

    while (n && figure[n - 1] == '0')
        n--;
    if (n && figure[n - 1] == '.')
        n--;
    tb_text_addn(out, figure, n);
}

/* In this order marks are read back as marks of this share: before the name, behind the figure. */
static void print_share(struct tb_text *out, const struct tb_share *s)
{
    static const struct {
        unsigned mark;
        const char *word;
    } said[] = { { TB_MARK_PURE, "pure " },
                 { TB_MARK_VIRGIN, "virgin " },
                 { TB_MARK_RECYCLED, "recycled " },
                 { TB_MARK_ORGANIC, "organic " },
                 { TB_MARK_MERCERISED, "mercerised " },
                 { TB_MARK_COMBED, "combed " } };

    if (!isnan(s->percent)) {
        print_figure(out, s->percent);
        if (!isnan(s->tolerance)) {
            tb_text_add(out, " +-");
            print_figure(out, s->tolerance);
        }
        tb_text_add(out, " % ");
    }
    for (size_t i = 0; i < TB_COUNT(said); i++)
        if (s->marks & said[i].mark)
            tb_text_add(out, said[i].word);
    tb_text_add(out, s->fibre >= 0                ? tb_fibre_at(s->fibre)->name
                     : s->fibre == TB_FIBRE_OTHER ? "other fibres"
                                                  : "unknown fibres");
}

void tb_composition_print(struct tb_text *out, const struct tb_composition *c)
{
    for (size_t i = 0; i < c->n; i++) {
        const struct tb_part *p = &c->part[i];

        tb_text_add(out, i ? "; " : "");
        /* a part without a name that is not the first needs one, or it would be read into the part before it */
        if (p->kind == TB_PART_OTHER && p->label) {
            tb_text_add(out, p->label);
            tb_text_add(out, ": ");
        } else if (i || p->kind != TB_PART_WHOLE) {
            tb_text_add(out, tb_part_key(p->kind));
            tb_text_add(out, ": ");
        }
        for (size_t k = 0; k < p->n; k++) {
            tb_text_add(out, k ? ", " : "");
            print_share(out, &p->share[k]);
        }
    }
}

/* In brackets and behind "finish:", so that it reads back as the same finishes and no share. */
void tb_declaration_print(struct tb_text *out, const struct tb_declaration *d)
{
    tb_composition_print(out, &d->comp);
    if (d->finish) {
        tb_text_add(out, d->comp.n ? " (finish: " : "(finish: ");
        tb_finish_list(out, d->finish);
        tb_text_add(out, ")");
    }
}
