/* case_joint.c - the samples that both sides hold. */
#include "report/case/case_page.h"
#include "tenterbook/utf8.h"

#include <string.h>

/* The bolt that a swatch was cut from: whoever holds a piece asks which cloth it is of. */
static const char *bolt_of(const struct story *s, const char *tag)
{
    for (size_t i = 0; i < s->swatches; i++)
        if (strcmp(s->swatch[i].tag, tag) == 0)
            return s->swatch[i].bolt_number;
    return "";
}

/* "W26-001.01.04 (bolt R3)", behind others. */
static void add_piece(struct tb_text *out, const struct story *s, const char *tag)
{
    const char *bolt = bolt_of(s, tag);

    if (*bolt)
        tb_part(out, tb_tr(s->tongue, "%s (bolt %s)"), tag, bolt);
    else
        tb_part(out, "%s", tag);
}

static void pieces(struct tb_text *out, const struct story *s, const struct tb_joint_sample *j,
                   enum tb_holder_kind holder)
{
    tb_text_clear(out);
    for (size_t i = 0; i < j->pieces; i++) {
        if (j->piece[i].holder == holder)
            add_piece(out, s, j->piece[i].tag);
    }
    if (!out->n)
        tb_text_add(out, "-");
}

/* Of a joint sample that names no laboratory the one that answered had its share. */
static void add_dealt(struct tb_text *out, const struct story *s, const struct tb_analysis *a)
{
    for (size_t i = 0; i < s->of.joints; i++) {
        const struct tb_joint_sample *j = &s->of.joint[i];
        bool its = !*j->laboratory || tb_fold_same(j->laboratory, a->laboratory);

        for (size_t k = 0; its && k < j->pieces; k++)
            if (j->piece[k].holder == TB_HOLDER_LABORATORY &&
                strncmp(j->dealt_at, a->analysed_on, TB_DAY_LEN) <= 0)
                add_piece(out, s, j->piece[k].tag);
    }
}

void tb_case_had(struct tb_text *out, const struct story *s, const struct tb_analysis *a)
{
    struct tb_text pieces_had = { 0 };

    add_dealt(&pieces_had, s, a);
    for (size_t i = 0; i < s->of.sendings; i++) {
        const struct tb_sending *sent = &s->of.sending[i];

        for (size_t k = 0; k < sent->pieces && tb_fold_same(sent->laboratory, a->laboratory) &&
                           strcmp(sent->sent_on, a->analysed_on) <= 0;
             k++)
            add_piece(&pieces_had, s, sent->piece[k].tag);
    }
    if (pieces_had.n)
        tb_text_addf(out, tb_tr(s->tongue, "it had swatch %s"), pieces_had.s);
    else
        tb_text_add(out, tb_tr(s->tongue, "it is not recorded which swatch or bolt it had"));
    tb_text_free(&pieces_had);
}

/* Who was there, and the seed and the rule by which anybody can deal the same again. */
void tb_case_joint(struct case_page *c)
{
    struct page *p = &c->page;
    struct tb_text *t = &c->text;
    char dealt[TB_PLAIN];

    for (size_t i = 0; i < c->story->of.joints; i++) {
        const struct tb_joint_sample *j = &c->story->of.joint[i];

        tb_page_heading(p, tb_tr(p->tongue, "Joint sample"));
        tb_page_pair(p, tb_tr(p->tongue, "Dealt"),
                     tb_page_say(t, tb_tr(p->tongue, "%lld retained swatches, %s, by %s"),
                                 (long long)j->swatches, tb_tongue_date(dealt, p->tongue, j->dealt_at),
                                 j->dealt_by));
        tb_page_pair(p, tb_tr(p->tongue, "There were"),
                     j->present[0] ? j->present : tb_tr(p->tongue, "not recorded"));
        tb_page_pair(p, tb_tr(p->tongue, "Agreed rule"),
                     j->rule[0] ? j->rule : tb_tr(p->tongue, "none is recorded"));
        tb_page_pair(
            p, tb_tr(p->tongue, "Seed"),
            tb_page_say(t, tb_tr(p->tongue, "%s; dealing again by it gives the same pieces"), j->seed));
        pieces(t, c->story, j, TB_HOLDER_SUPPLIER);
        tb_page_pair(p, tb_tr(p->tongue, "To the supplier"), t->s);
        pieces(t, c->story, j, TB_HOLDER_LABORATORY);
        tb_page_pair(p, j->laboratory[0] ? j->laboratory : tb_tr(p->tongue, "To the laboratory"), t->s);
        pieces(t, c->story, j, TB_HOLDER_OWN);
        tb_page_pair(p, tb_tr(p->tongue, "Kept"), t->s);
    }
}
