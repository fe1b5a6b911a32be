/* words_in.c - fibres, parts and compositions in the language of a paper. */
#include "tenterbook/fibre_words.h"

#include <math.h>
#include <string.h>

/* The key of a part is its English word, but in a language it is a word for papers. */
static const char *const part_word[TB_PART_KINDS] = {
    [TB_PART_WHOLE] = TR_("whole"),   [TB_PART_WARP] = TR_("warp"),       [TB_PART_WEFT] = TR_("weft"),
    [TB_PART_PILE] = TR_("pile"),     [TB_PART_GROUND] = TR_("ground"),   [TB_PART_FACE] = TR_("face"),
    [TB_PART_BACK] = TR_("back"),     [TB_PART_COATING] = TR_("coating"), [TB_PART_SHELL] = TR_("shell"),
    [TB_PART_LINING] = TR_("lining"), [TB_PART_FILLING] = TR_("filling"), [TB_PART_OTHER] = TR_("other part"),
};

const char *tb_part_in(enum tb_tongue tongue, enum tb_part_kind part)
{
    return tb_tr(tongue, part_word[part]);
}

const char *tb_fibre_in(enum tb_tongue tongue, int fibre)
{
    if (fibre == TB_FIBRE_OTHER)
        return tb_tr(tongue, "other fibres");
    if (fibre < 0)
        return tb_tr(tongue, "unknown fibres");
    return tb_tr(tongue, tb_fibre_at(fibre)->name);
}

const char *tb_fibre_key_in(enum tb_tongue tongue, const char *key)
{
    int fibre = tb_fibre_by_key(key);

    return fibre >= 0 ? tb_fibre_in(tongue, fibre) : key;
}

/* "46,5": no more places than there are. */
static void percent(struct tb_text *out, enum tb_tongue tongue, double value)
{
    double tenths = round(value * 10);

    tb_tongue_figure(out, tongue, value, fmod(tenths, 10) == 0 ? 0 : 1);
}

static void share(struct tb_text *out, enum tb_tongue tongue, const struct tb_share *s)
{
    struct tb_text figure = { 0 };

    if (isnan(s->percent)) {
        tb_text_add(out, tb_fibre_in(tongue, s->fibre));
        return;
    }
    percent(&figure, tongue, s->percent);
    /* TRANSLATORS: a share of a fibre, "46.5 % wool" */
    tb_text_addf(out, tb_tr(tongue, "%s %% %s"), figure.s, tb_fibre_in(tongue, s->fibre));
    tb_text_free(&figure);
}

static void part(struct tb_text *out, enum tb_tongue tongue, const struct tb_part *p, bool named)
{
    struct tb_text blend = { 0 };

    for (size_t i = 0; i < p->n; i++) {
        if (i)
            tb_text_add(&blend, tb_tr(tongue, ", "));
        share(&blend, tongue, &p->share[i]);
    }
    if (named)
        /* TRANSLATORS: a part of a cloth, or a test, and what was found: "warp: 100 % cotton" */
        tb_text_addf(out, tb_tr(tongue, "%s: %s"),
                     p->kind == TB_PART_OTHER && p->label ? p->label : tb_part_in(tongue, p->kind),
                     tb_text_str(&blend));
    else
        tb_text_add(out, tb_text_str(&blend));
    tb_text_free(&blend);
}

void tb_composition_in(struct tb_text *out, enum tb_tongue tongue, const char *text)
{
    struct tb_declaration d;
    const struct tb_composition *c = &d.comp;

    if (tb_tongue_as_kept(tongue)) {
        tb_text_add(out, text);
        return;
    }
    tb_declaration_read(&d, text, strlen(text));
    if (!tb_declaration_clear(&d))
        tb_text_add(out, text);
    else
        for (size_t i = 0; i < c->n; i++) {
            if (i)
                tb_text_add(out, tb_tr(tongue, "; "));
            part(out, tongue, &c->part[i], c->n > 1 || c->part[i].kind != TB_PART_WHOLE);
        }
    tb_declaration_free(&d);
}
