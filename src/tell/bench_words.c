/* bench_words.c - swatches, burns and tests in words, with those that were corrected. */
#include "base/say.h"
#include "tenterbook/fibre_words.h"
#include "tenterbook/seen_words.h"
#include "tenterbook/tell.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define LATER 120 /* room for when something was typed up */

/* The day it was typed up, where that is another than the day it burned. */
static const char *later_words(char out[LATER], enum tb_tongue to, const struct tb_burn *u)
{
    char on[TB_PLAIN];

    *out = '\0';
    if (tb_burn_typed_later(u))
        (void)snprintf(out, LATER, tb_tr(to, " (typed up later, %s)"),
                       tb_tongue_date(on, to, u->recorded_at));
    return out;
}

/* At the terminal names, which are what is typed; on a paper what they mean. */
static const char *cue_words(enum tb_tongue to, const char *key)
{
    return to == TB_READER ? key : tb_cue_in(to, key);
}

static void looked_words(struct tb_text *out, enum tb_tongue to, const char *keys)
{
    if (to == TB_READER)
        tb_text_add(out, keys);
    else
        tb_channels_in(out, to, keys);
}

static void cues_words(struct tb_text *out, enum tb_tongue to, const struct tb_burn *u)
{
    for (size_t k = 0; k < u->cues; k++) {
        tb_text_add(out, k ? tb_tr(to, ", ") : "");
        tb_text_addf(out, u->cue[k].seen ? "%s" : tb_tr(to, "not %s"), cue_words(to, u->cue[k].cue));
    }
    tb_text_add(out, u->cues ? tb_tr(to, "; ") : "");
}

/* How it was burned, where that was said. */
static void flame_words(struct tb_text *out, const struct tb_burn *u)
{
    struct tb_text how = { 0 };

    if (*u->flame)
        tb_part(&how, _("lit with: %s"), u->flame);
    if (!isnan(u->sample_mm))
        tb_part(&how, _("longest side: %g mm"), u->sample_mm);
    if (*u->at_hand)
        tb_part(&how, _("at hand: %s"), u->at_hand);
    if (u->dead_at)
        tb_part(&how, _("residue dead at %s"), u->dead_at);
    if (how.n)
        tb_text_addf(out, "  %s\n", how.s);
    tb_text_free(&how);
}

/* The channels that were looked at are told apart from what was seen: nothing seen there is a finding too. */
static void burn_words(struct tb_text *out, enum tb_tongue to, const struct tb_burn *u)
{
    struct tb_text cues = { 0 }, looked = { 0 };
    char later[LATER];

    if (*u->bolt_number)
        tb_text_addf(out, tb_tr(to, "Burn %s: swatch %s, %s of bolt %s, by %s at %s%s\n"), u->id, u->tag,
                     to == TB_READER ? tb_part_key(u->part) : tb_part_in(to, u->part), u->bolt_number,
                     u->burned_by, u->burned_at, later_words(later, to, u));
    else
        tb_text_addf(out, tb_tr(to, "Burn %s: swatch %s, by %s at %s%s\n"), u->id, u->tag, u->burned_by,
                     u->burned_at, later_words(later, to, u));
    cues_words(&cues, to, u);
    looked_words(&looked, to, u->looked);
    tb_text_addf(out, tb_tr(to, "  %slooked at: %s\n"), tb_text_str(&cues), tb_text_str(&looked));
    tb_text_clear(&looked);
    looked_words(&looked, to, u->could_not);
    if (*u->could_not)
        tb_text_addf(out, tb_tr(to, "  could not be judged: %s\n"), tb_text_str(&looked));
    if (to == TB_READER)
        flame_words(out, u);
    if (*u->note)
        tb_text_addf(out, "  %s\n", u->note);
    tb_text_free(&cues);
    tb_text_free(&looked);
}

/* Names of the photographs kept with a record or a swatch. */
static void photo_words(struct tb_text *out, const struct tb_bench_records *r, const char *subject)
{
    struct tb_text names = { 0 };

    for (size_t i = 0; i < r->photos; i++)
        if (strcmp(r->photo[i].subject, subject) == 0)
            tb_text_addf(&names, "%s%s", names.n ? ", " : "", r->photo[i].name);
    if (names.n)
        tb_text_addf(out, _("  photographs: %s\n"), names.s);
    tb_text_free(&names);
}

static void moved_words(struct tb_text *out, const struct tb_bench_records *r, const char *id)
{
    for (size_t i = r->moveds; i-- > 0;) {
        const struct tb_moved *m = &r->moved[i];

        if (strcmp(m->record, id) != 0)
            continue;
        tb_text_addf(out, _("  moved here from swatch %s, by %s at %s: %s\n"), m->from_tag, m->moved_by,
                     m->moved_at, m->why);
        return; /* what it had corrected there was moved with it */
    }
}

/* What a result is called on a paper; a name that this program does not know stays. */
static void test_words(struct tb_text *out, enum tb_tongue to, const struct tb_bench_test *t)
{
    struct tb_text result = { 0 };

    if (to == TB_READER)
        tb_text_add(&result, t->result);
    else
        tb_results_in(&result, to, t->test, t->result);
    tb_text_addf(out, tb_tr(to, "Test %s: swatch %s, %s: %s, by %s at %s\n"), t->id, t->tag,
                 to == TB_READER ? t->test : tb_channel_in(to, t->test), tb_text_str(&result), t->tested_by,
                 t->tested_at);
    tb_text_free(&result);
}

/* Every chain of corrections ends in a record that counts, so that none is left out. */
static void corrected_burns(struct tb_text *out, const struct tb_burn *by,
                            const struct tb_bench_records *before)
{
    for (size_t i = before->burns; by->replaces && i-- > 0;) {
        const struct tb_burn *u = &before->burn[i];

        if (strcmp(u->id, by->replaces) != 0)
            continue;
        burn_words(out, TB_READER, u);
        tb_text_addf(out, _("  corrected: burn %s stands in its place\n"), by->id);
        by = u;
    }
}

static void corrected_tests(struct tb_text *out, const struct tb_bench_test *by,
                            const struct tb_bench_records *before)
{
    for (size_t i = before->tests; by->replaces && i-- > 0;) {
        const struct tb_bench_test *t = &before->test[i];

        if (strcmp(t->id, by->replaces) != 0)
            continue;
        test_words(out, TB_READER, t);
        tb_text_addf(out, _("  corrected: test %s stands in its place\n"), by->id);
        by = t;
    }
}

void tb_bench_words(struct tb_text *out, const struct tb_bench_records *now,
                    const struct tb_bench_records *before)
{
    for (size_t i = 0; i < now->burns; i++) {
        burn_words(out, TB_READER, &now->burn[i]);
        photo_words(out, now, now->burn[i].id);
        moved_words(out, now, now->burn[i].id);
        corrected_burns(out, &now->burn[i], before);
    }
    for (size_t i = 0; i < now->tests; i++) {
        test_words(out, TB_READER, &now->test[i]);
        moved_words(out, now, now->test[i].id);
        corrected_tests(out, &now->test[i], before);
    }
}

void tb_void_records_words(struct tb_text *out, enum tb_tongue to, const struct tb_bench_records *r)
{
    for (size_t i = 0; i < r->burns; i++) {
        burn_words(out, to, &r->burn[i]);
        tb_text_add(out, tb_tr(to, "  void: it counts nowhere\n"));
    }
    for (size_t i = 0; i < r->tests; i++) {
        test_words(out, to, &r->test[i]);
        tb_text_add(out, tb_tr(to, "  void: it counts nowhere\n"));
    }
}

/* The swatch, who cut it and when, where its unburnt half is kept. */
static void swatch_words(struct tb_text *out, const struct tb_swatch *s)
{
    if (s->lot)
        tb_text_addf(out, _("Swatch %s: %s of bolt %s, lot %s, cut by %s at %s\n"), s->tag,
                     tb_part_key(s->part), s->bolt_number, s->lot_ref, s->cut_by, s->cut_at);
    else
        tb_text_addf(out, _("Swatch %s: known cloth, %s, cut by %s at %s\n"), s->tag, s->known, s->cut_by,
                     s->cut_at);
    if (*s->kept)
        tb_text_addf(out, _("  the unburnt half is kept: %s\n"), s->kept);
}

static void waiting_words(struct tb_text *out)
{
    tb_text_add(out, _("  not burnt and not tested yet\n"));
}

void tb_swatches_waiting_words(struct tb_text *out, const struct tb_lot_story *s)
{
    for (size_t i = 0; i < s->swatches; i++) {
        const char *id = s->swatch[i].id;
        bool used = false;

        for (size_t k = 0; k < s->burns && !used; k++)
            used = strcmp(s->burn[k].swatch, id) == 0;
        for (size_t k = 0; k < s->tests && !used; k++)
            used = strcmp(s->test[k].swatch, id) == 0;
        if (used)
            continue;
        swatch_words(out, &s->swatch[i]);
        photo_words(out, &(struct tb_bench_records){ .photo = s->photo, .photos = s->photos }, id);
        waiting_words(out);
    }
}

/* Whether the swatch itself is void, or its bolt, or its lot; not only what was seen of it. */
static bool is_void(const struct tb_swatch_story *s)
{
    for (size_t i = 0; i < s->voidings; i++)
        if (strcmp(s->voiding[i].about, "burn") != 0 && strcmp(s->voiding[i].about, "bench_test") != 0)
            return true;
    return false;
}

void tb_swatch_story_words(struct tb_text *out, const struct tb_swatch_story *s)
{
    const struct tb_voidings gone = { .voiding = s->voiding, .n = s->voidings };

    swatch_words(out, &s->swatch);
    photo_words(out, &s->now, s->swatch.id);
    tb_voidings_words(out, TB_READER, &gone);
    if (!is_void(s) && !s->now.burns && !s->now.tests)
        waiting_words(out);
    tb_bench_words(out, &s->now, &s->before);
    tb_void_records_words(out, TB_READER, &s->gone);
    if (s->swatch.lot)
        tb_text_addf(out, _("All about its lot: tenterbook look %s\n"), s->swatch.lot_ref);
}
