/* loose_day.c - days in a title that no label calls the date of the note: how near they stand to it, and the question. */
#include "intake/reader.h"

#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>

#define BIT(field) ((uint64_t)1 << (field))

static bool digit(char c)
{
    return c >= '0' && c <= '9';
}

/* "16:12": a mail has the hour, a delivery note mostly not. */
static bool has_hour(const char *s)
{
    for (const char *c = strchr(s, ':'); c; c = strchr(c + 1, ':'))
        if (c > s && digit(c[-1]) && digit(c[1]) && digit(c[2]))
            return true;
    return false;
}

/* The word before the colon that a mail has before the day it was sent, in many languages. Source: memory. */
static bool has_sent_label(const char *text)
{
    static const char words[] =
        "sent|gesendet|envoye|envoye le|enviado|enviado el|enviada em|enviado em|inviato|data invio|"
        "verzonden|skickat|sendt|lahetetty|wyslano|odeslano|odoslane|elkuldve|trimis|poslano|"
        "nosutits|issiusta|saadetud|gonderildi|gonderilen|отправлено|изпратено|надіслано|"
        "εσταλη|发送时间|寄件日期|發送時間|送信日時|보낸 날짜|보낸날짜";
    const char *at = text + strspn(text, "> *-"), *colon = strchr(at, ':');
    char *word = colon && colon - at < 40 ? tb_fold(at, (size_t)(colon - at)) : NULL;
    bool found = word && *word && tb_word_listed(words, word, strlen(word), "|");

    free(word);
    return found;
}

static bool mail_head(const struct tb_row *row)
{
    bool hour = false, label = false;

    for (size_t i = 0; i < row->n; i++)
        if (row->cell[i].type == TB_CELL_TEXT) {
            hour = hour || has_hour(row->cell[i].text);
            label = label || has_sent_label(row->cell[i].text);
        }
    return hour || label;
}

/* Is the note's number, or a word for it, the nearest of what stands before the day? */
static bool behind_note(const struct tb_list_reader *r, const char *before)
{
    uint64_t hint = strlen(before) <= 160 ? tb_header_words_hint(r->words, before) : 0;
    bool number = r->opts->note && strlen(r->opts->note) > 2 && strstr(before, r->opts->note);

    return (number || (hint & BIT(TB_FIELD_NOTE))) && !(hint & BIT(TB_FIELD_ORDER));
}

/* Written in two ways it is one day all the same. */
static bool same_day(const char *a, const char *b)
{
    struct tb_day_reading x, y;

    if (strcmp(a, b) == 0)
        return true;
    return tb_day_scan(&x, a) && tb_day_scan(&y, b) && strcmp(x.dmy, y.dmy) == 0 &&
           strcmp(x.mdy, y.mdy) == 0 && strcmp(x.ymd, y.ymd) == 0;
}

static void keep_loose_day(struct tb_list_reader *r, const struct tb_row *row, const char *said,
                           const char *before)
{
    struct tb_loose_day day = { said, row->line,
                                mail_head(row)           ? TB_DAY_OF_MAIL
                                : behind_note(r, before) ? TB_DAY_OF_NOTE
                                                         : TB_DAY_ALONE };
    size_t at = 0, n = r->loose_days;

    for (size_t i = 0; i < n; i++)
        if (same_day(r->loose_day[i].said, said)) {
            if (day.near <= r->loose_day[i].near)
                return;
            memmove(&r->loose_day[i], &r->loose_day[i + 1], (--n - i) * sizeof day);
        }
    if (n == TB_COUNT(r->loose_day) && day.near <= r->loose_day[--n].near)
        return;
    while (at < n && r->loose_day[at].near >= day.near)
        at++;
    memmove(&r->loose_day[at + 1], &r->loose_day[at], (n - at) * sizeof day);
    r->loose_day[at] = day;
    r->loose_days = n + 1;
}

#define SMALL_WORDS 12 /* bytes before a day in its cell that label nothing: "z dnia " */
#define NUMBER_MOST 40 /* the same with the number whose day it is: "ORD 4471 del " */

static bool speaks_of_order(const struct tb_list_reader *r, const char *text, size_t n)
{
    const char *said = n && n <= 160 ? tb_store_intern(r->list->store, text, n) : "";
    uint64_t hint = tb_header_words_hint(r->words, said);

    return tb_label_field(r->words, text, n) == TB_FIELD_ORDER ||
           ((hint & BIT(TB_FIELD_ORDER)) && !(hint & BIT(TB_FIELD_NOTE)));
}

/*
 * "Order date: 12/09/2026": of all days that one is not the note's. The words nearest to the day tell: those before it in its
 * cell, else the label that stands before it in the row.
 */
static bool of_an_order(const struct tb_list_reader *r, const struct tb_row *row, size_t at, size_t before)
{
    const struct tb_cell *own = &row->cell[at];

    if (own->type == TB_CELL_TEXT && speaks_of_order(r, own->text, before))
        return true;
    if (memchr(own->text, ':', before) ||
        before > (strcspn(own->text, "0123456789") < before ? NUMBER_MOST : SMALL_WORDS))
        return false;
    for (size_t i = at; i > 0; i--) {
        const struct tb_cell *c = &row->cell[i - 1];

        if (c->type == TB_CELL_TEXT && tb_has_letter(c->text, strlen(c->text)) &&
            (speaks_of_order(r, c->text, strlen(c->text)) || !strpbrk(c->text, "0123456789")))
            return speaks_of_order(r, c->text, strlen(c->text));
    }
    return false;
}

static void learn_loose_day(struct tb_list_reader *r, const struct tb_row *row)
{
    for (size_t i = 0; i < row->n; i++) {
        const struct tb_cell *cell = &row->cell[i];
        struct tb_day_reading day;
        size_t n = strlen(cell->text), at = 0;
        const char *said;

        if (cell->type != TB_CELL_DAY &&
            (cell->type != TB_CELL_TEXT || (at = tb_day_find(&day, cell->text, &n)) == SIZE_MAX))
            continue;
        if (of_an_order(r, row, i, at))
            continue;
        said = tb_store_intern(r->list->store, cell->text + at, n);
        keep_loose_day(r, row, said, tb_store_intern(r->list->store, cell->text, at));
    }
}

void tb_learn_title_day(struct tb_list_reader *r, const struct tb_row *row)
{
    bool before = r->said & BIT(TB_FIELD_DAY);

    if (r->title.value[TB_FIELD_DAY] && !before) {
        r->said |= BIT(TB_FIELD_DAY);
        r->mail_day = mail_head(row);
    }
    if (!r->title.value[TB_FIELD_DAY] || r->mail_day)
        learn_loose_day(r, row);
}

/* A day that can be read two ways gives two answers, the one first that the site or the rest of the file has. */
static void answer_days(struct tb_list_reader *r, struct tb_question *q, const char *text)
{
    struct tb_day_reading day;
    unsigned possible = tb_day_possible(r, &day, tb_day_scan(&day, text));

    for (int others = 0; others < 2; others++)
        for (size_t i = 0; i < TB_DAY_ORDERS; i++) {
            const struct tb_day_order *o = &tb_day_orders[i];
            const char *v = tb_day_value(&day, o->name[0]);

            if (v && possible & o->bit && (others || o->name[0] == r->day_order))
                tb_list_answer(r->list, q, "note-date", v);
        }
}

/* One day is likely the note's, or the one that stands beside its number; of several nobody knows which. */
void tb_ask_loose_day(struct tb_list_reader *r)
{
    const struct tb_loose_day *a = &r->loose_day[0], *b = &r->loose_day[1];
    bool labelled = tb_somewhere(r, TB_FIELD_DAY) || r->said & BIT(TB_FIELD_DAY);
    struct tb_question *q;

    if (!r->loose_days || r->opts->day || r->opts->without & BIT(TB_FIELD_DAY) ||
        (labelled && !(r->mail_day && a->near == TB_DAY_OF_NOTE)))
        return;
    q = r->loose_days == 1
            ? tb_list_ask(
                  r->list, a->line,
                  "line %zu says '%s'; if that is the date of the delivery note, say --note-date with it, "
                  "else --without note-date",
                  a->line, a->said)
            : tb_list_ask(r->list, a->line,
                          "line %zu says '%s', line %zu '%s'; which is the date of the delivery note? Say "
                          "--note-date with it, or --without note-date",
                          a->line, a->said, b->line, b->said);
    for (size_t i = 0; i < r->loose_days; i++)
        answer_days(r, q, r->loose_day[i].said);
    tb_list_answer(r->list, q, "without", "note-date");
    if (q)
        q->open = r->loose_days > 1 && a->near == b->near;
}
