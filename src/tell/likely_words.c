/* What a part of the cloth is likeliest to be, with its chance. */
#include "tenterbook/fibre_words.h"
#include "tenterbook/tell.h"

/* "cotton 60 %, polyester 40 %" */
static void shares(struct tb_text *t, enum tb_tongue to, const struct tb_stored_likely *l)
{
    for (size_t i = 0; i < l->n; i++) {
        tb_text_add(t, i ? tb_tr(to, ", ") : "");
        /* TRANSLATORS: a fibre and its share: "cotton 60 %" */
        tb_text_addf(t, tb_tr(to, "%s %.0f %%"), tb_fibre_key_in(to, l->fibre[i].fibre), l->fibre[i].percent);
    }
}

void tb_likely_words(struct tb_text *out, enum tb_tongue to, const struct tb_stored_likely *l)
{
    struct tb_text cloth = { 0 };

    if (l->part != TB_PART_WHOLE)
        tb_text_addf(&cloth, "%s: ", tb_part_in(to, l->part));
    shares(&cloth, to, l);
    tb_text_add(out, out->n ? tb_tr(to, "; ") : "");
    tb_text_addf(out, tb_tr(to, "%s (%.0f in 100)"), tb_text_str(&cloth), 100 * l->probability);
    tb_text_free(&cloth);
}
