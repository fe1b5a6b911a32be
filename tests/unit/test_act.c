/* How every act runs: it reads before the lock, sees whether somebody wrote what concerns it, and always ends. */
#include "unit/act_helper.h"

#include "work/act.h"

/* An act that sets a setting to how often it was planned; between plan and lock somebody else may write. */
struct counting {
    struct scene *s;
    struct tb_book *other; /* where somebody else writes; NULL: nobody does */
    int plans, writes, others;
    int others_most; /* how often the other one writes */
    bool refuse_plan, refuse_write, nothing;
    const char *matters; /* only rows with this verb concern the act; NULL: all do */
};

static tb_rc plan(struct tb_job *j)
{
    struct counting *c = j->own;

    c->plans++;
    if (c->refuse_plan)
        return tb_fail(j->err, TB_EINVAL, "the plan is refused");
    if (c->other && c->others < c->others_most && j->b != c->other) {
        c->others++;
        OK(tb_book_begin(c->other, "Ben Ito", "set", &err));
        OK(tb_setting_set(c->other, "weekend", c->others % 2 ? "sun" : "fri-sat", &err));
        OK(tb_book_commit(c->other, &err));
    }
    j->idle = c->nothing;
    return TB_OK;
}

static bool concerns(struct tb_job *j, const struct tb_journal_row *row)
{
    const struct counting *c = j->own;

    return !c->matters || strcmp(row->verb, c->matters) == 0;
}

static tb_rc write_it(struct tb_job *j)
{
    struct counting *c = j->own;
    char text[16];
    tb_rc rc;

    c->writes++;
    (void)snprintf(text, sizeof text, "%d", c->plans);
    if ((rc = tb_setting_set(j->b, "answer_days", text, j->err)) == TB_OK && c->refuse_write)
        return tb_fail(j->err, TB_EREFUSED, "the record is refused");
    return rc;
}

static const struct tb_act act = {
    .verb = TB_VERB_SET, .plan = plan, .write = write_it, .concerns = concerns
};

static const char *answer_days(struct scene *s)
{
    const char *value = "";

    OK(tb_setting_get(&value, s->actor.book, "answer_days", TB_BOOK_NOW, &s->mem, &err));
    return value;
}

static void an_act_plans_once_and_writes_once_where_nobody_else_writes(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct counting c = { .s = s };
    int64_t head = scene_head(s);

    (void)state;
    OK(tb_act_do(&act, &(struct tb_job){ .own = &c }, &s->actor, &err));
    assert_int_equal(c.plans, 1);
    assert_int_equal(c.writes, 1);
    assert_string_equal(answer_days(s), "1");
    assert_int_equal(scene_head(s), head + 1);
    scene_free(s);
}

static void an_act_plans_again_when_somebody_wrote_what_concerns_it(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct counting c = { .s = s, .others_most = 1 };

    (void)state;
    OK(tb_book_open(&c.other, s->path, NULL, &err));
    OK(tb_act_do(&act, &(struct tb_job){ .own = &c }, &s->actor, &err));
    assert_int_equal(c.plans, 2);
    assert_int_equal(c.writes, 1);
    assert_string_equal(answer_days(s), "2");
    tb_book_close(c.other);
    scene_free(s);
}

static void an_act_does_not_plan_again_for_what_does_not_concern_it(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct counting c = { .s = s, .others_most = 1, .matters = "burn" };

    (void)state;
    OK(tb_book_open(&c.other, s->path, NULL, &err));
    OK(tb_act_do(&act, &(struct tb_job){ .own = &c }, &s->actor, &err));
    assert_int_equal(c.others, 1);
    assert_int_equal(c.plans, 1);
    assert_string_equal(answer_days(s), "1");
    tb_book_close(c.other);
    scene_free(s);
}

static void what_is_refused_leaves_nothing_and_the_book_can_be_written(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct counting c = { .s = s, .refuse_plan = true };
    struct tb_actor nobody = { s->actor.book, NULL };

    (void)state;
    REFUSED(s, tb_act_do(&act, &(struct tb_job){ .own = &c }, &s->actor, &err), TB_EINVAL,
            "the plan is refused");
    assert_int_equal(c.writes, 0);
    c = (struct counting){ .s = s, .refuse_write = true };
    REFUSED(s, tb_act_do(&act, &(struct tb_job){ .own = &c }, &s->actor, &err), TB_EREFUSED,
            "the record is refused");
    assert_string_equal(answer_days(s), "");
    c = (struct counting){ .s = s };
    REFUSED(s, tb_act_do(&act, &(struct tb_job){ .own = &c }, &nobody, &err), TB_EINVAL,
            "say who is writing");
    OK(tb_act_do(&act, &(struct tb_job){ .own = &c }, &s->actor, &err));
    scene_free(s);
}

static void an_act_with_nothing_to_record_takes_no_lock(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct counting c = { .s = s, .nothing = true };
    struct tb_book *other;
    int64_t head = scene_head(s);

    (void)state;
    OK(tb_book_open(&other, s->path, NULL, &err));
    OK(tb_book_begin(other, "Ben Ito", "set", &err)); /* somebody else holds the lock all the while */
    OK(tb_act_do(&act, &(struct tb_job){ .own = &c }, &s->actor, &err));
    tb_book_rollback(other);
    assert_int_equal(c.writes, 0);
    assert_int_equal(scene_head(s), head);
    tb_book_close(other);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_act_plans_once_and_writes_once_where_nobody_else_writes),
        cmocka_unit_test(an_act_plans_again_when_somebody_wrote_what_concerns_it),
        cmocka_unit_test(an_act_does_not_plan_again_for_what_does_not_concern_it),
        cmocka_unit_test(what_is_refused_leaves_nothing_and_the_book_can_be_written),
        cmocka_unit_test(an_act_with_nothing_to_record_takes_no_lock),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
