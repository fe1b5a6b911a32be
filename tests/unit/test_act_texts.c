/* What acts refuse whoever calls them: texts that may not be recorded, figures and files that cannot be right. */
#include "unit/bench_helper.h"

#include "tenterbook/act_claim.h"
#include "tenterbook/act_draw.h"
#include "tenterbook/act_drill.h"
#include "tenterbook/act_intake.h"
#include "tenterbook/act_lab.h"
#include "tenterbook/act_site.h"
#include "tenterbook/attachment.h"
#include "tenterbook/said.h"

static void texts_are_of_a_length_somebody_wrote_and_hold_nothing_a_terminal_obeys(void **state)
{
    char *longest = tb_array(char, TB_SAID_MOST + 2);

    (void)state;
    memset(longest, 'a', TB_SAID_MOST);
    OK(tb_said_check("the note", longest, &err));
    longest[TB_SAID_MOST] = 'a';
    assert_int_equal(tb_said_check("the note", longest, &err), TB_EINVAL);
    assert_string_equal(err.msg, "the note has 16001 bytes; it takes at most 16000");
    free(longest);
    OK(tb_said_check("the note", "Köper,\ntwo lines", &err));
    assert_int_equal(tb_said_check("the note", "K\xf6per", &err), TB_EINVAL);
    assert_string_equal(err.msg, "the note holds bytes that are not UTF-8");
    assert_int_equal(tb_said_check("the note", "a\033[2Jb", &err), TB_EINVAL);
    assert_string_equal(err.msg, "the note holds a control character");
    assert_true(tb_said_blank("") && tb_said_blank(" \t\n") && !tb_said_blank(" a "));
}

#define BAD "a\033b"
#define SAYS "holds a control character"
/* Each text of a request is refused when the act begins, before anything else that is wrong with it. */
#define EACH(act, out, request, ...)                                                                         \
    do {                                                                                                     \
        struct request each_[] = { __VA_ARGS__ };                                                            \
        for (size_t i_ = 0; i_ < TB_COUNT(each_); i_++)                                                      \
            REFUSED(s, act(out, &s->actor, &each_[i_], &s->mem, &err), TB_EINVAL, SAYS);                     \
    } while (0)

static void every_text_of_every_request_of_the_bench_is_looked_at(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    static const char *const bolts[] = { "B1", BAD };
    struct tb_burn_file_outcome *file = tb_new(struct tb_burn_file_outcome);
    struct tb_cut_outcome cut;
    struct tb_burn_outcome burn;
    struct tb_try_outcome tried;
    struct tb_settle_outcome settled;
    struct tb_use_outcome use;

    (void)state;
    EACH(tb_act_cut, &cut, tb_cut_request, { .bolt = BAD }, { .lot = BAD }, { .known = BAD }, { .kept = BAD },
         { .cut_at = BAD });
    EACH(tb_act_burn, &burn, tb_burn_request, { .swatch = BAD }, { .flame = BAD }, { .note = BAD },
         { .at_hand = BAD }, { .corrects = BAD }, { .burned_at = BAD }, { .dead_at = BAD });
    EACH(tb_act_try, &tried, tb_try_request, { .swatch = BAD }, { .test = BAD }, { .result = BAD },
         { .note = BAD }, { .corrects = BAD }, { .tested_at = BAD });
    EACH(tb_act_settle, &settled, tb_settle_request, { .lot = BAD }, { .why = BAD }, { .old_words = BAD },
         { .new_words = BAD }, { .goods_of = BAD }, { .settled_at = BAD });
    EACH(tb_act_use, &use, tb_use_request, { .bolt = bolts, .bolts = 2 },
         { .bolt = bolts, .bolts = 1, .lot = BAD }, { .bolt = bolts, .bolts = 1, .why = BAD },
         { .bolt = bolts, .bolts = 1, .used_at = BAD });
    EACH(tb_act_burn_file, file, tb_burn_file_request, { .name = BAD });
    free(file);
    scene_free(s);
}

static void every_text_of_the_other_requests_is_looked_at(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    static const char *const bad[] = { BAD };
    struct tb_supplier_term term;
    struct tb_dispute_outcome dispute;
    struct tb_drill_outcome drill;
    struct tb_answer_outcome answer;
    struct tb_share_outcome share;
    struct tb_resume_outcome resume;
    struct tb_draw_outcome draw;
    struct tb_assay_lot_outcome assay;
    struct tb_assay_request figures;

    (void)state;
    EACH(tb_act_terms, &term, tb_terms_request, { .supplier = BAD }, { .country = BAD },
         { .law = bad, .laws = 1 }, { .stands_in = BAD });
    EACH(tb_act_dispute, &dispute, tb_dispute_request, { .lot = BAD }, { .step.day = BAD },
         { .step.words = BAD }, { .step.due = BAD }, { .step.channel = BAD }, { .step.proof = BAD },
         { .step.currency = BAD }, { .step.keep_until = BAD }, { .found_on = BAD });
    EACH(tb_act_drill, &drill, tb_drill_request, { .to = BAD }, { .seed = BAD });
    EACH(tb_act_answer, &answer, tb_answer_request, { .card = BAD }, { .named = BAD }, { .flame = BAD });
    EACH(tb_act_share, &share, tb_share_request, { .lot = BAD }, { .seed = BAD }, { .laboratory = BAD },
         { .rule = BAD }, { .present = BAD });
    EACH(tb_act_resume, &resume, tb_resume_request, { .supplier = BAD }, { .why = BAD });
    EACH(tb_act_draw, &draw, tb_draw_request, { .name = bad, .names = 1 }, { .against = BAD },
         { .seed = BAD });
    REFUSED(s, tb_draw_try(&draw, s->actor.book, &(struct tb_draw_request){ .seed = BAD }, &s->mem, &err),
            TB_EINVAL, SAYS);
    tb_assay_request_init(&figures);
    EACH(tb_act_assay, &assay, tb_assay_lot_request, { .lot = BAD }, { .laboratory = BAD }, { .report = BAD },
         { .analysed_on = BAD }, { .corrects = BAD });
    figures.found = BAD;
    EACH(tb_act_assay, &assay, tb_assay_lot_request, { .lot = s->lot.ref, .assay = &figures });
    REFUSED(s, tb_act_set(&s->actor, &(struct tb_set_request){ .name = BAD, .value = "1" }, &err), TB_EINVAL,
            SAYS);
    REFUSED(s, tb_act_set(&s->actor, &(struct tb_set_request){ .name = "market", .value = BAD }, &err),
            TB_EINVAL, SAYS);
    scene_free(s);
}

static void a_reason_of_blanks_is_no_reason(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_settle_outcome out;
    struct tb_rejudged declared;

    (void)state;
    REFUSED(s,
            tb_act_settle(&out, &s->actor,
                          &(struct tb_settle_request){ .lot = s->lot.ref, .as = TB_RELEASED, .why = "   " },
                          &s->mem, &err),
            TB_EINVAL, "a standing needs its reason");
    REFUSED(s,
            tb_act_declare(&declared, &s->actor,
                           &(struct tb_declare_request){ .lot = s->lot.ref, .text = " \t" }, &s->mem, &err),
            TB_EINVAL, "a declaration needs its words");
    scene_free(s);
}

static void who_writes_has_a_name_that_can_be_read(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    static const struct {
        const char *who, *words;
    } bad[] = { { "  ", "say who is writing" },
                { "A\nB", "goes over more than one line" },
                { BAD, SAYS },
                { "K\xf6ster", "not UTF-8" } };
    struct tb_cut_outcome out;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(bad); i++) {
        struct tb_actor actor = { s->actor.book, bad[i].who };

        REFUSED(s, tb_act_cut(&out, &actor, &(struct tb_cut_request){ .bolt = "B1" }, &s->mem, &err),
                TB_EINVAL, bad[i].words);
        REFUSED(s, tb_book_begin(s->actor.book, bad[i].who, "cut", &err), TB_EINVAL, bad[i].words);
    }
    scene_free(s);
}

static void figures_and_files_that_cannot_be_right_are_refused(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    const char *tag = cut_one(s, "B1", TB_PART_WHOLE), *one[] = { "B1" };
    static const double size[] = { -3, 0, 0.5, 200.5, 1e9, (double)INFINITY };
    static const double metres[] = { -5, 0, (double)INFINITY };
    struct tb_observation seen = seen_as("smoke:black");
    struct tb_attachment photo = { .name = "x.exe", .media = "image/png", .bytes = "MZ", .size = 2 };
    struct tb_burn_request r = { .swatch = tag, .seen = &seen };
    struct tb_burn_outcome out;
    struct tb_cut_outcome cut;
    struct tb_use_outcome use;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(size); i++) {
        r.sample_mm = size[i];
        REFUSED(s, tb_act_burn(&out, &s->actor, &r, &s->mem, &err), TB_EINVAL, "it has 1 to 200 mm");
    }
    for (size_t i = 0; i < TB_COUNT(metres); i++)
        REFUSED(s,
                tb_act_use(&use, &s->actor,
                           &(struct tb_use_request){ .bolt = one, .bolts = 1, .metres = metres[i] }, &s->mem,
                           &err),
                TB_EINVAL, "cannot be cut from bolt B1");
    r.sample_mm = (double)NAN;
    r.photo = &photo;
    r.photos = 1;
#define PHOTO(words, ...)                                                                                    \
    photo = (struct tb_attachment){ __VA_ARGS__ };                                                           \
    REFUSED(s, tb_act_burn(&out, &s->actor, &r, &s->mem, &err), TB_EINVAL, words)
    PHOTO("neither JPEG, PNG nor PDF", .name = "x.exe", .media = "image/png", .bytes = "MZ", .size = 2);
    PHOTO("is said to be text/html", .name = "x.jpg", .media = "text/html", .bytes = "%PDF-1", .size = 6);
    PHOTO("needs the name", .media = "application/pdf", .bytes = "%PDF-1", .size = 6);
    PHOTO("is empty", .name = "x.pdf", .media = "application/pdf", .bytes = "");
    PHOTO("has 33 MB", .name = "x.pdf", .media = "application/pdf", .bytes = "%PDF-1", .size = 33 << 20);
    PHOTO(SAYS, .name = BAD, .media = "application/pdf", .bytes = "%PDF-1", .size = 6);
    REFUSED(s,
            tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .bolt = "B1", .known = "100% wool" },
                       &s->mem, &err),
            TB_EINVAL, "a swatch is of a bolt or of known cloth");
    REFUSED(s, tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ 0 }, &s->mem, &err), TB_EINVAL,
            "a swatch is of a bolt or of known cloth");
    scene_free(s);
}

static void a_photograph_that_was_sent_as_bytes_is_kept_as_one_from_the_disk(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_observation seen = seen_as("smoke:black");
    struct tb_burn_request r = {
        .swatch = cut_one(s, "B1", TB_PART_WHOLE), .seen = &seen, .sample_mm = 20, .photos = 1
    };
    /* the least that is whole: ISO/IEC 15948, 5.2 and 5.3 */
    static const char png[] = "\x89PNG\r\n\x1a\n\x00\x00\x00\x00IEND\xae\x42\x60\x82";
    struct tb_attachment photo = { 0 }, *list;
    struct tb_burn_outcome out;
    size_t n;

    (void)state;
    OK(tb_attachment_of(&photo, "C:/phone/a.png", png, sizeof png - 1, &s->mem, &err));
    r.photo = &photo;
    OK(tb_act_burn(&out, &s->actor, &r, &s->mem, &err));
    OK(tb_attachment_list(&list, &n, s->actor.book, out.burn.id, &s->mem, &err));
    assert_int_equal(n, 1);
    assert_string_equal(list[0].name, "a.png");
    assert_string_equal(list[0].media, "image/png");
    assert_true(out.burn.sample_mm > 19.9 && out.burn.sample_mm < 20.1);
    tb_rejudged_free(&out.judged);
    scene_free(s);
}

static void tables_that_were_sent_as_bytes_are_read_and_called_by_their_names(void **state)
{
    static const char burns[] = "bolt,saw\nB1,smoke:black\n", list[] = "roll,metres\nR1,50\n";
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_sent sent = { "burns.csv", burns, sizeof burns - 1 };
    struct tb_receive_request r = {
        .sent = &sent,
        .list = { .supplier = "Alder Mill", .note = "K 9", .article = "crepe", .declared = "100% silk" }
    };
    struct tb_receive_outcome out;
    struct tb_delivery delivery;
    struct tb_burn_row *row;
    size_t n;

    (void)state;
    OK(tb_burn_rows_sent(&row, &n, &sent, &s->mem, &err));
    assert_int_equal(n, 1);
    assert_string_equal(row[0].bolt, "B1");
    sent.size = 8;
    assert_int_equal(tb_burn_rows_sent(&row, &n, &sent, &s->mem, &err), TB_EINVAL);
    assert_ptr_equal(strstr(err.msg, "burns.csv: "), err.msg);
    sent = (struct tb_sent){ "list.csv", list, sizeof list - 1 };
    OK(tb_act_receive(&out, &s->actor, &r, &s->mem, &err));
    OK(tb_delivery_find(&delivery, s->actor.book, out.delivery[0], &s->mem, &err));
    assert_string_equal(delivery.file_name, "list.csv");
    tb_receive_outcome_free(&out);
    REFUSED(s, tb_act_receive(&out, &s->actor, &r, &s->mem, &err), TB_EEXISTS, "list.csv: ");
    tb_receive_outcome_free(&out);
    scene_free(s);
}

static void what_happened_at_the_very_moment_before_it_is_taken(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    static const char moment[] = "2026-10-06T09:00:00Z";
    struct tb_observation seen = seen_as("smoke:black");
    struct tb_cut_outcome cut;
    struct tb_burn_outcome burn;
    struct tb_try_outcome tried;
    struct tb_journal_row *row;
    size_t n;

    (void)state;
    OK(tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .bolt = "B1", .cut_at = moment }, &s->mem,
                  &err));
    OK(tb_journal_list(&row, &n, s->actor.book, cut.swatch.tag, &s->mem, &err));
    assert_int_equal(n, 1); /* the row of the cut names its swatch */
    OK(tb_act_burn(&burn, &s->actor,
                   &(struct tb_burn_request){ .swatch = cut.swatch.tag,
                                              .seen = &seen,
                                              .sample_mm = TB_SAMPLE_MM_MOST,
                                              .burned_at = moment,
                                              .dead_at = moment },
                   &s->mem, &err));
    OK(tb_act_try(&tried, &s->actor,
                  &(struct tb_try_request){
                      .swatch = cut.swatch.tag, .test = "acetone", .result = "stays", .tested_at = moment },
                  &s->mem, &err));
    OK(tb_journal_list(&row, &n, s->actor.book, cut.swatch.tag, &s->mem, &err));
    assert_int_equal(n, 3);
    tb_rejudged_free(&burn.judged);
    tb_rejudged_free(&tried.judged);
    scene_free(s);
}

static void a_bolt_can_be_cut_up_to_its_last_centimetre(void **state)
{
    struct scene *s = scene_make("100% cotton", 1); /* 50 m */
    static const double metres[] = { 30, 20, 0.004 };
    const char *one[] = { "B1" };
    struct tb_use_outcome out;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(metres); i++)
        OK(tb_act_use(&out, &s->actor,
                      &(struct tb_use_request){ .bolt = one, .bolts = 1, .metres = metres[i] }, &s->mem,
                      &err));
    REFUSED(s,
            tb_act_use(&out, &s->actor, &(struct tb_use_request){ .bolt = one, .bolts = 1, .metres = 0.01 },
                       &s->mem, &err),
            TB_EINVAL, "were cut off before");
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(texts_are_of_a_length_somebody_wrote_and_hold_nothing_a_terminal_obeys),
        cmocka_unit_test(every_text_of_every_request_of_the_bench_is_looked_at),
        cmocka_unit_test(every_text_of_the_other_requests_is_looked_at),
        cmocka_unit_test(a_reason_of_blanks_is_no_reason),
        cmocka_unit_test(who_writes_has_a_name_that_can_be_read),
        cmocka_unit_test(figures_and_files_that_cannot_be_right_are_refused),
        cmocka_unit_test(a_photograph_that_was_sent_as_bytes_is_kept_as_one_from_the_disk),
        cmocka_unit_test(tables_that_were_sent_as_bytes_are_read_and_called_by_their_names),
        cmocka_unit_test(a_bolt_can_be_cut_up_to_its_last_centimetre),
        cmocka_unit_test(what_happened_at_the_very_moment_before_it_is_taken),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
