/*
 * json.h - JSON drawn from records: an object by a list of a record's members, whose kinds the compiler tells.
 *
 * What is answered is a new reference, yours to json_decref; what is put into an object or pushed onto a list is taken
 * over. Running out of memory ends the program, as in base.h.
 */
#ifndef TENTERBOOK_JSON_H
#define TENTERBOOK_JSON_H

#include "tenterbook/words.h"

#include <jansson.h>
#include <stdint.h>

/* Null for NULL; bytes that are not UTF-8 become U+FFFD. */
json_t *tb_json_text(const char *s);
/* The same, and null for "" too. */
json_t *tb_json_some(const char *s);
/* Null for what is not finite: JSON knows no infinity. */
json_t *tb_json_number(double v);
/* A chance or a share as far as it means anything: four digits. Null for what is not finite. */
json_t *tb_json_chance(double v);
/* A ratio or an estimate as far as anybody can use it: six digits. Null for what is not finite. */
json_t *tb_json_ratio(double v);
/* A price of one unit, to the ten-thousandth: one a yard is a price a metre with no more than that. Null for what is not finite. */
json_t *tb_json_price(double v);
/* An amount of money, or metres, to the hundredth. Null for what is not finite. */
json_t *tb_json_hundredths(double v);
/*
 * JSON as it is printed, on one line or with flags of json_dumps; yours to free, NULL where there is no memory. The one place
 * that writes figures for a reader: those within are rounded in place (figure.h), so that 0.95 is 0.95 and a ratio has the digits it
 * means. What a digest is made of is written elsewhere, with all 17.
 */
char *tb_json_shown(json_t *json, size_t flags);
/* A list of the lines of a text in UTF-8. */
json_t *tb_json_lines(const char *text);
/* Adds a value under a key; takes it over. */
void tb_json_put(json_t *object, const char *key, json_t *value);
/* Appends a value to a list; takes it over. */
void tb_json_push(json_t *list, json_t *value);

enum tb_json_kind {
    TB_JSON_TEXT,  /* const char *, as tb_json_text */
    TB_JSON_SOME,  /* const char *, as tb_json_some */
    TB_JSON_CHARS, /* char [] */
    TB_JSON_DOUBLE,
    TB_JSON_CHANCE,     /* double, as tb_json_chance */
    TB_JSON_RATIO,      /* double, as tb_json_ratio */
    TB_JSON_PRICE,      /* double, as tb_json_price */
    TB_JSON_HUNDREDTHS, /* double, as tb_json_hundredths */
    TB_JSON_BOOL,
    TB_JSON_INT,
    TB_JSON_COUNT, /* int, null below 0 */
    TB_JSON_UNSIGNED,
    TB_JSON_LONG, /* int64_t too */
    TB_JSON_SIZE,
    TB_JSON_WORD,     /* an enumerator, as the word of its set */
    TB_JSON_SOME_WORD /* the same, null for "" */
};
/* One member of a record and its key in JSON. Made by the macros below, which tell the kind by the member's type:
 *     #define LOT(member, key) TB_JSON_AS(struct tb_lot, member, key)
 *     TB_JSON_MEMBERS(lot_members, LOT(ref, "lot"), LOT(metres, "metres"));
 */
struct tb_json_member {
    const char *key;
    enum tb_json_kind kind;
    size_t at;
    const struct tb_words *words; /* of a word */
};
/* clang-format off */
#define TB_JSON_KIND(address) _Generic((address), const char **: TB_JSON_TEXT, char **: TB_JSON_TEXT, \
    double *: TB_JSON_DOUBLE, bool *: TB_JSON_BOOL, int *: TB_JSON_INT, unsigned *: TB_JSON_UNSIGNED, \
    long *: TB_JSON_LONG, size_t *: TB_JSON_SIZE, default: TB_JSON_CHARS)
#define TB_JSON_MEMBER(record, member, key, kind, words) { key, kind, offsetof(record, member), words }
/* clang-format on */
#define TB_JSON_AS(record, member, key)                                                                      \
    TB_JSON_MEMBER(record, member, key, TB_JSON_KIND(&((record *)0)->member), NULL)
#define TB_JSON_CHANCE_AS(record, member, key) TB_JSON_MEMBER(record, member, key, TB_JSON_CHANCE, NULL)
#define TB_JSON_RATIO_AS(record, member, key) TB_JSON_MEMBER(record, member, key, TB_JSON_RATIO, NULL)
#define TB_JSON_PRICE_AS(record, member, key) TB_JSON_MEMBER(record, member, key, TB_JSON_PRICE, NULL)
#define TB_JSON_HUNDREDTHS_AS(record, member, key)                                                           \
    TB_JSON_MEMBER(record, member, key, TB_JSON_HUNDREDTHS, NULL)
#define TB_JSON_SOME_AS(record, member, key) TB_JSON_MEMBER(record, member, key, TB_JSON_SOME, NULL)
/* A whole number (int) that is null below 0: not known, or none. */
#define TB_JSON_COUNT_AS(record, member, key) TB_JSON_MEMBER(record, member, key, TB_JSON_COUNT, NULL)
/* A member of a closed set of words. */
#define TB_JSON_WORD_AS(record, member, key, words) TB_JSON_MEMBER(record, member, key, TB_JSON_WORD, words)
#define TB_JSON_SOME_WORD_AS(record, member, key, words)                                                     \
    TB_JSON_MEMBER(record, member, key, TB_JSON_SOME_WORD, words)
#define TB_JSON_MEMBERS(name, ...) static const struct tb_json_member name[] = { __VA_ARGS__ }

/* Adds n members of a record to an object, in the order of the list. */
void tb_json_add(json_t *object, const struct tb_json_member *member, size_t n, const void *record);
/* An object of all members: tb_json_of(members, &record). */
#define tb_json_of(members, record) tb_json_record(members, TB_COUNT(members), record)
/* What tb_json_of calls: n members, of the record they were made for. */
json_t *tb_json_record(const struct tb_json_member *member, size_t n, const void *record);
/* A list of such objects: tb_json_all(members, array, how_many). */
#define tb_json_all(members, array, n) tb_json_records(members, TB_COUNT(members), array, n, sizeof *(array))
/* What tb_json_all calls: n records of `size` bytes each. */
json_t *tb_json_records(const struct tb_json_member *member, size_t members, const void *array, size_t n,
                        size_t size);

#endif
