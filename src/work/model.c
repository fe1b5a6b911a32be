/* The model in force at this site: settings of the book, and the known cloth that was burned here. */
#include "work/model.h"
#include "tenterbook/setting.h"
#include "tenterbook/stored_verdict.h"
#include "tenterbook/work.h"
#include "work/observe.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

int tb_known_fibre(const char *known)
{
    struct tb_declaration d;
    int fibre = -1;

    tb_declaration_read(&d, known, strlen(known));
    if (tb_declaration_clear(&d) && d.comp.n == 1 && d.comp.part[0].n == 1)
        fibre = d.comp.part[0].share[0].fibre;
    tb_declaration_free(&d);
    return fibre;
}

/* A blend whose words can be read for certain, in mem; NULL where it is not one, or has several parts. */
static const struct tb_part *known_blend(const char *known, struct tb_arena *mem)
{
    struct tb_declaration d;
    struct tb_part *part = NULL;

    tb_declaration_read(&d, known, strlen(known));
    if (tb_declaration_clear(&d) && d.comp.n == 1 && d.comp.part[0].n > 1) {
        size_t size = d.comp.part[0].n * sizeof *part->share;

        part = tb_arena_alloc(mem, sizeof *part);
        *part = (struct tb_part){ .kind = d.comp.part[0].kind, .n = d.comp.part[0].n };
        part->share = tb_arena_alloc(mem, size);
        memcpy(part->share, d.comp.part[0].share, size);
    }
    tb_declaration_free(&d);
    return part;
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

        k->fibre = tb_known_fibre(burn[i].known);
        k->blend = k->fibre < 0 ? known_blend(burn[i].known, mem) : NULL;
        if (k->fibre < 0 && !k->blend)
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

/* What the site chose. */
static tb_rc own_settings(struct tb_evidence_settings *s, struct tb_book *b, int64_t upto,
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
        (rc = tb_setting_number(&s->commonness, b, "commonness", upto, err)) != TB_OK ||
        (rc = tb_setting_text(&hazards, b, "hazards", upto, mem, err)) != TB_OK ||
        (rc = tb_bench_flame_permitted(&flame, b, upto, err)) != TB_OK)
        return rc;
    s->hazards_allowed = hazards_of(hazards);
    if (!flame)
        s->hazards_allowed &= ~(unsigned)TB_HAZARD_FLAME;
    return TB_OK;
}

/* What it chose, and what its lots and drills say of it. */
static tb_rc site_settings(struct tb_evidence_settings *s, struct tb_book *b, int64_t upto,
                           struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = own_settings(s, b, upto, mem, err);

    if (rc != TB_OK || (rc = tb_settled_read(s, b, upto, mem, err)) != TB_OK ||
        (rc = tb_bench_error_read(&s->bench_error, &s->drilled, b, upto, mem, err)) != TB_OK)
        return rc;
    return upto == TB_BOOK_NOW ? tb_base_rate_read(&s->base_rate, &s->base_from, b, mem, err) : TB_OK;
}

/* The settings are made already; what the burns of known cloth teach is added. */
static tb_rc make_model(struct tb_evidence **out, const struct tb_evidence_settings *settings,
                        struct tb_book *b, int64_t upto, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_known_burn *known = NULL;
    size_t n = 0;
    tb_rc rc = known_burns(&known, &n, b, upto, mem, err);

    return rc == TB_OK ? tb_evidence_new(out, settings, known, n, err) : rc;
}

tb_rc tb_bench_model_upto(struct tb_evidence **out, struct tb_book *b, int64_t upto, struct tb_err *err)
{
    struct tb_evidence_settings settings;
    struct tb_arena mem = { 0 };
    tb_rc rc = site_settings(&settings, b, upto, &mem, err);

    if (rc == TB_OK)
        rc = make_model(out, &settings, b, upto, &mem, err);
    tb_arena_free(&mem);
    return rc;
}

tb_rc tb_bench_model(struct tb_evidence **out, struct tb_book *b, struct tb_err *err)
{
    return tb_bench_model_upto(out, b, TB_BOOK_NOW, err);
}

/* A chance that cannot be one is refused by the model. */
tb_rc tb_bench_model_told(struct tb_evidence **out, struct tb_book *b, const struct tb_stored_verdict *told,
                          int64_t upto, struct tb_err *err)
{
    struct tb_evidence_settings settings;
    struct tb_arena mem = { 0 };
    tb_rc rc = own_settings(&settings, b, upto, &mem, err);

    settings.bounds = &told->full_bounds;
    settings.n_settled = told->settled_lots > 0 ? (size_t)told->settled_lots : 0;
    settings.told_cases = told->settled_cases;
    if (!isnan(told->bench_error))
        settings.bench_error = told->bench_error;
    settings.drilled = told->drilled;
    settings.base_rate = told->base_rate;
    settings.base_from = told->base_from;
    if (rc == TB_OK)
        rc = make_model(out, &settings, b, upto, &mem, err);
    tb_arena_free(&mem);
    return rc;
}
