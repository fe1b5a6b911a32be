/* judge.h - inside the evidence module: one question from what was asked to what is answered. */
#ifndef TENTERBOOK_EVIDENCE_JUDGE_H
#define TENTERBOOK_EVIDENCE_JUDGE_H

#include "evidence/declared.h"

#define TB_GROUPS_MOST 4 /* parts burned apart that one declaration may be spread over */

/* The burns of one part, and what was declared of it. */
struct tb_group {
    enum tb_part_kind part;
    struct tb_pattern *pattern; /* n */
    size_t n;
    struct tb_sums sums;
    struct tb_declared_blend declared;
    bool spread;                      /* several parts share one declared composition */
    bool could_not[TB_CHANNELS_MOST]; /* somebody who burned it could not judge that: another person may */
};

struct tb_question {
    const struct tb_evidence *ev;
    const struct tb_kernel *kernel;
    struct tb_group group[TB_GROUPS_MOST];
    size_t n;
    double log_declared, log_else;
    double log_else_most; /* log_else, and all that was left out of the sums with it */
    bool one_cloth;       /* all of it is of one bolt, or of a lot of which no bolts are told apart */
};

/* A question with its verdict: all observations together, or those of one set. Zero-initialise. */
struct tb_asked {
    struct tb_question q;
    struct tb_verdict v;
    struct tb_text reason, notes;
    bool ok;                       /* it can be judged; else the verdict has its reason */
    bool unsure;                   /* its grade hangs on what was left out of the sums */
    bool loose;                    /* its ratio within the bounds does */
    const struct tb_asked *before; /* borrowed: the same as it was, where it is weighed roughly; NULL */
    double leave;                  /* then so much of what it was may be left out, a share */
};

/*
 * What is judged: n observations with their readings, held against a declaration. `set` as in
 * tb_evidence_judge_sets.
 */
struct tb_subject {
    const struct tb_evidence *ev;
    const struct tb_declaration *decl;
    const struct tb_observation *obs;
    size_t n;
    const size_t *set;
    struct tb_recall *recall; /* may be NULL */
    struct tb_readings readings;
    const struct tb_asked
        *before;         /* the answers for [1 + set], where only some sets are another since; else NULL */
    const bool *touched; /* [set]: it is another */
    /* where there are answers before, compositions may be left out that together had no more than this share then; 0: none */
    double leave;
    bool together; /* of all observations together none is left out all the same */
    bool unsure;   /* some grade hangs on what was left out */
    bool loose;    /* the ratio of the verdict that tells does, within its bounds */
};
/*
 * tb_subject_judge - as tb_evidence_judge_sets; s->readings are made here. Of a set that is as before no more is told than how it
 * was graded.
 */
tb_rc tb_subject_judge(struct tb_verdict *together, struct tb_verdict *alone, struct tb_subject *s,
                       size_t sets, unsigned want, struct tb_err *err);
/*
 * tb_asked_open - as far as it goes before anything is weighed: which burns the question has, what was declared of
 * each part, and why it cannot be judged. Free with tb_asked_free, after a failure too.
 *
 *   only   the set asked of; ignored where `all`
 *   fails  TB_EINVAL: burns of a part the declaration does not have, or of more than TB_GROUPS_MOST parts
 */
tb_rc tb_asked_open(struct tb_asked *a, const struct tb_subject *s, bool all, size_t only,
                    struct tb_err *err);
/* Free what is in it, a verdict that was not handed on included. */
void tb_asked_free(struct tb_asked *a);
/* a[0] asks of all observations, a[1 + set] of those of a set; of one that is as before, only how it was graded stands in its verdict. */
tb_rc tb_asked_open_all(struct tb_asked *a, const struct tb_subject *s, size_t sets, struct tb_err *err);

/* The sums of every part of n questions, of one subject or of several. What `recall` (or NULL) has is not weighed again. */
void tb_parts_weigh(struct tb_asked *a, size_t n, const struct tb_evidence *ev, struct tb_recall *recall);
/*
 * tb_subjects_recall - weigh all n subjects, `sets` each, at once, so that s->recall has them: burns that they share are worked
 * through once.
 *   fails  as tb_asked_open
 */
tb_rc tb_subjects_recall(const struct tb_subject *s, size_t n, size_t sets, struct tb_err *err);

/* log P(seen | declared) and log P(seen | anything else) of all groups together, from the parts' sums. */
void tb_question_answer(struct tb_question *q);

/* Why a burn that goes far enough against the declaration holds nothing all the same; the weaker reasons first. */
enum tb_hindered {
    TB_NOT_HINDERED,
    TB_HINDERED_BY_EACH, /* together the burns go far enough, and no burn and no bench test does by itself */
    TB_HINDERED_BY_FINISH, /* with a finish that nobody named the declared cloth explains it about as well as any other does */
    TB_HINDERED_BY_FEW, /* too few have described how a declared fibre burns, and no bench test says it */
    TB_HINDERED_BY_ONE_LOOK, /* without one look the rest is no reason */
};
struct tb_hindrance {
    enum tb_hindered by;
    int which; /* number of the finish, or of the fibre in the fibre table; -1 */
};
/*
 * The same of a question that is answered: of its parts the one that is hindered least. docs/method.md, section 7.
 *   below  what contradicts is below this ratio
 */
struct tb_hindrance tb_hindrance_of(const struct tb_question *q, double below);
/* Yarns that are pulled out leave a coating behind; a coating burned by itself is no finish of its own. */
bool tb_part_is_coated(enum tb_part_kind part);
/* Would a coating or a film on the declared cloth, of which nothing was said, explain it about as well as any other cloth does? */
bool tb_may_be_coated(const struct tb_question *q);
/* Would what was left out of the sums change what is at odds? */
bool tb_odds_unsure(const struct tb_question *q);
/* The first pattern of a group that the person of pattern i made. */
size_t tb_first_of_person(const struct tb_group *g, size_t i);
/*
 * Natural logarithm of the ratio of one part where only channels keep[i] (bits) of each pattern i were looked at, against all pure
 * cloths that are not as declared; 0 where nothing is left.
 */
double tb_log_ratio_of_channels(const struct tb_question *q, const struct tb_group *g, const unsigned *keep);
/* How many looks there were: channels, by each person and of each part. */
size_t tb_looks_of(const struct tb_question *q);
/* Does what fits it rest on more than one look? */
bool tb_fits_by_more(const struct tb_question *q);
/*
 * tb_at_odds - does one bench test, or one burn, say the opposite of another, or of all the rest? A note names both sides.
 *   high, low  all of it together is far enough for the declaration to fit, or against it to contradict
 */
bool tb_at_odds(struct tb_verdict *v, const struct tb_question *q, bool high, bool low);
/*
 * tb_tests_agree - are bench tests of two kinds, each of several swatches, for the declaration, and one channel of the burns alone
 * against it? A note names that. To be asked where the ratio is against the declaration; agree.c.
 */
bool tb_tests_agree(struct tb_verdict *v, const struct tb_question *q);
/* The one channel of the burns that is against the declaration while all the rest is for it; -1: it is not so. */
int tb_lone_channel(const struct tb_question *q);
/* May a burn fit, as far as a finish that is declared goes? untried.c. */
bool tb_untried_fits(const struct tb_question *q);
/* Did two persons or more see what is against the declaration in this channel? Then a third one adds little. */
bool tb_two_agree(const struct tb_question *q, enum tb_part_kind part, int channel);
/* The same of the channel that is most against it. */
bool tb_two_agree_against(const struct tb_question *q);
/* A bench test (its channel), or (TB_STEP_BURN) a burn, by one person, of a part. */
struct tb_odd_act {
    enum tb_part_kind part;
    size_t person; /* as the readings number them */
    int channel;
    const struct tb_terms
        *burn; /* of a burn what it says, borrowed; NULL: all that this person burned of the part */
};
/* The acts of one side of what is at odds, for the declaration (`pro`) or against it; high and low as above. Yours to free. */
size_t tb_odd_acts(struct tb_odd_act **out, const struct tb_question *q, bool pro, bool high, bool low);
/* log P(observations of n patterns | declared) of one part by itself. */
double tb_group_log_declared(const struct tb_question *q, const struct tb_group *g,
                             const struct tb_pattern *pattern, size_t n);
/* The commonest fibre, of the fibre table, of which alone what was seen would be three times likelier than as declared; -1: none. */
int tb_outdone_by(const struct tb_question *q);
/*
 * The commonest fibre, of the fibre table, of which a part beside what is declared makes all that was seen twice as likely, where it
 * smelled of both or both were seen under the microscope; -1: none.
 */
int tb_mixed_with(const struct tb_question *q);
/* Does the declared cloth show a fibre that is bought for its safety in a flame? */
bool tb_protective(const struct tb_evidence *ev, const struct tb_declared_blend *d);
/* Did it burn quickly, or go on burning out of the flame, in some burn? */
bool tb_burns_on(const struct tb_group *g);
/*
 * The commonest fibre, of the fibre table, that would burn about as well like this with a flame retardant in it, or, where it burned on, without one (`bare`),
 * where the declaration names one that is bought for its safety in a flame; -1: none.
 */
int tb_imitated_by(const struct tb_question *q, bool *bare);

/* Notes on the cloth that keeps it from fitting, and on what cloth that is to stop a flame did in it; needs v->outdone, v->imitated. */
void tb_note_safety(struct tb_verdict *v, const struct tb_question *q);

/* What may be done to the cloth, into the verdict and its notes; care.c. */
void tb_take_care(struct tb_verdict *v, const struct tb_declaration *d);

/* The same of cloth that neither burned nor melted, whatever was declared, unless it fits that. */
void tb_take_mineral(struct tb_verdict *v, const struct tb_subject *s);

/* The pieces of the verdict beyond the ratio. */
struct tb_shortlist;
/* The weight of every cue into the verdict, from one part's shortlist, whose chances are used up. */
void tb_weigh_cues(struct tb_verdict *v, struct tb_shortlist *s);
/* Needs v->log_ratio; `alone`: the part is all that was burned. */
void tb_next_tests(struct tb_verdict *v, const struct tb_shortlist *s, bool alone);
/* What can always be done, behind the tests: a control burn, a laboratory. Nothing after a burn that fits. */
void tb_next_offers(struct tb_verdict *v, const struct tb_question *q);
/* The laboratory among what is offered; NULL: none is. */
const struct tb_next *tb_next_laboratory(const struct tb_verdict *v);
/*
 * tb_outcomes_take - which test would confirm the verdict of a question that is answered, and what each result of it would
 * do: all of the subject is judged again with the result added. Where none would change it, neither one alone nor one on each bolt, it
 * is said what withdrawing a mistake would do, where something is at odds; else the laboratory is named, without results.
 * Needs v->next.
 *
 *   sets     how many sets the subject has
 *   told_by  0, or 1 + the set that v and q are of: the test is made of a swatch of it
 *   fails    as tb_evidence_judge_sets
 */
tb_rc tb_outcomes_take(struct tb_verdict *v, const struct tb_question *q, const struct tb_subject *s,
                       size_t sets, size_t told_by, struct tb_err *err);
/*
 * A cloth of which nothing was declared that a burn could be held against is asked about as if the likeliest of v->likely
 * had been declared, part by part; suppose.c. tb_suppose makes the declared side of each part of that.
 */
void tb_suppose(struct tb_question *q, const struct tb_verdict *v);
/*
 * tb_outcomes_supposed - which test would tell whether it is that, and what each result of it would say of it; into v->supposed
 * too. Needs v->next.
 *   fails as tb_outcomes_take
 */
tb_rc tb_outcomes_supposed(struct tb_verdict *v, const struct tb_question *q, const struct tb_subject *s,
                           size_t sets, struct tb_err *err);
/* What one careful burn would catch: needs v->next. `recall` may be NULL. */
void tb_power_table(struct tb_verdict *v, const struct tb_question *q, const struct tb_recall *recall);
/* Notes on what a burn cannot tell of a declared blend, or of a pure cloth that fits: needs v->power; untold.c. */
void tb_note_untold(struct tb_verdict *v, const struct tb_question *q);
/* The likeliest compositions of a part whose burns are weighed, and the fibres in them, by how common each is in trade; likeliest.c. */
void tb_take_likely(struct tb_verdict *v, const struct tb_evidence *ev, const struct tb_group *g);
/* The likeliest compositions, the fibres present and the twins of each part. */
void tb_take_posterior(struct tb_verdict *v, const struct tb_question *q);
/* Of several burns the channel that carries a verdict that decides, all of them together; loudest.c. */
void tb_note_loudest(struct tb_verdict *v, const struct tb_question *q, const struct tb_group *g);
/* The confirming test is of no swatch and no bolt any more. */
void tb_confirm_no_swatch(struct tb_verdict *v);
/* One plain sentence more; it is kept with the verdict, so that it is not translated here. */
void tb_verdict_note(struct tb_verdict *v, const char *fmt, ...) TB_PRINTF(2, 3);

#endif
