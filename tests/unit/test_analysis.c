/* Analyses in the book: recorded, listed, corrected once, covered by the journal. */
#include "tenterbook/analysis.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>
#include <sqlite3.h>

#define OK(call)                                                                                             \
    do {                                                                                                     \
        tb_rc rc_ = (call);                                                                                  \
        if (rc_ != TB_OK)                                                                                    \
            fail_msg("%s: %d %s (%s)", #call, (int)rc_, err.msg, err.detail);                                \
    } while (0)

struct scene {
    char dir[64], path[96];
    struct tb_book *book;
    struct tb_arena mem;
    struct tb_lot lot[2];
};

static struct tb_err err;

/* A book with one delivery of two lots. */
static int make_scene(void **state)
{
    struct scene *s = tb_new(struct scene);
    struct tb_delivery d;
    struct tb_supplier supplier;

    (void)snprintf(s->dir, sizeof s->dir, "/tmp/tenterbook-test-XXXXXX");
    assert_non_null(mkdtemp(s->dir));
    (void)snprintf(s->path, sizeof s->path, "%s/a.book", s->dir);
    OK(tb_book_make(s->path, "W", "Westgate shed", "GB", "Ada Fell", &err));
    OK(tb_book_open(&s->book, s->path, NULL, &err));
    OK(tb_book_begin(s->book, "Ada Fell", "receive", &err));
    OK(tb_supplier_ensure(&supplier, s->book, "Harrow Mill", &s->mem, &err));
    d = (struct tb_delivery){ .supplier = supplier.id, .note = "N-1", .arrived = "2026-10-05" };
    OK(tb_delivery_add(&d, s->book, &s->mem, &err));
    for (int i = 0; i < 2; i++) {
        s->lot[i] = (struct tb_lot){
            .article = "Plain 40", .unit_price = 3, .currency = "EUR", .bolts = 1, .metres = 50
        };
        OK(tb_lot_add(&s->lot[i], s->book, &d, i + 1, &s->mem, &err));
        OK(tb_declaration_add(s->book, s->lot[i].id, "60% cotton 40% polyester", TB_ORIGIN_ROW, NULL, &err));
    }
    OK(tb_book_commit(s->book, &err));
    *state = s;
    return 0;
}

static int drop_scene(void **state)
{
    struct scene *s = *state;
    char path[128];

    tb_book_close(s->book);
    tb_arena_free(&s->mem);
    for (const char *const *e = (const char *const[]){ "", "-wal", "-shm", NULL }; *e; e++) {
        (void)snprintf(path, sizeof path, "%s%s", s->path, *e);
        (void)unlink(path);
    }
    (void)rmdir(s->dir);
    free(s);
    return 0;
}

static struct tb_analysis sample(const char *lot)
{
    return (struct tb_analysis){ .lot = lot,
                                 .part = TB_PART_WHOLE,
                                 .laboratory = "Fellside laboratory",
                                 .route = "dissolve",
                                 .methods = "7",
                                 .found = "52 % cotton, 48 % polyester",
                                 .u = 0.52,
                                 .answers = "us:does_not_conform",
                                 .detail = "{}",
                                 .analysed_on = "2026-10-09" };
}

static tb_rc add(struct scene *s, struct tb_analysis *a)
{
    tb_rc rc;

    OK(tb_book_begin(s->book, "Ada Fell", "assay", &err));
    rc = tb_analysis_add(a, s->book, &s->mem, &err);
    if (rc == TB_OK)
        OK(tb_book_commit(s->book, &err));
    else
        tb_book_rollback(s->book);
    return rc;
}

static void an_analysis_is_read_back_as_it_was_recorded(void **state)
{
    struct scene *s = *state;
    struct tb_analysis a = sample(s->lot[0].id), *list;
    size_t n;

    OK(add(s, &a));
    OK(tb_analysis_list(&list, &n, s->book, s->lot[0].id, &s->mem, &err));
    assert_int_equal(n, 1);
    assert_string_equal(list[0].id, a.id);
    assert_string_equal(list[0].found, "52 % cotton, 48 % polyester");
    assert_string_equal(list[0].laboratory, "Fellside laboratory");
    assert_string_equal(list[0].report, "");
    assert_string_equal(list[0].recorded_by, "Ada Fell");
    assert_string_equal(list[0].analysed_on, "2026-10-09");
    assert_true(list[0].u == 0.52);
    assert_null(list[0].declaration);
    OK(tb_analysis_list(&list, &n, s->book, s->lot[1].id, &s->mem, &err));
    assert_int_equal(n, 0);
}

static void a_correction_takes_the_place_of_what_it_corrects_once(void **state)
{
    struct scene *s = *state;
    struct tb_analysis first = sample(s->lot[0].id), second = sample(s->lot[0].id),
                       other = sample(s->lot[1].id), *list;
    size_t n;

    OK(add(s, &first));
    other.replaces = first.id;
    assert_int_equal(add(s, &other), TB_EINVAL);
    assert_non_null(strstr(err.msg, "is of another lot"));
    second.replaces = first.id;
    second.found = "53 % cotton, 47 % polyester";
    OK(add(s, &second));
    OK(tb_analysis_list(&list, &n, s->book, s->lot[0].id, &s->mem, &err));
    assert_int_equal(n, 1);
    assert_string_equal(list[0].found, "53 % cotton, 47 % polyester");
    assert_int_equal(add(s, &second), TB_EINVAL);
    assert_non_null(strstr(err.msg, "was corrected already"));
    second.replaces = "0000000000000000000000000A";
    assert_int_equal(add(s, &second), TB_ENOTFOUND);
}

static void a_day_that_is_none_is_refused(void **state)
{
    struct scene *s = *state;
    struct tb_analysis a = sample(s->lot[0].id);

    a.analysed_on = "2026-02-30";
    assert_int_equal(add(s, &a), TB_EINVAL);
    a.analysed_on = NULL;
    assert_int_equal(add(s, &a), TB_EINVAL);
}

static void an_altered_analysis_does_not_pass_the_proof(void **state)
{
    struct scene *s = *state;
    struct tb_analysis a = sample(s->lot[0].id);
    struct tb_proof proof;
    sqlite3 *db;

    OK(add(s, &a));
    OK(tb_book_prove(&proof, s->book, &err));
    assert_int_equal(proof.first_bad, 0);
    assert_int_equal(sqlite3_open(s->path, &db), SQLITE_OK);
    assert_int_equal(
        sqlite3_exec(db, "UPDATE analysis SET found = '60 % cotton, 40 % polyester'", NULL, NULL, NULL),
        SQLITE_OK);
    (void)sqlite3_close(db);
    OK(tb_book_prove(&proof, s->book, &err));
    assert_true(proof.first_bad > 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(an_analysis_is_read_back_as_it_was_recorded, make_scene, drop_scene),
        cmocka_unit_test_setup_teardown(a_correction_takes_the_place_of_what_it_corrects_once, make_scene,
                                        drop_scene),
        cmocka_unit_test_setup_teardown(a_day_that_is_none_is_refused, make_scene, drop_scene),
        cmocka_unit_test_setup_teardown(an_altered_analysis_does_not_pass_the_proof, make_scene, drop_scene),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
