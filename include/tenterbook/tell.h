/*
 * tell.h - records in words and as JSON, the same wherever they are shown: on a terminal, on a page, on paper.
 *
 * Words are in the reader's language. Functions with an `out` add to it. JSON is a new reference, yours to json_decref;
 * its keys and the meaning of its values stay as they are from one release to the next.
 */
#ifndef TENTERBOOK_TELL_H
#define TENTERBOOK_TELL_H

#include "tenterbook/act_amend.h"
#include "tenterbook/act_bench.h"
#include "tenterbook/act_draw.h"
#include "tenterbook/act_drill.h"
#include "tenterbook/act_intake.h"
#include "tenterbook/act_lab.h"
#include "tenterbook/act_void.h"
#include "tenterbook/address.h"
#include "tenterbook/bench_day.h"
#include "tenterbook/concluded.h"
#include "tenterbook/json.h"
#include "tenterbook/label_lot.h"
#include "tenterbook/lot_story.h"
#include "tenterbook/outdated.h"
#include "tenterbook/stored_verdict.h"
#include "tenterbook/todo.h"

/* ---- figures ------------------------------------------------------------------------------------------- */

/*
 * "26 to 1 for it", "at least 40 to 1 against it", "about even", "35 to 1 for it (limit not tested)": a natural logarithm of an evidence ratio, said no further
 * than `of`, the bounds of the verdict (NULL: tb_bounds_published); NAN: not judged.
 */
void tb_ratio_words(struct tb_text *out, enum tb_tongue to, double log_ratio, const struct tb_bounds *of);
/* The same of a verdict; of what contradicts itself no ratio says which of it is the mistake, and that is said. */
void tb_strength_words(struct tb_text *out, enum tb_tongue to, double log_ratio, const struct tb_bounds *of,
                       bool at_odds);
/* "35 (limit not tested)": a ratio that was told, and whether its limit is one that no burns of such cloth stand behind (tb_bounds_argued). */
void tb_argued_words(struct tb_text *out, enum tb_tongue to, const char *ratio, bool argued);
/* How long goods are. */
struct tb_lengths {
    double metres;                   /* of those whose length is known; NAN: none is */
    double kg;                       /* of those that were counted in kilograms */
    int64_t bolts, derived, unknown; /* all; with a length computed from kilograms; without a known one */
    bool tenths;                     /* metres to a tenth, not to a hundredth */
    double weight_kg;                /* net, of those that were weighed besides ... */
    int64_t weighed;                 /* ... so many */
};
/* "310.50 m", "88.20 m computed from 25.30 kg", "25.30 kg, length not known", "158.00 m, 40.00 kg". */
void tb_length_words(struct tb_text *out, enum tb_tongue to, const struct tb_lengths *l);
/* Beside a figure of metres in a list: "computed from kilograms", "partly not known"; "" where it was measured. Static. */
const char *tb_length_kind(int64_t bolts, int64_t derived, int64_t unknown);
/*
 * "Sent back on 12 March 2026: 2011 (50.00 m)."; "50.00 m of it were sent back, which come to 400.00 EUR at the same price.", behind what the whole
 * lot comes to. Nothing where no bolt went back, or what it comes to is not known or is all of it.
 *   letter  days and figures in words, as a letter has them; else as a list
 */
void tb_went_back_words(struct tb_text *out, enum tb_tongue to, const struct tb_lot_story *s, bool letter);
void tb_went_back_value_words(struct tb_text *out, enum tb_tongue to, const struct tb_lot_story *s,
                              bool letter);
struct tb_lengths tb_lengths_of(const struct tb_lot *lot);
struct tb_lengths tb_lengths_of_bolt(const struct tb_bolt *bolt);
/* "1 lot", "3 lots": a count in a sentence that has others; `word` is the one that goes with n. Returns out. */
#define TB_COUNTED 160
const char *tb_counted(char out[TB_COUNTED], size_t n, const char *word);
/* "held"; "released in part: 12 of 20 bolts; held: 1" where that is so. Returns out, or static text. */
const char *tb_lot_standing_words(char out[TB_COUNTED], enum tb_tongue to, const struct tb_lot *lot);
/* A line "Note: ..." on a moment before the lot's delivery arrived, or the key "note"; nothing where it is not before. */
void tb_early_words(struct tb_text *out, const char *moment, const struct tb_lot *lot);
void tb_json_put_early(json_t *j, const char *moment, const struct tb_lot *lot);

/* ---- acts at the bench --------------------------------------------------------------------------------- */

/* The cautions of a test ("burn", "acetone") for such cloth, a line each below a heading; nothing where there are none. */
void tb_cautions_words(struct tb_text *out, const struct tb_declaration *declared, const char *test);
/* A swatch that was cut, with the cautions of a flame for its cloth: whoever shows the answer elsewhere shows them too. */
json_t *tb_json_cut(const struct tb_cut_outcome *cut, const struct tb_declaration *declared);
/* Bolts cut into, or taken back; warning: what a person is told, NULL nothing. */
json_t *tb_json_use(const struct tb_use_request *request, const struct tb_use_outcome *done,
                    const char *warning);
/* A burn, a test: with the lot, its verdict and a hold where the swatch is of a lot. */
json_t *tb_json_declared(const struct tb_rejudged *done);
json_t *tb_json_burned(const struct tb_burn_outcome *done);
json_t *tb_json_tried(const struct tb_try_outcome *done);
/* How many burns of a file, and what their lots came to. */
json_t *tb_json_burn_file(const struct tb_burn_file_outcome *done);
/* The lot that was settled; a lot with its verdict in full; what changed when all lots were judged. */
json_t *tb_json_settled(const struct tb_settle_outcome *done);
json_t *tb_json_judged_lot(const struct tb_rejudged *judged);
json_t *tb_json_judged_all(const struct tb_judge_all_outcome *done);

/*
 * What laboratories found, whether it conforms to what is declared, and that it weighs more than what burns say: said before
 * a verdict on the lot. Nothing where there is no analysis.
 *   grade  of that verdict; TB_UNGRADED: there is none
 */
void tb_laboratory_words(struct tb_text *out, enum tb_tongue to, const struct tb_laboratory *found,
                         const char *declared, enum tb_grade grade);
/* The last sentence of it alone: how what was found stands to the burns. Nothing where it settles nothing. */
void tb_laboratory_beside_words(struct tb_text *out, enum tb_tongue to, const struct tb_laboratory *found,
                                enum tb_grade grade);

/*
 * Every cue with its meaning below its channel; with words only those whose name or meaning has all of them, or one where none has
 * all, and where the words name a fibre those that published descriptions say of it. How many there are.
 */
size_t tb_cues_words(struct tb_text *out, const char *const *word, size_t n);
json_t *tb_json_cues(size_t *found, const char *const *word, size_t n);

/* ---- lots ---------------------------------------------------------------------------------------------- */

/* Where the words of a declaration come from: "in the packing list". */
const char *tb_declared_origin_words(enum tb_origin_kind origin);
/* What a list says of a lot: 24 keys from "lot" to "standing". */
json_t *tb_json_lot(const struct tb_lot *lot);
/* " (eu, us)" of "eu us"; nothing of "". */
void tb_markets_words(struct tb_text *out, const char *markets);
/* What a conclusion rests on, as a list tells it: "laboratory (eu, us)", "fits, 24 to 1 for it", "doubtful words", "-". */
void tb_concluded_rests(struct tb_text *out, const struct tb_concluded *c);
/*
 * tb_likely_words - what the cloth is likeliest to be, of each part the first: "warp: cotton 60 %, polyester 40 % (71 in 100)". Where
 * its bolts burn differently, of each bolt as below, and nothing where an older program did not keep that.
 */
void tb_likely_words(struct tb_text *out, enum tb_tongue to, const struct tb_stored_verdict *v);
/* Whether bolts of the lot are likeliest of different kinds of fibre, or some fit and some do not. */
bool tb_bolts_differ(const struct tb_stored_verdict *v);
/* "bolt R1: fits the declaration; bolts R2, R3: polyester 100 % (94 in 100)"; nothing where bolts do not differ, or it was not kept. */
void tb_bolts_likely_words(struct tb_text *out, enum tb_tongue to, const struct tb_stored_verdict *v);
/* The same as a line of the terminal. */
void tb_bolts_words(struct tb_text *out, const struct tb_stored_verdict *v, const char *indent);
/* Beside results of laboratories that are too far apart (tb_analysis_apart). Static. */
const char *tb_labs_apart_words(enum tb_tongue to);
/* "does not conform (us, ca); conforms (eu, gb)" or "open; laboratories disagree (eu)", of what a laboratory found. */
void tb_concluded_word_in(struct tb_text *out, enum tb_tongue to, const struct tb_concluded *c);
/* The same as a line of its own: "Conclusion: conforms (eu), by what Lab Weir found on 2026-10-05: 100 % cotton". */
void tb_concluded_words_add(struct tb_text *out, enum tb_tongue to, const struct tb_concluded *c);
json_t *tb_json_concluded(const struct tb_concluded *c);

/* Beside a verdict its grade, "evidence_ratio" within its bounds, "one_look" and "untested" (struct tb_bounds); null where there is no verdict. */
void tb_json_put_told(json_t *j, const struct tb_told_verdict *told);
/* Everything the book holds about a lot: lines as tb_bench_words, a lot with lists. What is read anew lies in mem. */
int tb_price_places(
    double
        price); /* decimals a price is told with, so that what is shown multiplies: cents, or more where it has more */
void tb_story_words(struct tb_text *out, const struct tb_lot_story *story, struct tb_arena *mem);
json_t *tb_json_story(const struct tb_lot_story *story);
/* What may be done to its cloth, by all that is known of it; unburnable: it fits what is declared, and neither burned nor melted. */
void tb_story_handling(enum tb_handling *out, bool *unburnable, const struct tb_lot_story *s);
json_t *tb_json_bolts(const struct tb_bolt *bolt, size_t n);
/* What was done with swatches, a sentence a line, the last one ended too: each record, below it those it corrects. */
void tb_bench_words(struct tb_text *out, const struct tb_bench_records *now,
                    const struct tb_bench_records *before);
/* The swatches of a lot that were neither burnt nor tested. */
void tb_swatches_waiting_words(struct tb_text *out, const struct tb_lot_story *story);
/* A swatch, and what was done with it. */
void tb_swatch_story_words(struct tb_text *out, const struct tb_swatch_story *story);
json_t *tb_json_swatch_story(const struct tb_swatch_story *story);
void tb_delivery_story_words(struct tb_text *out, const struct tb_delivery_story *story);
json_t *tb_json_delivery_story(const struct tb_delivery_story *story);
/* Swatches as a list. */
json_t *tb_json_swatches(const struct tb_swatch *swatch, size_t n);
/* The lists of burns and tests into the object j, with those that were corrected and by what. */
void tb_json_put_bench(json_t *j, const struct tb_bench_records *now, const struct tb_bench_records *before);
/* Reports and steps of disputes that are void, as "analyses" and "dispute_steps". */
void tb_json_put_void_papers(json_t *j, const struct tb_voidings *gone);
json_t *tb_json_dispute_steps(const struct tb_dispute_step *step, size_t n);
/* A packing list that was read, stored or not: deliveries, lots, columns, notes, values that were not taken. */
json_t *tb_json_receipt(const char *path, const struct tb_receive_outcome *taken);

/* ---- what is void ---------------------------------------------------------------------------------------- */

/* "12 bolts, 3 swatches, 3 burns"; nothing where nothing hangs on a record. */
void tb_hanging_words(struct tb_text *out, const struct tb_hanging *hanging);
/* What of a lot is void, by whom, when and why, with what was seen; lines as tb_bench_words, and so are the next. */
void tb_voidings_words(struct tb_text *out, enum tb_tongue to, const struct tb_voidings *voidings);
/* Reports of laboratories that are void; at the terminal steps of disputes too. */
void tb_void_papers_words(struct tb_text *out, enum tb_tongue to, const struct tb_voidings *voidings);
/* Burns and tests that are void, each with what was recorded of it. */
void tb_void_records_words(struct tb_text *out, enum tb_tongue to, const struct tb_bench_records *records);
/* What was amended of the delivery of a lot. */
void tb_amendments_words(struct tb_text *out, enum tb_tongue to, const struct tb_amendment *amendment,
                         size_t n);
/* The same of what an act has just amended. */
void tb_amended_words(struct tb_text *out, const struct tb_amendment *amendment, size_t n);
/* Lists of both. */
json_t *tb_json_voidings(const struct tb_voiding *voiding, size_t n);
json_t *tb_json_amendments(const struct tb_amendment *amendment, size_t n);
/* A burn that was moved, and its lots. */
json_t *tb_json_moved(const struct tb_move_outcome *done);
/* A delivery that was amended. */
json_t *tb_json_amended(const struct tb_amend_outcome *done);
/* A supplier that is the same as another one, or is not any more: what is in force, what was set for the other name, moved days. */
void tb_same_words(struct tb_text *out, const struct tb_same_outcome *done, bool apart);
json_t *tb_json_same(const struct tb_same_outcome *done);
/* A record that was voided, and its lot. */
json_t *tb_json_voided(const struct tb_void_outcome *done);

/* What stands against releasing a lot: what is concluded of it, words in doubt, that nothing of it was tested. Nothing where nothing
 * does. */
void tb_released_words(struct tb_text *out, const struct tb_lot *lot, const struct tb_concluded *concluded,
                       enum tb_handling handling);
/* Several lots that were settled, single bolts of one, and what was decided of single bolts; lines as tb_bench_words. */
void tb_settled_lots_words(struct tb_text *out, const struct tb_settle_lots_outcome *done);
json_t *tb_json_settled_lots(const struct tb_settle_lots_outcome *done);
void tb_settled_bolts_words(struct tb_text *out, const struct tb_settle_bolts_outcome *done);
json_t *tb_json_settled_bolts(const struct tb_settle_bolts_outcome *done);
/* Of goods that went back, what was cut off them here before; nothing where n is 0. alone: single bolts were sent back, not their lot. */
void tb_cut_before_words(struct tb_text *out, const struct tb_bolt_use *cut, size_t n, bool alone);
/* What a decision about a whole lot ends of what was decided of its bolts; nothing where n is 0. */
void tb_ended_words(struct tb_text *out, const struct tb_lot *lot, const struct tb_bolt_standing *ended,
                    size_t n);
void tb_single_bolts_words(struct tb_text *out, const struct tb_bolt_standing *single, size_t n);
json_t *tb_json_single_bolts(const struct tb_bolt_standing *single, size_t n);

/* ---- analyses ------------------------------------------------------------------------------------------ */

/* "cotton"; "other fibres" below 0. */
const char *tb_fibre_words(int fibre);
/* "ISO 1833-22:2020"; what was not read at its source is said to be so, and a number from memory never stands as a fact. */
#define TB_STANDARD 160
const char *tb_standard_words(char out[TB_STANDARD], const struct tb_lab_standard *standard);
/* All that is known of it; its number null where that is only remembered, and then under number_from_memory. */
json_t *tb_json_standard(const struct tb_lab_standard *standard);
/* Which methods separate a mixture, with hazards, and what to expect on the balance; lines as tb_bench_words. */
void tb_assay_plan_words(struct tb_text *out, const struct tb_assay_plan *plan);
json_t *tb_json_assay_plan(const struct tb_assay_plan *plan);
/*
 * The result of an analysis, what it rests on, and what a reader should know of it; lines as tb_bench_words.
 *   condition   how a person says the condition of a fibre: the name of an option, or of a field
 */
void tb_assay_words(struct tb_text *out, const struct tb_assay *assay, const char *condition);
/* The same figures beside a label of ours: "Our label "65 % cotton ...": conforms (eu, us)."; nothing where it claims nothing. */
void tb_assay_label_words(struct tb_text *out, const struct tb_assay *label);
/* The same for programs is tb_assay_json; here with the lot it was recorded for. */
json_t *tb_json_assay_recorded(const struct tb_assay_lot_outcome *done);
/* On what percentages are counted: "EU agreed allowances". */
const char *tb_basis_words(enum tb_lab_basis basis);
/* What laboratories found of the lot, the uncertainty, whether it conforms; lines as tb_bench_words. */
void tb_analyses_words(struct tb_text *out, const struct tb_lot_story *story);
/* A list of those of a lot, shorter; its detail as the object it was, null where that cannot be read. */
void tb_analysis_list_words(struct tb_text *out, const struct tb_lot *lot, const struct tb_analysis *analysis,
                            size_t n);
/* What of a lot went to laboratories; those that no report answers yet, a sentence each; the same as JSON, and one as recorded. */
void tb_sendings_words(struct tb_text *out, const struct tb_sending *sending, size_t n);
void tb_sendings_open_words(struct tb_text *out, const struct tb_sending *sending, size_t n);
json_t *tb_json_sendings(const struct tb_sending *sending, size_t n);
json_t *tb_json_sent(const struct tb_send_outcome *done);
json_t *tb_json_analysis_list(const struct tb_lot *lot, const struct tb_analysis *analysis, size_t n);
/* The lists of analyses into the object j, with those that were corrected and by what. */
void tb_json_put_analyses(json_t *j, const struct tb_lot_story *story);
/* "conforms", "does not conform", "cannot be said". */
const char *tb_answer_words(enum tb_tongue to, enum tb_lab_answer answer);

/* ---- labels -------------------------------------------------------------------------------------------- */

/* An answer as lines "clause: sentence", the wording or why there is none, and the caution; keys as in docs/law.md. */
void tb_law_words(struct tb_text *out, const struct tb_law_answer *answer);
json_t *tb_json_law(const struct tb_law_answer *answer);
/* All answers, with the lot beside them; as JSON one object for one market, a list for several. */
void tb_label_words(struct tb_text *out, const struct tb_label_outcome *label);
json_t *tb_json_label(const struct tb_label_outcome *label);

/* ---- draws --------------------------------------------------------------------------------------------- */

/* One sentence: how many false bolts a plan that was worked out would show, with what chance. */
void tb_plan_shows_words(struct tb_text *out, const struct tb_plan *plan);
/* The plan, how well a burn shows a false bolt, and the operating characteristic. Both fail as tb_plan_curve. most: what may be done with the bolts that allow most. */
tb_rc tb_plan_words(struct tb_text *out, const struct tb_plan *plan, const struct tb_catch *caught,
                    enum tb_handling most, struct tb_err *err);
tb_rc tb_json_plan(json_t **out, const struct tb_plan *plan, const struct tb_catch *caught,
                   struct tb_err *err);
/* What inspection the suppliers' history asks for; true where all of it allows reduced inspection. */
bool tb_history_words(struct tb_text *out, const struct tb_draw_outcome *draw);
/* The remark at the door: TB_UNEXAMINED has a translation, what a person added behind it has none. */
void tb_remark_words(struct tb_text *out, enum tb_tongue to, const char *remark);
/* What must not be done to cloth of which such a fibre was declared, a line behind `indent`; nothing of any other. */
void tb_care_words(struct tb_text *out, enum tb_tongue to, enum tb_handling handling, const char *indent);
/* The caution that cloth needs which neither burned nor melted, though that fits what is declared (tb_lot_unburnable). */
void tb_unburnable_words(struct tb_text *out, const char *indent);
/* Other draws of the same bolts, and a seed given by hand: whoever could choose among several proves nothing. */
/* Where bolts drawn must not be burned, that they must not, and what can be done; else nothing. */
void tb_handling_words(struct tb_text *out, const struct tb_draw_outcome *draw);
void tb_draws_before_words(struct tb_text *out, const struct tb_draw_outcome *draw);
/* What was noticed of the name of a supplier, a sentence a line, each behind `lead`; else nothing. */
void tb_name_noticed_words(struct tb_text *out, const struct tb_name_noticed *seen, const char *lead);
/* Whether a note is dated after the goods came; the sentence that says so. */
bool tb_note_late(const char *note_day, const char *arrived);
void tb_note_late_words(struct tb_text *out, const char *note, const char *note_day, const char *arrived,
                        const char *lead);
/* How many bolts of the lots are not drawn from, and why; else nothing. */
void tb_apart_words(struct tb_text *out, const struct tb_draw_outcome *draw);
/* A draw with its plan; step: of the clock, in seconds, while it was recorded. Fails as tb_json_plan. */
tb_rc tb_json_draw(json_t **out, const struct tb_draw_outcome *draw, int64_t step, struct tb_err *err);
/* What a reader has to know of a recorded draw before he trusts it: how many there are, a seed given by hand. */
void tb_draw_caveat_words(struct tb_text *out, const struct tb_draw *record, size_t draws);
/* It was drawn again, and the same bolts came of it. */
json_t *tb_json_draw_again(const struct tb_draw *record, const struct tb_draw_outcome *now);
/* Of a bolt drawn that is void since, and which is cut in its place; nothing of others. */
void tb_instead_words(struct tb_text *out, const struct tb_drawn *drawn);
/* What the burns of a draw prove so far. */
void tb_proof_words(struct tb_text *out, const struct tb_draw_proof *proof);
json_t *tb_json_proof(const struct tb_draw_proof *proof);
/* The same of a lot that is only a number: bolts, burned, found, sure, caught and most_false are read. */
void tb_bound_words(struct tb_text *out, const struct tb_draw_proof *proof);
json_t *tb_json_bound(const struct tb_draw_proof *proof);
/* What is left to do, a heading for each kind and a line for each thing, at most so many of a kind. */
void tb_todo_words(struct tb_text *out, const struct tb_todo *todo, size_t most);
/* All of it. */
json_t *tb_json_todo(const struct tb_todo *todo);
/* "M26-007.03, M26-009.03 and 2 more": those of which another verdict would be reached. */
void tb_outdated_refs(struct tb_text *out, const struct tb_outdated *o);
/* How many and which verdicts have to be reached again, a sentence a line; nothing where none has to be. */
void tb_outdated_words(struct tb_text *out, const struct tb_outdated *o);
/* The same of one lot, by its reference. */
void tb_outdated_lot_words(struct tb_text *out, const struct tb_outdated *o, const char *ref);
/* References, by whether another verdict would be reached or only judging again shows it. */
json_t *tb_json_outdated(const struct tb_outdated *o);
/* Of one lot: "otherwise", "other_figures" or null. */
json_t *tb_json_outdated_lot(const struct tb_outdated *o, const char *ref);
/* How the lots of a day were compared: by rates, by metres, each money by itself; nothing where all are in one money. */
void tb_bench_day_how_words(struct tb_text *out, const struct tb_bench_day *day);
/* One plan in a sentence, without its table, and what was left out of it; one_money: lots of one money were asked for. */
void tb_bench_day_words(struct tb_text *out, const struct tb_bench_day *day, bool one_money);
/* Which lots to burn first in the hours there are. */
json_t *tb_json_day(const struct tb_bench_day *day);

/* ---- suppliers and testers ----------------------------------------------------------------------------- */

/* Why the advice of a record is what it is. Yours to free. */
char *tb_record_why(const struct tb_record *record);
/* All of it besides its months: a sentence a line, the last one ended too; the tally alone where there is no name. */
void tb_supplier_record_words(struct tb_text *out, const struct tb_supplier_record *s);
/*
 * tb_json_supplier_record - all of a record; where only a tally is known (supplier.name NULL) without its history.
 *   fails  as tb_record_months
 */
tb_rc tb_json_supplier_record(json_t **out, const struct tb_supplier_record *s, struct tb_err *err);
/* Every supplier with the share that borrowed strength gives it: n posteriors and the belief as tb_record_all gives them. */
json_t *tb_json_suppliers(const struct tb_tallies *tallies, const struct tb_posterior *posterior,
                          const struct tb_belief *belief);

/* A card that was dealt, i from 0: "3-07". Returns out. */
#define TB_CARD_NAME 32
const char *tb_card_words(char out[TB_CARD_NAME], const struct tb_drill_outcome *drill, size_t i);
/* The cards of a drill; an answer to one of them. */
json_t *tb_json_drill(const struct tb_drill_outcome *drill);
json_t *tb_json_answer(const char *card, const struct tb_answer_outcome *answer);
/* What a tester should practise: a sentence a line, the last one ended too; nothing where nothing stands out. */
void tb_practise_words(struct tb_text *out, const struct tb_drill_tester *tester);
/* How one tester does; as JSON with what was named what, and each cue. */
void tb_tester_words(struct tb_text *out, const struct tb_drill_tester *tester);
json_t *tb_json_tester(const struct tb_drill_scores *scores, const struct tb_drill_tester *tester);
/* How far all of them agree on swatches that everybody answered; nothing where these are too few. */
void tb_testers_together_words(struct tb_text *out, const struct tb_drill_scores *scores);
/* All testers. */
json_t *tb_json_testers(const struct tb_drill_scores *scores);

/* ---- who wrote, and the clock ---------------------------------------------------------------------------- */

/* A sentence a line, the last one ended too: each writer with the login, then as tb_clock_words. */
void tb_circumstances_words(struct tb_text *out, const struct tb_circumstances *c);
/* Likewise of the clock alone; nothing where it did nothing that has to be told. */
void tb_clock_words(struct tb_text *out, enum tb_tongue to, const struct tb_circumstances *c);
/* "The clock of this machine went back by 3 hours ..."; nothing where it did not step. */
void tb_clock_step_words(struct tb_text *out, int64_t step);
/* The same as an object. */
json_t *tb_json_circumstances(const struct tb_circumstances *c);

/* ---- claims -------------------------------------------------------------------------------------------- */

/* "in 8 days", "today", "4 days ago": days left, below 0 past. Returns out, or static text. */
const char *tb_days_words(char out[TB_COUNTED], long left);
/* "Tuesday 2026-10-13". Returns out. */
const char *tb_day_words(char out[TB_COUNTED], const char *day);
/* Whose turn it is: "tell the supplier". */
const char *tb_claim_state_words(enum tb_claim_state state);
/* tb_undated_reason - why no day is known, in words: "no terms set". Static text. */
const char *tb_undated_reason(enum tb_undated undated);
/* What happened: "supplier told". */
const char *tb_dispute_step_words(enum tb_tongue to, enum tb_step_kind step);
/* "Information, not legal advice: ...", a line that ends. */
const char *tb_no_advice_words(void);
/* A term in force or on offer: "8 days from arrival, 8 days from discovery if hidden". */
void tb_term_words(struct tb_text *out, const struct tb_claim_term *term);

/* By when notice is due and who says so, then the cuts into bolts; lines as tb_bench_words, and so are the next ones. */
void tb_claim_words(struct tb_text *out, const struct tb_claim *claim, const struct tb_lot *lot);
json_t *tb_json_claim(const struct tb_claim *claim);
/* Every dispute with its steps. */
void tb_disputes_words(struct tb_text *out, const struct tb_claim *claim);
/* What is next for a lot, its disputes, its clock. */
void tb_lot_claim_words(struct tb_text *out, const struct tb_lot_claim *now);
json_t *tb_json_lot_claim(const struct tb_lot_claim *now);
/* What somebody decided of a lot, or of single bolts, though what it could rest on is void since: one line. */
void tb_ground_gone_words(struct tb_text *out, const struct tb_todo_row *ground);
/* One line of a list of open claims. */
json_t *tb_json_claim_open(const struct tb_claim_open *open);
/* What claims come to in the money of the site, and by what rates; nothing where all are in one currency. */
struct tb_money;
void tb_money_words(struct tb_text *out, const struct tb_money *money);
json_t *tb_json_money(const struct tb_money *money);
/* A joint sample: who holds which swatch. */
void tb_joint_words(struct tb_text *out, const struct tb_joint_sample *sample);
json_t *tb_json_joint_list(const struct tb_joint_sample *sample, size_t n);
/* Those of a lot. */
json_t *tb_json_joints(const struct tb_lot *lot, const struct tb_joint_sample *sample, size_t n);
/* A term on offer with its source; as JSON all there are, where days that a term does not name are null. */
void tb_offer_words(struct tb_text *out, const struct tb_claim_term *term);
json_t *tb_json_terms_offer(void);
/* Terms a site set for a supplier, a country or everybody. */
void tb_terms_set_words(struct tb_text *out, const struct tb_supplier_term *terms);
json_t *tb_json_terms_set(const struct tb_supplier_term *terms);

/* How to write to somebody, a line for each thing that is known; site_name: where it is our own. */
void tb_address_words(struct tb_text *out, const struct tb_address *address, const char *site_name);
json_t *tb_json_address(const struct tb_address *address);

#endif
