/* month_kinds.c - kinds of fibre: what a lot was declared to be, and what was found instead. */
#include "report/month/month_impl.h"

#include "tenterbook/fibre.h"
#include "tenterbook/stored_verdict.h"

#include <string.h>

#define SHARE_LEAST 10.0 /* less than this does not show in a flame */
#define KINDS 8

struct kinds {
    const char *word[KINDS];
    size_t n;
    bool more;
};

/* In the order of the alphabet, each once: "cotton, polyester" and "polyester, flax" are the same kinds. */
static void add_kind(struct kinds *k, int fibre)
{
    const char *word = tb_fibre_at(fibre)->burn_class;
    size_t at = 0;

    while (at < k->n && strcmp(k->word[at], word) < 0)
        at++;
    if (at < k->n && strcmp(k->word[at], word) == 0)
        return;
    if (k->n == KINDS) {
        k->more = true;
        return;
    }
    memmove(&k->word[at + 1], &k->word[at], (k->n - at) * sizeof *k->word);
    k->word[at] = word;
    k->n++;
}

/* More kinds than have a place are told by dots, not left out unsaid. */
static void print_kinds(struct tb_text *out, const struct kinds *k)
{
    for (size_t i = 0; i < k->n; i++)
        tb_text_addf(out, "%s%s", i ? " + " : "", k->word[i]);
    if (k->more)
        tb_text_add(out, " + ...");
}

/*
 * Over all parts, shares of 10 % and more. A share that is not given counts: it may be large. Words that cannot be read for
 * certain are a kind of their own.
 */
void tb_month_kind_declared(struct tb_text *out, const char *declared)
{
    struct tb_declaration d;
    struct kinds k = { 0 };

    tb_declaration_read(&d, declared, strlen(declared));
    if (tb_declaration_clear(&d))
        for (size_t p = 0; p < d.comp.n; p++)
            for (size_t i = 0; i < d.comp.part[p].n; i++) {
                const struct tb_share *s = &d.comp.part[p].share[i];

                if (s->fibre >= 0 && !(s->percent < SHARE_LEAST))
                    add_kind(&k, s->fibre);
            }
    print_kinds(out, &k);
    if (!k.n)
        tb_text_add(out, _("not readable"));
    tb_declaration_free(&d);
}

/* The likeliest composition of every part. */
static void add_likeliest(struct kinds *k, const struct tb_stored_verdict *v)
{
    for (size_t i = 0; i < v->n_likely; i++) {
        const struct tb_stored_likely *l = &v->likely[i];

        if (i && v->likely[i - 1].part == l->part)
            continue; /* the first of a part is its likeliest */
        for (size_t j = 0; j < l->n; j++) {
            int fibre = tb_fibre_by_key(l->fibre[j].fibre);

            if (fibre >= 0 && l->fibre[j].percent >= SHARE_LEAST)
                add_kind(k, fibre);
        }
    }
}

/* A result of a test without a flame that speaks for what is declared: what the burn took the cloth for is in doubt then. */
static bool test_disagrees(const struct tb_stored_verdict *v)
{
    for (size_t i = 0; i < v->n_cue; i++) {
        struct tb_channel channel;
        struct tb_cue cue;
        int at = tb_cue_by_key(v->cue[i].cue);

        if (at < 0 || v->cue[i].sight != TB_SIGHT_SEEN)
            continue;
        tb_cue_at(&cue, at);
        tb_channel_at(&channel, cue.channel);
        if (channel.bench && (v->cue[i].weight_db > 0 || v->cue[i].alone_db > 0))
            return true;
    }
    return false;
}

/* The likeliest of one bolt is not that of a lot whose other bolts were tested and do not contradict. */
static bool bolts_disagree(const struct tb_stored_verdict *v, int64_t tests)
{
    return tests && tb_stored_verdict_against(v) < v->n_bolt;
}

/* What laboratories found, of all parts. */
static void add_analysed(struct kinds *k, const struct tb_month_lot *lot)
{
    for (int64_t n = 0; n < lot->analyses && lot->analysis; n++) {
        const struct tb_analysis *a = &lot->analysis[n];
        struct tb_declaration d;
        bool later = false;

        for (int64_t i = n + 1; i < lot->analyses; i++)
            later = later || lot->analysis[i].part == a->part;
        if (later)
            continue;
        tb_declaration_read(&d, a->found, strlen(a->found));
        for (size_t p = 0; p < d.comp.n; p++)
            for (size_t i = 0; i < d.comp.part[p].n; i++)
                if (d.comp.part[p].share[i].fibre >= 0 && d.comp.part[p].share[i].percent >= SHARE_LEAST)
                    add_kind(k, d.comp.part[p].share[i].fibre);
        tb_declaration_free(&d);
    }
}

/* By the bench: what its verdict took the cloth for. */
static tb_rc add_burnt(struct kinds *k, const struct tb_month_lot *lot, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_stored_verdict v;
    tb_rc rc = tb_stored_verdict_parse(&v, lot->detail ? lot->detail : "", &mem, err);

    if (rc == TB_OK && !test_disagrees(&v) && !bolts_disagree(&v, lot->tests))
        add_likeliest(k, &v);
    tb_arena_free(&mem);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

static tb_rc found_instead(struct tb_text *out, enum found_as *as, const struct told *of,
                           const char *declared_kind, struct tb_err *err)
{
    struct kinds k = { 0 };
    tb_rc rc = TB_OK;

    if (of->concluded.by == TB_BY_LABORATORY)
        add_analysed(&k, &of->lot);
    else
        rc = add_burnt(&k, &of->lot, err);
    print_kinds(out, &k);
    /* the same kinds in other shares, or none that can be named: all that is known is that it differs */
    if (!k.n || strcmp(tb_text_str(out), declared_kind) == 0) {
        tb_text_clear(out);
        tb_text_add(out, _("something else"));
        *as = FOUND_ELSE;
    }
    return rc;
}

tb_rc tb_month_likeliest(struct tb_text *out, const char *detail, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_stored_verdict v;
    tb_rc rc = tb_stored_verdict_parse(&v, detail ? detail : "", &mem, err);

    if (rc == TB_OK)
        tb_stored_likeliest(out, TB_READER, &v);
    tb_arena_free(&mem);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

tb_rc tb_month_kind_found(struct tb_text *out, enum found_as *as, const struct told *of,
                          const char *declared_kind, struct tb_err *err)
{
    *as = FOUND_KIND;
    if (of->concluded.by == TB_BY_NOTHING)
        return TB_OK;
    switch (of->concluded.kind) {
    case TB_CONFORMS:
    case TB_NOTHING_AGAINST:
        tb_text_add(out, declared_kind);
        return TB_OK;
    case TB_DOES_NOT:
        return found_instead(out, as, of, declared_kind, err);
    default:
        tb_text_add(out, _("undecided"));
        *as = FOUND_UNDECIDED;
        return TB_OK;
    }
}
