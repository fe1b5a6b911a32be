/* test_extract_shape.c - what the data of a case may look like, and nothing else: no member that one reader takes and another passes over. */
#include "book/extract_impl.h"

#include "act_helper.h"
#include "tenterbook/attachment.h"

#include <stdio.h>

static json_t *whole; /* one extract that is as it should be, with a stamp that only looks like one */

static bool is_good(int form)
{
    return tb_extract_shape(whole, form, &err) == TB_OK;
}

/* Every object in the extract, however deep. */
static void each_object(json_t *j, void (*fn)(json_t *object))
{
    const char *key;
    json_t *v;
    size_t i;

    json_object_foreach(j, key, v)
    {
        each_object(v, fn);
    }
    json_array_foreach(j, i, v)
    {
        each_object(v, fn);
    }
    if (json_is_object(j))
        fn(j);
}

static int objects, members;

static void add_a_member(json_t *object)
{
    objects++;
    (void)json_object_set_new(object, "more", json_string(""));
    if (is_good(TB_EXTRACT_FORM_DISPUTES))
        fail_msg("an object with another member is read: %s", json_dumps(object, 0));
    (void)json_object_del(object, "more");
}

static void change_each_kind(json_t *object)
{
    const char *key;
    json_t *v;
    void *next;

    json_object_foreach_safe(object, next, key, v)
    {
        json_incref(v);
        members++;
        (void)json_object_set_new(object, key, json_true()); /* no value of a case is that */
        if (is_good(TB_EXTRACT_FORM_DISPUTES))
            fail_msg("another kind of value is read as %s: %s", key, json_dumps(object, 0));
        (void)json_object_set_new(object, key, v);
    }
}

static void an_extract_has_these_members_and_no_others(void **state)
{
    (void)state;
    assert_true(is_good(TB_EXTRACT_FORM_DISPUTES));
    each_object(whole, add_a_member);
    each_object(whole, change_each_kind);
    print_message("# %d objects with a member more, %d members of another kind\n", objects, members);
    assert_true(objects > 20 && members > 100);
    assert_true(is_good(TB_EXTRACT_FORM_DISPUTES)); /* and it is what it was */
}

static void an_extract_of_one_form_is_none_of_another(void **state)
{
    (void)state;
    for (int form = 1; form < TB_EXTRACT_FORM_DISPUTES; form++)
        assert_false(is_good(form));
}

/* Without stamps it is of the third form; never of the second, which had no row of the third rule. */
static void rows_with_shares_are_of_no_form_before_them(void **state)
{
    json_t *head = json_object_get(whole, "head"), *stamps = json_incref(json_object_get(head, "stamps"));
    json_t *facts = json_object_get(whole, "facts");

    (void)state;
    (void)json_object_del(head, "stamps");
    (void)json_object_del(facts, "dispute");
    (void)json_object_del(facts, "dispute_step");
    assert_true(is_good(TB_EXTRACT_FORM_SHARES));
    assert_false(is_good(TB_EXTRACT_FORM_TREES));
    assert_non_null(strstr(err.msg, "otherwise than cases of their form do"));
    (void)json_object_set_new(head, "stamps", stamps);
    assert_true(is_good(TB_EXTRACT_FORM_STAMPS));
    (void)json_object_set_new(facts, "dispute", json_array());
    assert_false(is_good(TB_EXTRACT_FORM_STAMPS));
    assert_false(is_good(TB_EXTRACT_FORM_DISPUTES)); /* both or neither */
    assert_non_null(strstr(err.msg, "tell of disputes otherwise"));
    (void)json_object_set_new(facts, "dispute_step", json_array());
    assert_true(is_good(TB_EXTRACT_FORM_DISPUTES));
}

static void bytes_are_told_in_one_way(void **state)
{
    static const char *const bad[] = { "{}",
                                       "{\"base64\":\"AAAA\",\"left_out\":3}",
                                       "{\"base64\":3}",
                                       "{\"left_out\":\"3\"}",
                                       "{\"left_out\":-1}",
                                       "\"AAAA\"",
                                       "null" };
    json_t *row = json_array_get(json_object_get(json_object_get(whole, "facts"), "attachment"), 0);
    json_t *bytes = json_incref(json_object_get(row, "bytes"));

    (void)state;
    assert_non_null(bytes);
    for (size_t i = 0; i < TB_COUNT(bad); i++) {
        (void)json_object_set_new(row, "bytes", json_loads(bad[i], JSON_DECODE_ANY, NULL));
        if (is_good(TB_EXTRACT_FORM_DISPUTES))
            fail_msg("read: %s", bad[i]);
    }
    (void)json_object_set_new(row, "bytes", json_loads("{\"left_out\":3}", 0, NULL));
    assert_true(is_good(TB_EXTRACT_FORM_DISPUTES));
    (void)json_object_set_new(row, "bytes", bytes);
}

/* What a row says is a text for its digest, and JSON for who asks what was recorded. */
static void what_a_row_says_can_be_read_in_one_way(void **state)
{
    static const char *const bad[] = {
        "{\"lot\":{\"root\":\"%s\",\"rows\":1},\"lot\":{\"root\":\"%s\",\"rows\":2}}",
        "{\"lot\":{\"root\":\"%s\",\"root\":\"%s\",\"rows\":1}}",
        "{\"lot\":{\"root\":\"%s\",\"rows\":1,\"sha256\":\"%s\"}}",
        "{\"nothing\":{\"root\":\"%s\",\"rows\":1}}",
        "{\"lot\":{\"root\":\"%s\",\"rows\":0}}",
        "{\"lot\":{\"root\":\"%s\",\"rows\":\"1\"}}",
        "{\"lot\":{\"root\":\"7\",\"rows\":1}}",
        "[]",
        "",
    };
    static const char hex[] = "0000000000000000000000000000000000000000000000000000000000000000";
    json_t *row = json_array_get(json_object_get(whole, "journal"), 0);
    json_t *content = json_incref(json_object_get(row, "content"));

    (void)state;
    for (size_t i = 0; i < TB_COUNT(bad); i++) {
        struct tb_extract_proof p;
        struct tb_told told;
        char text[512];

        /* NOLINTNEXTLINE(clang-diagnostic-format-nonliteral): one of these */
        (void)snprintf(text, sizeof text, bad[i], hex, hex);
        (void)json_object_set_new(row, "content", json_string(text));
        p = (struct tb_extract_proof){ 0 };
        tb_told_read(&told, NULL, whole);
        tb_told_contents(&told, &p);
        if (strcmp(tb_text_str(&p.wrong), "what journal row 1 says that it recorded cannot be read\n") != 0)
            fail_msg("%s: '%s'", text, tb_text_str(&p.wrong));
        tb_told_free(&told);
        tb_extract_proof_free(&p);
    }
    (void)json_object_set_new(row, "content", content);
}

static struct scene *scene;

static int make(void **state)
{
    struct tb_attachment a = {
        .about = "lot", .name = "a.png", .media = "image/png", .bytes = "abc", .size = 3
    };
    json_t *stamps;

    (void)state;
    scene = scene_make("100% silk", 2);
    a.subject = scene->lot.id;
    OK(tb_book_begin(scene->actor.book, "Ada Fell", "dispute", &err));
    OK(tb_attachment_add(&a, scene->actor.book, &scene->mem, &err));
    tb_book_subject(scene->actor.book, scene->lot.ref);
    OK(tb_book_commit(scene->actor.book, &err));
    OK(tb_book_begin(scene->actor.book, "Ada Fell", "set", &err)); /* a row of others */
    OK(tb_setting_set(scene->actor.book, "dates", "dmy", &err));
    OK(tb_book_commit(scene->actor.book, &err));
    OK(tb_extract_lot(&whole, scene->actor.book, scene->lot.ref, &err));
    stamps = json_object_get(json_object_get(whole, "head"), "stamps");
    (void)json_array_append_new(stamps, json_pack("{s:i, s:s, s:s, s:s, s:s}", "number", 1, "at", "", "by",
                                                  "", "serial", "", "reply", ""));
    return 0;
}

static int unmake(void **state)
{
    (void)state;
    json_decref(whole);
    scene_free(scene);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_extract_has_these_members_and_no_others),
        cmocka_unit_test(an_extract_of_one_form_is_none_of_another),
        cmocka_unit_test(rows_with_shares_are_of_no_form_before_them),
        cmocka_unit_test(bytes_are_told_in_one_way),
        cmocka_unit_test(what_a_row_says_can_be_read_in_one_way),
    };

    return cmocka_run_group_tests(tests, make, unmake);
}
