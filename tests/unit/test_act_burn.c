/* The act of burning a swatch: recorded, judged and held at one go; each refusal; many people at once. */
#include "unit/bench_helper.h"

#include "tenterbook/analysis.h"

#include <sys/wait.h>

static void a_burn_is_recorded_judged_and_holds_the_lot_in_one_journal_row(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *tag = cut_one(s, "B1", TB_PART_WHOLE);
    int64_t head = scene_head(s);
    struct tb_burn_outcome out = burn_one(s, tag, AS_POLYESTER);
    struct tb_lot lot = scene_lot(s);
    struct tb_burn found;

    (void)state;
    assert_int_equal(scene_head(s), head + 1);
    assert_true(out.judged.judged && out.judged.recorded && out.judged.held);
    assert_int_equal(out.judged.v.verdict.kind, TB_CONTRADICTS);
    assert_int_equal(lot.bolts_burnt, 1);
    assert_int_equal(lot.burns, 1);
    assert_true(lot.log_ratio == out.judged.v.verdict.log_ratio);
    OK(tb_burn_find(&found, s->actor.book, out.burn.id, &s->mem, &err));
    assert_string_equal(found.burned_by, "Ada Fell");
    tb_rejudged_free(&out.judged);
    scene_free(s);
}

/* A second pair of eyes adds to a verdict: one person under two spellings must not. */
static void a_name_in_other_capitals_is_the_same_person(void **state)
{
    static const char *const spelled[] = { "ada fell", " ADA  FELL", "Ada Fe\xE2\x80\x8Bll" };
    struct scene *s = scene_make("100% cotton", 4);
    struct tb_burn_outcome first = burn_one(s, cut_one(s, "B1", TB_PART_WHOLE), AS_COTTON), out;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(spelled); i++) {
        char bolt[] = { 'B', (char)('2' + i), '\0' };

        s->actor.who = spelled[i];
        out = burn_one(s, cut_one(s, bolt, TB_PART_WHOLE), AS_COTTON);
        assert_string_equal(out.burn.burned_by, "Ada Fell");
        assert_true(out.judged.v.verdict.looks == first.judged.v.verdict.looks);
        tb_rejudged_free(&out.judged);
    }
    s->actor.who = "Ada Fall"; /* somebody else */
    out = burn_one(s, cut_one(s, "B1", TB_PART_WHOLE), AS_COTTON);
    assert_string_equal(out.burn.burned_by, "Ada Fall");
    assert_true(out.judged.v.verdict.looks > first.judged.v.verdict.looks);
    s->actor.who = "Ada Fell";
    tb_rejudged_free(&first.judged);
    tb_rejudged_free(&out.judged);
    scene_free(s);
}

/* The arrow up and Enter: nothing is refused, since two swatches may burn alike, but it is said. */
static void what_is_cut_or_recorded_twice_is_told(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *tag = cut_one(s, "B1", TB_PART_WHOLE);
    const struct tb_cut_request again = { .bolt = "B1" }, warp = { .bolt = "B1", .part = TB_PART_WARP };
    struct tb_cut_outcome cut;
    struct tb_burn_outcome first, out;

    (void)state;
    OK(tb_act_cut(&cut, &s->actor, &warp, &s->mem, &err));
    assert_int_equal(cut.n_waiting, 0);
    OK(tb_act_cut(&cut, &s->actor, &again, &s->mem, &err));
    assert_int_equal(cut.n_waiting, 1);
    assert_string_equal(cut.waiting[0], tag);
    first = burn_one(s, tag, AS_COTTON);
    assert_null(first.twin);
    out = burn_one(s, tag, AS_COTTON);
    assert_string_equal(out.twin, first.burn.id);
    tb_rejudged_free(&out.judged);
    out = burn_one(s, tag, "odour:burning_paper");
    assert_null(out.twin);
    tb_rejudged_free(&out.judged);
    out = burn_one(s, cut.swatch.tag, "odour:burning_paper");
    assert_null(out.twin); /* another swatch that burns alike */
    OK(tb_act_cut(&cut, &s->actor, &again, &s->mem, &err));
    assert_int_equal(cut.n_waiting, 0); /* all were burned */
    tb_rejudged_free(&first.judged);
    tb_rejudged_free(&out.judged);
    scene_free(s);
}

/* The verdict is computed before the burn is in the book: it has to be the one that the book gives afterwards. */
static void the_verdict_recorded_is_that_of_the_book_with_the_burn(void **state)
{
    struct scene *s = scene_make("65% polyester 35% cotton", 2);
    const char *first = cut_one(s, "B1", TB_PART_WHOLE), *second = cut_one(s, "B2", TB_PART_WARP);
    struct tb_burn_outcome out = burn_one(s, first, "smoke:black residue_form:hard_bead");
    struct tb_rejudged again;

    (void)state;
    tb_rejudged_free(&out.judged);
    out = burn_one(s, second, AS_COTTON);
    OK(tb_act_judge(&again, &s->actor, s->lot.ref, 0, &s->mem, &err));
    assert_false(again.recorded);
    assert_true(fabs(again.v.verdict.log_ratio - out.judged.v.verdict.log_ratio) < 1e-12);
    assert_int_equal(again.v.bolts, 2);
    tb_rejudged_free(&again);
    tb_rejudged_free(&out.judged);
    scene_free(s);
}

/* What a burn says with and without the mark: of cotton that smelt of nothing, as nobody could smell it. */
static struct tb_burn_outcome burnt_unsmelt(struct scene *s, const char *could_not)
{
    struct tb_observation seen = seen_as("smoke:black residue_form:light_fluffy_ash");
    struct tb_burn_outcome out;

    OK(tb_observation_could_not(&seen, could_not, &err));
    OK(tb_act_burn(&out, &s->actor,
                   &(struct tb_burn_request){
                       .swatch = cut_one(s, "B1", TB_PART_WHOLE), .seen = &seen, .sample_mm = (double)NAN },
                   &s->mem, &err));
    return out;
}

static void what_could_not_be_judged_is_kept_and_changes_no_verdict(void **state)
{
    struct scene *s = scene_make("100% cotton", 1), *other = scene_make("100% cotton", 1);
    struct tb_burn_outcome with = burnt_unsmelt(s, "odour, flame_colour"),
                           without = burnt_unsmelt(other, NULL);
    struct tb_burn found;
    struct tb_rejudged again;

    (void)state;
    assert_true(with.judged.v.verdict.log_ratio == without.judged.v.verdict.log_ratio);
    OK(tb_burn_find(&found, s->actor.book, with.burn.id, &s->mem, &err));
    assert_string_equal(found.looked, "smoke residue_form");
    assert_string_equal(found.could_not, "flame_colour odour");
    OK(tb_act_judge(&again, &s->actor, s->lot.ref, 0, &s->mem, &err));
    assert_false(again.recorded); /* the book gives the verdict that was computed before it was written */
    OK(tb_burn_find(&found, other->actor.book, without.burn.id, &other->mem, &err));
    assert_string_equal(found.could_not, "");
    tb_rejudged_free(&again);
    tb_rejudged_free(&with.judged);
    tb_rejudged_free(&without.judged);
    scene_free(other);
    scene_free(s);
}

static void a_channel_is_not_both_looked_at_and_not_to_be_judged(void **state)
{
    static const char *const said[][3] = { { "odour:burning_hair", "", "" },
                                           { "", "odour:burning_hair", "" },
                                           { "", "", "odour" } };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(said); i++) {
        struct tb_observation o = { 0 };

        OK(tb_observation_read(&o, said[i][0], said[i][1], said[i][2], &err));
        assert_int_equal(tb_observation_could_not(&o, "smoke odour", &err), TB_EINVAL);
        assert_non_null(strstr(err.msg, "'odour' is given both as looked at"));
        for (size_t c = 0; c < TB_CHANNELS_MOST; c++)
            assert_int_equal(o.could_not[c], 0);
        assert_int_equal(tb_observation_could_not(&o, "smel", &err), TB_EINVAL);
        assert_non_null(strstr(err.msg, "smel"));
    }
}

static void a_correction_takes_the_place_of_what_it_corrects_in_the_verdict(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    const char *tag = cut_one(s, "B1", TB_PART_WHOLE);
    struct tb_burn_outcome wrong = burn_one(s, tag, AS_POLYESTER), right, again;
    struct tb_observation seen = seen_as(AS_COTTON);

    (void)state;
    OK(tb_act_burn(&right, &s->actor,
                   &(struct tb_burn_request){
                       .swatch = tag, .seen = &seen, .corrects = wrong.burn.id, .sample_mm = (double)NAN },
                   &s->mem, &err));
    assert_int_equal(right.judged.v.observations, 1);
    assert_int_equal(right.judged.v.verdict.kind, TB_FITS);
    assert_int_equal(scene_lot(s).burns, 1);
    REFUSED(
        s,
        tb_act_burn(&again, &s->actor,
                    &(struct tb_burn_request){
                        .swatch = tag, .seen = &seen, .corrects = wrong.burn.id, .sample_mm = (double)NAN },
                    &s->mem, &err),
        TB_EINVAL, "was corrected already");
    tb_rejudged_free(&wrong.judged);
    tb_rejudged_free(&right.judged);
    scene_free(s);
}

static void whoever_corrects_a_burn_did_not_burn_it(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    const char *tag = cut_one(s, "B1", TB_PART_WHOLE);
    const char *first = s->actor.who;
    struct tb_observation seen = seen_as(AS_COTTON);
    struct tb_burn_outcome one = burn_one(s, tag, AS_COTTON), two = burn_one(s, tag, AS_COTTON), right;

    (void)state;
    s->actor.who = "Bob Ray";
    OK(tb_act_burn(&right, &s->actor,
                   &(struct tb_burn_request){
                       .swatch = tag, .seen = &seen, .corrects = two.burn.id, .sample_mm = (double)NAN },
                   &s->mem, &err));
    assert_string_equal(right.burn.burned_by, first);
    assert_int_equal(right.judged.v.observations, 2);
    /* the same seen once more by the same person: no second pair of eyes comes of it */
    assert_true(fabs(right.judged.v.verdict.log_ratio - two.judged.v.verdict.log_ratio) < 1e-12);
    tb_rejudged_free(&one.judged);
    tb_rejudged_free(&two.judged);
    tb_rejudged_free(&right.judged);
    scene_free(s);
}

static void cloth_that_must_not_be_burned_is_refused_unless_it_was_burned_already(void **state)
{
    struct scene *s = scene_make("100% PTFE", 1);
    struct tb_observation seen = { 0 };
    struct tb_cut_outcome cut;
    struct tb_burn_outcome out;
    struct tb_burn_request r = { .seen = &seen, .sample_mm = (double)NAN };

    (void)state;
    tb_observation_see(&seen, tb_cue_by_key("in_flame:does_not_burn"));
    OK(tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .bolt = "B1", .cut_at = "2026-10-06T08:00:00Z" },
                  &s->mem, &err));
    r.swatch = cut.swatch.tag;
    REFUSED(s, tb_act_burn(&out, &s->actor, &r, &s->mem, &err), TB_EREFUSED, "send it to a laboratory");
    r.burned_at = "2026-10-06T09:00:00Z";
    OK(tb_act_burn(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(out.judged.v.verdict.handling,
                     TB_HANDLING_LABORATORY); /* it neither burned nor melted */
    tb_rejudged_free(&out.judged);
    OK(tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .known = "100% PTFE" }, &s->mem, &err));
    r = (struct tb_burn_request){ .swatch = cut.swatch.tag, .seen = &seen, .sample_mm = (double)NAN };
    REFUSED(s, tb_act_burn(&out, &s->actor, &r, &s->mem, &err), TB_EREFUSED, "must not be burned");
    scene_free(s);
}

static void known_cloth_is_burned_without_a_lot_and_keeps_its_photographs(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_attachment photo = {
        .name = "a.png", .media = "image/png", .bytes = "\x89PNG\r\n\x1a\n.", .size = 9
    };
    struct tb_observation seen = seen_as(AS_COTTON);
    struct tb_burn_outcome out;
    struct tb_attachment *kept;
    struct tb_cut_outcome cut;
    size_t n = 0;

    (void)state;
    OK(tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .known = "100% cotton" }, &s->mem, &err));
    OK(tb_act_burn(
        &out, &s->actor,
        &(struct tb_burn_request){
            .swatch = cut.swatch.tag, .seen = &seen, .photo = &photo, .photos = 1, .sample_mm = 20 },
        &s->mem, &err));
    assert_false(out.judged.judged);
    OK(tb_attachment_list(&kept, &n, s->actor.book, out.burn.id, &s->mem, &err));
    assert_int_equal(n, 1);
    assert_string_equal(kept[0].name, "a.png");
    tb_rejudged_free(&out.judged);
    scene_free(s);
}

static void what_cannot_be_recorded_is_refused_and_leaves_nothing(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    const char *tag = cut_one(s, "B1", TB_PART_WHOLE);
    struct tb_observation seen = seen_as(AS_COTTON), nothing = { 0 }, solvent = seen_as("acetone:dissolves"),
                          unsmelt = { 0 }, unsolved = seen_as(AS_COTTON);
    struct tb_attachment photo[TB_PHOTOS_MOST + 1] = { 0 };
    struct tb_attachment empty = { .name = "empty.png", .media = "image/png", .bytes = "", .size = 0 };
    struct tb_burn_outcome out;
    struct tb_actor nobody = { s->actor.book, "" };
    struct tb_cut_outcome early;

    (void)state;
    OK(tb_act_cut(&early, &s->actor,
                  &(struct tb_cut_request){ .bolt = "B1", .cut_at = "2026-10-06T08:00:00Z" }, &s->mem, &err));
#define BURN(code, words, ...)                                                                               \
    REFUSED(s,                                                                                               \
            tb_act_burn(&out, &s->actor, &(struct tb_burn_request){ .sample_mm = (double)NAN, __VA_ARGS__ }, \
                        &s->mem, &err),                                                                      \
            code, words)
    BURN(TB_ENOTFOUND, "W-K99", .swatch = "W-K99", .seen = &seen);
    BURN(TB_EINVAL, "at least one thing seen or looked at", .swatch = tag, .seen = &nothing);
    BURN(TB_EINVAL, "'acetone' is a bench test", .swatch = tag, .seen = &solvent);
    OK(tb_observation_could_not(&unsmelt, "odour", &err));
    BURN(TB_EINVAL, "at least one thing seen or looked at", .swatch = tag, .seen = &unsmelt);
    OK(tb_observation_could_not(&unsolved, "acetone", &err));
    BURN(TB_EINVAL, "'acetone' is a bench test", .swatch = tag, .seen = &unsolved);
    BURN(TB_EINVAL, "cannot have been burned at", .swatch = tag, .seen = &seen,
         .burned_at = "2020-01-01T00:00:00Z");
    BURN(TB_EINVAL, "cannot be dead", .swatch = early.swatch.tag, .seen = &seen,
         .burned_at = "2026-10-06T09:00:00Z", .dead_at = "2026-10-06T08:30:00Z");
    BURN(TB_EINVAL, "still to come", .swatch = tag, .seen = &seen, .burned_at = "2099-01-01T00:00:00Z");
    BURN(TB_EINVAL, "before the burn, which is now", .swatch = tag, .seen = &seen,
         .dead_at = "2020-11-10T00:00:00Z");
    BURN(TB_EINVAL, "is not a valid moment", .swatch = tag, .seen = &seen, .dead_at = "noon");
    BURN(TB_ENOTFOUND, "burn", .swatch = tag, .seen = &seen, .corrects = "no such burn");
    BURN(TB_EINVAL, "at most 16 photographs", .swatch = tag, .seen = &seen, .photo = photo,
         .photos = TB_PHOTOS_MOST + 1);
    /* the burn itself is in the transaction already when the photograph is refused */
    BURN(TB_EINVAL, "empty.png is empty", .swatch = tag, .seen = &seen, .photo = &empty, .photos = 1);
    REFUSED(s,
            tb_act_burn(&out, &nobody,
                        &(struct tb_burn_request){ .swatch = tag, .seen = &seen, .sample_mm = (double)NAN },
                        &s->mem, &err),
            TB_EINVAL, "say who is writing");
    assert_int_equal(scene_lot(s).burns, 0);
    OK(tb_book_begin(s->actor.book, "Ada Fell", "set", &err));
    OK(tb_setting_set(s->actor.book, "flame", "no", &err));
    OK(tb_book_commit(s->actor.book, &err));
    BURN(TB_EREFUSED, "flame work is not permitted", .swatch = tag, .seen = &seen);
    scene_free(s);
}

#define PEOPLE 8
#define BURNS_EACH 4

static void burn_as_one_of_many(const char *path, const char *tag)
{
    struct tb_observation seen = seen_as(AS_COTTON);
    struct tb_arena mem = { 0 };
    struct tb_actor actor = { NULL, "one of many" };

    if (tb_book_open(&actor.book, path, NULL, &err) != TB_OK)
        _exit(1);
    for (int i = 0; i < BURNS_EACH; i++) {
        struct tb_burn_outcome out;

        if (tb_act_burn(&out, &actor,
                        &(struct tb_burn_request){ .swatch = tag, .seen = &seen, .sample_mm = (double)NAN },
                        &mem, &err) != TB_OK)
            _exit(2);
        tb_rejudged_free(&out.judged);
    }
    tb_book_close(actor.book);
    tb_arena_free(&mem);
    _exit(0);
}

static void people_who_burn_the_same_lot_at_once_lose_nothing(void **state)
{
    struct scene *s = scene_make("100% cotton", PEOPLE);
    const char *tag[PEOPLE];
    struct tb_rejudged again;
    struct tb_judged *judged;
    size_t n = 0;
    int64_t head;

    (void)state;
    for (int i = 0; i < PEOPLE; i++) {
        char bolt[16];

        (void)snprintf(bolt, sizeof bolt, "B%d", i + 1);
        tag[i] = cut_one(s, bolt, TB_PART_WHOLE);
    }
    head = scene_head(s);
    for (int i = 0; i < PEOPLE; i++)
        if (fork() == 0)
            burn_as_one_of_many(s->path, tag[i]);
    for (int i = 0; i < PEOPLE; i++) {
        int status;

        assert_true(wait(&status) > 0);
        assert_true(WIFEXITED(status) && WEXITSTATUS(status) == 0);
    }
    assert_int_equal(scene_head(s), head + PEOPLE * BURNS_EACH);
    assert_int_equal(scene_lot(s).burns, PEOPLE * BURNS_EACH);
    /* every burn was judged with those before it: each verdict but the last speaks of fewer burns, none is stale */
    OK(tb_act_judge(&again, &s->actor, s->lot.ref, 0, &s->mem, &err));
    assert_false(again.recorded);
    OK(tb_judged_list(&judged, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, PEOPLE * BURNS_EACH);
    scene_is_unchanged(s, head + PEOPLE * BURNS_EACH);
    tb_rejudged_free(&again);
    scene_free(s);
}

static bool is_stopped(struct scene *s)
{
    const struct tb_lot lot = scene_lot(s);
    enum tb_handling handling;

    OK(tb_lot_handling(&handling, s->actor.book, &lot, &err));
    return handling == TB_HANDLING_LABORATORY;
}

/* Of cloth of which nothing was declared. */
static tb_rc ask(bool *stopped, const char *detail, const struct tb_burn *burn, size_t burns,
                 const struct tb_analysis *a, size_t n)
{
    const struct tb_cloth_known k = { detail, burn, burns, a, n };
    struct tb_declaration d;
    enum tb_handling handling;
    tb_rc rc;

    tb_declaration_read(&d, "", 0);
    rc = tb_known_handling(&handling, &d, &k, &err);
    tb_declaration_free(&d);
    *stopped = handling == TB_HANDLING_LABORATORY;
    return rc;
}

/* caution.csv, row of asbestos: what neither burned nor melted stays stopped, until a laboratory names its fibres. */
static void cloth_that_a_burn_stopped_is_not_cut_or_burned_again(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *other = cut_one(s, "B1", TB_PART_WHOLE);
    struct tb_observation seen = { 0 };
    struct tb_burn_request r = { .swatch = cut_one(s, "B1", TB_PART_WHOLE),
                                 .seen = &seen,
                                 .sample_mm = (double)NAN };
    struct tb_burn_outcome out;
    struct tb_cut_outcome cut;
    bool stopped = false;

    (void)state;
    OK(tb_observation_read(&seen, "in_flame:does_not_burn residue_form:keeps_shape odour:faint_none", NULL,
                           NULL, &err));
    OK(tb_act_burn(&out, &s->actor, &r, &s->mem, &err));
    tb_rejudged_free(&out.judged);
    stopped = is_stopped(s);
    assert_true(stopped);
    REFUSED(s, tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .bolt = "B2" }, &s->mem, &err),
            TB_EREFUSED, "neither burned nor melted and may be asbestos");
    r.swatch = other;
    REFUSED(s, tb_act_burn(&out, &s->actor, &r, &s->mem, &err), TB_EREFUSED,
            "ask a laboratory licensed for it");
    scene_free(s);
}

/* An analysis that names the fibres has answered; one that found asbestos, or that nobody can read, has lifted nothing. */
static void a_laboratory_that_names_the_fibres_lifts_the_stop(void **state)
{
    static const char *const detail = "{\"verdict\":\"undecided\",\"grade\":\"undecided\",\"base_rate\":{"
                                      "\"from\":\"\"},\"notes\":[\"Stop: as said.\"]}";
    static const struct {
        const char *found;
        bool stopped;
    } row[] = { { "100 % glass", false }, { "80 % cotton, 20 % asbestos", true }, { "hgjk", true } };
    bool stopped = false;

    (void)state;
    OK(ask(&stopped, detail, NULL, 0, NULL, 0));
    assert_true(stopped);
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_analysis a = { .id = "2", .found = row[i].found, .analysed_on = "2026-03-02" };

        OK(ask(&stopped, detail, NULL, 0, &a, 1));
        assert_int_equal(stopped, row[i].stopped);
    }
    OK(ask(&stopped, "", NULL, 0, NULL, 0));
    assert_false(stopped);
    assert_int_equal(ask(&stopped, "{", NULL, 0, NULL, 0), TB_EFORMAT);
}

/* What was analysed, or recorded, before the burn says nothing of what the burn showed. */
static void an_analysis_from_before_the_burn_lifts_nothing(void **state)
{
    static const char *const detail = "{\"verdict\":\"undecided\",\"grade\":\"undecided\",\"base_rate\":{"
                                      "\"from\":\"\"},\"handling\":\"laboratory\"}";
    static const struct {
        const char *id, *on;
        bool stopped;
    } row[] = { { "3", "2026-03-02", false },
                { "3", "2026-03-03", false },
                { "3", "2026-03-01", true },
                { "1", "2026-03-02", true } };
    struct tb_cue_seen glass[] = { { "in_flame:does_not_burn", true }, { "residue_form:keeps_shape", true } },
                       wool[] = { { "odour:burning_hair", true } };
    struct tb_burn burn[] = { { .id = "2",
                                .tag = "a",
                                .looked = "in_flame residue_form",
                                .burned_at = "2026-03-02T10:00:00Z",
                                .cue = glass,
                                .cues = 2 },
                              { .id = "4",
                                .tag = "b",
                                .looked = "odour",
                                .burned_at = "2026-03-09T10:00:00Z",
                                .cue = wool,
                                .cues = 1 } };
    bool stopped = false;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_analysis a = { .id = row[i].id, .found = "100 % glass", .analysed_on = row[i].on };

        OK(ask(&stopped, detail, burn, 2, &a, 1));
        assert_int_equal(stopped, row[i].stopped);
    }
}

/* Another bolt that contradicts tells the verdict; the one that does not burn is stopped all the same. */
static void a_bolt_that_contradicts_hides_no_stop(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_observation stone = { 0 }, wool = { 0 };
    struct tb_burn_request r = { .swatch = cut_one(s, "B1", TB_PART_WHOLE),
                                 .seen = &wool,
                                 .sample_mm = (double)NAN };
    struct tb_burn_outcome out;
    const char *other = cut_one(s, "B2", TB_PART_WHOLE);
    bool stopped = false;

    (void)state;
    OK(tb_observation_read(&wool, "odour:burning_hair removed:self_extinguishes residue_form:crushable_bead",
                           NULL, NULL, &err));
    OK(tb_act_burn(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(out.judged.v.verdict.kind, TB_CONTRADICTS);
    tb_rejudged_free(&out.judged);
    stopped = is_stopped(s);
    assert_false(stopped);
    OK(tb_observation_read(&stone, "in_flame:does_not_burn residue_form:keeps_shape", NULL, NULL, &err));
    r.swatch = other;
    r.seen = &stone;
    OK(tb_act_burn(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(out.judged.v.verdict.kind, TB_CONTRADICTS);
    assert_int_equal(out.judged.v.verdict.handling, TB_HANDLING_LABORATORY);
    tb_rejudged_free(&out.judged);
    stopped = is_stopped(s);
    assert_true(stopped);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cloth_that_a_burn_stopped_is_not_cut_or_burned_again),
        cmocka_unit_test(a_laboratory_that_names_the_fibres_lifts_the_stop),
        cmocka_unit_test(an_analysis_from_before_the_burn_lifts_nothing),
        cmocka_unit_test(a_bolt_that_contradicts_hides_no_stop),
        cmocka_unit_test(a_burn_is_recorded_judged_and_holds_the_lot_in_one_journal_row),
        cmocka_unit_test(a_name_in_other_capitals_is_the_same_person),
        cmocka_unit_test(what_is_cut_or_recorded_twice_is_told),
        cmocka_unit_test(the_verdict_recorded_is_that_of_the_book_with_the_burn),
        cmocka_unit_test(what_could_not_be_judged_is_kept_and_changes_no_verdict),
        cmocka_unit_test(a_channel_is_not_both_looked_at_and_not_to_be_judged),
        cmocka_unit_test(a_correction_takes_the_place_of_what_it_corrects_in_the_verdict),
        cmocka_unit_test(whoever_corrects_a_burn_did_not_burn_it),
        cmocka_unit_test(cloth_that_must_not_be_burned_is_refused_unless_it_was_burned_already),
        cmocka_unit_test(known_cloth_is_burned_without_a_lot_and_keeps_its_photographs),
        cmocka_unit_test(what_cannot_be_recorded_is_refused_and_leaves_nothing),
        cmocka_unit_test(people_who_burn_the_same_lot_at_once_lose_nothing),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
