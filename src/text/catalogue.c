/* catalogue.c - a sentence of a paper in its language, out of the tables that the build makes of the catalogues. */
#include "text/catalogue.h"

#include "base/say.h"
#include "tenterbook/tongue.h"

#include <stdlib.h>
#include <string.h>

static const struct catalogue nothing = { NULL, 0 };
static const struct catalogue *const catalogue_of[TB_TONGUES] = {
    [TB_ENGLISH] = &nothing,
    [TB_GERMAN] = &tb_catalogue_de,
    [TB_SPANISH] = &tb_catalogue_es,
    [TB_FRENCH] = &tb_catalogue_fr,
    [TB_ITALIAN] = &tb_catalogue_it,
    [TB_POLISH] = &tb_catalogue_pl,
    [TB_PORTUGUESE] = &tb_catalogue_pt,
    [TB_TURKISH] = &tb_catalogue_tr,
    [TB_CHINESE] = &tb_catalogue_zh,
};

/* As the Plural-Forms of each catalogue say (gettext manual, "Plural forms"); a test holds the two against each other. */
static size_t form_of(enum tb_tongue tongue, unsigned long n)
{
    switch (tongue) {
    case TB_CHINESE:
        return 0;
    case TB_FRENCH:
        return n > 1;
    case TB_POLISH:
        if (n == 1)
            return 0;
        return n % 10 >= 2 && n % 10 <= 4 && (n % 100 < 10 || n % 100 >= 20) ? 1 : 2;
    default:
        return n != 1;
    }
}

static int by_sentence(const void *key, const void *row)
{
    return strcmp(key, ((const struct catalogue_row *)row)->sentence);
}

const struct catalogue *tb_catalogue(int tongue)
{
    return tongue == TB_READER ? &nothing : catalogue_of[tongue];
}

static const char *find(enum tb_tongue tongue, const char *sentence, size_t form)
{
    const struct catalogue *c = tb_catalogue(tongue);
    const struct catalogue_row *r =
        c->n ? bsearch(sentence, c->row, c->n, sizeof *c->row, by_sentence) : NULL;

    return r && form < CATALOGUE_FORMS ? r->form[form] : NULL;
}

const char *tb_tr(enum tb_tongue tongue, const char *sentence)
{
    const char *s = tongue == TB_READER ? _(sentence) : find(tongue, sentence, 0);

    return s ? s : sentence;
}

const char *tb_trn(enum tb_tongue tongue, const char *one, const char *many, unsigned long n)
{
    const char *s = tongue == TB_READER ? _n(one, many, n) : find(tongue, one, form_of(tongue, n));

    return s ? s : n == 1 ? one : many;
}
