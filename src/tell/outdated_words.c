/* outdated_words.c - which verdicts have to be reached again, in a sentence and as JSON. */
#include "base/say.h"
#include "tenterbook/json.h"
#include "tenterbook/tell.h"

#define NAMED 8 /* lots by name in a sentence */

void tb_outdated_refs(struct tb_text *out, const struct tb_outdated *o)
{
    size_t named = 0;

    for (size_t i = 0; i < o->n; i++) {
        if (o->lot[i].unseen)
            continue;
        if (named++ < NAMED)
            tb_part(out, "%s", o->lot[i].ref);
    }
    if (named > NAMED)
        tb_text_addf(out, _(" and %zu more"), named - NAMED);
}

void tb_outdated_words(struct tb_text *out, const struct tb_outdated *o)
{
    struct tb_text refs = { 0 };
    size_t unseen = o->n - o->otherwise;

    tb_outdated_refs(&refs, o);
    if (o->otherwise)
        tb_text_addf(
            out,
            _n("Judge again: %zu verdict would be another by what is known today: %s (tenterbook judge).\n",
               "Judge again: %zu verdicts would be others by what is known today: %s (tenterbook judge).\n",
               o->otherwise),
            o->otherwise, refs.s);
    if (unseen)
        tb_text_addf(out,
                     _n("%zu verdict was weighed with other known cloth, drills or figures than those of "
                        "today: judging it again shows whether it is still so.\n",
                        "%zu verdicts were weighed with other known cloth, drills or figures than those of "
                        "today: judging them again shows whether they are still so.\n",
                        unseen),
                     unseen);
    tb_text_free(&refs);
}

void tb_outdated_lot_words(struct tb_text *out, const struct tb_outdated *o, const char *ref)
{
    const struct tb_outdated_lot *lot = tb_outdated_find(o, ref);

    if (lot && lot->unseen)
        tb_text_say(out,
                    "Its verdict was weighed with other known cloth, drills or figures than those of today: "
                    "tenterbook judge %s shows whether it is still so.\n",
                    ref);
    else if (lot)
        tb_text_say(
            out, "Judge again: its verdict would be another by what is known today (tenterbook judge %s).\n",
            ref);
}

json_t *tb_json_outdated(const struct tb_outdated *o)
{
    json_t *otherwise = json_array(), *unseen = json_array();

    for (size_t i = 0; i < o->n; i++)
        tb_json_push(o->lot[i].unseen ? unseen : otherwise, tb_json_text(o->lot[i].ref));
    return json_pack("{s:o, s:o}", "otherwise", otherwise, "other_figures", unseen);
}

json_t *tb_json_outdated_lot(const struct tb_outdated *o, const char *ref)
{
    const struct tb_outdated_lot *lot = tb_outdated_find(o, ref);

    return lot ? json_string(lot->unseen ? "other_figures" : "otherwise") : json_null();
}
