/* standards.c - the table of standards: what each covers, and where that was read. */
#include "lab/tables.h"

#include "gen/ref_lab_standard.h"
#include "tenterbook/status.h"

#include <string.h>

TB_WORDS(tb_lab_means_words, TB_LAB_MEANS, "'%s' is no way to separate fibres or tell them apart", "hand",
         "chemistry", "ternary", "microscope", "proteins", "spectrum", "identify");

/* The build holds the table to these words. */
static enum tb_lab_means means_of(const char *key)
{
    int means = TB_LAB_MEANS_HAND;

    (void)tb_word_find(&means, &tb_lab_means_words, key);
    return (enum tb_lab_means)means;
}

size_t tb_lab_standard_count(void)
{
    return tb_ref_lab_standard_n;
}

struct tb_lab_standard tb_lab_standard_at(size_t i)
{
    const struct tb_ref_lab_standard *r = &tb_ref_lab_standard[i];

    return (struct tb_lab_standard){ .means = means_of(r->means),
                                     .covers = r->covers,
                                     .reagent = r->reagent,
                                     .hazard = r->hazard,
                                     .effort = r->effort,
                                     .tells = r->tells,
                                     .note = r->note,
                                     .series = r->series,
                                     .number = r->number,
                                     .year = r->year == TB_REF_NONE ? 0 : r->year,
                                     .source = r->source,
                                     .status = r->status };
}

/* The build holds every key of another table to this one. */
size_t tb_lab_standard_by_key(const char *key)
{
    size_t i = 0;

    while (i + 1 < tb_ref_lab_standard_n && strcmp(tb_ref_lab_standard[i].key, key) != 0)
        i++;
    return i;
}

size_t tb_lab_standard_of(enum tb_lab_means means)
{
    size_t i = 0;

    while (i + 1 < tb_ref_lab_standard_n && means_of(tb_ref_lab_standard[i].means) != means)
        i++;
    return i;
}

/* By its own key, or by that of what it burns as: so "cashmere_hair" stands for every fine hair. */
static bool names(const char *list, int fibre)
{
    const struct tb_fibre *f = tb_fibre_at(fibre);

    return tb_word_listed(list, f->key, strlen(f->key), ";") ||
           (f->burn_key[0] && tb_word_listed(list, f->burn_key, strlen(f->burn_key), ";"));
}

enum tb_lab_role tb_lab_standard_role(size_t i, int fibre)
{
    const struct tb_ref_lab_standard *r = &tb_ref_lab_standard[i];

    return names(r->takes, fibre)        ? TB_LAB_ROLE_DISSOLVED
           : names(r->takes_some, fibre) ? TB_LAB_ROLE_SOME
           : names(r->leaves, fibre)     ? TB_LAB_ROLE_RESIDUE
                                         : TB_LAB_ROLE_NONE;
}

bool tb_lab_standard_bars(size_t i, int fibre)
{
    return names(tb_ref_lab_standard[i].not_with, fibre);
}

static int words_of(const char *list)
{
    int n = *list != '\0';

    while ((list = strchr(list, ';'))) {
        list++;
        n++;
    }
    return n;
}

/* Our own grading: mild reagents and plain instruments first, of those the standard for fewer fibres: it was made for
 * them; what is only remembered last. */
int tb_lab_standard_burden(size_t i)
{
    const struct tb_ref_lab_standard *r = &tb_ref_lab_standard[i];

    return (tb_status_memory(r->status) ? 10000 : 0) + 100 * r->grade + words_of(r->takes) +
           words_of(r->takes_some);
}
