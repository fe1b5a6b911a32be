/* What must not be done to cloth of which such words were said: it stands before all that could be done. */
#include "evidence/judge.h"

#include "gen/ref_caution.h"

#include <stdio.h>
#include <string.h>

static void note_handling(struct tb_verdict *v, const struct tb_declaration *d, int fibre)
{
    if (d->also == fibre)
        tb_verdict_note(v,
                        "Another declaration of this cloth named %s. What was declared later does not take "
                        "that back.",
                        tb_fibre_at(fibre)->name);
    if (v->handling == TB_HANDLING_FLAMELESS)
        tb_verdict_note(
            v,
            "Do not burn this cloth and do not heat it: it was declared to hold %s, which frees toxic "
            "gas in a flame. Test it without a flame, by people who may handle it, or send it to a "
            "laboratory.",
            tb_fibre_at(fibre)->name);
    else
        tb_verdict_note(v,
                        "Stop: this cloth was declared to hold %s. Do not burn, cut, ravel, wet or fray it; "
                        "seal it, mark it, and ask a person or a laboratory licensed for it. The local law "
                        "on such material comes before anything said here.",
                        tb_fibre_at(fibre)->name);
}

/* A misspelt word is never taken for the nearest one, but it may be one of which cloth must not be lit. */
static void note_misspelt(struct tb_verdict *v, const struct tb_declaration *d)
{
    for (size_t i = 0; i < d->n; i++) {
        int fibre = d->doubt[i].choices ? tb_fibre_by_key(d->doubt[i].choices) : -1;

        if (fibre >= 0 && tb_fibre_at(fibre)->handling > v->handling)
            tb_verdict_note(v, "'%.*s' may mean %s: until that is settled, do not burn or cut this cloth.",
                            (int)d->doubt[i].len, d->text + d->doubt[i].at, tb_fibre_at(fibre)->name);
    }
}

/* What burns of cloth with a declared finish may free, in the words of the table of cautions. */
static void note_finishes(struct tb_verdict *v, const struct tb_declaration *d)
{
    for (size_t i = 0; i < tb_ref_caution_n; i++) {
        char of[80];

        for (int z = 0; z < (int)tb_finish_count(); z++) {
            (void)snprintf(of, sizeof of, "finish:%s", tb_finish_key(z));
            if (d->finish & 1u << z && strcmp(tb_ref_caution[i].test, "burn") == 0 &&
                strcmp(tb_ref_caution[i].fibres, of) == 0)
                tb_verdict_note(v, "%s", tb_ref_caution[i].say);
        }
    }
}

void tb_take_care(struct tb_verdict *v, const struct tb_declaration *d)
{
    int fibre;

    v->handling = tb_declaration_handling(d, &fibre);
    v->spare_flame = v->handling != TB_HANDLING_ANY || d->finish & 1u << tb_finish_by_key("flame_retardant");
    if (fibre >= 0)
        note_handling(v, d, fibre);
    note_misspelt(v, d);
    if (v->handling == TB_HANDLING_ANY) /* else nobody burns it */
        note_finishes(v, d);
}
