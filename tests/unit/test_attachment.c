/* Files for the book: told by their first bytes, whole or refused with a sentence. */
#include "unit/act_helper.h"

#include "tenterbook/attachment.h"

/* The least that is whole; by hand from ISO/IEC 10918-1 annex B, ISO/IEC 15948, 5.3, and ISO 32000-1, 7.5. */
#define JPEG_PREVIEW "\xff\xe1\x00\x06\xff\xd8\xff\xd9" /* a segment that holds a picture of its own */
#define JPEG_START "\xff\xd8" JPEG_PREVIEW "\xff\xda\x00\x03\x01picture"
#define JPEG JPEG_START "\xff\xd9"
#define PNG_START "\x89PNG\r\n\x1a\n\x00\x00\x00\x04IDATdataCRC1"
#define PNG PNG_START "\x00\x00\x00\x00IEND\xae\x42\x60\x82"
#define PDF_START "%PDF-1.7 paper\n"
#define PDF PDF_START "%%EOF\n"

static const char *file(struct scene *s, const char *name, const char *bytes, size_t n)
{
    struct tb_text path = { 0 };
    const char *kept;
    FILE *f;

    tb_text_addf(&path, "%s/%s", s->dir, name);
    f = fopen(path.s, "wb");
    assert_non_null(f);
    assert_int_equal(fwrite(bytes, 1, n, f), n);
    assert_int_equal(fclose(f), 0);
    kept = tb_arena_strdup(&s->mem, path.s);
    tb_text_free(&path);
    return kept;
}

static void a_file_is_what_its_first_bytes_say_whatever_its_name(void **state)
{
    static const struct {
        const char *bytes, *media;
        size_t n;
    } known[] = {
        { JPEG, "image/jpeg", sizeof JPEG - 1 },
        { PNG, "image/png", sizeof PNG - 1 },
        { PDF, "application/pdf", sizeof PDF - 1 },
    };
    struct scene *s = scene_make("100% cotton", 1);

    (void)state;
    for (size_t i = 0; i < TB_COUNT(known); i++) {
        struct tb_attachment a = { .about = "burn" };

        OK(tb_attachment_read(&a, file(s, "note.txt", known[i].bytes, known[i].n), &s->mem, &err));
        assert_string_equal(a.media, known[i].media);
        assert_string_equal(a.name, "note.txt");
        assert_int_equal(a.size, known[i].n);
        assert_memory_equal(a.bytes, known[i].bytes, known[i].n);
        assert_string_equal(a.about, "burn");
    }
    scene_free(s);
}

static void a_name_that_is_not_text_is_mended(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_attachment a = { 0 };

    (void)state;
    OK(tb_attachment_read(&a, file(s, "K\xf6per.pdf", PDF, sizeof PDF - 1), &s->mem, &err));
    assert_string_equal(a.name, "K\xef\xbf\xbdper.pdf");
    scene_free(s);
}

/* Cut anywhere, a photograph or a paper is a part of one, even where a preview in it is whole. */
static void a_file_that_ends_before_its_end_is_refused(void **state)
{
    static const struct {
        const char *bytes;
        size_t least, n; /* shorter it is not told by its first bytes */
    } whole[] = { { JPEG, 4, sizeof JPEG - 1 }, { PNG, 9, sizeof PNG - 1 }, { PDF, 6, sizeof PDF - 1 - 1 } };
    struct scene *s = scene_make("100% cotton", 1);

    (void)state;
    for (size_t i = 0; i < TB_COUNT(whole); i++)
        for (size_t n = whole[i].least; n < whole[i].n; n++) {
            struct tb_attachment a = { 0 };

            if (tb_attachment_read(&a, file(s, "part", whole[i].bytes, n), &s->mem, &err) != TB_EINVAL ||
                !strstr(err.msg, "ends before its end"))
                fail_msg("file %zu of %zu bytes: %s", i, n, err.msg);
        }
    scene_free(s);
}

static void what_the_book_does_not_keep_is_refused(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_attachment a = { 0 };
    const char *large;

    (void)state;
    assert_int_equal(tb_attachment_read(&a, "/nowhere/a.pdf", &s->mem, &err), TB_ENOTFOUND);
    assert_int_equal(tb_attachment_read(&a, s->dir, &s->mem, &err), TB_EINVAL);
    assert_non_null(strstr(err.msg, s->dir));
    assert_int_equal(tb_attachment_read(&a, file(s, "a.pdf", "hello", 5), &s->mem, &err), TB_EINVAL);
    assert_non_null(strstr(err.msg, "is neither JPEG, PNG nor PDF"));
    assert_int_equal(tb_attachment_read(&a, file(s, "b.pdf", "", 0), &s->mem, &err), TB_EINVAL);
    large = file(s, "c.pdf", "%PDF-1.7", 8);
    assert_int_equal(truncate(large, TB_ATTACHMENT_MOST + 1), 0);
    assert_int_equal(tb_attachment_read(&a, large, &s->mem, &err), TB_EINVAL);
    assert_non_null(strstr(err.msg, "c.pdf: the file has more than 32 MB"));
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_file_is_what_its_first_bytes_say_whatever_its_name),
        cmocka_unit_test(a_name_that_is_not_text_is_mended),
        cmocka_unit_test(a_file_that_ends_before_its_end_is_refused),
        cmocka_unit_test(what_the_book_does_not_keep_is_refused),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
