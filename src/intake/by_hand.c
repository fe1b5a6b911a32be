/* by_hand.c - a packing list that is typed: the answers so far, the question that is open, and what an answer must be. */
#include "base/say.h"
#include "intake/hand.h"
#include "intake/written.h"
#include "tenterbook/utf8.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

static void first_question(struct tb_hand *h)
{
    for (h->step = TB_HAND_SUPPLIER; h->step <= TB_HAND_DAY && h->known[h->step]; h->step++)
        h->said[h->step] = h->known[h->step];
}

struct tb_hand *tb_hand_new(const struct tb_intake_opts *said)
{
    struct tb_hand *h = tb_new(struct tb_hand);

    h->known[TB_HAND_SUPPLIER] = said->supplier;
    h->known[TB_HAND_NOTE] = said->note;
    h->known[TB_HAND_DAY] = said->day;
    h->number_by_lot = said->number_by_lot;
    first_question(h);
    return h;
}

void tb_hand_free(struct tb_hand *h)
{
    if (!h)
        return;
    for (size_t i = 0; i < h->answers; i++)
        free(h->answer[i]);
    free(h->answer);
    free(h->lot);
    free(h->bolt);
    tb_arena_free(&h->mem);
    tb_text_free(&h->ask);
    free(h);
}

bool tb_hand_headed(const struct tb_hand *h, const char *said[3])
{
    for (int i = TB_HAND_SUPPLIER; i <= TB_HAND_DAY; i++)
        said[i] = h->said[i] ? h->said[i] : "";
    return h->step > TB_HAND_DAY;
}

bool tb_hand_begun(const struct tb_hand *h)
{
    return h->answers > 0;
}

/* ---- questions ------------------------------------------------------------------------------------------------- */

/* Where a lot ends its sums are shown, so that they can be held against the paper. */
static void ask_article(struct tb_hand *h)
{
    const struct tb_hand_lot *l = h->lots ? &h->lot[h->lots - 1] : NULL;

    if (!l)
        tb_text_say(&h->ask, "Article of the first lot:");
    else
        tb_text_addf(
            &h->ask,
            _n("Lot %zu has %zu bolt and %.2f m. Article of lot %zu (Enter: that was the last lot):",
               "Lot %zu has %zu bolts and %.2f m. Article of lot %zu (Enter: that was the last lot):",
               l->bolts),
            h->lots, l->bolts, l->metres, h->lots + 1);
}

static void ask_bolt(struct tb_hand *h)
{
    const struct tb_hand_lot *l = &h->lot[h->lots - 1];

    if (l->bolts)
        tb_text_say(&h->ask, "Number of bolt %zu of lot %zu (Enter: the lot is complete):", l->bolts + 1,
                    h->lots);
    else
        tb_text_say(&h->ask, "Number of the first bolt of lot %zu:", h->lots);
}

const char *tb_hand_ask(struct tb_hand *h)
{
    tb_text_clear(&h->ask);
    switch (h->step) {
    case TB_HAND_SUPPLIER:
        tb_text_say(&h->ask, "Supplier:");
        break;
    case TB_HAND_NOTE:
        tb_text_say(&h->ask, "Number of the delivery note:");
        break;
    case TB_HAND_DAY:
        tb_text_say(&h->ask, "Date of the note (Enter: it has none):");
        break;
    case TB_HAND_ARTICLE:
        ask_article(h);
        break;
    case TB_HAND_COLOUR:
        tb_text_say(&h->ask, "Colour (Enter: not said):");
        break;
    case TB_HAND_DYE_LOT:
        tb_text_say(&h->ask, "Dye lot (Enter: not said):");
        break;
    case TB_HAND_DECLARED:
        tb_text_say(&h->ask, "Composition, in the supplier's words (Enter: nothing is declared):");
        break;
    case TB_HAND_BOLT:
        ask_bolt(h);
        break;
    case TB_HAND_LENGTH:
        tb_text_say(&h->ask, "Its length, in metres where no unit is given:");
        break;
    case TB_HAND_DONE:
        return NULL;
    }
    return tb_text_str(&h->ask);
}

/* ---- answers --------------------------------------------------------------------------------------------------- */

static tb_rc check_text(const char *s, bool must, struct tb_err *err)
{
    if (must && !*s)
        return tb_fail(err, TB_EINVAL, "this must be said");
    if (strlen(s) > TB_INTAKE_TEXT_MOST)
        return tb_fail(err, TB_EINVAL, "a value of more than %d bytes", TB_INTAKE_TEXT_MOST);
    if (!tb_utf8_valid(s, strlen(s)))
        return tb_fail(err, TB_EINVAL, "this is not UTF-8");
    if (*s && tb_is_ditto(s))
        return tb_fail(err, TB_EINVAL,
                       "'%s' points to what stands above; write it out, or press Enter where nothing is said",
                       s);
    return TB_OK;
}

static tb_rc take_day(struct tb_hand *h, const char *s, struct tb_err *err)
{
    struct tb_day_reading r;
    unsigned orders = *s ? tb_day_scan(&r, s) : 0;
    const char *first = NULL, *other = NULL;

    for (size_t i = 0; orders && i < 3; i++) {
        const char *day = tb_day_value(&r, "dmy"[i]);

        other = day && first && strcmp(day, first) != 0 ? day : other;
        first = first ? first : day;
    }
    if (*s && !first)
        return tb_fail(err, TB_EINVAL, "'%s' is not a valid date; write it as 2026-09-14", s);
    if (other)
        return tb_fail(err, TB_EINVAL, "'%s' can be read as %s or as %s; write one of those", s, first,
                       other);
    h->said[TB_HAND_DAY] = first ? tb_arena_strdup(&h->mem, first) : "";
    return TB_OK;
}

static tb_rc take_bolt(struct tb_hand *h, const char *s, struct tb_err *err)
{
    for (size_t i = 0; i < h->bolts; i++)
        if (strcmp(h->bolt[i].number, s) == 0 && (!h->number_by_lot || h->bolt[i].lot + 1 == h->lots))
            return tb_fail(err, TB_EINVAL, "bolt %s stands in this list already, in lot %zu", s,
                           h->bolt[i].lot + 1);
    TB_PUSH_ROOM(h->bolt, h->bolts, h->bolt_cap);
    h->bolt[h->bolts++] = (struct tb_hand_bolt){ .number = tb_arena_strdup(&h->mem, s), .lot = h->lots - 1 };
    return TB_OK;
}

static tb_rc take_length(struct tb_hand *h, const char *s, struct tb_err *err)
{
    struct tb_figure f;
    enum tb_unit unit = TB_UNIT_M;
    double v, metres;

    if (!tb_figure_scan(&f, s) || f.range || f.before_n || f.parts > 1)
        return tb_fail(err, TB_EINVAL, "'%s' is not a length", s);
    if (f.rest_n)
        unit = tb_unit_find(TB_FIELD_LENGTH, f.rest, f.rest_n);
    if (f.rest_n && tb_unit_metres(unit) <= 0)
        return tb_fail(err, TB_EINVAL, "the unit of '%s' is neither metres, yards nor feet", s);
    if (!isnan(f.point) && !isnan(f.comma) && f.point != f.comma)
        return tb_fail(err, TB_EINVAL,
                       "'%s' can be read as %.15g or as %.15g; write it without a sign between thousands", s,
                       f.point, f.comma);
    v = isnan(f.point) ? f.comma : f.point;
    metres = v * tb_unit_metres(unit);
    if (!(metres > 0) || metres > TB_METRES_MOST)
        return tb_fail(err, TB_EINVAL, "a length is above 0 and at most %.0f m", TB_METRES_MOST);
    h->bolt[h->bolts - 1].length = tb_arena_printf(&h->mem, "%.15g %s", v, tb_unit_key(unit));
    h->lot[h->lots - 1].bolts++;
    h->lot[h->lots - 1].metres += metres;
    return TB_OK;
}

static void take_of_lot(struct tb_hand *h, const char *s)
{
    struct tb_hand_lot *l;

    s = tb_arena_strdup(&h->mem, s);
    if (h->step == TB_HAND_ARTICLE) {
        TB_PUSH_ROOM(h->lot, h->lots, h->lot_cap);
        h->lot[h->lots++] = (struct tb_hand_lot){ .article = s };
        return;
    }
    l = &h->lot[h->lots - 1];
    if (h->step == TB_HAND_COLOUR)
        l->colour = s;
    else if (h->step == TB_HAND_DYE_LOT)
        l->dye_lot = s;
    else
        l->declared = s;
}

/* The answer is checked before anything of it is kept. */
static tb_rc take(struct tb_hand *h, const char *s, struct tb_err *err)
{
    bool may_end =
        (h->step == TB_HAND_ARTICLE && h->lots) || (h->step == TB_HAND_BOLT && h->lot[h->lots - 1].bolts);
    bool must = h->step == TB_HAND_SUPPLIER || h->step == TB_HAND_NOTE || h->step == TB_HAND_ARTICLE ||
                h->step == TB_HAND_BOLT || h->step == TB_HAND_LENGTH;
    tb_rc rc = check_text(s, must && !may_end, err);

    if (rc != TB_OK)
        return rc;
    if (!*s && may_end) {
        h->step = h->step == TB_HAND_ARTICLE ? TB_HAND_DONE : TB_HAND_ARTICLE;
        return TB_OK;
    }
    if (h->step == TB_HAND_DAY)
        rc = take_day(h, s, err);
    else if (h->step == TB_HAND_BOLT)
        rc = take_bolt(h, s, err);
    else if (h->step == TB_HAND_LENGTH)
        rc = take_length(h, s, err);
    else if (h->step < TB_HAND_DAY)
        h->said[h->step] = tb_arena_strdup(&h->mem, s);
    else
        take_of_lot(h, s);
    if (rc != TB_OK)
        return rc;
    h->step = h->step == TB_HAND_LENGTH ? TB_HAND_BOLT : h->step + 1;
    while (h->step <= TB_HAND_DAY && h->known[h->step]) {
        h->said[h->step] = h->known[h->step];
        h->step++;
    }
    return TB_OK;
}

/* All answers but the last are taken once more. */
static tb_rc go_back(struct tb_hand *h, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    if (!h->answers)
        return tb_fail(err, TB_EINVAL, "there is no question before this one");
    free(h->answer[--h->answers]);
    h->lots = h->bolts = 0;
    tb_arena_free(&h->mem);
    first_question(h);
    for (size_t i = 0; rc == TB_OK && i < h->answers; i++)
        rc = take(h, h->answer[i], err);
    return rc;
}

tb_rc tb_hand_answer(struct tb_hand *h, const char *line, struct tb_err *err)
{
    const char *from = line + strspn(line, " \t\r");
    size_t n = strlen(from);
    char *s;
    tb_rc rc;

    while (n && strchr(" \t\r", from[n - 1]))
        n--;
    s = tb_strndup(from, n);
    if (strcasecmp(s, "back") == 0) {
        free(s);
        return go_back(h, err);
    }
    if ((rc = take(h, s, err)) != TB_OK) {
        free(s);
        return rc;
    }
    TB_PUSH_ROOM(h->answer, h->answers, h->cap);
    h->answer[h->answers++] = s;
    return TB_OK;
}
