/* laboratory.c - what the analyses of a lot answer to the words that are declared of it now. */
#include "tenterbook/act_bench.h"

#include <string.h>

static bool was_analysed(const struct tb_laboratory *l, enum tb_part_kind part)
{
    for (size_t i = 0; i < l->n; i++)
        if (l->analysis[i].part == part)
            return true;
    return false;
}

/* An answer to other words, such as those before a new label, is no answer to these. */
static bool answers(const struct tb_analysis *a, const char *declared)
{
    return *a->answers && strcmp(a->declared, declared) == 0;
}

/* Every analysis of the part that counts has its say: a later one takes the place of none but that which it corrects. */
static enum tb_lab_come come_of_part(const struct tb_laboratory *l, enum tb_part_kind part,
                                     const char *declared, const char *market, size_t n)
{
    bool kept = false, broken = false, open = false, opposed = false;

    for (size_t i = 0; i < l->n; i++) {
        const struct tb_analysis *a = &l->analysis[i];
        enum tb_lab_answer one;

        if (a->part != part || !answers(a, declared) || !tb_analysis_answer(&one, a, market, n))
            continue;
        kept = kept || one == TB_LAB_CONFORMS;
        broken = broken || one == TB_LAB_FAILS;
        open = open || one == TB_LAB_UNSAID;
        for (size_t k = 0; k < i && !opposed; k++)
            opposed = tb_analysis_opposed_in(a, &l->analysis[k], market, n);
    }
    return opposed  ? TB_LAB_OPPOSED
           : broken ? TB_LAB_BROKEN
           : kept   ? TB_LAB_KEPT
           : open   ? TB_LAB_OPEN
                    : TB_LAB_NOT_ASKED;
}

/* One part that does not conform is enough; that it conforms, only all of its parts say together. */
static enum tb_lab_come come_in(const struct tb_laboratory *l, const struct tb_declaration *d,
                                const char *declared, const char *market, size_t n)
{
    bool asked = true, open = false, opposed = false, any = false;

    for (size_t i = 0; i < d->comp.n; i++) {
        enum tb_part_kind part = d->comp.part[i].kind;
        enum tb_lab_come one =
            part == TB_PART_COATING ? TB_LAB_KEPT : come_of_part(l, part, declared, market, n);

        if (one == TB_LAB_BROKEN)
            return one;
        any = any || part != TB_PART_COATING;
        asked = asked && one != TB_LAB_NOT_ASKED;
        open = open || one == TB_LAB_OPEN;
        opposed = opposed || one == TB_LAB_OPPOSED;
    }
    return opposed ? TB_LAB_OPPOSED : open ? TB_LAB_OPEN : any && asked ? TB_LAB_KEPT : TB_LAB_NOT_ASKED;
}

/* Each market once that the analyses answer for, in which they come to that. */
static void add_markets(struct tb_text *out, const struct tb_laboratory *l, const struct tb_declaration *d,
                        const char *declared, enum tb_lab_come come)
{
    for (size_t i = 0; i < l->n; i++) {
        if (!answers(&l->analysis[i], declared))
            continue;
        for (const char *p = l->analysis[i].answers; *p; p += strcspn(p, " "), p += *p == ' ') {
            size_t n = strcspn(p, ": ");

            if (!tb_word_listed(tb_text_str(out), p, n, " ") && come_in(l, d, declared, p, n) == come)
                tb_text_addf(out, "%s%.*s", out->n ? " " : "", (int)n, p);
        }
    }
}

void tb_laboratory_markets(struct tb_text *out, const struct tb_laboratory *l, const char *declared,
                           enum tb_lab_come come)
{
    struct tb_declaration d = { 0 };

    tb_declaration_read(&d, declared, strlen(declared));
    add_markets(out, l, &d, declared, come);
    tb_declaration_free(&d);
}

static bool comes_anywhere(const struct tb_laboratory *l, const struct tb_declaration *d,
                           const char *declared, enum tb_lab_come come)
{
    struct tb_text markets = { 0 };
    bool any;

    add_markets(&markets, l, d, declared, come);
    any = markets.n > 0;
    tb_text_free(&markets);
    return any;
}

/* Every part that is declared was held against these words. */
static bool all_compared(const struct tb_laboratory *l, const struct tb_declaration *d, const char *declared)
{
    for (size_t i = 0; i < d->comp.n; i++) {
        bool one = d->comp.part[i].kind == TB_PART_COATING;

        for (size_t k = 0; k < l->n && !one; k++)
            one = l->analysis[k].part == d->comp.part[i].kind && answers(&l->analysis[k], declared);
        if (!one)
            return false;
    }
    return d->comp.n > 0;
}

/* Every part that is declared, or whatever was analysed where nothing is. */
static bool all_analysed(const struct tb_laboratory *l, const struct tb_declaration *d)
{
    for (size_t i = 0; i < d->comp.n; i++)
        if (d->comp.part[i].kind != TB_PART_COATING && !was_analysed(l, d->comp.part[i].kind))
            return false;
    return l->n > 0;
}

/* Any two of them. */
static void compare(struct tb_laboratory *l)
{
    for (size_t i = 0; i < l->n; i++)
        for (size_t k = 0; k < i; k++) {
            l->apart = l->apart || tb_analysis_apart(&l->analysis[i], &l->analysis[k]);
            l->opposite = l->opposite || tb_analysis_opposite(&l->analysis[i], &l->analysis[k]);
        }
}

void tb_laboratory_take(struct tb_laboratory *out, const struct tb_analysis *analysis, size_t n,
                        const char *declared)
{
    struct tb_declaration d = { 0 };

    *out = (struct tb_laboratory){ .analysis = analysis, .n = n };
    if (n == 0)
        return;
    tb_declaration_read(&d, declared, strlen(declared));
    out->compared = all_compared(out, &d, declared);
    compare(out);
    if (comes_anywhere(out, &d, declared, TB_LAB_BROKEN))
        out->answer = TB_LAB_FAILS;
    else if (comes_anywhere(out, &d, declared, TB_LAB_OPPOSED))
        out->disagree = true;
    else if (out->compared && !comes_anywhere(out, &d, declared, TB_LAB_OPEN))
        out->answer = TB_LAB_CONFORMS;
    out->settled = out->answer == TB_LAB_FAILS || all_analysed(out, &d);
    tb_declaration_free(&d);
}

tb_rc tb_laboratory_read(struct tb_laboratory *out, struct tb_book *b, const struct tb_lot *lot,
                         const char *declared, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_analysis *a = NULL;
    size_t n = 0;
    tb_rc rc = tb_analysis_list(&a, &n, b, lot->id, mem, err);

    if (rc == TB_OK)
        tb_laboratory_take(out, a, n, declared);
    return rc;
}
