/*
 * test_damaged.c - books with bytes that rotted, pages that were lost, and ends that were never written: what changes an
 * answer is found, the same 252 each time.
 */
#include "tamper_helper.h"

#include <time.h>

#define BOOKS 252
#define PAGE 4096

static uint64_t random_state;

/* SplitMix64 (Steele, Lea, Flood 2014): the same damage on every machine. */
static uint64_t draw(uint64_t below)
{
    uint64_t z = random_state += 0x9e3779b97f4a7c15u;

    z = (z ^ z >> 30) * 0xbf58476d1ce4e5b9u;
    z = (z ^ z >> 27) * 0x94d049bb133111ebu;
    return (z ^ z >> 31) % below;
}

static void some_bytes(struct tb_text *f, int n)
{
    for (int i = 0; i < n; i++)
        f->s[draw(f->n)] = (char)draw(256);
}

/* Bytes of records rather than of free room: letters and digits become others. */
static void some_letters(struct tb_text *f, int n)
{
    while (n > 0) {
        char *c = &f->s[draw(f->n)];

        if (*c >= '0' && *c <= 'y') {
            (*c)++;
            n--;
        }
    }
}

static void damage(struct tb_text *f, int kind)
{
    size_t pages = f->n / PAGE, a = draw(pages) * PAGE, b = draw(pages) * PAGE;
    char page[PAGE];

    switch (kind) {
    case 0:
        some_letters(f, 1);
        break;
    case 1:
        some_letters(f, 20);
        break;
    case 2:
        some_bytes(f, 1);
        break;
    case 3:
        some_bytes(f, 64);
        break;
    case 4:
        for (size_t i = 0; i < PAGE; i++)
            f->s[a + i] = (char)draw(256);
        break;
    case 5:
        memset(f->s + a, 0, PAGE);
        break;
    case 6:
        memcpy(page, f->s + a, PAGE);
        memcpy(f->s + a, f->s + b, PAGE);
        memcpy(f->s + b, page, PAGE);
        break;
    case 7:
        memcpy(f->s + a, f->s + b, PAGE); /* written to the wrong place */
        break;
    case 8:
        f->n = draw(f->n);
        break;
    default:
        some_bytes(&(struct tb_text){ f->s, 100, 100 }, 3); /* the head of the file */
    }
}

static void a_damaged_book_is_found_or_answers_as_before(void **state)
{
    struct tampered t;
    struct tb_text f = { 0 };

    (void)state;
    for (size_t k = 0; k < TB_COUNT(tamper_books); k++) {
        random_state = 2026 + k;
        tampered_begin(&t, tamper_books[k]);
        for (int i = 0; i < BOOKS / (int)TB_COUNT(tamper_books); i++) {
            bool same;

            tb_text_clear(&f);
            tb_text_addn(&f, t.bytes.s, t.bytes.n);
            damage(&f, i % 10);
            spit(t.path, f.s, f.n);
            t.tried++;
            if (tampered_found(&t, &same))
                t.found++;
            else if (!same)
                fail_msg("%s: damage %d of kind %d is not found, and an answer is another one",
                         tamper_books[k], i, i % 10);
        }
        print_message("# damaged %s: %d tried, %d found, the rest answer as before\n", tamper_books[k],
                      t.tried, t.found);
        assert_true(t.found > t.tried / 3); /* most of them hit something */
        tampered_end(&t);
    }
    tb_text_free(&f);
}

int main(void)
{
    const struct CMUnitTest tests[] = { cmocka_unit_test(a_damaged_book_is_found_or_answers_as_before) };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
