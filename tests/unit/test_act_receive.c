/* The act of receiving: what is stored, each refusal, two people at once, and that a refusal leaves nothing. */
#include "unit/act_helper.h"

#include "tenterbook/act_intake.h"

#define PLAIN                                                                                                \
    "supplier,delivery note,date,article,bolt no,length m,composition\n"                                     \
    "Alder Mill,N-1,2026-03-14,Q10,A1,100,100% cotton\n"                                                     \
    "Alder Mill,N-1,2026-03-14,Q10,A2,50.5,100% cotton\n"                                                    \
    "Alder Mill,N-1,2026-03-14,Q11,A3,20,100% PE\n"

static tb_rc receive(struct tb_receive_outcome *out, struct scene *s, const struct tb_receive_request *r)
{
    return tb_act_receive(out, &s->actor, r, &s->mem, &err);
}

static void a_list_becomes_its_deliveries_lots_and_bolts(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_receive_request r = { .path = scene_file(s, "plain.csv", PLAIN),
                                    .arrived = "2026-03-16",
                                    .remark = "one bale wet" };
    struct tb_receive_outcome out;
    struct tb_delivery d;
    struct tb_lot lot;
    struct tb_bolt *bolt;
    size_t bolts;
    int64_t head = scene_head(s);

    (void)state;
    OK(receive(&out, s, &r));
    assert_int_equal(scene_head(s), head + 1);
    assert_int_equal(out.list.deliveries, 1);
    assert_int_equal(out.list.lots, 2);
    OK(tb_delivery_find(&d, s->actor.book, out.delivery[0], &s->mem, &err));
    assert_string_equal(d.supplier_name, "Alder Mill");
    assert_string_equal(d.note_day, "2026-03-14");
    assert_string_equal(d.arrived, "2026-03-16");
    assert_string_equal(d.file_name, "plain.csv");
    assert_string_equal(d.remark, "received unexamined; one bale wet");
    assert_string_equal(d.received_by, "Ada Fell");
    OK(tb_lot_find(&lot, s->actor.book, out.lot[0], &s->mem, &err));
    assert_int_equal(lot.bolts, 2);
    assert_float_equal(lot.metres, 150.5, 1e-9);
    assert_string_equal(lot.declared, "100% cotton");
    OK(tb_bolt_list(&bolt, &bolts, s->actor.book, lot.id, &s->mem, &err));
    assert_int_equal(bolts, 2);
    assert_string_equal(bolt[1].number, "A2");
    OK(tb_lot_find(&lot, s->actor.book, out.lot[1], &s->mem, &err));
    assert_string_equal(lot.declared, "100% PE");
    assert_false(lot.clear);
    scene_is_unchanged(s, head + 1);
    tb_receive_outcome_free(&out);
    scene_free(s);
}

static void a_lot_whose_rows_declare_nothing_has_no_declaration(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_receive_request r = { .path = scene_file(
                                        s, "plain.csv",
                                        "supplier,delivery note,date,article,bolt no,length m,composition\n"
                                        "Alder Mill,N-1,2026-03-14,Q10,A1,100,\n"
                                        "Alder Mill,N-1,2026-03-14,Q11,A2,50,100% silk\n"),
                                    .arrived = "2026-03-16" };
    struct tb_receive_outcome out;
    struct tb_declared *words;
    struct tb_lot lot;
    size_t n;

    (void)state;
    OK(receive(&out, s, &r));
    assert_int_equal(out.list.lots, 2);
    OK(tb_lot_find(&lot, s->actor.book, out.lot[0], &s->mem, &err));
    OK(tb_declaration_list(&words, &n, s->actor.book, lot.id, &s->mem, &err));
    assert_int_equal(n, 0);
    OK(tb_lot_find(&lot, s->actor.book, out.lot[1], &s->mem, &err));
    OK(tb_declaration_list(&words, &n, s->actor.book, lot.id, &s->mem, &err));
    assert_int_equal(n, 1);
    tb_receive_outcome_free(&out);
    scene_free(s);
}

static void a_remark_that_speaks_of_examining_stands_alone(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_receive_request r = { .path = scene_file(s, "plain.csv", PLAIN), .dry = true };
    struct tb_receive_outcome out;

    (void)state;
    OK(receive(&out, s, &r));
    assert_string_equal(out.remark, "received unexamined");
    tb_receive_outcome_free(&out);
    r.remark = "Examined at the door, three bolts opened";
    OK(receive(&out, s, &r));
    assert_string_equal(out.remark, r.remark);
    tb_receive_outcome_free(&out);
    scene_free(s);
}

static void a_dry_run_reads_and_stores_nothing_with_a_book_or_without(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_receive_request r = { .path = scene_file(s, "plain.csv", PLAIN), .dry = true };
    struct tb_actor no_book = { NULL, "Ada Fell" };
    struct tb_receive_outcome out;
    int64_t head = scene_head(s);

    (void)state;
    OK(receive(&out, s, &r));
    assert_int_equal(out.list.bolts, 3);
    assert_null(out.delivery);
    assert_null(out.lot);
    tb_receive_outcome_free(&out);
    scene_is_unchanged(s, head);
    OK(tb_act_receive(&out, &no_book, &r, &s->mem, &err));
    assert_int_equal(out.list.bolts, 3);
    tb_receive_outcome_free(&out);
    scene_free(s);
}

static void what_the_site_teaches_is_understood_and_what_is_said_now_is_stronger(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_header_word now = { "pieza", TB_FIELD_ARTICLE };
    struct tb_receive_request r = {
        .path = scene_file(s, "own.csv",
                           "supplier,delivery note,date,wibble,pieza,length m,composition\n"
                           "Alder Mill,N-1,03/04/2026,Q10,A1,100,100% cotton\n"),
        .arrived = "2026-05-01",
        .dry = true,
    };
    struct tb_receive_outcome out;

    (void)state;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "set", &err));
    OK(tb_setting_set(s->actor.book, "header:wibble", "article", &err));
    OK(tb_setting_set(s->actor.book, "header:pieza", "bolt", &err));
    OK(tb_setting_set(s->actor.book, "dates", "mdy", &err));
    OK(tb_book_commit(s->actor.book, &err));
    OK(receive(&out, s, &r));
    assert_string_equal(out.list.lot[0].article, "Q10");
    assert_string_equal(out.list.bolt[0].number, "A1");
    assert_string_equal(out.list.delivery[0].day, "2026-03-04");
    tb_receive_outcome_free(&out);
    r.list.dates = 'd';
    OK(receive(&out, s, &r));
    assert_string_equal(out.list.delivery[0].day, "2026-04-03");
    tb_receive_outcome_free(&out);
    r.list.word = &now;
    r.list.words = 1;
    REFUSED(s, receive(&out, s, &r), TB_EINVAL, "no column was found for: bolt number");
    tb_receive_outcome_free(&out);
    scene_free(s);
}

/* The site's setting can only be wrong when it was written by an older program or behind the program's back. */
static void a_header_word_of_the_site_that_names_no_field_is_refused(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_receive_request r = { .path = scene_file(s, "plain.csv", PLAIN) };
    struct tb_receive_outcome out;

    (void)state;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "set", &err));
    OK(tb_setting_set(s->actor.book, "header:wibble", "furlong", &err));
    OK(tb_book_commit(s->actor.book, &err));
    REFUSED(s, receive(&out, s, &r), TB_EINVAL,
            "the setting header:wibble is 'furlong', which is not a field");
    tb_receive_outcome_free(&out);
    scene_free(s);
}

static void the_same_file_again_is_refused_until_it_is_meant(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_receive_request r = { .path = scene_file(s, "plain.csv", PLAIN) };
    struct tb_receive_outcome out, again;

    (void)state;
    OK(receive(&out, s, &r));
    r.path = scene_file(s, "copy.csv", PLAIN);
    REFUSED(s, receive(&again, s, &r), TB_EEXISTS, "this very file was taken in before, as W26-");
    assert_null(again.delivery);
    tb_receive_outcome_free(&again);
    r.again = true;
    REFUSED(s, receive(&again, s, &r), TB_EEXISTS, "say why it comes again");
    assert_string_equal(again.twin.there.ref, out.delivery[0]);
    tb_receive_outcome_free(&again);
    r.why = "a second truck";
    OK(receive(&again, s, &r));
    assert_string_not_equal(again.delivery[0], out.delivery[0]);
    tb_receive_outcome_free(&again);
    tb_receive_outcome_free(&out);
    scene_free(s);
}

static void what_cannot_be_received_is_refused_and_leaves_nothing(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_actor nobody = { s->actor.book, "" };
    struct tb_receive_request r = { .path = scene_file(
                                        s, "bad.csv",
                                        "supplier,delivery note,article,bolt no,length m,composition\n"
                                        "Alder Mill,N-1,Q10,A1,many,100% cotton\n"
                                        "Alder Mill,N-1,Q10,A2,-4,100% cotton\n") };
    struct tb_receive_outcome out;

    (void)state;
    REFUSED(s, receive(&out, s, &r), TB_EINVAL, "2 values cannot be taken");
    assert_int_equal(out.list.bad_count, 2);
    assert_string_equal(out.list.bad[0].value, "many");
    tb_receive_outcome_free(&out);
    r.path = "/nowhere/list.csv";
    REFUSED(s, receive(&out, s, &r), TB_ENOTFOUND, "/nowhere/list.csv: the file cannot be opened");
    tb_receive_outcome_free(&out);
    r.path = scene_file(s, "plain.csv", PLAIN);
    r.arrived = "2999-01-01";
    REFUSED(s, receive(&out, s, &r), TB_EINVAL, "goods that are still to come are not received");
    tb_receive_outcome_free(&out);
    r.arrived = NULL;
    REFUSED(s, tb_act_receive(&out, &nobody, &r, &s->mem, &err), TB_EINVAL, "say who is writing");
    tb_receive_outcome_free(&out);
    /* found out only while writing, when the supplier is recorded already: that is taken back too */
    r.arrived = "2026-02-30";
    REFUSED(s, receive(&out, s, &r), TB_EINVAL, "is not a valid date");
    assert_null(out.delivery);
    assert_null(out.lot);
    tb_receive_outcome_free(&out);
    assert_int_equal(tb_supplier_find(&s->supplier, s->actor.book, "Alder Mill", &s->mem, &err),
                     TB_ENOTFOUND);
    scene_free(s);
}

/* --- two people at once -------------------------------------------------------------------------------------- */

/* What another person does, in a connection of their own, while the file is being read for the first time. */
struct meanwhile {
    struct scene *scene;
    const char *path; /* receive this file; NULL: set how dates are meant */
    size_t readings;
};

static void somebody_else(void *arg, size_t rows, bool second_pass)
{
    struct meanwhile *m = arg;
    struct tb_receive_request r = { .path = m->path };
    struct tb_actor other = { NULL, "Ben Howe" };
    struct tb_receive_outcome out;

    (void)rows;
    if (second_pass || m->readings++)
        return;
    OK(tb_book_open(&other.book, m->scene->path, NULL, &err));
    if (m->path) {
        OK(tb_act_receive(&out, &other, &r, &m->scene->mem, &err));
        tb_receive_outcome_free(&out);
    } else {
        OK(tb_book_begin(other.book, other.who, "set", &err));
        OK(tb_setting_set(other.book, "dates", "dmy", &err));
        tb_book_subject(other.book, "dates");
        OK(tb_book_commit(other.book, &err));
    }
    tb_book_close(other.book);
}

/* The last journal row that the receiving connection sees, before and after somebody else has written one. */
struct moving {
    struct meanwhile m;
    int64_t before, after;
};

static void note_head(void *arg, size_t rows, bool second_pass)
{
    struct moving *v = arg;

    somebody_else(&v->m, rows, second_pass);
    if (v->after == 0)
        v->after = scene_head(v->m.scene);
}

/* Long enough for the reader to report what it does. */
static const char *long_file(struct scene *s)
{
    struct tb_text t = { 0 };
    const char *path;

    tb_text_add(&t, "supplier,delivery note,date,article,bolt no,length m,composition\n");
    for (int i = 0; i < 17000; i++)
        tb_text_addf(&t, "Alder Mill,N-1,14/03/2026,Q10,A%d,100,100%% cotton\n", i);
    path = scene_file(s, "long.csv", t.s);
    tb_text_free(&t);
    return path;
}

static void a_file_somebody_else_stores_while_it_is_read_is_not_stored_twice(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct meanwhile m = { s, long_file(s), 0 };
    struct tb_receive_request r = { .path = m.path };
    struct tb_receive_outcome out;
    struct tb_delivery d;

    (void)state;
    r.list.progress = somebody_else;
    r.list.progress_arg = &m;
    assert_int_equal(receive(&out, s, &r), TB_EEXISTS);
    assert_non_null(strstr(err.msg, "this very file was taken in before"));
    assert_null(out.delivery);
    tb_receive_outcome_free(&out);
    /* the scene's own delivery and that of the other person are there, and no third */
    OK(tb_delivery_find(&d, s->actor.book, "W26-002", &s->mem, &err));
    assert_int_equal(tb_delivery_find(&d, s->actor.book, "W26-003", &s->mem, &err), TB_ENOTFOUND);
    scene_free(s);
}

static void a_setting_that_comes_while_the_file_is_read_counts(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct meanwhile m = { s, NULL, 0 };
    struct tb_receive_request r = { .path = long_file(s) };
    struct tb_receive_outcome out;

    (void)state;
    r.list.progress = somebody_else;
    r.list.progress_arg = &m;
    OK(receive(&out, s, &r));
    assert_int_equal(m.readings, 2); /* it was read again */
    assert_string_equal(out.list.delivery[0].day, "2026-03-14");
    tb_receive_outcome_free(&out);
    scene_free(s);
}

/* Whoever looks at one state of the book keeps its log from being folded in: a long list must not. */
static void the_book_moves_on_for_its_reader_while_a_file_is_read(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct moving m = { { s, NULL, 0 }, scene_head(s), 0 };
    struct tb_receive_request r = { .path = long_file(s),
                                    .list.progress = note_head,
                                    .list.progress_arg = &m };
    struct tb_receive_outcome out;

    (void)state;
    r.list.dates = 'd';
    OK(receive(&out, s, &r));
    assert_int_equal(m.after, m.before + 1);
    tb_receive_outcome_free(&out);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_list_becomes_its_deliveries_lots_and_bolts),
        cmocka_unit_test(a_lot_whose_rows_declare_nothing_has_no_declaration),
        cmocka_unit_test(a_remark_that_speaks_of_examining_stands_alone),
        cmocka_unit_test(a_dry_run_reads_and_stores_nothing_with_a_book_or_without),
        cmocka_unit_test(what_the_site_teaches_is_understood_and_what_is_said_now_is_stronger),
        cmocka_unit_test(a_header_word_of_the_site_that_names_no_field_is_refused),
        cmocka_unit_test(the_same_file_again_is_refused_until_it_is_meant),
        cmocka_unit_test(what_cannot_be_received_is_refused_and_leaves_nothing),
        cmocka_unit_test(a_file_somebody_else_stores_while_it_is_read_is_not_stored_twice),
        cmocka_unit_test(a_setting_that_comes_while_the_file_is_read_counts),
        cmocka_unit_test(the_book_moves_on_for_its_reader_while_a_file_is_read),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
