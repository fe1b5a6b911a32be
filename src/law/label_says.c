/*
 * What the words of a label say besides naming fibres: of the whole label, or of the share before or after them. What
 * a phrase does is a row of the table at the end; which words are that phrase is in label_phrase.csv.
 */
#include "law/label.h"

#include <math.h>
#include <stdlib.h>

#define ORIGIN_MOST 60 /* bytes of a country's name */
#define SUPER_MOST 1000

/* The words behind "made in" or "Ursprungsland:", up to a sign or a figure: no list of countries would hold all spellings. */
static void on_origin(struct parser *p)
{
    struct tb_text t = { 0 };

    p->i += tb_label_at(p, p->i + 1)->mark == ':';
    while (tb_label_at(p, p->i + 1)->kind == TOKEN_WORD && t.n < ORIGIN_MOST) {
        char word[QUOTED_MOST];

        tb_label_quote(word, p->l, tb_label_at(p, ++p->i));
        tb_text_addf(&t, "%s%s", t.n ? " " : "", word);
    }
    free(p->l->origin);
    p->l->origin = t.n ? tb_text_take(&t) : NULL;
    tb_text_free(&t);
}

/* A fact about the whole label, noted at that place of struct label. */
static void on_fact(struct parser *p)
{
    *(bool *)((char *)p->l + p->what) = true;
}

/* "Super 120's": the grade stands behind the word. */
static void on_super(struct parser *p)
{
    const struct token *grade = tb_label_at(p, p->i + 1);

    if (grade->kind == TOKEN_NUMBER && grade->value > 0 && grade->value < SUPER_MOST)
        p->l->super = (int)grade->value;
}

static void on_virgin_wool(struct parser *p)
{
    tb_label_fibre(p, tb_fibre_by_key("wool"), p->what);
}

static void on_other(struct parser *p)
{
    if (!tb_label_again(p, TB_FIBRE_OTHER))
        (void)tb_label_add(p, TB_FIBRE_OTHER, p->i);
    tb_label_last(p)->marks |= p->what;
}

static void on_unknown(struct parser *p)
{
    const struct tb_share *s = tb_label_last(p);

    p->l->mixed |= p->what;
    if (!s || s->fibre != TB_FIBRE_UNKNOWN ||
        !isnan(p->next.percent)) /* "second-hand, fiber content unknown" */
        (void)tb_label_add(p, TB_FIBRE_UNKNOWN, p->i);
}

/* "40 % man-made fibers: rayon, acetate": one share, whatever is named behind it. */
static void on_manmade(struct parser *p)
{
    tb_label_add(p, TB_FIBRE_OTHER, p->i)->marks |= SAID_TOGETHER;
    p->l->together = true;
}

/* "40 % biconstituent fiber", or "40 % polyester/nylon composite fiber", which makes one share of the two. */
static void on_composite(struct parser *p)
{
    struct tb_share waiting = p->next, *two = p->now->n >= 2 ? tb_label_last(p) - 1 : NULL;

    if (!isnan(p->next.percent)) {
        (void)tb_label_add(p, SHARE_COMPOSITE, p->i);
    } else if (two && isnan(two[1].percent) && !isnan(two->percent)) {
        p->next = *two;
        p->now->n -= 2;
        (void)tb_label_add(p, SHARE_COMPOSITE, p->i);
        p->next = waiting;
    }
}

/* Marks before the name, or (French, and "100 % wool, recycled") after it. "Pure" and "all" only stand before. */
static void on_state(struct parser *p)
{
    struct tb_share *s = tb_label_last(p);

    if (s && s->fibre >= 0 && isnan(p->next.percent) && p->what != TB_MARK_PURE && tb_label_touches(p, s) &&
        !tb_label_entry(tb_label_at(p, p->i + 1), LEX_NAME)) {
        s->marks |= p->what;
        tb_label_name(p, s, p->i);
    } else {
        p->next.marks |= p->what;
    }
}

/* "85 % or more", "wool 85 % or more": of the share that has the figure, which may not have its name yet. */
static void on_amount(struct parser *p)
{
    struct tb_share *s = tb_label_last(p);

    if (p->what == SAID_MORE && s && p->after && isnan(p->next.percent) &&
        tb_label_at(p, p->i - 1)->kind == TOKEN_PERCENT)
        s->marks |= SAID_MORE;
    else
        p->next.marks |= p->what;
}

/* "viscose (made) from bamboo": the source after the name. */
static void on_from(struct parser *p)
{
    struct tb_share *s = tb_label_last(p);
    const struct token *next = tb_label_at(p, p->i + 1);

    /* "rayon from bamboo / rayonne de bambou": noted as a word of the share, so that the second name touches it */
    if (s && (tb_label_is_class(next, "bamboo") || tb_label_is_class(next, "misnomer")))
        tb_label_name(p, s, ++p->i);
}

/* The first row that a word has decides. */
static const struct {
    const char *key;
    void (*take)(struct parser *p);
    unsigned what; /* parser.what for it */
} sayings[] = {
    { "exclusive", tb_label_except, 0 },
    { "except", tb_label_except, 0 },
    { "lacks", tb_label_without, 0 },
    { "of_which", tb_label_of_which, 0 },
    { "origin", on_origin, 0 },
    { "imported", on_fact, offsetof(struct label, imported) },
    { "animal_parts", on_fact, offsetof(struct label, animal_parts) },
    { "union_parts", on_fact, offsetof(struct label, united_parts) },
    { "union", on_fact, offsetof(struct label, united) },
    { "chiefly", on_fact, offsetof(struct label, chiefly) },
    { "super", on_super, 0 },
    { "virgin_wool", on_virgin_wool, TB_MARK_VIRGIN },
    { "other_fibre", on_other, 0 },
    { "other_fibres", on_other, SAID_PLURAL },
    { "mixed", on_unknown, true },
    { "unknown", on_unknown, false },
    { "category", on_unknown, false },
    { "manmade", on_manmade, 0 },
    { "composite", on_composite, 0 },
    { "pure", on_state, TB_MARK_PURE },
    { "virgin", on_state, TB_MARK_VIRGIN },
    { "recycled", on_state, TB_MARK_RECYCLED },
    { "recycled_old", on_state, TB_MARK_RECYCLED },
    { "more", on_amount, SAID_MORE },
    { "less", on_amount, SAID_LESS },
    { "from", on_from, 0 },
};

bool tb_label_says(struct parser *p, const struct token *t)
{
    if (tb_label_leaves_out(p, t))
        return true;
    for (size_t i = 0; i < TB_COUNT(sayings); i++)
        if (tb_label_is(t, sayings[i].key)) {
            p->what = sayings[i].what;
            sayings[i].take(p);
            return true;
        }
    return false;
}
