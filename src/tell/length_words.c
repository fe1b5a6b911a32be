/* length_words.c - how long goods are: measured, computed from kilograms, or not known. */
#include "tenterbook/tell.h"

#include "base/say.h"

#include <math.h>

/* Beside the length, where the list has both. */
static void add_weight(struct tb_text *out, enum tb_tongue to, const struct tb_lengths *l)
{
    char kg[TB_PLAIN];

    if (!l->weighed)
        return;
    (void)tb_tongue_plain(kg, to, l->weight_kg, 2);
    if (l->weighed == l->bolts)
        tb_text_addf(out, ", %s kg", kg);
    else
        tb_text_addf(out, tb_tr(to, ", %s kg (bolts that were weighed: %lld)"), kg, (long long)l->weighed);
}

/* Metres that nobody knows are never a figure; those that were computed are never without saying so. */
void tb_length_words(struct tb_text *out, enum tb_tongue to, const struct tb_lengths *l)
{
    char metres[TB_PLAIN], kg[TB_PLAIN];

    (void)tb_tongue_plain(metres, to, l->metres, l->tenths ? 1 : 2);
    (void)tb_tongue_plain(kg, to, l->kg, 2);
    if (isnan(l->metres))
        tb_text_addf(out, tb_tr(to, "%s kg, length not known"), kg);
    else if (l->derived && l->derived == l->bolts)
        tb_text_addf(out, tb_tr(to, "%s m computed from %s kg"), metres, kg);
    else if (l->derived && l->unknown)
        tb_text_addf(
            out,
            tb_tr(
                to,
                "%s m (of bolts computed from kilograms: %lld; bolts of unknown length are not in it: %lld)"),
            metres, (long long)l->derived, (long long)l->unknown);
    else if (l->derived)
        tb_text_addf(out, tb_tr(to, "%s m (of bolts computed from kilograms: %lld)"), metres,
                     (long long)l->derived);
    else if (l->unknown)
        tb_text_addf(out, tb_tr(to, "%s m (bolts of unknown length are not in it: %lld)"), metres,
                     (long long)l->unknown);
    else
        tb_text_addf(out, "%s m", metres);
    add_weight(out, to, l);
}

const char *tb_length_kind(int64_t bolts, int64_t derived, int64_t unknown)
{
    if (unknown)
        return unknown == bolts ? _("not known") : _("partly not known");
    if (derived)
        return derived == bolts ? _("computed from kilograms") : _("partly computed from kilograms");
    return "";
}

struct tb_lengths tb_lengths_of(const struct tb_lot *l)
{
    return (struct tb_lengths){ l->metres,  l->kg, l->bolts,     l->derived,
                                l->unknown, false, l->weight_kg, l->weighed };
}

struct tb_lengths tb_lengths_of_bolt(const struct tb_bolt *b)
{
    return (struct tb_lengths){ b->metres,    b->kg,           1, b->derived, isnan(b->metres), false,
                                b->weight_kg, b->weight_kg > 0 };
}
