/* Photographs that come later, a burn like another one, and what a person is asked before a burn. */
#include "unit/act_helper.h"

#include "tenterbook/act_bench.h"
#include "tenterbook/attachment.h"

static const unsigned char png[] = { 0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n', 0,   0,
                                     0,    0,   'I', 'E', 'N',  'D',  0xae, 'B',  '`', 0x82 };

static struct tb_attachment photo_of(const char *name)
{
    return (struct tb_attachment){ .name = name, .media = "image/png", .bytes = png, .size = sizeof png };
}

/* The same with a byte of its own in a chunk of text, which is read by nobody. */
static struct tb_attachment other_photo(unsigned char byte, struct tb_arena *mem)
{
    static const unsigned char text[] = { 0, 0, 0, 1, 't', 'E', 'X', 't', 0, 0, 0, 0, 0 };
    unsigned char *p = tb_arena_alloc(mem, sizeof png + sizeof text);

    memcpy(p, png, 8);
    memcpy(p + 8, text, sizeof text);
    p[16] = byte;
    memcpy(p + 8 + sizeof text, png + 8, sizeof png - 8);
    return (struct tb_attachment){
        .name = "b.png", .media = "image/png", .bytes = p, .size = sizeof png + sizeof text
    };
}

static const char *burned(struct scene *s, const char *saw, const char *could_not)
{
    struct tb_observation seen = { 0 };
    struct tb_burn_outcome out;
    struct tb_cut_outcome cut;

    OK(tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .bolt = "B1", .lot = s->lot.ref }, &s->mem,
                  &err));
    OK(tb_observation_read(&seen, saw, NULL, "smoke", &err));
    OK(tb_observation_could_not(&seen, could_not, &err));
    OK(tb_act_burn(
        &out, &s->actor,
        &(struct tb_burn_request){ .swatch = cut.swatch.tag, .seen = &seen, .sample_mm = (double)NAN },
        &s->mem, &err));
    tb_rejudged_free(&out.judged);
    return out.burn.id;
}

static void photographs_are_kept_with_a_burn_that_is_there(void **state)
{
    struct scene *s = scene_make("100% silk", 2);
    const char *id = burned(s, "in_flame:melts", NULL);
    struct tb_attachment photo = photo_of("a.png"), *list;
    struct tb_photograph_request r = { id, &photo, 1 };
    int64_t head = scene_head(s);
    struct tb_burn burn;
    size_t n;

    (void)state;
    OK(tb_act_photograph(&burn, &s->actor, &r, &s->mem, &err));
    assert_string_equal(burn.id, id);
    assert_int_equal(scene_head(s), head + 1);
    OK(tb_attachment_list(&list, &n, s->actor.book, id, &s->mem, &err));
    assert_int_equal(n, 1);
    assert_string_equal(list[0].name, "a.png");
    r.burn = "nothing";
    REFUSED(s, tb_act_photograph(&burn, &s->actor, &r, &s->mem, &err), TB_ENOTFOUND, "nothing");
    r = (struct tb_photograph_request){ id, &photo, 0 };
    REFUSED(s, tb_act_photograph(&burn, &s->actor, &r, &s->mem, &err), TB_EINVAL, "no photograph");
    r = (struct tb_photograph_request){ s->lot.ref, &photo, 1 };
    REFUSED(s, tb_act_photograph(&burn, &s->actor, &r, &s->mem, &err), TB_EINVAL, "not a burn");
    scene_free(s);
}

static void the_same_photograph_is_kept_once_with_a_burn(void **state)
{
    struct scene *s = scene_make("100% silk", 2);
    const char *id = burned(s, "in_flame:melts", NULL);
    struct tb_attachment photo[] = { photo_of("a.png"), photo_of("copy.png"), other_photo(1, &s->mem) };
    struct tb_photograph_request r = { id, photo, 2 };
    struct tb_burn burn;

    (void)state;
    REFUSED(s, tb_act_photograph(&burn, &s->actor, &r, &s->mem, &err), TB_EINVAL,
            "a.png and copy.png are the same photograph");
    r.photos = 1;
    OK(tb_act_photograph(&burn, &s->actor, &r, &s->mem, &err));
    r.photo = &photo[1];
    REFUSED(s, tb_act_photograph(&burn, &s->actor, &r, &s->mem, &err), TB_EEXISTS,
            "photograph copy.png is kept with this burn already, as a.png");
    r.photo = &photo[2];
    OK(tb_act_photograph(&burn, &s->actor, &r, &s->mem, &err));
    scene_free(s);
}

static void a_burn_takes_no_more_photographs_than_it_may_have_with_those_that_are_there(void **state)
{
    struct scene *s = scene_make("100% silk", 2);
    const char *id = burned(s, "in_flame:melts", NULL);
    struct tb_attachment photo[TB_PHOTOS_MOST];
    struct tb_photograph_request r = { id, photo, TB_PHOTOS_MOST };
    struct tb_burn burn;

    (void)state;
    for (size_t i = 0; i < TB_PHOTOS_MOST; i++)
        photo[i] = other_photo((unsigned char)i, &s->mem);
    OK(tb_act_photograph(&burn, &s->actor, &r, &s->mem, &err));
    r.photos = 1;
    REFUSED(s, tb_act_photograph(&burn, &s->actor, &r, &s->mem, &err), TB_EINVAL, "at most 16");
    scene_free(s);
}

static void photographs_of_unburnt_cloth_are_kept_with_its_swatch(void **state)
{
    struct scene *s = scene_make("100% silk", 2);
    struct tb_attachment photo[] = { photo_of("a.png"), other_photo(1, &s->mem) }, *list;
    struct tb_cut_request cut = { .bolt = "B1", .lot = s->lot.ref, .photo = photo, .photos = 1 };
    struct tb_unburnt_request r = { .photo = &photo[1], .photos = 1 };
    struct tb_cut_outcome out;
    struct tb_swatch swatch;
    int64_t head;
    size_t n;

    (void)state;
    OK(tb_act_cut(&out, &s->actor, &cut, &s->mem, &err));
    r.swatch = out.swatch.tag;
    head = scene_head(s);
    OK(tb_act_unburnt(&swatch, &s->actor, &r, &s->mem, &err));
    assert_int_equal(scene_head(s), head + 1); /* one row of the journal tells of it */
    OK(tb_attachment_list(&list, &n, s->actor.book, out.swatch.id, &s->mem, &err));
    assert_int_equal(n, 2);
    assert_string_equal(list[0].name, "a.png");
    assert_string_equal(list[0].about, "swatch");
    r.photo = photo;
    REFUSED(s, tb_act_unburnt(&swatch, &s->actor, &r, &s->mem, &err), TB_EEXISTS,
            "photograph a.png is kept with this swatch already, as a.png");
    r.photos = 0;
    REFUSED(s, tb_act_unburnt(&swatch, &s->actor, &r, &s->mem, &err), TB_EINVAL, "no photograph");
    r.photos = TB_PHOTOS_MOST - 1;
    REFUSED(s, tb_act_unburnt(&swatch, &s->actor, &r, &s->mem, &err), TB_EINVAL,
            "one swatch takes at most 16 photographs");
    r = (struct tb_unburnt_request){ "W99-001.01.01", photo, 1 };
    REFUSED(s, tb_act_unburnt(&swatch, &s->actor, &r, &s->mem, &err), TB_ENOTFOUND, "W99-001.01.01");
    scene_free(s);
}

/* And nothing is cut then. */
static void a_cut_whose_photograph_is_none_is_refused(void **state)
{
    struct scene *s = scene_make("100% silk", 2);
    struct tb_attachment photo[] = { photo_of("a.png"), photo_of("b.png") };
    struct tb_cut_request cut = { .bolt = "B1", .lot = s->lot.ref, .photo = photo, .photos = 2 };
    struct tb_cut_outcome out;

    (void)state;
    REFUSED(s, tb_act_cut(&out, &s->actor, &cut, &s->mem, &err), TB_EINVAL,
            "a.png and b.png are the same photograph");
    photo[0].bytes = "no picture at all";
    photo[0].size = 17;
    cut.photos = 1;
    REFUSED(s, tb_act_cut(&out, &s->actor, &cut, &s->mem, &err), TB_EINVAL,
            "a.png is neither JPEG, PNG nor PDF");
    scene_free(s);
}

static void a_burn_like_another_says_all_that_it_said(void **state)
{
    struct scene *s = scene_make("100% silk", 2);
    struct tb_observation seen;
    const char *id = burned(s, "in_flame:melts", "odour");
    int channel;

    (void)state;
    OK(tb_burn_like(&seen, s->actor.book, id, &s->mem, &err));
    assert_int_equal(seen.sight[tb_cue_by_key("in_flame:melts")], TB_SIGHT_SEEN);
    OK(tb_channel_find(&channel, "smoke", &err));
    assert_true(seen.looked[channel]);
    OK(tb_channel_find(&channel, "odour", &err));
    assert_true(seen.could_not[channel] && !seen.looked[channel]);
    assert_int_equal(tb_burn_like(&seen, s->actor.book, "nothing", &s->mem, &err), TB_ENOTFOUND);
    scene_free(s);
}

/* Silk and hair burn with one smell (burn_profile.csv), and hardly anything else has it. */
static void what_tells_most_of_the_declared_fibre_is_asked_first(void **state)
{
    struct scene *s = scene_make("100% silk", 2);
    struct tb_burn_guide g;
    struct tb_cut_outcome cut;
    int channel, first = -1;

    (void)state;
    OK(tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .bolt = "B1", .lot = s->lot.ref }, &s->mem,
                  &err));
    OK(tb_burn_guide_read(&g, s->actor.book, cut.swatch.tag, NULL, &s->mem, &err));
    OK(tb_channel_find(&channel, "odour", &err));
    for (size_t i = g.cues; i-- > 0;) {
        struct tb_channel ch;
        struct tb_cue cue;

        tb_cue_at(&cue, g.cue[i]);
        tb_channel_at(&ch, cue.channel);
        assert_false(ch.bench);
        first = cue.channel == channel ? g.cue[i] : first;
    }
    assert_int_equal(first, tb_cue_by_key("odour:burning_hair"));
    assert_string_equal(g.declared, "100% silk");
    assert_true(tb_observation_empty(&g.seen));
    OK(tb_burn_guide_read(&g, s->actor.book, cut.swatch.tag, burned(s, "in_flame:melts", NULL), &s->mem,
                          &err));
    assert_int_equal(g.seen.sight[tb_cue_by_key("in_flame:melts")], TB_SIGHT_SEEN);
    assert_int_equal(tb_burn_guide_read(&g, s->actor.book, "W26-009.01.01", NULL, &s->mem, &err),
                     TB_ENOTFOUND);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(photographs_are_kept_with_a_burn_that_is_there),
        cmocka_unit_test(the_same_photograph_is_kept_once_with_a_burn),
        cmocka_unit_test(a_burn_takes_no_more_photographs_than_it_may_have_with_those_that_are_there),
        cmocka_unit_test(photographs_of_unburnt_cloth_are_kept_with_its_swatch),
        cmocka_unit_test(a_cut_whose_photograph_is_none_is_refused),
        cmocka_unit_test(a_burn_like_another_says_all_that_it_said),
        cmocka_unit_test(what_tells_most_of_the_declared_fibre_is_asked_first),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
