/* How testers do: what to practise, and their scores as JSON. */
#include "base/say.h"
#include "tenterbook/tell.h"

/* What was mistaken for what, then the cues that others saw on the same swatches. */
void tb_practise_words(struct tb_text *out, const struct tb_drill_tester *t)
{
    for (size_t i = 0; i < t->mistakes; i++) {
        const struct tb_drill_mistake *m = &t->mistake[i];

        tb_text_addf(out,
                     _n("%s was named %s %ld time of %ld: burn known swatches of both side by side",
                        "%s was named %s %ld times of %ld: burn known swatches of both side by side",
                        m->times),
                     m->was, m->named, m->times, m->of);
        tb_text_add(out, "\n");
    }
    for (size_t i = 0; i < t->cues; i++) {
        const struct tb_drill_cue *c = &t->cue[i];

        if (!c->missed)
            continue;
        tb_text_addf(
            out,
            _n("%s was reported %ld time of %ld, by others on the same swatches %ld of %ld: look for it",
               "%s was reported %ld times of %ld, by others on the same swatches %ld of %ld: look for it",
               c->seen),
            c->cue, c->seen, c->looked, c->others_seen, c->others_looked);
        tb_text_add(out, "\n");
    }
}

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
