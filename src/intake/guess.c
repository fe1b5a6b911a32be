/* guess.c - what each column of a header may mean, from one row or from the halves in two. */
#include "intake/header.h"

#include "intake/written.h"

#include <string.h>

/* Any word of the header may be the currency: "Price EUR per m". */
static const char *currency_in(const char *header)
{
    const char *code = NULL;

    for (const char *s = header; *s && !code;) {
        size_t n = strcspn(s, " ()[]/,");

        if (n)
            code = tb_currency_find(s, n);
        s += n + (s[n] != '\0');
    }
    return code;
}

/* For each reading by itself: "mm" is one unit for a width and another for a mass. */
static void unit_from(struct tb_guess *g, const char *text)
{
    size_t n = strlen(text), skip = n > 2 && strchr("([", text[0]) ? 1 : 0;

    for (size_t i = 0; i < g->n; i++) {
        enum tb_unit u = tb_unit_find(g->hit[i].field, text + skip, n - 2 * skip);

        if (u)
            g->hit[i].unit = u;
    }
}

/* The upper header cell is often merged over several: an empty one continues its left neighbour. */
static const char *upper(const struct tb_texts *first, size_t i, bool *own)
{
    *own = i < first->n && first->text[i];
    if (i >= first->n)
        return NULL;
    for (size_t k = i + 1; k > 0; k--)
        if (first->text[k - 1])
            return first->text[k - 1];
    return NULL;
}

/* The halves of a header over two rows: "Length" over "net m" is "Length net" or "net Length". */
static void guess_halves(struct tb_guess *g, const struct tb_header_words *w, const char *high,
                         const char *low)
{
    struct tb_text t = { 0 };
    size_t core = tb_header_core(low);

    for (int turn = 0; turn < 2 && !g->n && !tb_header_is_unit(low); turn++) {
        tb_text_clear(&t);
        if (turn == 0)
            tb_text_addf(&t, "%s %.*s", high, (int)core, low);
        else
            tb_text_addf(&t, "%.*s %s", (int)core, low, high);
        g->n = tb_header_words_find(w, t.s, g->hit);
        if (g->n && core < strlen(low))
            unit_from(g, low + core + 1);
    }
    tb_text_free(&t);
}

/* "Hmotnost (g/m2)": no other figure has such a unit, whatever the word is. It gives way to a word that is known. */
static void mass_by_unit(struct tb_guess *g, const char *header)
{
    enum tb_unit u = tb_header_words_mass(header);

    if (!u)
        return;
    g->hit[0] =
        (struct tb_word_hit){ .field = u == TB_UNIT_G_PER_M || u == TB_UNIT_OZ_PER_YD ? TB_FIELD_MASS_LINEAR
                                                                                      : TB_FIELD_MASS,
                              .unit = u,
                              .weak = true };
    g->n = 1;
}

/* "Metres" over "Gross" and "Net": it is the header of both, and of neither alone. */
static bool is_shared(const struct tb_texts *first, const struct tb_row *second, size_t i)
{
    size_t next = i + 1;

    return second && tb_row_filled(second, next) && !(next < first->n && first->text[next]);
}

/* Both rows together first, as one header was meant; then each half by itself. */
void tb_guess_column(struct tb_guess *g, const struct tb_header_words *w, struct tb_list_store *s,
                     const struct tb_texts *first, const struct tb_row *second, size_t i)
{
    const char *low = second && i < second->n && second->cell[i].type ? second->cell[i].text : NULL;
    bool own;
    const char *high = upper(first, i, &own);
    struct tb_text both = { 0 };

    if (!own && !low)
        return;
    if (high)
        tb_text_add(&both, high);
    if (low)
        tb_text_addf(&both, "%s%s", both.n ? " " : "", low);
    g->n = tb_header_words_find(w, both.s, g->hit);
    if (!g->n && low && high)
        guess_halves(g, w, high, low);
    if (!g->n && low && !tb_header_is_unit(low))
        g->n = tb_header_words_find(w, low, g->hit);
    if (!g->n && own && low && (tb_header_is_unit(low) || !is_shared(first, second, i))) {
        g->n = tb_header_words_find(w, high, g->hit);
        unit_from(g, low);
    }
    if (!g->n)
        mass_by_unit(g, both.s);
    for (size_t k = 0; k < both.n; k++)
        both.s[k] = both.s[k] == '\n' ? ' ' : both.s[k];
    g->header = tb_store_intern(s, both.s, both.n);
    g->currency = currency_in(g->header);
    tb_text_free(&both);
}
