/* unread.c - labels above a table that nobody understands: what they say is not kept, and that is told. */
#include "intake/reader.h"

#include "tenterbook/utf8.h"

#include <string.h>

#define LABEL_MOST 40 /* bytes */
#define VALUE_MOST 80

/* What every letter head holds, and no book of cloth. */
static const char of_letters[] =
    "tel phone telephone telefon telefono telefone tlf mobile mob fax telefax email e-mail mail web www http "
    "https website vat iban swift bic bank account kvk cif nif nip attn att from to sent "
    "subject cc bcc re fw fwd von an gesendet betreff de para asunto enviado objet "
    "da a oggetto inviato page pagina seite strona blatt sheet";

bool tb_of_a_letter(const char *label, size_t n)
{
    char key[TB_HEADER_KEY_MOST];

    return !tb_header_key(key, label, n) || tb_word_listed(of_letters, key, strcspn(key, " #/"), " ");
}

/* Does anything of the reader make something of it? */
static bool is_understood(const struct tb_list_reader *r, const char *label, const char *value)
{
    struct tb_word_hit hit[TB_HITS_MOST];
    struct tb_cell cell[2] = { { .type = TB_CELL_TEXT, .text = label },
                               { .type = TB_CELL_TEXT, .text = value } };
    struct tb_row row = { .cell = cell, .n = *value ? 2 : 1, .line = 1 };
    struct tb_heads h = { 0 };
    struct tb_stretch part;
    struct tb_day_reading day;
    size_t n = tb_header_words_find(r->words, label, hit);

    /* what a header may be called in a longer one is not always a label of the note, the order or the supplier */
    return (n && hit[0].field > TB_FIELD_ORDER) || tb_header_word_total(r->words, label) ||
           tb_heads_take(&h, r->words, r->list->store, &row) || h.pending_n || tb_declares(&part, label) ||
           tb_declares(&part, value) || tb_day_find(&day, label, &n) != SIZE_MAX ||
           tb_day_find(&day, value, &n) != SIZE_MAX;
}

static void keep(struct tb_list_reader *r, const char *label, size_t n, const char *value)
{
    struct tb_list_store *s = r->list->store;
    const char *what = tb_store_intern(s, label, n);

    for (size_t i = 0; i < r->unreads; i++)
        if (r->unread[i].label == what)
            return;
    if (r->unreads < TB_COUNT(r->unread))
        r->unread[r->unreads++] = (struct tb_unread_label){ what, tb_store_brief(s, value) };
}

/* "Cust PO: ML-3400" in one cell, or "Cust PO:" with its value in the next. */
static void with_colon(struct tb_list_reader *r, const char *text, const char *colon, const char *next)
{
    size_t wide = *colon == ':' ? 1 : 3;
    const char *value = colon + wide + strspn(colon + wide, " ");
    size_t n = (size_t)(colon - text);
    bool own = *value != '\0';

    if (!n || n > LABEL_MOST || !tb_has_letter(text, n) || strcspn(text, "0123456789") < n ||
        tb_of_a_letter(text, n) || strncmp(value, "//", 2) == 0)
        return;
    value = own ? value : next;
    if (*value && strlen(value) <= VALUE_MOST && !tb_colon_in(value, NULL) &&
        !is_understood(r, text, own ? "" : next))
        keep(r, text, n, value);
}

/* "Cust PO", "ML-3400" in two cells: a few words, and a number of one word. */
static void with_number(struct tb_list_reader *r, const char *text, const char *next)
{
    size_t n = strlen(text);

    if (n <= LABEL_MOST && tb_has_letter(text, n) && !strpbrk(text, "0123456789") &&
        strpbrk(next, "0123456789") && !strchr(next, ' ') && strlen(next) <= VALUE_MOST &&
        !tb_of_a_letter(text, n) && !is_understood(r, text, next))
        keep(r, text, n, next);
}

void tb_learn_unread(struct tb_list_reader *r, const struct tb_row *row)
{
    for (size_t i = 0; i < row->n; i++) {
        const char *text = row->cell[i].text, *colon, *next;
        size_t k = i + 1;

        if (row->cell[i].type != TB_CELL_TEXT)
            continue;
        while (k < row->n && row->cell[k].type == TB_CELL_EMPTY)
            k++;
        next = k < row->n ? row->cell[k].text : "";
        if ((colon = tb_colon_in(text, NULL)))
            with_colon(r, text, colon, next);
        else if (*next)
            with_number(r, text, next);
    }
}

/* The person who reads the list has typed it. */
static bool is_given(const struct tb_list_reader *r, const char *value)
{
    const char *const given[] = { r->opts->supplier, r->opts->note, r->opts->order };

    for (size_t i = 0; i < TB_COUNT(given); i++)
        if (given[i] && tb_fold_same(given[i], value))
            return true;
    return false;
}

void tb_say_unread_labels(struct tb_list_reader *r)
{
    struct tb_text seen = { 0 };

    for (size_t i = 0; i < r->unreads; i++)
        if (!is_given(r, r->unread[i].value))
            tb_text_addf(&seen, "%s'%s' (%s)", seen.n ? ", " : "", r->unread[i].label, r->unread[i].value);
    if (seen.n)
        tb_list_say(r->list,
                    "labels above the table that are not understood, and what they say is not kept: %s",
                    tb_text_str(&seen));
    tb_text_free(&seen);
}
