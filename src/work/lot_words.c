/* What was ever said of the cloth of a lot, and what may be done to it at a bench. */
#include "tenterbook/analysis.h"
#include "tenterbook/stored_verdict.h"
#include "work/observe.h"

#include <stdint.h>
#include <string.h>

void tb_words_found(struct tb_declaration *d, const struct tb_analysis *a, size_t n)
{
    for (size_t i = 0; i < n; i++)
        tb_declaration_found(d, a[i].found, strlen(a[i].found));
}

tb_rc tb_lot_words(struct tb_declaration *out, struct tb_book *b, const struct tb_lot *lot,
                   struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    const char **said = NULL;
    struct tb_analysis *a = NULL;
    size_t n = 0, analyses = 0;
    tb_rc rc = tb_declarations_upto(&said, &n, b, lot->id, INT64_MAX, &mem, err);

    tb_declaration_read(out, lot->declared, strlen(lot->declared));
    for (size_t i = 0; i < n && rc == TB_OK; i++)
        tb_declaration_also(out, said[i], strlen(said[i]));
    if (rc == TB_OK && (rc = tb_analysis_list(&a, &analyses, b, lot->id, &mem, err)) == TB_OK)
        tb_words_found(out, a, analyses);
    tb_arena_free(&mem);
    return rc;
}

/* A laboratory that named the fibres has answered; one that found what must not be cut either has taken nothing back. */
static bool cleared(const struct tb_analysis *a, size_t n)
{
    bool clear = n > 0;

    for (size_t i = 0; i < n; i++) {
        struct tb_declaration d;

        tb_declaration_read(&d, a[i].found, strlen(a[i].found));
        clear = clear && d.comp.n > 0 && tb_declaration_handling(&d, NULL) != TB_HANDLING_LABORATORY;
        tb_declaration_free(&d);
    }
    return clear;
}

/* What was analysed, or recorded, before a burn says nothing of what that burn showed. Ids rise with the journal. */
static bool answered_later(const struct tb_burn *burn, const struct tb_analysis *a, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(a[i].id, burn->id) > 0 && strncmp(a[i].analysed_on, burn->burned_at, TB_DAY_LEN) >= 0)
            return true;
    return false;
}

static tb_rc unanswered(bool *out, const struct tb_burn *burn, size_t burns, const struct tb_analysis *a,
                        size_t n, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; burn && i < burns && rc == TB_OK && !*out; i++) {
        struct tb_observation o;

        rc = tb_burn_observed(&o, &burn[i], err);
        *out = rc == TB_OK && tb_observation_mineral(&o) && !answered_later(&burn[i], a, n);
    }
    return rc;
}

/* Whether the last verdict allows nothing more at a bench, and no analysis has answered since. */
static tb_rc stops(bool *out, const struct tb_cloth_known *k, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_stored_verdict v;
    tb_rc rc = tb_stored_verdict_parse(&v, k->detail ? k->detail : "", &mem, err);

    *out = rc == TB_OK && v.handling == TB_HANDLING_LABORATORY;
    tb_arena_free(&mem);
    if (*out && cleared(k->analysis, k->analyses)) {
        *out = false;
        return unanswered(out, k->burn, k->burns, k->analysis, k->analyses, err);
    }
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

tb_rc tb_known_handling(enum tb_handling *out, struct tb_declaration *d, const struct tb_cloth_known *k,
                        struct tb_err *err)
{
    bool stopped = false;
    tb_rc rc = TB_OK;

    tb_words_found(d, k->analysis, k->analyses);
    *out = tb_declaration_handling(d, NULL);
    if (*out != TB_HANDLING_LABORATORY && (rc = stops(&stopped, k, err)) == TB_OK && stopped)
        *out = TB_HANDLING_LABORATORY;
    return rc;
}

/* The words stay for whoever asks which fibre it is. */
static tb_rc find_handling(enum tb_handling *out, struct tb_declaration *d, struct tb_book *b,
                           const struct tb_lot *lot, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_judged last = { 0 };
    struct tb_analysis *a = NULL;
    struct tb_burn *burn = NULL;
    struct tb_cloth_known k = { 0 };
    tb_rc rc = tb_lot_words(d, b, lot, err);

    if (rc == TB_OK && (rc = tb_judged_latest(&last, b, lot->id, &mem, err)) == TB_OK &&
        last.verdict != TB_FITS && /* what fits is warned of, and never stopped */
        (rc = tb_analysis_list(&a, &k.analyses, b, lot->id, &mem, err)) == TB_OK &&
        (rc = k.analyses ? tb_burn_list(&burn, &k.burns, b, lot->id, &mem, err) : TB_OK) == TB_OK)
        k.detail = last.detail;
    k.analysis = a;
    k.burn = burn;
    rc = rc == TB_ENOTFOUND ? TB_OK : rc;
    if (rc == TB_OK)
        rc = tb_known_handling(out, d, &k, err);
    tb_arena_free(&mem);
    return rc;
}

tb_rc tb_lot_handling(enum tb_handling *out, struct tb_book *b, const struct tb_lot *lot, struct tb_err *err)
{
    struct tb_declaration d = { 0 };
    tb_rc rc = find_handling(out, &d, b, lot, err);

    tb_declaration_free(&d);
    return rc;
}

tb_rc tb_known_unburnable(bool *out, const struct tb_cloth_known *k, struct tb_err *err)
{
    *out = false;
    return unanswered(out, k->burn, k->burns, k->analysis, k->analyses, err);
}

tb_rc tb_lot_unburnable(bool *out, struct tb_book *b, const struct tb_lot *lot, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_analysis *a = NULL;
    struct tb_burn *burn = NULL;
    struct tb_cloth_known k = { 0 };
    tb_rc rc = TB_OK;

    *out = false;
    if (lot->burns && (rc = tb_burn_list(&burn, &k.burns, b, lot->id, &mem, err)) == TB_OK &&
        (rc = tb_analysis_list(&a, &k.analyses, b, lot->id, &mem, err)) == TB_OK) {
        k.burn = burn;
        k.analysis = a;
        rc = tb_known_unburnable(out, &k, err);
    }
    tb_arena_free(&mem);
    return rc;
}

static tb_rc find_named(enum tb_handling *out, struct tb_declaration *d, struct tb_book *b, const char *ref,
                        struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_lot lot;
    tb_rc rc = tb_lot_find(&lot, b, ref, &mem, err);

    if (rc == TB_OK)
        rc = find_handling(out, d, b, &lot, err);
    tb_arena_free(&mem);
    return rc;
}

tb_rc tb_bench_handling_check(struct tb_book *b, const char *known, const char *lot, enum tb_handling most,
                              const char *at, struct tb_err *err)
{
    struct tb_declaration d = { 0 };
    enum tb_handling asked = TB_HANDLING_ANY;
    int fibre = -1;
    tb_rc rc = TB_OK;

    if (at)
        return TB_OK;
    if (known && *known) {
        tb_declaration_read(&d, known, strlen(known));
        asked = tb_declaration_handling(&d, NULL);
    } else {
        rc = find_named(&asked, &d, b, lot, err);
    }
    if (rc == TB_OK && asked > most && asked > tb_declaration_handling(&d, &fibre))
        rc = tb_fail(
            err, TB_EREFUSED,
            "cloth of lot %s neither burned nor melted and may be asbestos: it must not be cut, tested "
            "or burned at a bench; keep it closed and ask a laboratory licensed for it; once the "
            "analysis that names its fibres is recorded (tenterbook assay) the work goes on; what was "
            "done already is recorded with its moment (at)",
            lot);
    else if (rc == TB_OK && asked > most && asked == TB_HANDLING_FLAMELESS)
        rc = tb_fail(err, TB_EREFUSED,
                     "%s must not be burned, it frees toxic gas or burns explosively; test it without a "
                     "flame (tenterbook try) or "
                     "send it to a laboratory; a burn that was made already is recorded with its moment (at)",
                     tb_fibre_at(fibre)->name);
    else if (rc == TB_OK && asked > most)
        rc = tb_fail(
            err, TB_EREFUSED,
            "%s must not be cut, tested or burned at a bench; keep the cloth closed and ask a laboratory "
            "licensed for it; what was done already is recorded with its moment (at)",
            tb_fibre_at(fibre)->name);
    tb_declaration_free(&d);
    return rc;
}
