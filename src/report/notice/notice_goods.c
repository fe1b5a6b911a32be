/* notice_goods.c - which goods it is about, and what the supplier declared of them. */
#include "report/notice/notice_impl.h"
#include "tenterbook/tell.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The lot by its number and by what the packing list says of it; what the list does not say is not mentioned. */
static const char *lot_words(struct tb_notice *n, const struct tb_lot *l)
{
    const char *const said[] = { l->article, l->colour, l->dye_lot };
    const char *const as[] = { tb_tr(n->tongue, "article %s"), tb_tr(n->tongue, "colour %s"),
                               tb_tr(n->tongue, "dye lot %s") };
    struct tb_text t = { 0 };

    for (size_t i = 0; i < TB_COUNT(said); i++)
        if (*said[i]) {
            tb_text_add(&t, t.n ? tb_tr(n->tongue, ", ") : "");
            tb_text_addf(&t, as[i], said[i]);
        }
    return t.n ? tb_notice_put(n, tb_tr(n->tongue, "%s: %s"), l->ref, tb_notice_take(n, &t)) : l->ref;
}

/* A delivery without a note keeps its line, so that the reader sees that no number was given. */
static const char *note_words(struct tb_notice *n, const struct tb_delivery *d)
{
    const char *note = *d->note ? d->note : "-";

    /* TRANSLATORS: number and day of a delivery note */
    return d->note_day ? tb_notice_put(n, tb_tr(n->tongue, "%s of %s"), note, tb_notice_day(n, d->note_day))
                       : note;
}

static const char *remark_words(struct tb_notice *n, const char *remark)
{
    struct tb_text t = { 0 };

    tb_remark_words(&t, n->tongue, remark);
    return tb_notice_take(n, &t);
}

static const char *arrival_words(struct tb_notice *n, const struct tb_delivery *d)
{
    /* TRANSLATORS: a day, the number of a delivery */
    const char *on =
        tb_notice_put(n, tb_tr(n->tongue, "%s, our delivery %s"), tb_notice_day(n, d->arrived), d->ref);

    return *d->remark ? tb_notice_put(n, "%s%s%s", on, tb_tr(n->tongue, "; "), remark_words(n, d->remark))
                      : on;
}

/* "60 yd": a figure and the unit behind it; false for anything else, so that nothing is added up that is not alike. */
static bool figure_and_unit(double *value, const char **unit, const char *said)
{
    char *end;

    *value = strtod(said, &end);
    *unit = end + strspn(end, " ");
    return end != said && strspn(said, "0123456789.") == (size_t)(end - said) && **unit;
}

/* What was invoiced, where all bolts of the lot were written in one unit of length that is not the metre; NULL elsewhere. */
static const char *invoiced(struct tb_notice *n, const struct notice_facts *f)
{
    double sum = 0, value;
    const char *unit = NULL, *first = NULL;

    for (size_t i = 0; i < f->of.bolts; i++) {
        if (!figure_and_unit(&value, &unit, f->of.bolt[i].said) || (first && strcmp(first, unit) != 0))
            return NULL;
        first = unit;
        sum += value;
    }
    return first && strcmp(first, "kg") != 0 && f->of.lot.bolts == (int64_t)f->of.bolts
               ? tb_notice_put(n, "%s %s = ", tb_notice_figure(n, sum, 2), first)
               : NULL;
}

/* A letter that is not the first says so, or the second would look like a claim of its own. */
static const char *why_we_write(struct tb_notice *n, const struct notice_facts *f)
{
    const char *why =
        f->of.concluded.kind == TB_DOES_NOT
            ? tb_tr(n->tongue,
                    "We have examined the goods named above, and give you notice that they are not "
                    "as you declared them.")
            : tb_tr(n->tongue, "We have examined the goods named above, and give you notice that we doubt "
                               "whether they are as you declared them. The examination goes on.");

    if (!f->told)
        return why;
    return tb_notice_two(n, why,
                         tb_notice_put(n, tb_tr(n->tongue, "This letter follows our notice of %s."),
                                       tb_notice_day(n, f->told)));
}

/* Numbers of the supplier first: it finds the goods by its own note, not by ours. */
void tb_notice_goods(struct tb_notice *n, const struct notice_facts *f)
{
    const struct tb_delivery *d = &f->delivery;
    const struct tb_lot *l = &f->of.lot;
    enum tb_tongue to = n->tongue;
    const char *said = invoiced(n, f), *length = tb_notice_length(n, l);
    const char *parts = tb_notice_in_parts(n, l), /* the claim is not about what was let go */
        *quantity = tb_notice_put(n, tb_trn(to, "%lld bolt, %s", "%lld bolts, %s", (unsigned long)l->bolts),
                                  (long long)l->bolts, tb_notice_put(n, "%s%s", said ? said : "", length));

    tb_notice_before(n, NOTICE_PAIR, tb_tr(to, "Your delivery note"), note_words(n, d));
    tb_notice_before(n, NOTICE_PAIR, tb_tr(to, "Our order"), d->order_no);
    tb_notice_before(n, NOTICE_PAIR, tb_tr(to, "Arrived here"), arrival_words(n, d));
    tb_notice_before(n, NOTICE_PAIR, tb_tr(to, "Lot"), lot_words(n, l));
    tb_notice_before(n, NOTICE_PAIR, tb_tr(to, "Quantity"),
                     tb_notice_put(n, "%s%s%s", quantity, parts ? ". " : "", parts ? parts : ""));
    tb_notice_before(n, NOTICE_GREETING, NULL, tb_tr(to, "Dear Sir or Madam,"));
    tb_notice_before(n, NOTICE_TEXT, NULL, why_we_write(n, f));
    tb_notice_before(n, NOTICE_HEADING, NULL, tb_tr(to, "What you declared"));
    tb_notice_before(n, NOTICE_QUOTE, NULL, tb_notice_their_words(f));
}
