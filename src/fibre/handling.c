/* What may be done at a bench to cloth of which some words were said. */
#include "tenterbook/fibre.h"

TB_WORDS(tb_handling_keys, TB_HANDLING_LABORATORY + 1, "'%s' does not say how cloth may be handled", "any",
         "flameless", "laboratory");

/* The stricter of what was asked for so far and what a fibre asks for; below 0: no fibre. */
static void ask_for(enum tb_handling *strictest, int *which, int fibre)
{
    if (fibre >= 0 && tb_fibre_at(fibre)->handling > *strictest) {
        *strictest = tb_fibre_at(fibre)->handling;
        *which = fibre;
    }
}

/* The words and not the shares: a word that is left out, or stands in a part that cannot be read, is a warning too. */
enum tb_handling tb_declaration_handling(const struct tb_declaration *d, int *fibre)
{
    enum tb_handling strictest = TB_HANDLING_ANY;
    int which = -1;

    for (size_t i = 0; i < d->words; i++)
        ask_for(&strictest, &which, d->word[i].fibre);
    ask_for(&strictest, &which, d->also);
    if (fibre)
        *fibre = which;
    return strictest;
}

static void note_other(struct tb_declaration *d, const char *text, size_t n, bool found)
{
    struct tb_declaration other;
    int fibre;

    tb_declaration_read(&other, text, n);
    if (tb_declaration_handling(&other, &fibre) > tb_declaration_handling(d, NULL)) {
        d->also = fibre;
        d->found = found;
    }
    tb_declaration_free(&other);
}

void tb_declaration_also(struct tb_declaration *d, const char *text, size_t n)
{
    note_other(d, text, n, false);
}

void tb_declaration_found(struct tb_declaration *d, const char *text, size_t n)
{
    note_other(d, text, n, true);
}
