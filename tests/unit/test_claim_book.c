/* test_claim_book.c - terms, use, joint samples, disputes and notices in the book. Invented trade. */
#include "tenterbook/act_bench.h"
#include "tenterbook/analysis.h"
#include "tenterbook/extract.h"
#include "tenterbook/lot_claim.h"
#include "tenterbook/notice.h"

#include <ctype.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

#define OK(call)                                                                                             \
    do {                                                                                                     \
        tb_rc rc_ = (call);                                                                                  \
        if (rc_ != TB_OK)                                                                                    \
            fail_msg("%s: %d %s (%s)", #call, (int)rc_, err.msg, err.detail);                                \
    } while (0)

/* Do something that writes, and keep it. */
#define WRITE(who, verb, call)                                                                               \
    do {                                                                                                     \
        OK(tb_book_begin(s->book, who, verb, &err));                                                         \
        tb_book_subject(s->book, s->lot.ref);                                                                \
        OK(call);                                                                                            \
        OK(tb_book_commit(s->book, &err));                                                                   \
    } while (0)

struct scene {
    char dir[64], path[96];
    struct tb_book *book;
    struct tb_arena mem;
    const char *supplier;
    struct tb_lot lot;
    struct tb_bolt bolt[3];
};

static struct tb_err err;

/* One lot of three bolts from Harrow Mill, arrived on Monday 2026-10-05. */
static int make_scene(void **state)
{
    struct scene *s = tb_new(struct scene);
    struct tb_supplier supplier;
    struct tb_delivery d = {
        .note = "N-1", .order_no = "PO 7", .arrived = "2026-10-05", .remark = "received unexamined"
    };

    (void)snprintf(s->dir, sizeof s->dir, "/tmp/tenterbook-test-XXXXXX");
    assert_non_null(mkdtemp(s->dir));
    (void)snprintf(s->path, sizeof s->path, "%s/a.book", s->dir);
    OK(tb_book_make(s->path, "W", "Westgate shed", "GB", "Ada Fell", &err));
    OK(tb_book_open(&s->book, s->path, NULL, &err));
    OK(tb_book_begin(s->book, "Ada Fell", "receive", &err));
    OK(tb_supplier_ensure(&supplier, s->book, "Harrow Mill", &s->mem, &err));
    s->supplier = d.supplier = supplier.id;
    OK(tb_delivery_add(&d, s->book, &s->mem, &err));
    s->lot = (struct tb_lot){
        .article = "Plain 40", .unit_price = 3, .currency = "EUR", .bolts = 3, .metres = 150
    };
    OK(tb_lot_add(&s->lot, s->book, &d, 1, &s->mem, &err));
    OK(tb_declaration_add(s->book, s->lot.id, "100% cotton", TB_ORIGIN_ROW, NULL, &err));
    for (int i = 0; i < 3; i++) {
        char number[16];
        struct tb_bolt bolt = {
            .lot = s->lot.id, .number = number, .metres = 50, .width_cm = (double)NAN, .mass_gm2 = (double)NAN
        };

        (void)snprintf(number, sizeof number, "00%d", i + 1);
        OK(tb_bolt_add(&bolt, s->book, &err));
        OK(tb_bolt_find(&s->bolt[i], s->book, s->lot.id, number, &s->mem, &err));
    }
    tb_book_subject(s->book, d.ref);
    OK(tb_book_commit(s->book, &err));
    OK(tb_lot_find(&s->lot, s->book, s->lot.ref, &s->mem, &err));
    *state = s;
    return 0;
}

static int drop_scene(void **state)
{
    struct scene *s = *state;
    char command[128];

    tb_book_close(s->book);
    tb_arena_free(&s->mem);
    (void)snprintf(command, sizeof command, "rm -rf '%s'", s->dir);
    (void)!system(command);
    free(s);
    return 0;
}

static void set_terms(struct scene *s, const char *supplier, const char *country, const char *laws, int open,
                      int hidden)
{
    struct tb_supplier_term t = { .supplier = supplier,
                                  .country = country,
                                  .laws = laws,
                                  .open_days = open,
                                  .hidden_days = hidden,
                                  .stands_in = supplier ? "order 4471" : "" };

    WRITE("Ada Fell", "terms", tb_supplier_term_add(&t, s->book, &s->mem, &err));
}

static void swatches(struct scene *s, int n, enum tb_part_kind part, const char *kept)
{
    for (int i = 0; i < n; i++) {
        struct tb_swatch w = { .lot = s->lot.id,
                               .lot_ref = s->lot.ref,
                               .bolt = s->bolt[i % 3].id,
                               .part = part,
                               .known = "",
                               .kept = kept };

        WRITE("Ben Ito", "cut", tb_swatch_add(&w, s->book, &s->mem, &err));
    }
}

static void burn_at(struct scene *s, const char *tag, const char *cue, const char *moment)
{
    struct tb_cue_seen seen[] = { { cue, true }, { "odour:burning_hair", false } };
    struct tb_burn u = { .looked = "residue_form odour",
                         .flame = "candle",
                         .note = "",
                         .cue = seen,
                         .cues = 2,
                         .burned_at = moment,
                         .sample_mm = (double)NAN };
    struct tb_swatch w;

    OK(tb_swatch_find(&w, s->book, tag, &s->mem, &err));
    u.swatch = w.id;
    WRITE("Ben Ito", "burn", tb_burn_add(&u, s->book, &s->mem, &err));
}

static void burn(struct scene *s, const char *tag, const char *cue)
{
    burn_at(s, tag, cue, "2026-10-06T09:30:00Z");
}

static void verdict(struct scene *s, enum tb_verdict_kind what)
{
    struct tb_judged v = { .lot = s->lot.id,
                           .verdict = what,
                           .reference = "sha256:0",
                           .detail = "{}",
                           .log_ratio = -9,
                           .bolts_burnt = 1,
                           .bolts = 3 };

    WRITE("Ben Ito", "judge", tb_judged_add(&v, s->book, &s->mem, &err));
}

static struct tb_claim claim(struct scene *s, const char *today)
{
    struct tb_claim c;
    struct tb_lot lot;

    OK(tb_lot_find(&lot, s->book, s->lot.ref, &s->mem, &err));
    OK(tb_claim_of_lot(&c, s->book, &lot, today, &s->mem, &err));
    return c;
}

static void an_open_dispute(struct scene *s, const char *day, const char *found)
{
    struct tb_dispute d = { .lot = s->lot.id, .found_on = found };
    struct tb_dispute_step step = { .day = day, .words = "not cotton", .amount = 450, .currency = "EUR" };

    WRITE("Cy Brook", "dispute", tb_dispute_open(&d, s->book, &step, &s->mem, &err));
}

static tb_rc step(struct scene *s, enum tb_step_kind what, const char *day, const char *due,
                  enum tb_remedy_kind remedy, const char *words)
{
    struct tb_dispute_step x = {
        .step = what, .day = day, .due = due, .remedy = remedy, .words = words, .amount = (double)NAN
    };
    struct tb_dispute d;
    tb_rc rc;

    OK(tb_dispute_now(&d, s->book, s->lot.id, &s->mem, &err));
    OK(tb_book_begin(s->book, "Cy Brook", "dispute", &err));
    tb_book_subject(s->book, s->lot.ref);
    rc = tb_dispute_step_add(&x, s->book, &d, &s->mem, &err);
    if (rc == TB_OK)
        OK(tb_book_commit(s->book, &err));
    else
        tb_book_rollback(s->book);
    return rc;
}

static void terms_of_supplier_country_and_all_count_together(void **state)
{
    struct scene *s = *state;
    struct tb_claim c = claim(s, "2026-10-06");

    assert_int_equal(c.terms, 0);
    assert_string_equal(c.clock.first.day, "");
    set_terms(s, NULL, "TR", "tr_23", TB_CLAIM_NO_TERM, TB_CLAIM_NO_TERM);
    set_terms(s, NULL, "", "", 14, TB_CLAIM_NO_TERM);
    c = claim(s, "2026-10-06");
    assert_int_equal(c.terms, 1); /* nobody said where the supplier is */
    assert_string_equal(c.clock.first.day, "2026-10-19");
    set_terms(s, s->supplier, "TR", "cisg tr_23", 10, 3);
    c = claim(s, "2026-10-06");
    assert_int_equal(c.terms, 4); /* own, cisg, tr_23 once, all suppliers */
    assert_string_equal(c.clock.first.day, "2026-10-07");
    assert_string_equal(c.term[c.clock.first.by].key, "tr_23");
    set_terms(s, s->supplier, "TR", "", 1, TB_CLAIM_NO_TERM); /* the latest of a supplier counts */
    c = claim(s, "2026-10-06");
    assert_string_equal(c.clock.first.day, "2026-10-06");
    assert_string_equal(c.term[c.clock.first.by].name, "own term with Harrow Mill (order 4471)");
}

static void terms_that_make_no_sense_are_refused(void **state)
{
    struct scene *s = *state;
    struct tb_supplier_term t = { .country = "Italy", .open_days = 3, .hidden_days = TB_CLAIM_NO_TERM };

    OK(tb_book_begin(s->book, "Ada Fell", "terms", &err));
    assert_int_equal(tb_supplier_term_add(&t, s->book, &s->mem, &err), TB_EINVAL);
    assert_string_equal(err.msg, "'Italy' is not a country code; it takes two letters like IT");
    t.country = "IT";
    t.laws = "it_1495 roman";
    assert_int_equal(tb_supplier_term_add(&t, s->book, &s->mem, &err), TB_ENOTFOUND);
    t.laws = "";
    t.open_days = 99999;
    assert_int_equal(tb_supplier_term_add(&t, s->book, &s->mem, &err), TB_EINVAL);
    tb_book_rollback(s->book);
}

static void the_first_verdict_against_it_is_the_day_of_discovery(void **state)
{
    struct scene *s = *state;
    struct tb_claim c;

    set_terms(s, s->supplier, "IT", "it_1495", TB_CLAIM_NO_TERM, TB_CLAIM_NO_TERM);
    assert_null(claim(s, "2026-10-06").found_on);
    verdict(s, TB_CONTRADICTS);
    c = claim(s, "2026-10-20");
    assert_string_equal(c.found_on, "2026-10-06");
    assert_string_equal(c.found_by, "verdict");
    assert_string_equal(c.clock.discovery.day, "2026-10-14");
    an_open_dispute(s, "2026-10-12", "2026-10-11"); /* what people say comes first */
    c = claim(s, "2026-10-20");
    assert_string_equal(c.found_by, "dispute");
    assert_string_equal(c.clock.discovery.day, "2026-10-19");
}

static void a_cut_bolt_is_remembered_and_a_mistake_taken_back(void **state)
{
    struct scene *s = *state;
    struct tb_bolt_use u = { .used = true, .metres = 12.5, .why = "order 88" },
                       back = { .metres = (double)NAN };
    struct tb_claim c;

    WRITE("Di Moor", "use", tb_bolt_use_add(&u, s->book, &s->bolt[1], &s->mem, &err));
    c = claim(s, "2026-10-06");
    assert_int_equal(c.uses, 1);
    assert_string_equal(c.use[0].bolt_number, "002");
    assert_string_equal(c.use[0].used_by, "Di Moor");
    OK(tb_book_begin(s->book, "Di Moor", "use", &err));
    u.metres = 50.1;
    assert_int_equal(tb_bolt_use_add(&u, s->book, &s->bolt[1], &s->mem, &err), TB_EINVAL);
    back.replaces = c.use[0].id;
    assert_int_equal(tb_bolt_use_add(&back, s->book, &s->bolt[2], &s->mem, &err),
                     TB_EINVAL); /* another bolt */
    OK(tb_bolt_use_add(&back, s->book, &s->bolt[1], &s->mem, &err));
    assert_int_equal(tb_bolt_use_add(&back, s->book, &s->bolt[1], &s->mem, &err), TB_EINVAL); /* once */
    OK(tb_book_commit(s->book, &err));
    assert_int_equal(claim(s, "2026-10-06").uses, 0);
}

static void a_dispute_goes_step_by_step(void **state)
{
    struct scene *s = *state;
    struct tb_dispute d;

    assert_int_equal(tb_dispute_now(&d, s->book, s->lot.id, &s->mem, &err), TB_ENOTFOUND);
    an_open_dispute(s, "2026-10-06", NULL);
    assert_int_equal(step(s, TB_ANSWERED, "2026-10-07", NULL, TB_REMEDY_NONE, "no"), TB_EREFUSED);
    assert_string_equal(err.msg, "the supplier was not told yet: record the notice first");
    assert_int_equal(step(s, TB_NOTIFIED, "2026-10-05", NULL, TB_REMEDY_NONE, NULL),
                     TB_EREFUSED); /* before it was opened */
    assert_int_equal(step(s, TB_NOTIFIED, "2026-10-07", "2026-10-06", TB_REMEDY_NONE, NULL), TB_EINVAL);
    OK(step(s, TB_NOTIFIED, "2026-10-07", "2026-10-21", TB_REMEDY_NONE, NULL));
    assert_int_equal(step(s, TB_ANSWERED, "2026-10-08", NULL, TB_REMEDY_NONE, ""), TB_EINVAL); /* what? */
    OK(step(s, TB_ANSWERED, "2026-10-08", NULL, TB_REMEDY_NONE, "will look at it"));
    assert_int_equal(step(s, TB_AGREED, "2026-10-09", NULL, TB_REMEDY_NONE, NULL), TB_EINVAL); /* on what? */
    assert_int_equal(step(s, TB_CLOSED, "2026-10-09", NULL, TB_CREDIT, "x"), TB_EINVAL);
    OK(step(s, TB_AGREED, "2026-10-09", "2026-10-30", TB_CREDIT, NULL));
    assert_int_equal(step(s, TB_OPENED, "2026-10-09", NULL, TB_REMEDY_NONE, "again"), TB_EEXISTS);
    OK(step(s, TB_CLOSED, "2026-11-01", NULL, TB_REMEDY_NONE, "credited"));
    assert_int_equal(tb_dispute_now(&d, s->book, s->lot.id, &s->mem, &err), TB_ENOTFOUND);
    an_open_dispute(s, "2026-11-02", NULL); /* a second one */
    OK(tb_dispute_now(&d, s->book, s->lot.id, &s->mem, &err));
    assert_int_equal(d.serial, 2);
}

static struct tb_claim_open only_open(struct scene *s, const char *today)
{
    struct tb_claim_open *o;
    size_t n;

    OK(tb_claim_open_list(&o, &n, s->book, today, &s->mem, &err));
    assert_int_equal(n, 1);
    return o[0];
}

static void open_claims_say_what_is_next_and_what_is_overdue(void **state)
{
    struct scene *s = *state;
    struct tb_standing held = { .lot = s->lot.id, .standing = TB_HELD, .why = "contradicts" };
    struct tb_claim_open *list, o;
    size_t n;

    OK(tb_claim_open_list(&list, &n, s->book, "2026-10-06", &s->mem, &err));
    assert_int_equal(n, 0);
    WRITE("Ben Ito", "settle", tb_standing_add(&held, s->book, &s->mem, &err));
    o = only_open(s, "2026-10-06");
    assert_int_equal(o.state, TB_CLAIM_TELL);
    assert_string_equal(o.due, ""); /* no terms */
    assert_false(o.overdue);
    set_terms(s, s->supplier, "IT", "it_1495", TB_CLAIM_NO_TERM, TB_CLAIM_NO_TERM);
    o = only_open(s, "2026-10-13");
    assert_string_equal(o.due, "2026-10-13");
    assert_false(o.overdue); /* the last day is in time */
    assert_true(only_open(s, "2026-10-14").overdue);
    an_open_dispute(s, "2026-10-06", NULL);
    OK(step(s, TB_NOTIFIED, "2026-10-07", "2026-10-21", TB_REMEDY_NONE, NULL));
    o = only_open(s, "2026-10-22");
    assert_int_equal(o.state, TB_CLAIM_ANSWER);
    assert_int_equal(o.left, -1);
    assert_true(o.overdue);
    assert_true(o.amount == 450);
    OK(step(s, TB_ANSWERED, "2026-10-22", NULL, TB_REMEDY_NONE, "we agree"));
    assert_int_equal(only_open(s, "2026-10-23").state, TB_CLAIM_AGREE);
    OK(step(s, TB_AGREED, "2026-10-23", "2026-10-30", TB_RETURN, NULL));
    o = only_open(s, "2026-10-31");
    assert_int_equal(o.state, TB_CLAIM_DO);
    assert_true(o.overdue);
    OK(step(s, TB_CLOSED, "2026-10-31", NULL, TB_REMEDY_NONE, "taken back"));
    OK(tb_claim_open_list(&list, &n, s->book, "2026-11-06", &s->mem, &err));
    assert_int_equal(n, 0);
}

/* Released by mistake and opened again: the fault is there all the same. */
static void a_claim_runs_for_a_lot_that_was_opened_again(void **state)
{
    struct scene *s = *state;
    struct tb_standing released = { .lot = s->lot.id, .standing = TB_RELEASED, .why = "needed" },
                       again = { .lot = s->lot.id, .standing = TB_WAITING, .why = "released by mistake" };
    struct tb_claim_open *list;
    size_t n;

    set_terms(s, s->supplier, "IT", "it_1495", TB_CLAIM_NO_TERM, TB_CLAIM_NO_TERM);
    verdict(s, TB_CONTRADICTS);
    WRITE("Ben Ito", "settle", tb_standing_add(&released, s->book, &s->mem, &err));
    OK(tb_claim_open_list(&list, &n, s->book, "2026-10-06", &s->mem, &err));
    assert_int_equal(n, 0);
    WRITE("Ben Ito", "settle", tb_standing_add(&again, s->book, &s->mem, &err));
    assert_int_equal(only_open(s, "2026-10-06").state, TB_CLAIM_TELL);
    assert_true(only_open(s, "2026-10-20").overdue);
    verdict(s, TB_FITS); /* more was burned, and nothing speaks against it any more */
    OK(tb_claim_open_list(&list, &n, s->book, "2026-10-06", &s->mem, &err));
    assert_int_equal(n, 0);
}

/* A lot that conforms may still be held; there is nothing its supplier could be told. */
static void nobody_is_to_tell_a_supplier_that_his_words_are_right(void **state)
{
    struct scene *s = *state;
    struct tb_standing held = { .lot = s->lot.id, .standing = TB_HELD, .why = "contradicts" };
    struct tb_analysis a = { .lot = s->lot.id,
                             .declaration = s->lot.declaration,
                             .part = TB_PART_WHOLE,
                             .route = "reported",
                             .methods = "",
                             .found = "100 % cotton",
                             .answers = "eu:conforms",
                             .detail = "{}",
                             .analysed_on = "2026-10-06" };
    struct tb_claim_open *list;
    size_t n;

    WRITE("Ben Ito", "settle", tb_standing_add(&held, s->book, &s->mem, &err));
    assert_int_equal(only_open(s, "2026-10-06").state, TB_CLAIM_TELL);
    WRITE("Ben Ito", "assay", tb_analysis_add(&a, s->book, &s->mem, &err));
    OK(tb_claim_open_list(&list, &n, s->book, "2026-10-06", &s->mem, &err));
    assert_int_equal(n, 0);
    an_open_dispute(s, "2026-10-06", NULL); /* whoever opens one says that there is something to tell */
    assert_int_equal(only_open(s, "2026-10-06").state, TB_CLAIM_TELL);
}

static void a_swatch_is_dealt_once(void **state)
{
    struct scene *s = *state;
    struct tb_joint_piece piece[2];
    struct tb_joint_sample j = {
        .lot = s->lot.id, .seed = "x", .swatches = 4, .each_one = 1, .piece = piece, .pieces = 2
    };
    struct tb_joint_sample *list;
    struct tb_swatch *w;
    size_t n;

    swatches(s, 4, TB_PART_WHOLE, "box 4");
    swatches(s, 1, TB_PART_WHOLE, ""); /* nothing of it is kept */
    OK(tb_retained_list(&w, &n, s->book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 4);
    piece[0] = (struct tb_joint_piece){ .swatch = w[0].id, .holder = TB_HOLDER_SUPPLIER };
    piece[1] = (struct tb_joint_piece){ .swatch = w[2].id, .holder = TB_HOLDER_LABORATORY };
    WRITE("Ben Ito", "share", tb_joint_sample_add(&j, s->book, &s->mem, &err));
    OK(tb_retained_list(&w, &n, s->book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 2);
    OK(tb_joint_sample_list(&list, &n, s->book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 1);
    assert_int_equal(list[0].pieces, 2);
    assert_string_equal(list[0].piece[1].tag, "W26-001.01.03");
    assert_string_equal(list[0].piece[1].kept, "box 4");
    OK(tb_book_begin(s->book, "Ben Ito", "share", &err));
    assert_int_equal(tb_joint_sample_add(&j, s->book, &s->mem, &err),
                     TB_EINVAL); /* the store refuses it too */
    tb_book_rollback(s->book);
}

static void prove_wrong(const json_t *j, const char *ref, const char *want)
{
    struct tb_extract_proof p;

    OK(tb_extract_prove(&p, j, ref, &err));
    if (*want ? !strstr(tb_text_str(&p.wrong), want) : p.wrong.n != 0)
        fail_msg("'%s' instead of '%s'", tb_text_str(&p.wrong), want);
    tb_extract_proof_free(&p);
}

/* Use, joint samples and disputes go to the supplier with the case; terms do not. */
static void an_extract_tells_a_dispute_and_proves_each_step_of_it(void **state)
{
    struct scene *s = *state;
    struct tb_bolt_use u = { .used = true, .metres = (double)NAN };
    struct tb_proof whole;
    json_t *j = NULL, *facts, *steps, *kept;

    swatches(s, 3, TB_PART_WHOLE, "box 4");
    set_terms(s, s->supplier, "IT", "it_1495", 3, 3);
    WRITE("Di Moor", "use", tb_bolt_use_add(&u, s->book, &s->bolt[0], &s->mem, &err));
    an_open_dispute(s, "2026-10-06", NULL); /* by somebody who did nothing else */
    OK(tb_extract_lot(&j, s->book, s->lot.ref, &err));
    facts = json_object_get(j, "facts");
    assert_int_equal(json_array_size(json_object_get(facts, "bolt_use")), 1);
    assert_int_equal(json_array_size(json_object_get(facts, "dispute")), 1);
    steps = json_object_get(facts, "dispute_step");
    assert_int_equal(json_array_size(steps), 1);
    assert_null(json_object_get(facts, "supplier_term"));
    prove_wrong(j, s->lot.ref, "");
    kept = json_deep_copy(json_array_get(steps, 0));
    (void)json_object_set_new(json_array_get(steps, 0), "words", json_string("nothing is asked"));
    prove_wrong(j, s->lot.ref, "a row of table dispute_step is not what was recorded");
    (void)json_array_clear(steps);
    prove_wrong(j, s->lot.ref, "1 rows of table dispute_step were recorded, 0 are here");
    (void)json_array_append_new(steps, kept);
    prove_wrong(j, s->lot.ref, "");
    kept = json_incref(json_object_get(facts, "dispute"));
    (void)json_object_del(facts, "dispute"); /* one table without the other hides something */
    prove_wrong(j, s->lot.ref, "the file does not tell what table dispute holds of the lot");
    (void)json_object_set_new(facts, "dispute", kept);
    json_decref(j);
    OK(tb_book_prove(&whole, s->book, &err));
    assert_int_equal(whole.first_bad, 0);
}

/* --- the notice --------------------------------------------------------------------------------------------------- */

static tb_rc notice(struct tb_notice **out, struct scene *s, const char *asked)
{
    const struct tb_notice_plan plan = {
        .lot = s->lot.ref, .day = "2026-10-07", .by = "Cy Brook", .asked = asked, .answer_by = "2026-10-21"
    };

    return tb_notice_make(out, s->book, &plan, &err);
}

static void a_notice_without_particulars_is_refused(void **state)
{
    struct scene *s = *state;
    struct tb_notice *n = NULL;

    assert_int_equal(notice(&n, s, NULL), TB_EREFUSED);
    assert_string_equal(err.msg,
                        "lot W26-001.01 was neither burnt, tested nor analysed: a notice without particulars "
                        "may count as none");
    swatches(s, 1, TB_PART_WHOLE, "box 4");
    burn(s, "W26-001.01.01", "residue_form:hard_bead");
    verdict(s, TB_FITS);
    assert_int_equal(notice(&n, s, NULL), TB_EREFUSED);
    assert_non_null(strstr(err.msg, "fits its declaration: there is nothing to give notice of"));
    assert_null(n);
}

/* Whether a letter says these words, wherever its lines break and whichever blank stands
 * between a figure and its unit. */
static bool said(const char *text, const char *words)
{
    struct tb_text flat = { 0 };
    bool found, blank = false;

    for (const char *c = text; *c; c++) {
        bool nbsp = c[0] == '\xc2' && c[1] == '\xa0';

        if (nbsp)
            c++;
        if (nbsp || isspace((unsigned char)*c)) {
            blank = true;
            continue;
        }
        if (blank)
            tb_text_addc(&flat, ' ');
        blank = false;
        tb_text_addc(&flat, *c);
    }
    found = flat.s && strstr(flat.s, words);
    tb_text_free(&flat);
    return found;
}

static void a_notice_names_goods_words_bolts_and_what_was_seen(void **state)
{
    static const char *const says[] = {
        "Notice: goods not as declared",
        "Harrow Mill",
        "Westgate shed",
        "N-1",
        "PO 7",
        "5 October 2026, our delivery W26-001; received unexamined",
        "W26-001.01: article Plain 40",
        "3 bolts, 150.00 m",
        "\"100% cotton\"",
        "Swatches of 1 of 3 bolts, 50.00 of 150.00 m, were burnt or tested: 001 (50.00 m).",
        "swatch W26-001.01.01, burnt on 6 October 2026 by Ben Ito",
        "bead that fingers cannot crush. Looked for and not there: smell: burnt hair",
        "What was seen contradicts the declaration",
        "The difference was found on 6 October 2026.",
        "Please answer by 21 October 2026.",
    };
    struct scene *s = *state;
    struct tb_text text = { 0 };
    struct tb_notice *n = NULL;
    struct tb_rejudged again;

    swatches(s, 1, TB_PART_WHOLE, "box 4");
    burn(s, "W26-001.01.01", "residue_form:hard_bead");
    verdict(s, TB_CONTRADICTS); /* of other figures than those in force */
    assert_int_equal(notice(&n, s, NULL), TB_EREFUSED);
    assert_non_null(strstr(err.msg, "judge the lot again first"));
    OK(tb_act_judge(&again, &(struct tb_actor){ s->book, "Ben Ito" }, s->lot.ref, 0, &s->mem, &err));
    tb_rejudged_free(&again);
    OK(notice(&n, s, NULL));
    tb_notice_text(&text, n);
    for (size_t i = 0; i < TB_COUNT(says); i++)
        if (!said(text.s, says[i]))
            fail_msg("'%s' is not said in:\n%s", says[i], text.s);
    tb_text_free(&text);
    tb_notice_free(n);
}

static void the_same_notice_has_the_same_bytes(void **state)
{
    struct scene *s = *state;
    struct tb_text a = { 0 }, b = { 0 };
    struct tb_notice *n = NULL;

    swatches(s, 3, TB_PART_WHOLE, "box 4");
    burn(s, "W26-001.01.01", "residue_form:hard_bead");
    for (int i = 0; i < 2; i++) {
        OK(notice(&n, s, "Bitte um Antwort. Παρακαλούμε απαντήστε. 请答复。 يرجى الرد"));
        OK(tb_notice_pdf(i ? &b : &a, n, &err));
        tb_notice_free(n);
    }
    assert_int_equal(a.n, b.n);
    assert_memory_equal(a.s, b.s, a.n);
    tb_text_free(&a);
    tb_text_free(&b);
}

/* 60 burns, each of another day: no two make one sentence. */
static void many_burns_stay_on_one_page_and_the_rest_is_counted(void **state)
{
    static const char *const cue[] = { "residue_form:hard_bead", "residue_form:light_fluffy_ash" };
    struct scene *s = *state;
    struct tb_notice *n = NULL;
    struct tb_text page = { 0 }, text = { 0 };
    char tag[32], moment[32];

    for (int i = 1; i <= 60; i++) {
        (void)snprintf(moment, sizeof moment, "2026-%02d-%02dT09:30:00Z", 8 + i / 28, 1 + i % 28);
        swatches(s, 1, TB_PART_WHOLE, "box 4");
        (void)snprintf(tag, sizeof tag, "W26-001.01.%02d", i);
        burn_at(s, tag, cue[i % 2], moment);
    }
    OK(notice(&n, s, NULL));
    OK(tb_notice_pdf(&page, n, &err));
    assert_memory_equal(page.s, "%PDF", 4);
    tb_notice_text(&text, n);
    assert_non_null(strstr(text.s, "records more, each in the case file."));
    tb_text_free(&page);
    tb_text_free(&text);
    tb_notice_free(n);
}

static void burns_that_showed_the_same_are_one_sentence(void **state)
{
    struct scene *s = *state;
    struct tb_notice *n = NULL;
    struct tb_text text = { 0 };

    swatches(s, 3, TB_PART_WHOLE, "box 4");
    burn(s, "W26-001.01.01", "residue_form:hard_bead");
    burn(s, "W26-001.01.02", "residue_form:light_fluffy_ash");
    burn(s, "W26-001.01.03", "residue_form:hard_bead");
    OK(notice(&n, s, NULL));
    tb_notice_text(&text, n);
    assert_non_null(said(text.s, "- Bolts 001, 003, swatches W26-001.01.01, W26-001.01.03, burnt"));
    assert_non_null(said(text.s, "- Bolt 002, swatch W26-001.01.02, burnt"));
    assert_non_null(strstr(text.s, "Swatches of 3 of 3 bolts"));
    tb_text_free(&text);
    tb_notice_free(n);
}

static void days_that_make_no_sense_are_refused(void **state)
{
    struct scene *s = *state;
    struct tb_notice_plan plan = { .lot = "001", .day = "2026-10-04", .by = "Cy Brook" };
    struct tb_notice *n = NULL;
    struct tb_outset files = { 0 };
    struct tb_claim_open *list;
    size_t count;

    swatches(s, 1, TB_PART_WHOLE, "box 4");
    burn(s, "W26-001.01.01", "residue_form:hard_bead");
    assert_int_equal(tb_notice_make(&n, s->book, &plan, &err), TB_EINVAL); /* before the goods arrived */
    plan.day = "2026-10-07";
    plan.answer_by = "2026-10-06";
    assert_int_equal(tb_notice_make(&n, s->book, &plan, &err), TB_EINVAL);
    plan.answer_by = NULL;
    OK(tb_notice_make(&n, s->book, &plan, &err)); /* found by a bolt's number too */
    assert_string_equal(tb_notice_lot(n), "W26-001.01");
    assert_int_equal(tb_outset_end(&files, tb_notice_write(&files, "notice.doc", n, &err), &err), TB_EINVAL);
    assert_int_equal(tb_claim_open_list(&list, &count, s->book, "today", &s->mem, &err), TB_EINVAL);
    tb_notice_free(n);
}

/* A lot of which a letter can be written. */
static void found(struct scene *s)
{
    struct tb_rejudged again;

    swatches(s, 1, TB_PART_WHOLE, "box 4");
    burn(s, "W26-001.01.01", "residue_form:hard_bead"); /* on the 6th */
    OK(tb_act_judge(&again, &(struct tb_actor){ s->book, "Ben Ito" }, s->lot.ref, 0, &s->mem, &err));
    tb_rejudged_free(&again);
}

static void a_letter_of_a_day_before_what_it_tells_or_of_one_to_come_is_refused(void **state)
{
    struct scene *s = *state;
    struct tb_notice_plan plan = { .lot = "001", .day = "2026-10-05", .today = "2026-10-07" };
    struct tb_notice *n = NULL;

    found(s);
    assert_int_equal(tb_notice_make(&n, s->book, &plan, &err), TB_EINVAL);
    assert_string_equal(err.msg, "a notice of 2026-10-05 would tell what was found or done on 2026-10-06: "
                                 "give it that day or a later one");
    assert_string_equal(err.about, "on");
    plan.day = "2026-10-08";
    assert_int_equal(tb_notice_make(&n, s->book, &plan, &err), TB_EINVAL);
    assert_string_equal(err.msg, "a notice of 2026-10-08 would be dated after today, 2026-10-07");
    assert_null(n);
    plan.day = "2026-10-06"; /* the day it was found */
    OK(tb_notice_make(&n, s->book, &plan, &err));
    tb_notice_free(n);
}

/* The letter of a day says these, and not that. */
static void letter(struct scene *s, const char *day, const char *const *says, size_t n_says,
                   const char *never)
{
    const struct tb_notice_plan plan = { .lot = s->lot.ref, .day = day, .by = "Cy Brook" };
    struct tb_notice *n = NULL;
    struct tb_text text = { 0 };

    OK(tb_notice_make(&n, s->book, &plan, &err));
    tb_notice_text(&text, n);
    for (size_t i = 0; i < n_says; i++)
        if (!said(text.s, says[i]))
            fail_msg("'%s' is not said in:\n%s", says[i], text.s);
    if (said(text.s, never))
        fail_msg("'%s' is said in:\n%s", never, text.s);
    tb_text_free(&text);
    tb_notice_free(n);
}

/* The setting answer_days is 14 unless a site sets it. */
static void a_letter_names_a_day_for_the_answer_and_a_day_that_is_gone_as_gone(void **state)
{
    static const char *const usual[] = { "Please answer by 20 October 2026." },
                             *const none[] = { "Your answer was awaited by 20 October 2026. None has come.",
                                               "Please answer by 5 November 2026." },
                             *const in_time[] = { "Please carry out by 30 October 2026 what was agreed." },
                             *const late[] = {
                                 "What was agreed was to be done by 30 October 2026. It is not done yet.",
                                 "Please carry out by 15 November 2026 what was agreed."
                             };
    struct scene *s = *state;

    found(s);
    an_open_dispute(s, "2026-10-06", NULL);
    letter(s, "2026-10-06", usual, 1, "None has come");
    OK(step(s, TB_NOTIFIED, "2026-10-06", "2026-10-20", TB_REMEDY_NONE, NULL));
    letter(s, "2026-10-20", usual, 0, "None has come"); /* the last day is in time */
    letter(s, "2026-10-22", none, 2, "was agreed");
    OK(step(s, TB_ANSWERED, "2026-10-22", NULL, TB_REMEDY_NONE, "we agree"));
    OK(step(s, TB_AGREED, "2026-10-23", "2026-10-30", TB_CREDIT, NULL));
    letter(s, "2026-10-30", in_time, 1, "It is not done yet");
    letter(s, "2026-11-01", late, 2, "Please answer by");
}

int main(void)
{
#define SCENE(f) cmocka_unit_test_setup_teardown(f, make_scene, drop_scene)
    const struct CMUnitTest tests[] = {
        SCENE(terms_of_supplier_country_and_all_count_together),
        SCENE(terms_that_make_no_sense_are_refused),
        SCENE(the_first_verdict_against_it_is_the_day_of_discovery),
        SCENE(a_cut_bolt_is_remembered_and_a_mistake_taken_back),
        SCENE(a_dispute_goes_step_by_step),
        SCENE(open_claims_say_what_is_next_and_what_is_overdue),
        SCENE(a_claim_runs_for_a_lot_that_was_opened_again),
        SCENE(nobody_is_to_tell_a_supplier_that_his_words_are_right),
        SCENE(a_swatch_is_dealt_once),
        SCENE(an_extract_tells_a_dispute_and_proves_each_step_of_it),
        SCENE(a_notice_without_particulars_is_refused),
        SCENE(a_notice_names_goods_words_bolts_and_what_was_seen),
        SCENE(the_same_notice_has_the_same_bytes),
        SCENE(burns_that_showed_the_same_are_one_sentence),
        SCENE(many_burns_stay_on_one_page_and_the_rest_is_counted),
        SCENE(days_that_make_no_sense_are_refused),
        SCENE(a_letter_of_a_day_before_what_it_tells_or_of_one_to_come_is_refused),
        SCENE(a_letter_names_a_day_for_the_answer_and_a_day_that_is_gone_as_gone),
    };

    (void)setenv("TENTERBOOK_CLOCK", "1791280800", 1); /* the book's clock: 2026-10-06T10:00:00Z */
    return cmocka_run_group_tests(tests, NULL, NULL);
}
