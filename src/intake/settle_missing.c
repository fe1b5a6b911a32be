/* settle_missing.c - no column of bolts or of lengths: which one it may be, and what is asked where nobody knows. */
#include "intake/reader.h"

#include "base/say.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* What a person sees in the file, so that they can point at a column. */
static void headers_seen(const struct tb_list_reader *r, struct tb_text *t)
{
    size_t shown = 0;

    for (size_t i = 0; i < r->list->columns && shown < 20; i++)
        tb_text_addf(t, "%s'%s'", shown++ ? ", " : "",
                     tb_store_brief(r->list->store, r->list->column[i].header));
    for (size_t i = 0; !r->list->columns && i < r->best.n && shown < 20; i++)
        if (r->best.text[i])
            tb_text_addf(t, "%s'%s'", shown++ ? ", " : "", tb_store_brief(r->list->store, r->best.text[i]));
}

#define BOLTS_IN_A_ROW_MOST 100 /* more in the mean are numbers of bolts, not counts of them */

/* Without a header: a column under a word for a number of bolts that counts several in most rows. */
static bool rows_count_several(const struct tb_profile *p)
{
    for (size_t i = 0; i < TB_PROFILED_MOST; i++)
        if (p->column[i].word == TB_FIELD_COUNT && p->column[i].figures &&
            p->column[i].ones * 2 < p->column[i].figures)
            return true;
    return false;
}

/* Does such a proposal leave out a column with figures of the size of lengths, which change from row to row? */
static bool leaves_lengths(const struct tb_profile *p, const char *columns)
{
    for (size_t i = 0; i < TB_PROFILED_MOST; i++) {
        size_t n = strcspn(columns, ",");
        bool left = n == 0 || (n == 1 && *columns == '-');
        size_t figures = p->column[i].figures;

        if (left && figures && figures == p->column[i].filled && figures * 3 >= p->rows &&
            p->column[i].changes * 2 >= figures && p->column[i].decimals)
            return true;
        columns += n + (columns[n] == ',');
    }
    return false;
}

/* No header, or none with lengths: the columns are asked for, all at once, with what stands in the first of the rows. */
static bool ask_headless(struct tb_list_reader *r)
{
    const char *columns = r->given.n || r->layouts ? NULL : tb_proposed_columns(r);
    const struct tb_profile *p = r->whole.rows >= r->profile.rows ? &r->whole : &r->profile;
    struct tb_text row = { 0 };
    struct tb_question *q;

    if (!columns)
        return false;
    for (size_t i = 0; i < TB_PROFILED_MOST; i++) {
        char letters[8];

        tb_column_letters(letters, i);
        if (p->column[i].filled && row.n < 200)
            tb_text_addf(&row, "%s%s '%s'", row.n ? ", " : "", letters, p->column[i].first);
    }
    q = tb_list_ask(
        r->list, 0,
        "no header says what the columns hold (they begin with: %s); say --columns with the fields in "
        "their order, - for one that is left out, length* for lengths side by side",
        tb_text_str(&row));
    tb_list_answer(r->list, q, "columns", columns);
    if (q) {
        q->open =
            !strstr(columns, "length*") && (rows_count_several(&r->whole) || leaves_lengths(p, columns));
        q->proposed = !q->open;
    }
    tb_text_free(&row);
    return true;
}

#define COUNTED_LEAST 3 /* rows of 1, 2, 3: two may be one bolt and two */

/* "Stück" over 5501, 5502, 5503, or over 1, 2, 3, counts nothing: the bolts have these numbers. NULL: no column of counts does that. */
static const char *numbers_bolts(const struct tb_list_reader *r)
{
    const struct tb_source_column *c = r->partial ? r->partial->of[TB_FIELD_COUNT] : NULL;

    size_t figures, counted;

    if (!c || c->index >= TB_PROFILED_MOST || tb_profile_likeness(&r->profile, c->index, TB_FIELD_BOLT) <= 0)
        return NULL;
    figures = r->profile.column[c->index].figures;
    counted = r->profile.column[c->index].counted;
    if (r->profile.column[c->index].sum < BOLTS_IN_A_ROW_MOST * (double)figures &&
        (counted < COUNTED_LEAST || counted < r->profile.rows))
        return NULL;
    return tb_store_internf(r->list->store, "%s=%s", c->header, tb_field_key(TB_FIELD_BOLT));
}

/* "Pcs 3": a carton, or the bolts of a colour, in one row; NULL: no column counts several. */
static const char *counts_several(const struct tb_list_reader *r)
{
    const struct tb_source_column *c = r->partial ? r->partial->of[TB_FIELD_COUNT] : NULL;

    if (!c || c->index >= TB_PROFILED_MOST ||
        r->profile.column[c->index].ones * 2 >= r->profile.column[c->index].figures)
        return NULL;
    return c->header;
}

/* Rows that stand for several bolts would store fewer than came: nobody is told to take them for one each. */
static void ask_pieces(struct tb_list_reader *r, size_t line, const char *count)
{
    struct tb_question *q = tb_list_ask(
        r->list, line,
        "no column numbers the bolts, and the column '%s' counts several in a row; each bolt needs a row "
        "with "
        "its own length: ask for such a list, or type it (receive --by-hand). --without bolt-numbers takes "
        "each row for one bolt",
        count);

    tb_list_answer(r->list, q, "without", "bolt-numbers");
    if (q)
        q->open = true;
}

static bool taken_by_partial(const struct tb_list_reader *r, enum tb_field f)
{
    for (size_t i = 0; i < r->partial->n; i++)
        if (r->partial->column[i].field == f)
            return true;
    return false;
}

/* What a column of the header holds, as --columns says it. */
static const char *partial_key(const struct tb_list_reader *r, size_t index)
{
    for (size_t i = 0; i < r->partial->n; i++)
        if (r->partial->column[i].index == index && r->partial->column[i].field <= TB_FIELD_PARTS)
            return tb_field_key(r->partial->column[i].field);
    /* the lower row of the header, where it numbers the lengths: "Colour | Lot | 1 | 2 | 3" */
    if (index < TB_PROFILED_MOST && r->whole.column[index].word > TB_FIELD_NONE &&
        r->whole.column[index].word <= TB_FIELD_PARTS && r->whole.column[index].word != TB_FIELD_LENGTH &&
        !taken_by_partial(r, r->whole.column[index].word))
        return tb_field_key(r->whole.column[index].word);
    return "-";
}

/* "Roll 3", "3rd roll", "3": its number; 0: there is none, or several. The words beside it begin at *word. */
static unsigned long header_number(const char *header, char word[40])
{
    size_t at = strcspn(header, "0123456789"), n = strspn(header + at, "0123456789"), k = 0;
    const char *behind = header + at + n;

    if (!n || n > 3 || strpbrk(behind, "0123456789") || strlen(header) > 30)
        return 0;
    for (size_t i = 0; i < at; i++)
        if (!strchr(" .#-", header[i]))
            word[k++] = header[i];
    if (strncmp(behind, "st ", 3) == 0 || strncmp(behind, "nd ", 3) == 0 || strncmp(behind, "rd ", 3) == 0 ||
        strncmp(behind, "th ", 3) == 0)
        behind += 2;
    for (size_t i = 0; behind[i]; i++)
        if (!strchr(" .#-", behind[i]))
            word[k++] = behind[i];
    word[k] = '\0';
    return strtoul(header + at, NULL, 10);
}

/* Columns from this one on whose headers are one word with 1, 2, 3 ..., over figures that are no numbers of bolts. */
static size_t numbered(const struct tb_list_reader *r, size_t from)
{
    char word[40] = "", next[40] = "";
    size_t n = 0;

    while (from + n < r->best.n && from + n < TB_PROFILED_MOST && r->best.text[from + n] &&
           header_number(r->best.text[from + n], n ? next : word) == n + 1 &&
           (n == 0 || strcmp(word, next) == 0) &&
           r->profile.column[from + n].figures == r->profile.column[from + n].filled)
        n++;
    return n >= 2 && r->profile.column[from].figures &&
                   r->profile.column[from].sum >= 4 * (double)r->profile.column[from].figures
               ? n
               : 0;
}

/* Columns with figures from this one on, of which it alone has a header. */
static size_t headed_alone(const struct tb_list_reader *r, size_t from)
{
    size_t n = 1;

    if (from >= r->best.n || !r->best.text[from] || !r->profile.column[from].figures)
        return 0;
    while (from + n < TB_PROFILED_MOST && r->profile.column[from + n].figures &&
           (from + n >= r->best.n || !r->best.text[from + n]))
        n++;
    return n;
}

/* Where lengths stand side by side: below headers with running numbers, else below their header, whatever its words are where it stands over three columns or more. */
static size_t lengths_beside(const struct tb_list_reader *r, size_t *from)
{
    const struct tb_source_column *c = r->partial->of[TB_FIELD_LENGTH];
    size_t most;

    for (*from = 0; *from < r->best.n; ++*from)
        if ((most = numbered(r, *from)) > 0)
            return most;
    most = c ? headed_alone(r, c->index) : 0;
    *from = c ? c->index : 0;
    for (size_t i = 0; !c && i < r->best.n && i < TB_PROFILED_MOST; i++)
        if (headed_alone(r, i) > most && headed_alone(r, i) >= 3) {
            most = headed_alone(r, i);
            *from = i;
        }
    return most > 1 ? most : 0;
}

/* Where the sum of each row stands, by the figures or, behind the lengths, by its header; SIZE_MAX: in most rows there is none. */
static size_t sum_column(const struct tb_list_reader *r, size_t behind)
{
    const struct tb_profile *p = &r->profile;

    if (p->sums && p->sums * 2 >= p->rows)
        return p->sum_at;
    for (size_t i = behind; i < r->best.n && i < TB_PROFILED_MOST; i++)
        if (r->best.text[i] && p->column[i].figures &&
            tb_header_word_total(r->words, r->best.text[i]) == TB_TOTAL_ALONE)
            return i;
    return SIZE_MAX;
}

/* A column behind the lengths holds no further length. */
static const char *behind_key(const struct tb_list_reader *r, size_t index)
{
    const char *key = partial_key(r, index);

    return strcmp(key, tb_field_key(TB_FIELD_LENGTH)) == 0 ? "-" : key;
}

/* Behind the last column that the lengths have behind them, and that is read. */
static size_t end_of_columns(const struct tb_list_reader *r, size_t from, size_t sums)
{
    size_t end = from;

    for (size_t i = from; i < TB_PROFILED_MOST; i++)
        if (i == sums || strcmp(behind_key(r, i), "-") != 0)
            end = i + 1;
    return end;
}

/* Figures under no header behind the lengths are lengths too: "Lengths (m)" over four columns, with the sum of each row behind them. */
static bool ask_beside(struct tb_list_reader *r, size_t line)
{
    size_t from, n = lengths_beside(r, &from), sums, end;
    struct tb_text t = { 0 };
    struct tb_question *q;

    if (!n)
        return false;
    sums = sum_column(r, from + n);
    end = end_of_columns(r, from + n, sums);
    for (size_t i = 0; i < from; i++)
        tb_text_addf(&t, "%s,", partial_key(r, i));
    tb_text_addf(&t, "length*%zu", n);
    for (size_t i = from + n; i < end; i++)
        tb_text_addf(&t, ",%s", i == sums ? "total" : behind_key(r, i));
    q = tb_list_ask(
        r->list, line,
        "lengths stand side by side under and behind the header '%s'; say --columns with the fields in "
        "their order, - for one that is left out, length*%zu for the lengths",
        r->best.text[from], n);
    tb_list_answer(r->list, q, "columns", tb_text_str(&t));
    tb_text_free(&t);
    return true;
}

/* One column is the likely one, of several nobody knows which. */
static void answer_maps(struct tb_list_reader *r, struct tb_question *q, const char *const *map, size_t maps)
{
    for (size_t i = 0; i < maps; i++)
        tb_list_answer(r->list, q, "map", map[i]);
    if (q)
        q->open = maps > 1;
}

/* A bolt or a length cannot be done without; the likely column is proposed, where the rows below show one. */
tb_rc tb_ask_columns(struct tb_list_reader *r, struct tb_text *missing, struct tb_err *err)
{
    size_t line = r->layouts ? r->layout[0]->line : r->best.line;
    const char *map[TB_ANSWERS_MOST];
    size_t maps = tb_profile_map(r, !tb_somewhere(r, TB_FIELD_LENGTH) ? TB_FIELD_LENGTH : TB_FIELD_BOLT, map,
                                 TB_ANSWERS_MOST - 1);
    static const char say[] =
        N_("no column was found for: %s. The headers seen on line %zu are %s; --map \"HEADER=FIELD\" says "
           "what one of them means");
    static const char none[] =
        N_("no column was found for: %s. The headers seen on line %zu are %s; --map \"HEADER=FIELD\" says "
           "what one of them means, --without bolt-numbers that the bolts have none and are given some");
    struct tb_question *q;
    struct tb_text seen = { 0 };
    size_t beside;
    tb_rc rc = TB_OK;

    headers_seen(r, &seen);
    if (r->partial && lengths_beside(r, &beside) >= 2 &&
        (numbered(r, beside) || lengths_beside(r, &beside) >= 3) && ask_beside(r, line))
        rc = TB_OK;
    else if (r->partial && tb_somewhere(r, TB_FIELD_LENGTH) && numbers_bolts(r)) {
        q = tb_list_ask(r->list, line, none, missing->s, line, seen.s);
        tb_list_answer(r->list, q, "map", numbers_bolts(r));
    } else if (r->partial && tb_somewhere(r, TB_FIELD_LENGTH) && counts_several(r)) {
        ask_pieces(r, line, counts_several(r));
    } else if (r->partial && tb_somewhere(r, TB_FIELD_LENGTH) && ask_beside(r, line)) {
        rc = TB_OK;
    } else if (r->partial && tb_somewhere(r, TB_FIELD_LENGTH)) {
        q = tb_list_ask(r->list, line, none, missing->s, line, seen.s);
        answer_maps(r, q, map, maps);
        tb_list_answer(r->list, q, "without", "bolt-numbers");
    } else if (!maps && ask_headless(r))
        rc = TB_OK;
    else if (!seen.n)
        rc = tb_about(err,
                      tb_fail(err, TB_EINVAL, "no row of this file looks like the header of a packing list"),
                      "by-hand");
    else if (!maps)
        rc = tb_about(err, tb_fail(err, TB_EINVAL, say, missing->s, line, seen.s), "by-hand");
    else
        answer_maps(r, tb_list_ask(r->list, line, say, missing->s, line, seen.s), map, maps);
    tb_text_free(&seen);
    return rc;
}
