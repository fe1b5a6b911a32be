/* What receive prints: how a list was understood, what came of it, and what could not be taken. */
#include "cli/intake/receive.h"

#include "tenterbook/fibre.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#define LOTS_SHOWN 40
#define LOTS_DOUBTED 2000 /* lots whose words are read again to say what is doubtful in them */
#define NAMES_SHOWN 6     /* lots named beside one doubt */

/* A dry run is for seeing what a column was taken for, and what was left out and why. */
static void print_columns(FILE *out, const struct tb_packing_list *l)
{
    struct tb_table t;

    tb_say(out, "Columns as they were understood:\n");
    tb_table_begin(&t, 4);
    for (size_t i = 0; i < l->columns; i++) {
        const struct tb_list_column *c = &l->column[i];
        bool kept = c->field != TB_FIELD_NONE && (c->field <= TB_FIELD_PARTS || c->kept);
        const char *name = _(tb_field_name(c->field));
        char letters[8];

        tb_column_letters(letters, c->column);
        tb_table_cell(&t, "  %s%s%s", c->sheet, *c->sheet ? " " : "", letters);
        if (kept)
            tb_table_texts(&t, c->header, name, tb_unit_key(c->unit));
        else if (c->field == TB_FIELD_NONE)
            tb_table_texts(&t, c->header, _("not understood, left out"), "");
        else
            tb_table_texts(&t, c->header, _("left out"), name);
    }
    tb_table_print(&t, out, "llll", 60);
}

static const char *bolts_words(char out[TB_COUNTED], uint32_t bolts)
{
    return tb_counted(out, bolts, _n("bolt", "bolts", bolts));
}

/* One line a delivery: it is read aloud at the door while the goods stand there. */
static void print_delivery(FILE *out, const struct tb_receive_outcome *r, size_t i)
{
    const struct tb_list_delivery *d = &r->list.delivery[i];
    char counted[TB_COUNTED];
    struct tb_text t = { 0 }, length = { 0 };
    size_t lots = 0;

    for (size_t k = 0; k < r->list.lots; k++)
        lots += r->list.lot[k].delivery == i;
    tb_part(&t, "%s", d->supplier);
    if (*d->day)
        tb_part(&t, "note %s of %s", d->note, d->day);
    else
        tb_part(&t, "note %s", d->note);
    tb_part(&t, "arrived %s: %s", r->arrived, tb_counted(counted, lots, _n("lot", "lots", lots)));
    tb_part(&t, "%s", bolts_words(counted, d->bolts));
    tb_length_words(&length, TB_READER,
                    &(struct tb_lengths){ d->unknown == d->bolts ? (double)NAN : d->metres, d->kg, d->bolts,
                                          d->derived, d->unknown, false, d->weight_kg, d->weighed });
    tb_part(&t, "%s", length.s);
    tb_text_free(&length);
    if (*d->order)
        tb_part(&t, "order %s", d->order);
    tb_part(&t, "%s", r->remark);
    (void)fprintf(out, "%s: %s\n", r->delivery ? r->delivery[i] : _("Would be taken in"), t.s);
    tb_text_free(&t);
}

/* Forty lots fit a screen; a long list is looked up with `lots`. */
static void print_lots(FILE *out, const struct tb_receive_outcome *r)
{
    const struct tb_packing_list *l = &r->list;
    struct tb_table t;

    tb_table_begin(&t, 7);
    for (size_t i = 0; i < l->lots && i < LOTS_SHOWN; i++) {
        const struct tb_list_lot *o = &l->lot[i];
        struct tb_text length = { 0 };
        char counted[TB_COUNTED];

        tb_table_cell(&t, "  %s", r->lot ? r->lot[i] : "");
        tb_table_texts(&t, o->article, o->shade, o->dye_lot, bolts_words(counted, o->bolts));
        tb_length_words(&length, TB_READER,
                        &(struct tb_lengths){ o->unknown == o->bolts ? (double)NAN : o->metres, o->kg,
                                              o->bolts, o->derived, o->unknown, false, o->weight_kg,
                                              o->weighed });
        tb_table_cell(&t, "%s", length.s);
        tb_text_free(&length);
        tb_table_texts(&t, *o->declared ? o->declared : _("nothing declared"));
    }
    tb_table_print(&t, out, "llllrrl", 60);
    if (l->lots > LOTS_SHOWN)
        (void)fprintf(out, _n("  and %zu lot more\n", "  and %zu lots more\n", l->lots - LOTS_SHOWN),
                      l->lots - LOTS_SHOWN);
}

/* Lots with the same words share their doubts. */
static bool said_before(const struct tb_packing_list *l, size_t lot)
{
    for (size_t k = 0; k < lot; k++)
        if (l->lot[k].declared == l->lot[lot].declared)
            return true;
    return false;
}

static void lots_with(struct tb_text *out, const struct tb_receive_outcome *r, const char *declared)
{
    size_t n = 0;

    for (size_t k = 0; k < r->list.lots; k++)
        if (r->list.lot[k].declared == declared && n++ < NAMES_SHOWN)
            tb_part(out, "%s", r->lot ? r->lot[k] : r->list.lot[k].article);
    if (n > NAMES_SHOWN)
        tb_text_addf(out, _(" and %zu more"), n - NAMES_SHOWN);
}

/* Before anything else is done with the cloth. */
static void print_care(FILE *out, const struct tb_receive_outcome *r)
{
    const struct tb_packing_list *l = &r->list;

    for (size_t i = 0; i < l->lots && i < LOTS_DOUBTED; i++) {
        const char *words = l->lot[i].declared;
        struct tb_text who = { 0 }, care = { 0 };
        struct tb_declaration d;

        if (!*words || said_before(l, i))
            continue;
        tb_declaration_read(&d, words, strlen(words));
        tb_care_words(&care, TB_READER, tb_declaration_handling(&d, NULL), "    ");
        if (care.n) {
            lots_with(&who, r, words);
            (void)fprintf(out, "  %s: \"%s\":\n%s", tb_text_str(&who), words, care.s);
        }
        tb_text_free(&who);
        tb_text_free(&care);
        tb_declaration_free(&d);
    }
}

static void print_doubts(FILE *out, const struct tb_receive_outcome *r)
{
    const struct tb_packing_list *l = &r->list;
    bool any = false;

    for (size_t i = 0; i < l->lots && i < LOTS_DOUBTED; i++) {
        const char *words = l->lot[i].declared;
        struct tb_declaration d = { 0 };
        struct tb_text who = { 0 };

        if (!*words || said_before(l, i))
            continue;
        tb_declaration_read(&d, words, strlen(words));
        lots_with(&who, r, words);
        if (d.n && !any)
            tb_say(out, "Doubts in what is declared (a lot waits until those that matter are answered):\n");
        any = any || d.n;
        for (size_t k = 0; k < d.n; k++)
            (void)fprintf(out, "  %s: \"%s\": %s\n", tb_text_str(&who), words, d.doubt[k].say);
        tb_text_free(&who);
        tb_declaration_free(&d);
    }
}

/* What is remarkable without being wrong: nothing of it stopped the file. */
static void print_notes(FILE *out, const struct tb_receive_outcome *r)
{
    const struct tb_packing_list *l = &r->list;
    struct tb_text t = { 0 };

    tb_name_noticed_words(&t, &r->seen, "  - ");
    for (size_t i = 0; i < l->deliveries; i++)
        tb_note_late_words(&t, l->delivery[i].note, l->delivery[i].day, r->arrived, "  - ");
    if (l->says || t.n)
        tb_say(out, "Please note:\n");
    (void)fputs(tb_text_str(&t), out);
    tb_text_free(&t);
    for (size_t i = 0; i < l->says; i++)
        (void)fprintf(out, "  - %s\n", l->say[i]);
    if (l->says_left_out)
        (void)fprintf(out, _n("  - and %zu note more\n", "  - and %zu notes more\n", l->says_left_out),
                      l->says_left_out);
}

void tb_receipt_preview(FILE *out, const struct tb_receive_outcome *r)
{
    for (size_t i = 0; i < r->list.deliveries; i++)
        print_delivery(out, r, i);
    print_lots(out, r);
    if (r->list.totals)
        (void)fprintf(out,
                      _n("%zu total of the list agrees with its bolts.\n",
                         "%zu totals of the list agree with its bolts.\n", r->list.totals),
                      r->list.totals);
    print_care(out, r);
    print_doubts(out, r);
    print_notes(out, r);
}

void tb_receipt_print(FILE *out, const struct tb_receive_outcome *r)
{
    if (!r->delivery)
        print_columns(out, &r->list);
    tb_receipt_preview(out, r);
    if (!r->delivery)
        tb_say(out, "Nothing was stored.\n");
}

void tb_receipt_bad(struct tb_ctx *ctx, const char *path, const struct tb_packing_list *l)
{
    for (size_t i = 0; i < l->bads; i++) {
        const struct tb_bad *b = &l->bad[i];
        struct tb_text at = { 0 };
        char letters[8];

        if (*b->sheet)
            tb_part(&at, "sheet '%s'", b->sheet);
        tb_part(&at, "line %zu", b->line);
        if (b->column != SIZE_MAX) {
            tb_column_letters(letters, b->column);
            tb_part(&at, "column %s '%s'", letters, b->header);
        }
        if (*b->value)
            tb_part(&at, "value '%s'", b->value);
        tb_say(stderr, "%s: %s: %s\n", tb_shown(ctx, path), tb_shown(ctx, at.s), tb_shown(ctx, b->why));
        tb_text_free(&at);
    }
    if (l->bad_count > l->bads)
        tb_say(stderr, "%s: and %zu more\n", tb_shown(ctx, path), l->bad_count - l->bads);
}

void tb_receipt_twin(struct tb_ctx *ctx, const struct tb_receive_twin *t)
{
    struct tb_text there = { 0 }, here = { 0 };

    if (!t->there.ref)
        return;
    tb_length_words(&there, TB_READER,
                    &(struct tb_lengths){ t->metres, 0, t->bolts, 0, t->unknown, false, 0, 0 });
    if (t->here)
        tb_length_words(&here, TB_READER,
                        &(struct tb_lengths){ t->here->metres, t->here->kg, t->here->bolts, t->here->derived,
                                              t->here->unknown, false, t->here->weight_kg,
                                              t->here->weighed });
    tb_say(stderr, "  there: %s, note %s, arrived %s: %lld lots, %lld bolts, %s\n", t->there.ref,
           tb_shown(ctx, t->there.note), t->there.arrived, (long long)t->lots, (long long)t->bolts, there.s);
    if (t->here)
        tb_say(stderr, "  here:  note %s: %lld bolts, %s\n", tb_shown(ctx, t->here->note),
               (long long)t->here->bolts, here.s);
    tb_text_free(&there);
    tb_text_free(&here);
}
