/*
 * test_verdict_golden.c - a verdict as JSON and in words, against files looked through by hand. The verdict is made up:
 * two or three of everything, no two figures alike, so that whatever is left out or taken twice shows.
 */
#include "golden_compare.h"
#include "tenterbook/evidence.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>

#include <cmocka.h>

static int fibre(const char *key)
{
    int n = tb_fibre_by_key(key);

    assert_true(n >= 0);
    return n;
}

static int cue(const char *key)
{
    int n = tb_cue_by_key(key);

    assert_true(n >= 0);
    return n;
}

struct made_up {
    struct tb_likely likely[3];
    struct tb_present present[3];
    int twin[2][8];
    struct tb_twins twins[2];
    struct tb_cue_weight cue[4];
    struct tb_next next[3];
    struct tb_outcome outcome[2];
    struct tb_power power[3];
    char *note[2];
    struct tb_verdict v;
};

static void weigh(struct made_up *m)
{
    m->cue[0] = (struct tb_cue_weight){ TB_PART_WARP, cue("smoke:black"), TB_SIGHT_SEEN, -12.5, -14 };
    m->cue[1] = (struct tb_cue_weight){ TB_PART_WEFT, cue("odour:burning_hair"), TB_SIGHT_DENIED, -6.25, -7 };
    m->cue[2] = (struct tb_cue_weight){ TB_PART_WARP, cue("in_flame:melts"), TB_SIGHT_SEEN, 4.5, 5 };
    m->cue[3] =
        (struct tb_cue_weight){ TB_PART_WEFT, cue("residue_form:hard_bead"), TB_SIGHT_NONE, 0.1, NAN };
    m->v.cue = m->cue;
    m->v.n_cue = 4;
}

static void suppose(struct made_up *m)
{
    static const char *const kin[] = { "cotton", "flax",  "viscose", "lyocell",
                                       "modal",  "cupro", "hemp",    "ramie" };

    m->likely[0] = (struct tb_likely){ TB_PART_WARP, 1, { fibre("polyester") }, { 100 }, 0.75, true };
    m->likely[1] =
        (struct tb_likely){ TB_PART_WARP, 2, { fibre("cotton"), fibre("nylon") }, { 60, 40 }, 0.125, false };
    m->likely[2] =
        (struct tb_likely){ TB_PART_WEFT,   3,   { fibre("wool"), fibre("silk"), fibre("acrylic") },
                            { 50, 30, 20 }, 0.5, false };
    m->present[0] = (struct tb_present){ TB_PART_WARP, fibre("polyester"), 0.9 };
    m->present[1] = (struct tb_present){ TB_PART_WEFT, fibre("wool"), 0.6 };
    m->present[2] = (struct tb_present){ TB_PART_WEFT, fibre("silk"), 0.005 };
    for (size_t i = 0; i < TB_COUNT(kin); i++)
        m->twin[0][i] = fibre(kin[i]);
    m->twin[1][0] = fibre("wool");
    m->twin[1][1] = fibre("cashmere");
    m->twins[0] = (struct tb_twins){ m->twin[0], 8 };
    m->twins[1] = (struct tb_twins){ m->twin[1], 2 };
    m->v.likely = m->likely;
    m->v.n_likely = 3;
    m->v.present = m->present;
    m->v.n_present = 3;
    m->v.twins = m->twins;
    m->v.n_twins = 2;
}

static void propose(struct made_up *m)
{
    static char swatch[] = "W26-001.02.01";
    static char instead[2][20] = { "100 % viscose", "100 % polyester" };

    m->next[0] = (struct tb_next){ .part = TB_PART_WARP,
                                   .test = "acetone",
                                   .name = "a drop of acetone",
                                   .channel = 3,
                                   .gain_bits = 0.5,
                                   .settles = 0.75,
                                   .cost = 0.25,
                                   .minutes = 7,
                                   .effort = "minutes at the bench",
                                   .hazards = TB_HAZARD_FLAMMABLE | TB_HAZARD_TOXIC,
                                   .caution = "no flame near it",
                                   .memory = true };
    m->next[1] = (struct tb_next){ .part = TB_PART_WEFT,
                                   .test = "burn:odour",
                                   .name = "burn again and look at the odour",
                                   .channel = 2,
                                   .gain_bits = 0.125,
                                   .settles = 0.25,
                                   .cost = 0.5,
                                   .minutes = 3,
                                   .effort = "a few minutes",
                                   .hazards = TB_HAZARD_FLAME | TB_HAZARD_HOT,
                                   .caution = "" };
    m->next[2] = (struct tb_next){ .test = "laboratory",
                                   .name = "send it away",
                                   .channel = -1,
                                   .gain_bits = NAN,
                                   .settles = NAN,
                                   .cost = 100,
                                   .minutes = 15,
                                   .effort = "a laboratory order",
                                   .caution = "" };
    m->v.confirm = m->next[0];
    m->v.confirm_swatch = swatch;
    m->outcome[0] = (struct tb_outcome){
        "acetone:stays", "acetone leaves it as it was", TB_CONTRADICTS, TB_GRADE_CONTRADICTS, -3.7, NULL
    };
    m->outcome[1] =
        (struct tb_outcome){ "acetone:dissolves", "all of it dissolves", TB_FITS, TB_GRADE_FITS, 1.5, NULL };
    m->v.outcome = m->outcome;
    m->v.n_outcome = 2;
    m->power[0] = (struct tb_power){ TB_PART_WARP, instead[0], true, NAN, NAN, NAN, NULL, 400 };
    m->power[1] = (struct tb_power){ TB_PART_WEFT, instead[1], false, 0.75, 0.875, 0.96, "acetone", 401 };
    m->v.next = m->next;
    m->v.n_next = 3;
    m->v.power = m->power;
    m->v.n_power = 2;
}

static void make_up(struct made_up *m)
{
    static char note[2][40] = { "judged as a twin", "a repeat is discounted" };

    *m = (struct made_up){ .v = { .kind = TB_CONTRADICTS,
                                  .grade = TB_GRADE_CONTRADICTS,
                                  .ratio = 0.03125,
                                  .log_ratio = -3.465,
                                  .bounds = { -3.7, 3.45 },
                                  .log_declared = -20.5,
                                  .log_else = -16.588,
                                  .contradicts_below = 0.05,
                                  .speaks_below = 0.125,
                                  .looks = 5,
                                  .fits_above = 3,
                                  .bench_error = 0.003,
                                  .base_rate = 0.05,
                                  .base_from = TB_BASE_SITE,
                                  .burns = 5 } };
    weigh(m);
    suppose(m);
    propose(m);
    m->note[0] = note[0];
    m->note[1] = note[1];
    m->v.note = m->note;
    m->v.n_note = 2;
    (void)snprintf(m->v.digest, sizeof m->v.digest, "sha256:00ff");
}

static void declare(struct tb_declaration *d)
{
    static const char words[] = "warp 60% cotton 40% polyester, weft 100% woll";

    tb_declaration_read(d, words, strlen(words));
    assert_int_equal(d->comp.n, 2);
    assert_true(d->n > 0); /* "woll" is a doubt */
}

static bool same_json(const char *name, const struct tb_verdict *v, const char *id,
                      const struct tb_declaration *d)
{
    json_t *j = tb_verdict_json(v, id, d);
    char *text = json_dumps(j, JSON_INDENT(1) | JSON_REAL_PRECISION(12));
    struct tb_text line = { 0 };
    bool same;

    tb_text_addf(&line, "%s\n", text);
    same = golden_same(name, tb_text_str(&line));
    free(text);
    json_decref(j);
    tb_text_free(&line);
    return same;
}

static void a_verdict_as_JSON_holds_every_list_whole(void **state)
{
    struct tb_declaration d;
    struct made_up m;

    (void)state;
    make_up(&m);
    declare(&d);
    assert_true(same_json("verdict.json", &m.v, "row 7", &d));
    tb_declaration_free(&d);
}

static void what_was_not_judged_is_null_and_has_a_reason(void **state)
{
    struct tb_verdict v = { .kind = TB_UNDECIDED,
                            .grade = TB_GRADE_UNDECIDED,
                            .ratio = NAN,
                            .log_ratio = NAN,
                            .log_declared = INFINITY,
                            .log_else = -INFINITY,
                            .contradicts_below = 0.05,
                            .fits_above = 3 };
    static char reason[] = "nothing was looked at";
    struct tb_declaration d = { 0 };

    (void)state;
    v.reason = reason;
    assert_true(same_json("verdict-none.json", &v, NULL, &d));
}

static void explain(struct tb_text *out, const struct tb_verdict *v, const struct tb_declaration *d)
{
    tb_verdict_explain(out, v, d);
    tb_text_addf(out, "--\n");
}

static void in_words_it_names_the_weightiest_and_what_to_do_next(void **state)
{
    struct tb_text out = { 0 };
    struct tb_declaration d;
    struct made_up m;

    (void)state;
    make_up(&m);
    declare(&d);
    explain(&out, &m.v, &d);
    m.v.grade = TB_GRADE_FITS;
    m.v.ratio = 12.34;
    m.v.log_ratio = log(12.34);
    m.power[0].part = TB_PART_WHOLE;
    m.next[0].part = TB_PART_WHOLE;
    for (size_t i = 0; i < m.v.n_cue; i++) { /* no cue adds to the others: each by itself */
        m.cue[i].weight_db = 0;
        m.cue[i].alone_db = m.cue[i].sight == TB_SIGHT_NONE ? 0.01 : 3.0 + 13 * (double)i;
    }
    explain(&out, &m.v, &d);
    m.v.ratio = exp(m.v.bounds.high); /* as far as it goes */
    m.v.log_ratio = 17;
    m.v.base_from = TB_BASE_PUBLISHED;
    m.v.n_next = m.v.n_power = 0;
    explain(&out, &m.v, &d);
    m.v.grade = TB_GRADE_UNDECIDED;
    m.v.ratio = 0.4567;
    m.v.log_ratio = log(0.4567);
    m.v.base_rate = 0;
    explain(&out, &m.v, &d);
    m.v.grade = TB_GRADE_SPEAKS_AGAINST;
    m.v.ratio = 0.1;
    m.v.log_ratio = log(0.1);
    explain(&out, &m.v, &d);
    m.v.ratio = exp(m.v.bounds.low);
    m.v.log_ratio = -9;
    m.v.one_look = true;
    explain(&out, &m.v, &d);
    m.v.one_look = false;
    m.v.few_tell = true;
    explain(&out, &m.v, &d);
    m.v.few_tell = false;
    m.v.excused = "flame_retardant";
    explain(&out, &m.v, &d);
    m.v.excused = NULL;
    m.v.one_look = true;
    m.v.grade = TB_GRADE_UNDECIDED; /* it would fit, but for what it rests on, or what else would do it */
    m.v.ratio = 12.34;
    m.v.log_ratio = log(12.34);
    explain(&out, &m.v, &d);
    m.v.ratio = exp(m.v.bounds.high);
    m.v.log_ratio = 17;
    explain(&out, &m.v, &d);
    m.v.one_look = false;
    m.v.imitated = true;
    m.v.base_rate = 0.1;
    explain(&out, &m.v, &d);
    assert_true(golden_same("verdict.txt", tb_text_str(&out)));
    tb_declaration_free(&d);
    tb_text_free(&out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_verdict_as_JSON_holds_every_list_whole),
        cmocka_unit_test(what_was_not_judged_is_null_and_has_a_reason),
        cmocka_unit_test(in_words_it_names_the_weightiest_and_what_to_do_next),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
