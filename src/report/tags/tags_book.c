/* tags_book.c - the tags of swatches the book holds: those of a lot, one by its number, or the known cloths; and of bolts. */
#include "base/say.h"
#include "tenterbook/book.h"
#include "tenterbook/tags.h"
#include "tenterbook/tell.h"

#include <stdlib.h>
#include <string.h>

/* The day a swatch was burnt first, from the burns that count. */
static const char *burnt_day(const struct tb_swatch *s, const struct tb_burn *burn, size_t burns,
                             struct tb_arena *mem)
{
    for (size_t i = 0; i < burns; i++)
        if (strcmp(burn[i].swatch, s->id) == 0)
            return tb_arena_strndup(mem, burn[i].burned_at, TB_DAY_LEN);
    return NULL;
}

/* Where the bolts of a lot do not stand alike, how this one stands goes with its words. */
static tb_rc with_standing(const char **words, struct tb_book *b, const struct tb_lot *lot, const char *bolt,
                           struct tb_arena *mem, struct tb_err *err)
{
    enum tb_standing_kind standing;
    tb_rc rc;

    if (!lot || !bolt || !(lot->released_in_part || lot->returned_in_part))
        return TB_OK;
    if ((rc = tb_bolt_standing_now(&standing, b, lot, bolt, mem, err)) == TB_OK)
        *words = tb_arena_printf(mem, "%s, %s", *words, _(tb_standing_key(standing)));
    return rc;
}

/* Swatches of a lot, or of no lot (known cloths): all, or only the one with this number. */
static tb_rc add(struct tb_tag_list *out, struct tb_book *b, const struct tb_lot *lot, const char *only,
                 struct tb_arena *mem, struct tb_err *err)
{
    const char *lot_id = lot ? lot->id : NULL;
    struct tb_swatch *s;
    struct tb_burn *burn;
    const char *bolt;
    size_t n, burns;
    tb_rc rc;

    if ((rc = tb_swatch_list(&s, &n, b, lot_id, mem, err)) != TB_OK ||
        (rc = tb_burn_list(&burn, &burns, b, lot_id, mem, err)) != TB_OK)
        return rc;
    for (size_t i = 0; i < n; i++) {
        if (only && strcmp(s[i].tag, only) != 0)
            continue;
        bolt = s[i].bolt_number ? s[i].bolt_number : "";
        if ((rc = with_standing(&bolt, b, lot, s[i].bolt, mem, err)) != TB_OK)
            return rc;
        TB_PUSH_ROOM(out->tag, out->n, out->cap);
        out->tag[out->n++] = (struct tb_tag){ .number = s[i].tag,
                                              .part = s[i].part,
                                              .declared = lot ? lot->declared : s[i].known,
                                              .bolt = bolt,
                                              .cut = tb_arena_strndup(mem, s[i].cut_at, TB_DAY_LEN),
                                              .burnt = burnt_day(&s[i], burn, burns, mem) };
    }
    return TB_OK;
}

/* Numbers of swatches begin with that of their lot, so the longer one is looked for first. */
static tb_rc add_named(struct tb_tag_list *out, struct tb_book *b, const char *arg, struct tb_arena *mem,
                       struct tb_err *err)
{
    struct tb_swatch swatch;
    struct tb_lot lot = { 0 };
    tb_rc rc = tb_swatch_find(&swatch, b, arg, mem, err);
    bool one = rc == TB_OK;

    if (rc != TB_OK && rc != TB_ENOTFOUND)
        return rc;
    if (one && !swatch.lot)
        return add(out, b, NULL, arg, mem, err);
    if ((rc = tb_lot_find(&lot, b, one ? swatch.lot_ref : arg, mem, err)) != TB_OK)
        return rc;
    return add(out, b, &lot, one ? arg : NULL, mem, err);
}

tb_rc tb_tags_find(struct tb_tag_list *list, struct tb_book *b, const char *lot_or_swatch,
                   struct tb_arena *mem, struct tb_err *err)
{
    return lot_or_swatch ? add_named(list, b, lot_or_swatch, mem, err) : add(list, b, NULL, NULL, mem, err);
}

/* Its number and length, for the tag of the bolt itself. */
static const char *bolt_words(const struct tb_bolt *bolt, struct tb_arena *mem)
{
    struct tb_lengths lengths = tb_lengths_of_bolt(bolt);
    struct tb_text length = { 0 };
    const char *words;

    tb_length_words(&length, TB_READER, &lengths);
    words = tb_arena_printf(mem, "%s, %s", bolt->number, length.s);
    tb_text_free(&length);
    return words;
}

/* What is waiting or held must not be cut for an order; nor what goes back. */
static tb_rc stands(struct tb_tag *tag, struct tb_book *b, const struct tb_lot *lot, const char *bolt,
                    struct tb_arena *mem, struct tb_err *err)
{
    static const char *const words[] = {
        [TB_STANDING_NONE] = "",        [TB_WAITING] = N_("WAITING"),       [TB_HELD] = N_("HELD"),
        [TB_RELEASED] = N_("RELEASED"), [TB_RELABELLED] = N_("RELABELLED"), [TB_RETURNED] = N_("RETURNED")
    };
    enum tb_standing_kind standing;
    tb_rc rc = tb_bolt_standing_now(&standing, b, lot, bolt, mem, err);

    if (rc != TB_OK)
        return rc;
    tag->stands = _(words[standing]);
    tag->stop = standing != TB_RELEASED && standing != TB_RELABELLED;
    return TB_OK;
}

tb_rc tb_tags_bolts(struct tb_tag_list *list, struct tb_book *b, const char *ref, const char *stood,
                    struct tb_arena *mem, struct tb_err *err)
{
    struct tb_lot lot = { 0 };
    struct tb_bolt *bolt = NULL;
    size_t n = 0;
    tb_rc rc = tb_lot_find(&lot, b, ref, mem, err);

    if (rc == TB_OK)
        rc = tb_bolt_list(&bolt, &n, b, lot.id, mem, err);
    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        const char *words = bolt_words(&bolt[i], mem);

        struct tb_tag tag = { .number = tb_arena_printf(mem, "%s %s", lot.ref, bolt[i].number),
                              .declared = lot.declared,
                              .stood = stood };

        rc = stood ? stands(&tag, b, &lot, bolt[i].id, mem, err)
                   : with_standing(&words, b, &lot, bolt[i].id, mem, err);
        if (rc != TB_OK)
            return rc;
        tag.bolt = words;
        TB_PUSH_ROOM(list->tag, list->n, list->cap);
        list->tag[list->n++] = tag;
    }
    return rc;
}

void tb_tag_list_free(struct tb_tag_list *list)
{
    free(list->tag);
    *list = (struct tb_tag_list){ 0 };
}
