/* The model in force at this site: settings of the book, and the known cloth that was burned here. */
#include "tenterbook/setting.h"
#include "tenterbook/work.h"
#include "work/observe.h"

#include <stdlib.h>
#include <string.h>

/* The fibre of a known cloth, -1 when it is not a single one. */
static int pure_fibre(const char *known)
{
    struct tb_declaration d;
    int fibre = -1;

    tb_declaration_read(&d, known, strlen(known));
    if (tb_declaration_clear(&d) && d.comp.n == 1 && d.comp.part[0].n == 1)
        fibre = d.comp.part[0].share[0].fibre;
    tb_declaration_free(&d);
    return fibre;
}

static size_t burns_of_swatch(const struct tb_burn *burn, size_t n, const char *swatch)
{
    size_t same = 0;

    for (size_t i = 0; i < n; i++)
        same += strcmp(burn[i].swatch, swatch) == 0;
    return same;
}

static tb_rc known_burns(struct tb_known_burn **out, size_t *n, struct tb_book *b, int64_t upto,
                         struct tb_arena *mem, struct tb_err *err)
{
    struct tb_burn *burn = NULL;
    size_t burns = 0;
    tb_rc rc = tb_burn_list_upto(&burn, &burns, b, NULL, upto, mem, err);

    *n = 0;
    *out = tb_arena_alloc(mem, burns * sizeof **out + 1);
    for (size_t i = 0; i < burns && rc == TB_OK; i++) {
        struct tb_known_burn *k = &(*out)[*n];

        k->fibre = pure_fibre(burn[i].known);
        if (k->fibre < 0)
            continue;
        k->weight = 1.0 / (double)burns_of_swatch(burn, burns, burn[i].swatch);
        rc = tb_burn_observed(&k->seen, &burn[i], err);
        ++*n;
    }
    return rc;
}

/* The words of the setting that name a danger; others were refused when it was set. */
static unsigned hazards_of(const char *text)
{
    unsigned bits = 0;

    for (unsigned one = 1; one & TB_HAZARD_ALL; one <<= 1) {
        const char *key = tb_hazard_key((enum tb_hazard)one);

        for (const char *p = text + strspn(text, " ,"); *p; p += strcspn(p, " ,"), p += strspn(p, " ,"))
            if (strcspn(p, " ,") == strlen(key) && strncmp(p, key, strlen(key)) == 0)
                bits |= one;
    }
    return bits;
}

static tb_rc evidence_settings(struct tb_evidence_settings *s, struct tb_book *b, int64_t upto,
                               struct tb_arena *mem, struct tb_err *err)
{
    const char *hazards = "";
    bool flame = false;
    tb_rc rc;

    tb_evidence_defaults(s);
    if ((rc = tb_setting_number(&s->contradicts_below, b, "contradicts_below", upto, err)) != TB_OK ||
        (rc = tb_setting_number(&s->speaks_below, b, "speaks_below", upto, err)) != TB_OK ||
        (rc = tb_setting_number(&s->fits_above, b, "fits_above", upto, err)) != TB_OK ||
        (rc = tb_setting_number(&s->site_weight, b, "site_weight", upto, err)) != TB_OK ||
        (rc = tb_setting_text(&hazards, b, "hazards", upto, mem, err)) != TB_OK ||
        (rc = tb_bench_flame_permitted(&flame, b, upto, err)) != TB_OK)
        return rc;
    s->hazards_allowed = hazards_of(hazards);
    if (!flame)
        s->hazards_allowed &= ~(unsigned)TB_HAZARD_FLAME;
    return TB_OK;
}

tb_rc tb_bench_model_upto(struct tb_evidence **out, struct tb_book *b, int64_t upto, struct tb_err *err)
{
    struct tb_evidence_settings settings;
    struct tb_known_burn *known = NULL;
    struct tb_arena mem = { 0 };
    size_t n = 0;
    tb_rc rc = evidence_settings(&settings, b, upto, &mem, err);

    if (rc == TB_OK)
        rc = known_burns(&known, &n, b, upto, &mem, err);
    if (rc == TB_OK)
        rc = tb_evidence_new(out, &settings, known, n, err);
    tb_arena_free(&mem);
    return rc;
}

tb_rc tb_bench_model(struct tb_evidence **out, struct tb_book *b, struct tb_err *err)
{
    return tb_bench_model_upto(out, b, TB_BOOK_NOW, err);
}
