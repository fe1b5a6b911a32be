/* A supplier's record from the book, and the act that lets a stopped supplier in again. */
#include "unit/at_once.h"

#include "tenterbook/act_amend.h"
#include "tenterbook/act_bench.h"
#include "tenterbook/act_draw.h"

/* A lot of one bolt that arrives on a day, of which nothing is known; its reference. */
static const char *add_open(struct scene *s, const struct tb_supplier *from, const char *day)
{
    struct tb_lot lot;

    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    s->delivery = (struct tb_delivery){ .arrived = day, .supplier = from->id };
    OK(tb_delivery_add(&s->delivery, s->actor.book, &s->mem, &err));
    scene_add_lot(s, &lot, 1, "100% cotton", 1, "L");
    OK(tb_book_commit(s->actor.book, &err));
    return lot.ref;
}

static void add_settled(struct scene *s, const struct tb_supplier *from, const char *day,
                        enum tb_standing_kind as)
{
    struct tb_settle_outcome out = { 0 };

    OK(tb_act_settle(&out, &s->actor,
                     &(struct tb_settle_request){ .lot = add_open(s, from, day), .as = as, .why = "a test" },
                     &s->mem, &err));
    tb_rejudged_free(&out.judged);
}

/* One of which a laboratory found its words kept, or not. */
static void add_lot(struct scene *s, const struct tb_supplier *from, const char *day, bool kept)
{
    scene_answer(s, add_open(s, from, day), kept);
}

/* Seven lots not as declared: two tighten the inspection, five more stop the supplier. */
static struct scene *stopped(const char *day)
{
    struct scene *s = scene_make("100% cotton", 1);

    for (int i = 0; i < 7; i++)
        add_lot(s, &s->supplier, day, false);
    return s;
}

static struct tb_supplier_record record_of(struct scene *s, const char *name)
{
    struct tb_supplier_record r;

    OK(tb_supplier_record_read(&r, s->actor.book, &(struct tb_supplier_record_request){ .supplier = name },
                               &s->mem, &err));
    return r;
}

static void a_record_counts_judged_lots_in_the_order_they_came(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_supplier_record r;
    struct tb_tallies t;
    struct tb_supplier other;

    (void)state;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    OK(tb_supplier_ensure(&other, s->actor.book, "Alder Mill", &s->mem, &err));
    OK(tb_book_commit(s->actor.book, &err));
    add_lot(s, &s->supplier, "2026-10-20", false);
    add_lot(s, &s->supplier, "2026-10-10", true);
    add_open(s, &s->supplier, "2026-10-15");
    add_settled(s, &s->supplier, "2026-10-16", TB_RELEASED);
    add_settled(s, &s->supplier, "2026-10-17", TB_RETURNED);
    add_lot(s, &other, "2026-10-12", false);
    r = record_of(s, "harrow  MILL");
    assert_string_equal(r.supplier.name, "Harrow Mill");
    /* not judged: the scene's own, one that waits, one released unburnt, and one that went back for another reason */
    assert_int_equal(r.lots, 6);
    assert_int_equal(r.record.n, 2);
    assert_int_equal(r.record.own.lots, 2);
    assert_int_equal(r.record.own.wrong, 1);
    assert_string_equal(r.record.lot[0].arrived, "2026-10-10");
    assert_false(r.record.lot[0].wrong);
    assert_string_equal(r.record.lot[1].arrived, "2026-10-20");
    assert_true(r.record.lot[1].wrong);
    assert_false(r.prior_own); /* two suppliers are too few for a prior of the site's own */
    assert_string_equal(r.record.resumed, "");
    OK(tb_tallies_read(&t, s->actor.book, &s->mem, &err));
    assert_int_equal(t.n, 2);
    assert_string_equal(t.name[0], "Alder Mill");
    assert_int_equal(t.tally[0].lots, 1);
    assert_int_equal(t.tally[0].wrong, 1);
    assert_string_equal(t.name[1], "Harrow Mill");
    assert_int_equal(t.tally[1].lots, 2);
    REFUSED(s,
            tb_supplier_record_read(&r, s->actor.book,
                                    &(struct tb_supplier_record_request){ .supplier = "No Such Mill" },
                                    &s->mem, &err),
            TB_ENOTFOUND, "No Such Mill");
    REFUSED(s,
            tb_supplier_record_read(
                &r, s->actor.book,
                &(struct tb_supplier_record_request){ .supplier = "Harrow Mill", .conf = 1 }, &s->mem, &err),
            TB_EINVAL, "");
    scene_free(s);
}

/* docs/sampling.md, "A supplier's record": from five suppliers and thirty judged lots on, the site has its own prior. */
static void with_enough_suppliers_the_prior_is_the_sites_own(void **state)
{
    static const char *const names[] = { "Alder Mill", "Brook Mill", "Crag Mill", "Dell Mill" };
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_supplier_record r;
    struct tb_tallies t;
    struct tb_beta want;
    bool own = false;

    (void)state;
    for (int i = 0; i < 6; i++)
        add_lot(s, &s->supplier, "2026-10-10", i >= 3);
    for (size_t k = 0; k < TB_COUNT(names); k++) {
        struct tb_supplier other;

        OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
        OK(tb_supplier_ensure(&other, s->actor.book, names[k], &s->mem, &err));
        OK(tb_book_commit(s->actor.book, &err));
        for (int i = 0; i < 6; i++)
            add_lot(s, &other, "2026-10-10", k > 0 || i > 0);
    }
    r = record_of(s, "Harrow Mill");
    OK(tb_tallies_read(&t, s->actor.book, &s->mem, &err));
    OK(tb_record_prior(&want, &own, t.tally, t.n, &err));
    assert_true(own);
    assert_true(r.prior_own);
    assert_true(r.record.prior.a == want.a && r.record.prior.b == want.b);
    scene_free(s);
}

/* Who was let in stays so under the name it is the same as. */
static void a_supplier_that_was_let_in_stays_so_under_another_name(void **state)
{
    struct scene *s = stopped("2026-10-06");
    struct tb_resume_outcome out;
    struct tb_same_outcome same;
    struct tb_supplier other;
    char today[TB_DAY_LEN + 1];

    (void)state;
    OK(tb_act_resume(&out, &s->actor, &(struct tb_resume_request){ "Harrow Mill", "spinner changed" },
                     &s->mem, &err));
    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    OK(tb_supplier_ensure(&other, s->actor.book, "Harrow Mills Limited", &s->mem, &err));
    OK(tb_book_commit(s->actor.book, &err));
    OK(tb_act_same(&same, &s->actor,
                   &(struct tb_same_request){
                       .supplier = "Harrow Mill", .same_as = "Harrow Mills Limited", .why = "one firm" },
                   &s->mem, &err));
    tb_today(today);
    assert_string_equal(record_of(s, "Harrow Mills Limited").record.resumed, today);
    assert_string_equal(record_of(s, "Harrow Mill").record.resumed, today);
    scene_free(s);
}

static void a_stopped_supplier_is_let_in_again_under_tightened_inspection(void **state)
{
    struct scene *s = stopped("2026-10-06");
    struct tb_resume_outcome out;
    struct tb_journal_row *row = NULL;
    char today[TB_DAY_LEN + 1];
    size_t n = 0;
    int64_t head = scene_head(s);

    (void)state;
    assert_int_equal(record_of(s, "Harrow Mill").record.advice, TB_ADVICE_STOP);
    OK(tb_act_resume(&out, &s->actor, &(struct tb_resume_request){ "harrow mill", "spinner changed" },
                     &s->mem, &err));
    tb_today(today);
    assert_string_equal(out.day, today);
    assert_string_equal(out.supplier.name, "Harrow Mill");
    assert_int_equal(scene_head(s), head + 1);
    assert_int_equal(record_of(s, "Harrow Mill").record.advice, TB_ADVICE_TIGHTEN);
    assert_string_equal(record_of(s, "Harrow Mill").record.resumed, today);
    OK(tb_journal_since(&row, &n, s->actor.book, head, &s->mem, &err));
    assert_string_equal(row[0].verb, "record");
    assert_string_equal(row[0].subject, "Harrow Mill");
    scene_free(s);
}

static void who_is_not_stopped_is_not_let_in_again(void **state)
{
    char today[TB_DAY_LEN + 1];
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_actor nobody = { s->actor.book, "" };
    struct tb_resume_outcome out;

    (void)state;
    tb_today(today);
#define RESUME(code, words, supplier, why)                                                                   \
    REFUSED(s, tb_act_resume(&out, &s->actor, &(struct tb_resume_request){ supplier, why }, &s->mem, &err),  \
            code, words)
    RESUME(TB_ENOTFOUND, "No Such Mill", "No Such Mill", "slip");
    RESUME(TB_EINVAL, "say what was put right", "Harrow Mill", "");
    RESUME(TB_EINVAL, "say what was put right", "Harrow Mill", NULL);
    RESUME(TB_EREFUSED, "Harrow Mill is not stopped", "Harrow Mill", "slip");
    for (int i = 0; i < 7; i++)
        add_lot(s, &s->supplier, today, false);
    REFUSED(s,
            tb_act_resume(&out, &nobody, &(struct tb_resume_request){ "Harrow Mill", "slip" }, &s->mem, &err),
            TB_EINVAL, "say who is writing");
    OK(tb_act_resume(&out, &s->actor, &(struct tb_resume_request){ "Harrow Mill", "slip" }, &s->mem, &err));
    RESUME(TB_EREFUSED, "Harrow Mill is not stopped", "Harrow Mill", "slip");
    for (int i = 0; i < 5; i++) /* what was put right did not hold */
        add_lot(s, &s->supplier, today, false);
    RESUME(TB_EREFUSED, "was let in again today and stopped once more", "Harrow Mill", "slip");
    scene_free(s);
}

static tb_rc resume(struct at_once *out, const struct tb_actor *actor, int i, struct tb_arena *mem,
                    struct tb_err *error)
{
    struct tb_resume_outcome o;

    (void)out;
    (void)i;
    return tb_act_resume(&o, actor, &(struct tb_resume_request){ "Harrow Mill", "slip" }, mem, error);
}

static void a_stop_is_ended_once(void **state)
{
    enum { N = 4 };
    struct scene *s = stopped("2026-10-06");
    struct at_once got[N];
    int ended = 0;

    (void)state;
    at_once(got, s, N, "Ada Fell", resume);
    for (int i = 0; i < N; i++) {
        ended += got[i].rc == TB_OK;
        if (got[i].rc != TB_OK)
            assert_non_null(strstr(got[i].why, "is not stopped"));
    }
    assert_int_equal(ended, 1);
    scene_free(s);
}

static void a_table_of_suppliers_is_read_or_refused_with_its_line(void **state)
{
    static const struct {
        const char *text, *say;
    } wrong[] = {
        { "mill,lots,wrong\nA,1,0\n", "supplier" },
        { "supplier,lots,wrong\nA,12,1\nB,12\n", "line 3: '' wrong of '12' lots is not a record" },
        { "supplier,lots,wrong\nA,12,13\n", "line 2: '13' wrong of '12' lots is not a record" },
        { "supplier,lots,wrong\nA,-1,-1\n", "line 2: '-1' wrong of '-1' lots is not a record" },
        { "supplier,lots,wrong\nA,2.5,1\n", "line 2: '1' wrong of '2.5' lots is not a record" },
        { "supplier,lots,wrong\nA,,\n", "line 2: '' wrong of '' lots is not a record" },
        { "supplier,lots,wrong\nA,1000001,1\n", "line 2: '1' wrong of '1000001' lots is not a record" },
    };
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_tallies t;

    (void)state;
    OK(tb_tallies_from(
        &t, scene_file(s, "suppliers.csv", "Wrong,supplier,remark,lots\n1,A,-,12\n0,B,-,1000000\n0,C,-,0\n"),
        &s->mem, &err));
    assert_int_equal(t.n, 3);
    assert_string_equal(t.name[1], "B");
    assert_int_equal(t.tally[2].lots, 0); /* nothing was judged yet */
    assert_int_equal(t.tally[0].wrong, 1);
    assert_int_equal(t.tally[1].lots, 1000000);
    for (size_t i = 0; i < TB_COUNT(wrong); i++) {
        assert_int_equal(tb_tallies_from(&t, scene_file(s, "suppliers.csv", wrong[i].text), &s->mem, &err),
                         TB_EINVAL);
        if (!strstr(err.msg, wrong[i].say) || !strstr(err.msg, "suppliers.csv: "))
            fail_msg("'%s' does not say '%s'", err.msg, wrong[i].say);
    }
    assert_int_not_equal(tb_tallies_from(&t, scene_file(s, "suppliers.csv", ""), &s->mem, &err), TB_OK);
    assert_int_not_equal(tb_tallies_from(&t, "/nonexistent/x.csv", &s->mem, &err), TB_OK);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_record_counts_judged_lots_in_the_order_they_came),
        cmocka_unit_test(with_enough_suppliers_the_prior_is_the_sites_own),
        cmocka_unit_test(a_supplier_that_was_let_in_stays_so_under_another_name),
        cmocka_unit_test(a_stopped_supplier_is_let_in_again_under_tightened_inspection),
        cmocka_unit_test(who_is_not_stopped_is_not_let_in_again),
        cmocka_unit_test(a_stop_is_ended_once),
        cmocka_unit_test(a_table_of_suppliers_is_read_or_refused_with_its_line),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
