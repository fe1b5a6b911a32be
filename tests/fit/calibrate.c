/*
 * calibrate - how often the model is right on the published burns, each family of sources left out in turn.
 *
 *   calibrate              prints one line a judgement: family,fibre,declared,true,grade,log_ratio
 *   calibrate short        the same of burns of which one to three channels were looked at, the number in front: of each
 *                          account some of its channels, drawn with a fixed seed
 *   calibrate lots         prints one line a lot: persons,fibre,declared,true,grade; a lot is three bolts, each burned as
 *                          another family describes the fibre, all three left out of the counts, by one person or by three
 */
#include "accounts.h"

#define SHORT_LOOKS 3
#define DRAWS                                                                                                \
    10 /* of each account, for each number of looks: with two, chance moved the bounds by half of themselves */
#define BOLTS 3

static void judge_all(void)
{
    (void)printf(JUDGED_HEAD);
    for (size_t i = 0; i < accounts; i++)
        if (first_of_family(i))
            judge_family(account[i].family, NULL, NULL, print_judged, "");
}

/* --- short burns ------------------------------------------------------------------------------------------- */

/* So many of the channels that were looked at, drawn; false where there are not more than that. */
static bool shorten(struct tb_observation *o, size_t looks, uint64_t *seed)
{
    int channel[TB_CHANNELS_MOST];
    size_t n = 0;

    for (int c = 0; c < (int)tb_channel_count(); c++)
        if (o->looked[c])
            channel[n++] = c;
    if (n < looks)
        return false;
    for (; n > looks; n--) {
        size_t at = drawn(seed, n);
        struct tb_channel ch;

        tb_channel_at(&ch, channel[at]);
        o->looked[channel[at]] = 0;
        for (int c = ch.first; c < ch.first + ch.n; c++)
            o->sight[c] = TB_SIGHT_NONE;
        channel[at] = channel[n - 1];
    }
    return true;
}

static void judge_short(void)
{
    static const char *const looks_text[SHORT_LOOKS] = { "1,", "2,", "3," };
    uint64_t seed = 20261126;

    (void)printf("looks," JUDGED_HEAD);
    for (size_t f = 0; f < accounts; f++) {
        struct tb_evidence *ev;

        if (!first_of_family(f))
            continue;
        ev = without_family(account[f].family, NULL, NULL);
        for (size_t i = f; i < accounts; i++)
            for (size_t k = 0; k < (size_t)SHORT_LOOKS * DRAWS; k++) {
                struct tb_observation o = account[i].seen;

                if (strcmp(account[i].family, account[f].family) == 0 && shorten(&o, 1 + k / DRAWS, &seed))
                    judge_burn(ev, &account[i], &o, print_judged, (void *)looks_text[k / DRAWS]);
            }
        tb_evidence_free(ev);
    }
}

/* --- lots -------------------------------------------------------------------------------------------------- */

/* The verdict on a lot is that of all its burns together, or of the bolt that is heard in their place (src/work/judge.c). */
static enum tb_grade grade_of(const struct tb_verdict *together, const struct tb_verdict *alone)
{
    return together->by_set ? alone[together->by_set - 1].grade : together->grade;
}

/* `persons`: 1 or BOLTS. */
static void judge_lot(const struct account *const bolt[BOLTS], size_t persons)
{
    static const char *const tester[BOLTS] = { "A", "B", "C" };
    struct tb_known_burn away[BOLTS];
    struct tb_observation seen[BOLTS];
    size_t set[BOLTS];
    struct tb_evidence *ev = NULL;
    struct tb_recall *recall;
    struct tb_err err = { 0 };

    for (size_t b = 0; b < BOLTS; b++) {
        away[b] = (struct tb_known_burn){ bolt[b]->fibre, bolt[b]->seen, -1, NULL };
        seen[b] = bolt[b]->seen;
        seen[b].person = tester[b % persons];
        set[b] = b;
    }
    if (tb_evidence_new(&ev, NULL, away, BOLTS, &err) != TB_OK)
        stop(&err);
    recall = tb_recall_new(ev);
    for (size_t d = 0; d < DECLARED; d++) {
        struct tb_declaration decl;
        struct tb_verdict together = { 0 }, alone[BOLTS] = { { 0 } };

        declare(&decl, d);
        if (tb_evidence_judge_sets(&together, alone, ev, recall, &decl, seen, BOLTS, set, BOLTS, 0, &err) !=
            TB_OK)
            stop(&err);
        (void)printf("%zu,%s,%s,%d,%s\n", persons, tb_fibre_at(bolt[0]->fibre)->key, declared[d],
                     is_true(d, bolt[0]), tb_word(&tb_grade_words, (int)grade_of(&together, alone)));
        tb_verdict_free(&together);
        for (size_t b = 0; b < BOLTS; b++)
            tb_verdict_free(&alone[b]);
        tb_declaration_free(&decl);
    }
    tb_recall_free(recall);
    tb_evidence_free(ev);
}

/* The families that describe a fibre, three by three; each has a say in one lot of it. */
static void judge_lots(void)
{
    (void)printf("persons,fibre,declared,true,grade\n");
    for (size_t f = 0; f < tb_ref_burn_fibre_n; f++) {
        const struct account *bolt[BOLTS];
        size_t n = 0;

        for (size_t i = 0; i < accounts; i++)
            if (account[i].fibre == tb_fibre_by_key(tb_ref_burn_fibre[f].fibre) &&
                cues_said(&account[i].seen) >= LEAST_CUES) {
                bolt[n++] = &account[i];
                for (size_t persons = 1; n == BOLTS && persons <= BOLTS; persons += BOLTS - 1)
                    judge_lot(bolt, persons);
                n %= BOLTS;
            }
    }
}

int main(int argc, char **argv)
{
    const char *what = argc > 1 ? argv[1] : "";

    take_profiles();
    if (strcmp(what, "lots") == 0)
        judge_lots();
    else if (strcmp(what, "short") == 0)
        judge_short();
    else
        judge_all();
    return 0;
}
