/* What must not be done to cloth of which such words were said: it stands before all that could be done. */
#include "evidence/judge.h"

#include "gen/ref_caution.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void note_handling(struct tb_verdict *v, const struct tb_declaration *d, int fibre)
{
    if (d->also == fibre && d->found)
        tb_verdict_note(v, "A laboratory found %s in this cloth, whatever was declared of it.",
                        tb_fibre_at(fibre)->name);
    else if (d->also == fibre)
        tb_verdict_note(v,
                        "Another declaration of this cloth named %s. What was declared later does not take "
                        "that back.",
                        tb_fibre_at(fibre)->name);
    if (v->handling == TB_HANDLING_FLAMELESS)
        tb_verdict_note(
            v,
            "Do not burn this cloth and do not heat it: it was declared or found to hold %s, which in a "
            "flame frees toxic gas or burns explosively. Test it without a flame, by people who "
            "may handle it, or send it to a "
            "laboratory.",
            tb_fibre_at(fibre)->name);
    else
        tb_verdict_note(
            v,
            "Stop: this cloth was declared or found to hold %s. Do not burn, cut, ravel, wet or fray it; "
            "seal it, mark it, and ask a person or a laboratory licensed for it. The local law "
            "on such material comes before anything said here.",
            tb_fibre_at(fibre)->name);
}

/* A misspelt word is never taken for the nearest one, but it may be one of which cloth must not be lit. */
static void note_misspelt(struct tb_verdict *v, const struct tb_declaration *d)
{
    for (size_t i = 0; i < d->n; i++) {
        int fibre = d->doubt[i].choices ? tb_fibre_by_key(d->doubt[i].choices) : -1;

        if (fibre >= 0 && tb_fibre_at(fibre)->handling > v->handling) {
            char *word = tb_strndup(d->text + d->doubt[i].at, d->doubt[i].len);

            tb_verdict_note(v, "'%s' may mean %s: until that is settled, do not burn or cut this cloth.",
                            word, tb_fibre_at(fibre)->name);
            free(word);
        }
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

/*
 * What a mineral fibre shows in a flame; whatever else was seen did something. A binder or a lubricant smells and smokes a little,
 * soot of the flame blackens what does not burn, and bench tests may say what they like.
 */
static bool is_mineral_look(int cue)
{
    static const char *const look[] = {
        "approach:no_reaction", "in_flame:does_not_burn",  "in_flame:glows", "smoke:none", "smoke:little",
        "smoke:light",          "residue_form:keeps_shape"
    };
    struct tb_channel channel;
    struct tb_cue info;

    for (size_t i = 0; i < TB_COUNT(look); i++)
        if (cue == tb_cue_by_key(look[i]))
            return true;
    tb_cue_at(&info, cue);
    tb_channel_at(&channel, info.channel);
    return channel.bench || info.channel == tb_channel_by_key("odour") ||
           info.channel == tb_channel_by_key("residue_colour");
}

/* What did not burn leaves no ash: so its grey dust is called. A bead or a char says that it melted or burned. */
static bool is_dust(int cue)
{
    static const char *const dust[] = { "residue_form:ash", "residue_form:little_ash",
                                        "residue_form:light_fluffy_ash" };

    for (size_t i = 0; i < TB_COUNT(dust); i++)
        if (cue == tb_cue_by_key(dust[i]))
            return true;
    return false;
}

static bool shows(const struct tb_observation *o, const char *key)
{
    return o->sight[tb_cue_by_key(key)] == TB_SIGHT_SEEN;
}

/* What glows and keeps its shape is out at once. */
bool tb_observation_mineral(const struct tb_observation *o)
{
    bool stays = shows(o, "residue_form:keeps_shape"), unburnt = shows(o, "in_flame:does_not_burn");
    int out = tb_cue_by_key("removed:out_at_once"), self = tb_cue_by_key("removed:self_extinguishes");

    for (int c = 0; c < (int)tb_cue_count(); c++)
        if (o->sight[c] == TB_SIGHT_SEEN && !is_mineral_look(c) && !(unburnt && is_dust(c)) &&
            !(stays && (c == out || c == self)))
            return false;
    return unburnt || (stays && (shows(o, "approach:no_reaction") || shows(o, "in_flame:glows")));
}

/* Where the declaration fits, it names cloth that may behave so, and the work goes on with care; elsewhere it stops. */
void tb_take_mineral(struct tb_verdict *v, const struct tb_subject *s)
{
    bool mineral = false;

    for (size_t i = 0; i < s->n; i++)
        mineral |= tb_observation_mineral(&s->obs[i]);
    if (!mineral || v->handling == TB_HANDLING_LABORATORY)
        return;
    v->spare_flame = true;
    if (v->grade == TB_GRADE_FITS) {
        v->unburnable = true;
        tb_verdict_note(
            v, "Caution: this cloth neither burned nor melted, and asbestos does neither too: burning cannot "
               "tell it from glass or any other mineral fibre. Where it may be old, or nobody answers for "
               "where it comes from, do not fray, tease or ravel it, do not cut it dry and do not burn it "
               "again; seal it, mark it, and ask a person or a laboratory licensed for it. The local law on "
               "such material comes before anything said here.");
        return;
    }
    v->handling = TB_HANDLING_LABORATORY;
    tb_verdict_note(v, "Stop: cloth that neither burns nor melts may be asbestos, which burning cannot tell "
                       "from glass or any other mineral fibre. Do not fray, tease or ravel it, do not cut it "
                       "dry and do not burn it again; seal it, mark it, and ask a person or a laboratory "
                       "licensed for it. The local law on such material comes before anything said here.");
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
