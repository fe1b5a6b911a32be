/* The act of setting an address: what is kept, what stays, whose it is, each refusal, and that a refusal leaves nothing. */
#include "unit/act_helper.h"

#include "tenterbook/address.h"

#include <sqlite3.h>

#define SET(...) tb_act_address(&out, &s->actor, &(struct tb_address_request){ __VA_ARGS__ }, &s->mem, &err)
#define STREET(...)                                                                                          \
    .street = (const char *[]){ __VA_ARGS__ },                                                               \
    .streets = sizeof((const char *[]){ __VA_ARGS__ }) / sizeof(const char *)

static void an_address_is_kept_and_what_nothing_is_said_of_stays(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_address out, a;
    int64_t head = scene_head(s);

    (void)state;
    OK(SET(.supplier = "harrow mill", STREET("Via Roma 1", "Capannone 3"), .postcode = "59100",
           .place = "Prato PO", .country = "IT", .email = "qualita@example.com",
           .registration = "P. IVA 00743110157", .language = "it"));
    assert_int_equal(scene_head(s), head + 1);
    assert_string_equal(out.supplier_name, "Harrow Mill");
    assert_string_equal(out.set_by, "Ada Fell");
    OK(SET(.supplier = "Harrow Mill", .contact = "Bice Neri", .email = ""));
    OK(tb_address_of(&a, s->actor.book, s->supplier.id, &s->mem, &err));
    assert_string_equal(a.street, "Via Roma 1\nCapannone 3");
    assert_string_equal(a.place, "Prato PO");
    assert_string_equal(a.country, "IT");
    assert_string_equal(a.contact, "Bice Neri");
    assert_string_equal(a.email, "");
    assert_string_equal(a.registration, "P. IVA 00743110157");
    assert_string_equal(a.language, "it");
    OK(SET(.supplier = "Harrow Mill", STREET(" ")));
    assert_string_equal(out.street, "");
    assert_string_equal(out.postcode, "59100");
    scene_free(s);
}

static void our_own_address_stands_apart_from_those_of_suppliers(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_address out, a, *all;
    size_t n;

    (void)state;
    OK(tb_address_of(&a, s->actor.book, NULL, &s->mem, &err));
    assert_null(a.id);
    assert_string_equal(a.place, "");
    OK(SET(.supplier = "Harrow Mill", .place = "Prato"));
    OK(SET(.place = "Leicester", .language = "en"));
    assert_null(out.supplier);
    OK(tb_address_of(&a, s->actor.book, NULL, &s->mem, &err));
    assert_string_equal(a.place, "Leicester");
    OK(tb_address_list(&all, &n, s->actor.book, &s->mem, &err));
    assert_int_equal(n, 2);
    assert_null(all[0].supplier);
    assert_string_equal(all[1].place, "Prato");
    scene_free(s);
}

static void an_address_is_among_what_the_journal_proves(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_proof proof = { 0 };
    struct tb_address out;
    sqlite3 *behind;

    (void)state;
    OK(SET(.supplier = "Harrow Mill", .place = "Prato"));
    OK(tb_book_prove(&proof, s->actor.book, &err));
    assert_true(proof.fits);
    assert_int_equal(sqlite3_open(s->path, &behind), SQLITE_OK);
    assert_int_equal(sqlite3_exec(behind, "UPDATE address SET place = 'Pisa'", NULL, NULL, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_close(behind), SQLITE_OK);
    OK(tb_book_prove(&proof, s->actor.book, &err));
    assert_false(proof.fits);
    assert_non_null(strstr(proof.why, "a row of table address is not what was recorded"));
    scene_free(s);
}

static void an_address_that_cannot_be_kept_is_refused_and_leaves_nothing(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_actor nobody = { s->actor.book, "" };
    struct tb_address_request all = { .place = "Prato" };
    struct tb_address out;
    char longest[TB_NAME_MOST + 2];

    (void)state;
    memset(longest, 'a', sizeof longest);
    longest[sizeof longest - 1] = '\0';
    REFUSED(s, SET(.supplier = "Nobody", .place = "Prato"), TB_ENOTFOUND, "no supplier is called 'Nobody'");
    REFUSED(s, SET(.supplier = "Harrow Mill", .country = "Italy"), TB_EINVAL,
            "'Italy' is not a country code; it takes two letters like IT");
    REFUSED(s, SET(.supplier = "Harrow Mill", .language = "la"), TB_EINVAL, "papers are not written in 'la'");
    REFUSED(s, SET(.email = "qualita"), TB_EINVAL, "'qualita' is not an e-mail address");
    REFUSED(s, SET(.email = "a@b@example.com"), TB_EINVAL, "is not an e-mail address");
    REFUSED(s, SET(.email = "@example.com"), TB_EINVAL, "is not an e-mail address");
    REFUSED(s, SET(.email = "a@"), TB_EINVAL, "is not an e-mail address");
    REFUSED(s, SET(.email = "a b@example.com"), TB_EINVAL, "is not an e-mail address");
    REFUSED(s, SET(.email = "a@example.com>, <c@example.com"), TB_EINVAL, "is not an e-mail address");
    REFUSED(s, SET(.place = longest), TB_EINVAL,
            "the place has 201 bytes; a line of an address takes at most 200");
    REFUSED(s, SET(STREET("a", longest)), TB_EINVAL, "the street has 201 bytes");
    REFUSED(s, SET(STREET("a", "b", "c", "d", "e")), TB_EINVAL,
            "5 lines of a street are given; an address takes 4");
    REFUSED(s, SET(STREET("a\nb")), TB_EINVAL, "the street goes over more than one line");
    REFUSED(s, SET(.contact = "A\nBcc: x@example.com"), TB_EINVAL,
            "the contact goes over more than one line");
    REFUSED(s, SET(.place = "Pra\tto\x1b[2J"), TB_EINVAL, "the place");
    REFUSED(s, tb_act_address(&out, &nobody, &all, &s->mem, &err), TB_EINVAL, "say who is writing");
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_address_is_kept_and_what_nothing_is_said_of_stays),
        cmocka_unit_test(our_own_address_stands_apart_from_those_of_suppliers),
        cmocka_unit_test(an_address_is_among_what_the_journal_proves),
        cmocka_unit_test(an_address_that_cannot_be_kept_is_refused_and_leaves_nothing),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
