/* Drills as JSON: what was dealt, an answer, how testers do. */
#include "tenterbook/tell.h"

#define KAPPA(member) TB_JSON_AS(struct tb_kappa, member, #member)
TB_JSON_MEMBERS(kappa_members, KAPPA(agreement), KAPPA(kappa), KAPPA(error), KAPPA(lo), KAPPA(hi));
#define CUE(member, key) TB_JSON_AS(struct tb_drill_cue, member, key)
TB_JSON_MEMBERS(cue_members, CUE(cue, "cue"), CUE(looked, "looked"), CUE(seen, "reported"),
                CUE(others_looked, "others_looked"), CUE(others_seen, "others_reported"));
#define FLEISS(member) TB_JSON_AS(struct tb_fleiss, member, #member)
TB_JSON_MEMBERS(fleiss_members, FLEISS(agreement), FLEISS(kappa), FLEISS(free_marginal), FLEISS(lo),
                FLEISS(hi));

json_t *tb_json_tester(const struct tb_drill_scores *d, const struct tb_drill_tester *t)
{
    json_t *classes = json_array(), *rows = json_array(), *practise;
    struct tb_text words = { 0 };

    for (size_t i = 0; i < d->classes; i++) {
        json_t *row = json_array();

        tb_json_push(classes, json_string(d->class_key[i]));
        for (size_t k = 0; k < d->classes; k++)
            tb_json_push(row, json_integer((json_int_t)t->confusion[i * d->classes + k]));
        tb_json_push(rows, row);
    }
    tb_practise_words(&words, t);
    practise = tb_json_lines(tb_text_str(&words));
    tb_text_free(&words);
    return json_pack("{s:o, s:I, s:I, s:o, s:i, s:b, s:o, s:o, s:o, s:o, s:I, s:o}", "tester",
                     tb_json_text(t->name), "answered", (json_int_t)t->answered, "right",
                     (json_int_t)t->right, "kappa", tb_json_of(kappa_members, &t->kappa), "needed",
                     TB_DRILLS_ENOUGH, "rates_enough", t->answered >= TB_DRILLS_ENOUGH, "classes", classes,
                     "confusion", rows, "cues", tb_json_all(cue_members, t->cue, t->cues), "practise",
                     practise, "doubled", (json_int_t)t->pairs, "doubled_kappa",
                     tb_json_of(kappa_members, &t->doubled));
}

json_t *tb_json_testers(const struct tb_drill_scores *d)
{
    json_t *list = json_array(), *together = json_null();

    for (size_t i = 0; i < d->testers; i++)
        tb_json_push(list, tb_json_tester(d, &d->tester[i]));
    if (d->swatches) {
        together = json_pack("{s:I}", "swatches", (json_int_t)d->swatches);
        tb_json_add(together, fleiss_members, TB_COUNT(fleiss_members), &d->together);
    }
    return json_pack("{s:I, s:o, s:o}", "dealt", (json_int_t)d->dealt, "testers", list, "together", together);
}

json_t *tb_json_drill(const struct tb_drill_outcome *o)
{
    json_t *list = json_array();

    for (size_t i = 0; i < o->n; i++) {
        char card[TB_CARD_NAME];

        tb_json_push(list, json_pack("{s:s, s:s}", "card", tb_card_words(card, o, i), "swatch", o->tag[i]));
    }
    return json_pack("{s:I, s:o, s:s, s:o}", "drill", (json_int_t)o->drill, "tester", tb_json_text(o->to),
                     "seed", o->seed, "cards", list);
}

json_t *tb_json_answer(const char *card, const struct tb_answer_outcome *o)
{
    return json_pack("{s:s, s:s, s:s, s:s, s:b}", "card", card, "answer", o->answer, "known", o->card.known,
                     "burn", o->burn.id, "right", o->right);
}
