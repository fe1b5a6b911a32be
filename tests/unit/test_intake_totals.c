/*
 * test_intake_totals.c - lists made at random, with totals under random words in random places: no total is ever taken
 * for a bolt, and no bolt is ever lost.
 */
#include "intake_helper.h"

#define LISTS 10000
#define BOLTS_MOST 200
#define LINES_MOST 600

/* xorshift64*: the same lists on every machine. */
static uint64_t state_of = 20261126;

static unsigned any(unsigned n)
{
    state_of ^= state_of >> 12;
    state_of ^= state_of << 25;
    state_of ^= state_of >> 27;
    return (unsigned)((state_of * 2685821657736338717ull) >> 33) % n;
}

static bool once_in(unsigned n)
{
    return any(n) == 0;
}

enum column { ARTICLE, COLOUR, LOT, BOLT, LENGTH, WIDTH, COUNT, COLUMNS };

enum numbers { SERIAL, FROM_SOMEWHERE, WITH_PREFIX, AGAIN_IN_EACH_LOT, SCATTERED, WITH_SLASH, NUMBERS };

enum words { NO_WORD, IN_A_COLUMN, IN_BOLT_COLUMN, WITH_COUNT };

struct made {
    struct tb_text text;
    enum column order[COLUMNS];
    size_t columns;
    bool full; /* every row says everything */
    enum numbers numbers;
    unsigned serial, prefix;
    char number[BOLTS_MOST][24];
    double metres[BOLTS_MOST];
    size_t bolts, lot_from, article_from, page_from, line;
    char total_line[LINES_MOST];
    unsigned lengths;
    /* how this list writes its totals */
    enum words words;
    char word[80];
    bool none; /* it has no totals at all */
    enum column word_in;
    bool count_in_bolt, count_in_count, groups_again, wrong;
};

static void random_word(char out[80])
{
    static const char *const letters[] = { "a",      "e",      "i",      "o",      "u",      "k",
                                           "l",      "m",      "n",      "r",      "s",      "t",
                                           "z",      "\u00f6", "\u0142", "\u0438", "\u0442", "\u043e",
                                           "\u03b1", "\u03bb", "\u5408", "\u8a08" };
    unsigned n = 3 + any(6);

    out[0] = '\0';
    for (unsigned i = 0; i < n; i++)
        (void)strcat(out, letters[any(TB_COUNT(letters))]);
}

static void new_layout(struct made *m)
{
    enum column optional[] = { COLOUR, LOT, WIDTH, COUNT };

    m->numbers = (enum numbers)any(NUMBERS);
    m->order[m->columns++] = ARTICLE;
    for (size_t i = 0; i < TB_COUNT(optional); i++)
        if (any(2) || (optional[i] == LOT && m->numbers == AGAIN_IN_EACH_LOT))
            m->order[m->columns++] = optional[i];
    m->order[m->columns++] = BOLT;
    m->order[m->columns++] = LENGTH;
    for (size_t i = m->columns - 1; i > 0; i--) {
        size_t k = any((unsigned)i + 1);
        enum column swap = m->order[i];

        m->order[i] = m->order[k];
        m->order[k] = swap;
    }
    m->full = any(3) > 0;
    m->serial = m->numbers == FROM_SOMEWHERE ? 100 + any(9000) : 1;
    m->prefix = any(26);
    m->lengths = any(4);
    m->words = (enum words)any(4);
    random_word(m->word);
    do
        m->word_in = m->order[any((unsigned)m->columns)];
    while (m->word_in == LENGTH || m->word_in == BOLT || m->word_in == COUNT || m->word_in == WIDTH);
    m->count_in_bolt = m->words < IN_BOLT_COLUMN && any(3) == 0;
    m->count_in_count = any(2);
    m->groups_again = any(5) == 0;
}

/* One row: what stands in each column. */
static void put_row(struct made *m, char cell[COLUMNS][100])
{
    for (size_t i = 0; i < m->columns; i++)
        tb_text_addf(&m->text, "%s%s", i ? ";" : "", cell[m->order[i]]);
    tb_text_addc(&m->text, '\n');
    m->line++;
}

static void put_header(struct made *m)
{
    static const char *const name[COLUMNS] = { "article",    "colour",   "dye lot", "bolt no.",
                                               "length (m)", "width cm", "rolls" };
    char cell[COLUMNS][100];

    for (size_t i = 0; i < COLUMNS; i++)
        (void)strcpy(cell[i], name[i]);
    put_row(m, cell);
}

static void number_of(struct made *m, char out[24])
{
    unsigned n = m->serial++;

    switch (m->numbers) {
    case WITH_PREFIX:
        (void)snprintf(out, 24, "%c-%04u", 'A' + (int)m->prefix, n);
        break;
    case SCATTERED:
        (void)snprintf(out, 24, "%u", 100000 + n * 1000 + any(1000));
        break;
    case WITH_SLASH:
        (void)snprintf(out, 24, "4711/%u", n);
        break;
    default:
        (void)snprintf(out, 24, "%u", n);
        break;
    }
}

static double length_of(const struct made *m)
{
    switch (m->lengths) {
    case 0:
        return 10 + any(40);
    case 1:
        return 50;
    case 2:
        return any(4) ? 60 : 5 + any(50);
    default:
        return 5 + any(11000) / 100.0;
    }
}

static void put_bolt(struct made *m, unsigned article, unsigned lot, bool first)
{
    char cell[COLUMNS][100] = { "" }, number[24];
    bool say = m->full || first;

    number_of(m, number);
    m->metres[m->bolts] = length_of(m);
    if (m->numbers == AGAIN_IN_EACH_LOT)
        (void)snprintf(m->number[m->bolts], sizeof m->number[0], "%s", number);
    else
        (void)strcpy(m->number[m->bolts], number);
    if (say) {
        (void)snprintf(cell[ARTICLE], 100, "Cloth %c", 'A' + (int)article);
        (void)snprintf(cell[COLOUR], 100, "shade %u", lot);
        (void)snprintf(cell[LOT], 100, "L%u%u", article, lot);
        (void)snprintf(cell[WIDTH], 100, "150");
    }
    (void)strcpy(cell[BOLT], number);
    (void)snprintf(cell[LENGTH], 100, "%.2f", m->metres[m->bolts]);
    m->bolts++;
    put_row(m, cell);
}

/* The sum of the bolts from one on, under this list's word, or the next sum that is wrong. */
static void put_total(struct made *m, size_t from, unsigned article, unsigned lot)
{
    char cell[COLUMNS][100] = { "" };
    size_t n = m->bolts - from;
    double sum = 0;

    if (m->none)
        return;
    for (size_t i = from; i < m->bolts; i++)
        sum += m->metres[i];
    /* a wrong sum in a row as full as a bolt's, with a number of its own, would be a bolt to anybody */
    if (m->wrong && m->full && !m->groups_again && n > 1 && once_in(3))
        sum += 9.5;
    if (m->groups_again) {
        (void)snprintf(cell[ARTICLE], 100, "Cloth %c", 'A' + (int)article);
        (void)snprintf(cell[LOT], 100, "L%u%u", article, lot);
    }
    if (m->count_in_bolt)
        (void)snprintf(cell[BOLT], 100, "%zu", n);
    if (m->count_in_count)
        (void)snprintf(cell[COUNT], 100, "%zu", n);
    if (m->words == IN_A_COLUMN)
        (void)strcpy(cell[m->word_in], m->word);
    else if (m->words == IN_BOLT_COLUMN)
        (void)strcpy(cell[BOLT], m->word);
    else if (m->words == WITH_COUNT)
        (void)snprintf(cell[any(2) ? BOLT : m->word_in], 100, any(2) ? "%s: %zu szt." : "%s %zu", m->word, n);
    (void)snprintf(cell[LENGTH], 100, "%.2f", sum);
    m->total_line[m->line + 1] = 1;
    put_row(m, cell);
}

/* A count of the bolts where the lengths stand, under another word. */
static void put_count(struct made *m)
{
    char cell[COLUMNS][100] = { "" };

    random_word(cell[any(2) ? BOLT : ARTICLE]);
    (void)snprintf(cell[LENGTH], 100, "%zu", m->bolts);
    m->total_line[m->line + 1] = 1;
    put_row(m, cell);
}

static void make(struct made *m, bool totals)
{
    unsigned articles = 1 + any(3), page = any(3) ? 0 : 4 + any(8);
    bool by_lot = any(2), by_article = any(2), grand = any(3) > 0;

    *m = (struct made){ .wrong = once_in(10), .none = !totals };
    new_layout(m);
    put_header(m);
    for (unsigned a = 0; a < articles; a++) {
        unsigned lots = 1 + any(3);

        m->article_from = m->bolts;
        for (unsigned l = 0; l < lots; l++) {
            unsigned n = 1 + any(6);

            m->lot_from = m->bolts;
            if (m->numbers == AGAIN_IN_EACH_LOT)
                m->serial = 1;
            for (unsigned b = 0; b < n; b++) {
                put_bolt(m, a, l, b == 0);
                if (!page || m->bolts % page)
                    continue;
                put_total(m, 0, a, l); /* carried forward, and brought forward on the next page */
                put_header(m);
                put_total(m, 0, a, l);
            }
            if (by_lot)
                put_total(m, m->lot_from, a, l);
        }
        if (by_article && lots > 1)
            put_total(m, m->article_from, a, lots - 1);
    }
    if (grand)
        put_total(m, 0, articles - 1, 0);
    if (totals && grand && once_in(8))
        put_count(m);
}

/* Is the list what was made? By the numbers that stand in the file: a dye lot may have come before them. */
static bool right(const struct tb_packing_list *l, const struct made *m)
{
    if (l->bolts != m->bolts)
        return false;
    for (size_t i = 0; i < l->bolts; i++) {
        const char *slash = m->numbers == AGAIN_IN_EACH_LOT ? strrchr(l->bolt[i].number, '/') : NULL;

        if (strcmp(slash ? slash + 1 : l->bolt[i].number, m->number[i]) != 0 ||
            fabs(l->bolt[i].metres - m->metres[i]) > 0.001)
            return false;
    }
    return true;
}

/* A person who has the goods before them answers what was asked; how many answers there were. */
struct answered {
    struct tb_line_is line[LINES_MOST];
    struct tb_header_word word[LINES_MOST];
    char kept[LINES_MOST][100];
    size_t lines, words;
};

static void answer(struct answered *a, const struct tb_packing_list *l, const struct made *m)
{
    for (size_t i = 0; i < l->questions; i++) {
        const struct tb_question *q = &l->question[i];
        bool total = m->total_line[q->line];

        assert_true(q->answers > 0);
        if (total && strcmp(q->answer[0].option, "map") == 0) {
            size_t n = strcspn(q->answer[0].value, "=");

            (void)snprintf(a->kept[a->words], sizeof a->kept[0], "%.*s", (int)n, q->answer[0].value);
            a->word[a->words] = (struct tb_header_word){ a->kept[a->words], TB_FIELD_TOTAL };
            a->words++;
        } else {
            a->line[a->lines++] = (struct tb_line_is){ "", q->line, total };
        }
    }
}

static void fail_with(const struct made *m, const struct seen *s, const char *what)
{
    print_error("%s\n%s\nrc %d: %s\n%s\n", what, m->text.s, (int)s->rc, s->err.msg, tb_text_str(&s->text));
    for (size_t i = 0; i < s->list.questions; i++)
        print_error("  ? %s\n", s->list.question[i].ask);
    fail();
}

/* Reads a list, answers what it asks, and looks at what came of it; whether it was taken at once. */
static bool check(const struct made *m)
{
    static struct answered a;

    a.lines = a.words = 0;
    for (unsigned round = 0; round < 8; round++) {
        struct tb_intake_opts o = { .supplier = "M",
                                    .note = "1",
                                    .declared = "wool",
                                    .number_by_lot = m->numbers == AGAIN_IN_EACH_LOT,
                                    .line = a.line,
                                    .lines = a.lines,
                                    .word = a.word,
                                    .words = a.words };
        struct seen s = read_bytes(m->text.s, m->text.n, &o);
        bool taken = s.rc == TB_OK;

        if (taken && !right(&s.list, m))
            fail_with(m, &s, "taken, and wrong");
        if (!taken && !s.list.questions)
            fail_with(m, &s, "refused without a question");
        if (!taken)
            answer(&a, &s.list, m);
        taken = taken || !s.list.questions;
        if (round == 7 && !taken)
            fail_with(m, &s, "asked and asked again");
        seen_free(&s);
        if (taken)
            return round == 0;
    }
    return false;
}

static void of_lists_made_at_random_no_total_is_a_bolt_and_no_bolt_is_lost(void **state)
{
    static struct made m;
    size_t at_once = 0;

    (void)state;
    for (size_t i = 0; i < LISTS; i++) {
        make(&m, true);
        at_once += check(&m);
        tb_text_free(&m.text);
    }
    print_message("%zu of %d lists were read without a question\n", at_once, LISTS);
    assert_true(at_once > LISTS / 2); /* a reader that always asks would pass the rest */
}

static void lists_without_totals_are_hardly_ever_asked_about(void **state)
{
    static struct made m;
    size_t at_once = 0;

    (void)state;
    for (size_t i = 0; i < LISTS / 5; i++) {
        make(&m, false);
        at_once += check(&m);
        tb_text_free(&m.text);
    }
    print_message("%zu of %d lists without totals were read without a question\n", at_once, LISTS / 5);
    assert_true(at_once > LISTS / 5 * 98 / 100);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(of_lists_made_at_random_no_total_is_a_bolt_and_no_bolt_is_lost),
        cmocka_unit_test(lists_without_totals_are_hardly_ever_asked_about),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
