/* draw on lots of the book: which bolts, recorded with the seed; drawn again; what the burns so far prove. */
#include "cli/sampling/draw_before.h"
#include "cli/sampling/draw_evidence.h"
#include "cli/sampling/record.h"
#include "cli/show.h"
#include "tenterbook/draws.h"
#include "tenterbook/fibre.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The bolts of one lot, in the order they are drawn by. */
struct pile {
    struct tb_lot lot;
    struct tb_bolt *bolt;
    size_t n;
    long *place;        /* drawn ones, from 1; strata[].cut of them */
    const char **burnt; /* ids of bolts burned, rising */
    size_t n_burnt;
};

struct site_draw {
    struct tb_ctx *ctx;
    struct tb_arena mem;
    struct tb_text about;
    struct pile *pile;
    size_t n, cap;
    struct draw d;
    struct draw_before before;
};

static void site_draw_free(struct site_draw *s)
{
    for (size_t i = 0; i < s->n; i++)
        free(s->pile[i].place);
    free(s->pile);
    free(s->d.strata);
    draw_before_free(&s->before);
    tb_text_free(&s->about);
    tb_arena_free(&s->mem);
}

static int by_number(const void *a, const void *b)
{
    const struct tb_bolt *x = a, *y = b;
    int c = strcmp(x->number, y->number);

    return c ? c : strcmp(x->id, y->id);
}

static tb_rc add_pile(struct site_draw *s, const char *ref, struct tb_err *err)
{
    struct pile *p;
    tb_rc rc;

    TB_PUSH_ROOM(s->pile, s->n, s->cap);
    p = &s->pile[s->n];
    memset(p, 0, sizeof *p);
    if ((rc = tb_lot_find(&p->lot, s->ctx->book, ref, &s->mem, err)) != TB_OK)
        return rc;
    for (size_t i = 0; i < s->n; i++)
        if (strcmp(s->pile[i].lot.id, p->lot.id) == 0)
            return tb_misuse(err, "lot %s is named twice", p->lot.ref);
    s->n++;
    if ((rc = tb_bolt_list(&p->bolt, &p->n, s->ctx->book, p->lot.id, &s->mem, err)) != TB_OK)
        return rc;
    if (p->n == 0)
        return tb_fail(err, TB_EINVAL, "lot %s has no bolts to draw from", p->lot.ref);
    qsort(p->bolt, p->n, sizeof *p->bolt, by_number);
    if ((rc = draw_before_add(&s->before, s->ctx->book, p->lot.id, &s->mem, err)) != TB_OK)
        return rc;
    return tb_bolts_burnt(&p->burnt, &p->n_burnt, s->ctx->book, p->lot.id, &s->mem, err);
}

struct refs {
    struct tb_arena *mem;
    const char **ref;
    size_t n, cap;
};

static tb_rc take_ref(void *arg, const struct tb_lot *lot, struct tb_err *err)
{
    struct refs *r = arg;

    (void)err;
    TB_PUSH_ROOM(r->ref, r->n, r->cap);
    r->ref[r->n++] = tb_arena_strdup(r->mem, lot->ref);
    return TB_OK;
}

/* Every lot of a delivery: its shades and dye lots. */
static tb_rc add_delivery(struct site_draw *s, const struct tb_delivery *d, struct tb_err *err)
{
    struct tb_lot_filter f = { .delivery = d->id };
    struct refs r = { .mem = &s->mem };
    tb_rc rc = tb_lot_each(s->ctx->book, &f, take_ref, &r, err);

    for (size_t i = 0; i < r.n && rc == TB_OK; i++)
        rc = add_pile(s, r.ref[i], err);
    free(r.ref);
    return rc;
}

/* One word of the command line. However a lot was called, the draw is recorded about its own reference. */
static tb_rc add_named(struct site_draw *s, const char *word, struct tb_err *err)
{
    struct tb_delivery delivery;
    struct tb_err other = { 0 };
    const char *ref = NULL;
    tb_rc rc = tb_delivery_find(&delivery, s->ctx->book, word, &s->mem, &other);

    if (rc == TB_OK) {
        ref = delivery.ref;
        rc = add_delivery(s, &delivery, err);
    } else if (rc == TB_ENOTFOUND) {
        rc = add_pile(s, word, err);
        ref = rc == TB_OK ? s->pile[s->n - 1].lot.ref : NULL;
    } else {
        *err = other;
    }
    if (ref)
        tb_text_addf(&s->about, "%s%s", s->about.n ? " " : "", ref);
    return rc;
}

static tb_rc gather(struct site_draw *s, struct tb_err *err)
{
    tb_rc rc = tb_ctx_book(s->ctx, err);

    for (size_t i = 0; i < s->ctx->argc && rc == TB_OK; i++)
        rc = add_named(s, s->ctx->argv[i], err);
    if (rc == TB_OK && s->n == 0)
        rc = tb_fail(err, TB_EINVAL, "%s has no lots to draw from", s->about.s);
    s->d.strata = tb_array(struct tb_stratum, s->n + 1);
    s->d.n_strata = s->n;
    for (size_t i = 0; i < s->n && rc == TB_OK; i++) {
        s->d.strata[i].bolts = (long)s->pile[i].n;
        s->d.bolts += (long)s->pile[i].n;
    }
    return rc;
}

/* --- what inspection the supplier's history asks for --- */

/* Of several suppliers the strictest counts. Reduced inspection is for a person to choose: the history only allows it. */
static tb_rc inspection_by_history(struct site_draw *s, struct tb_text *why, struct tb_err *err)
{
    bool reduced = true;
    tb_rc rc;

    if (s->d.plan != DRAW_ACCEPTANCE || tb_opt_on(s->ctx, "inspection"))
        return TB_OK;
    for (size_t i = 0; i < s->n; i++) {
        const struct tb_lot *lot = &s->pile[i].lot;
        struct tb_switching state;
        bool done = false;

        for (size_t k = 0; k < i && !done; k++)
            done = strcmp(s->pile[k].lot.supplier, lot->supplier) == 0;
        if (done)
            continue;
        if ((rc = record_standing(&state, s->ctx->book, lot->supplier, &s->mem, err)) != TB_OK)
            return rc;
        reduced = reduced && state.now == TB_REDUCED;
        if (state.now == TB_TIGHTENED)
            s->d.inspection = TB_TIGHTENED;
        if (state.now == TB_REDUCED)
            tb_text_addf(why, _("%s's history allows reduced inspection: %s.\n"), lot->supplier_name,
                         _(state.why));
        else if (state.why)
            tb_text_addf(why, _("%s inspection after %s's history: %s.\n"), tb_inspection_key(state.now),
                         lot->supplier_name, _(state.why));
    }
    if (reduced)
        tb_text_addf(why, "%s", _("This plan is the normal one; --inspection reduced takes the other.\n"));
    return TB_OK;
}

/* --- the draw itself --- */

static tb_rc pick(struct site_draw *s, const char *seed, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    if (s->n == 1)
        s->d.strata[0].cut = s->d.cut;
    for (size_t i = 0; i < s->n && rc == TB_OK; i++) {
        struct pile *p = &s->pile[i];

        p->place = (long *)tb_alloc((size_t)s->d.strata[i].cut + 1, sizeof *p->place);
        rc = tb_pick(p->place, (long)p->n, s->d.strata[i].cut, seed, p->lot.ref, err);
    }
    return rc;
}

static tb_rc record(struct site_draw *s, const char *seed, struct tb_err *err)
{
    static const char *const plans[] = { "discovery", "acceptance", "share", "every" };
    const struct draw *d = &s->d;
    bool table = d->plan == DRAW_ACCEPTANCE;
    struct tb_draw r = { .about = s->about.s,
                         .plan = plans[d->plan],
                         .bolts = d->bolts,
                         .cut = d->cut,
                         .bad = d->bad,
                         .chance = d->chance,
                         .sure = d->sure,
                         .catch_one = d->catch_one,
                         .catch_from = d->catch_from,
                         .aql = table ? d->aql : (double)NAN,
                         .level = table ? tb_level_key(d->level) : "",
                         .inspection = table ? tb_inspection_key(d->inspection) : "",
                         .accept = table ? d->acceptance.accept : 0,
                         .refuse = table ? d->acceptance.refuse : 1,
                         .seed = seed };
    const char **id = (const char **)tb_alloc((size_t)d->cut + 1, sizeof *id);
    size_t n = 0;
    tb_rc rc = tb_ctx_begin(s->ctx, "draw", err);

    for (size_t i = 0; i < s->n; i++)
        for (long k = 0; k < d->strata[i].cut; k++)
            id[n++] = s->pile[i].bolt[s->pile[i].place[k] - 1].id;
    if (rc == TB_OK && (rc = tb_draw_add(&r, s->ctx->book, id, n, &s->mem, err)) != TB_OK)
        tb_book_rollback(s->ctx->book);
    if (rc == TB_OK) {
        tb_book_subject(s->ctx->book, s->about.s);
        rc = tb_book_commit(s->ctx->book, err);
    }
    free(id);
    return rc;
}

/* Parts that must be burned apart: "warp, weft"; NULL for whole cloth. */
static size_t parts_of(struct tb_text *out, const struct tb_lot *lot)
{
    struct tb_declaration d;
    size_t n;

    tb_declaration_read(&d, lot->declared, strlen(lot->declared));
    n = d.comp.n ? d.comp.n : 1;
    for (size_t i = 0; i < d.comp.n; i++)
        tb_text_addf(out, "%s%s", i ? ", " : "", tb_part_key(d.comp.part[i].kind));
    if (d.comp.n == 0)
        tb_text_add(out, tb_part_key(TB_PART_WHOLE));
    tb_declaration_free(&d);
    return n;
}

static void print_bolts(struct site_draw *s, const char *seed, bool recorded)
{
    struct tb_table t;
    size_t swatches = 0;

    tb_table_begin(&t, 4);
    tb_table_cell(&t, "%s", _("LOT"));
    tb_table_cell(&t, "%s", _("BOLT"));
    tb_table_cell(&t, "%s", _("METRES"));
    tb_table_cell(&t, "%s", _("BURN"));
    for (size_t i = 0; i < s->n; i++) {
        struct pile *p = &s->pile[i];
        struct tb_text parts = { 0 };

        swatches += parts_of(&parts, &p->lot) * (size_t)s->d.strata[i].cut;
        for (long k = 0; k < s->d.strata[i].cut; k++) {
            const struct tb_bolt *b = &p->bolt[p->place[k] - 1];

            tb_table_cell(&t, "%s", p->lot.ref);
            tb_table_cell(&t, "%s", b->number);
            tb_table_cell(&t, "%.1f", b->metres);
            tb_table_cell(&t, "%s", parts.s);
        }
        tb_text_free(&parts);
    }
    (void)fputc('\n', s->ctx->out);
    tb_table_print(&t, s->ctx->out, "llrl", 40);
    (void)fprintf(s->ctx->out,
                  _n("%zu swatch to burn. Seed %s draws the same bolt again.\n",
                     "%zu swatches to burn. Seed %s draws the same bolts again.\n", swatches),
                  swatches, seed);
    if (!recorded)
        (void)fputs(_("Not recorded.\n"), s->ctx->out);
}

static tb_rc print_json(struct site_draw *s, const char *seed, enum draw_seed kind, bool recorded,
                        struct tb_err *err)
{
    static const char *const kinds[] = { "made", "earlier draw", "given" };
    json_t *o = NULL, *list = json_array();
    tb_rc rc = draw_json(&o, &s->d, err);

    if (rc != TB_OK) {
        json_decref(list);
        return rc;
    }
    for (size_t i = 0; i < s->n; i++) {
        struct tb_text parts = { 0 };

        (void)parts_of(&parts, &s->pile[i].lot);
        for (long k = 0; s->pile[i].place && k < s->d.strata[i].cut;
             k++) { /* none where no number is enough */
            const struct tb_bolt *b = &s->pile[i].bolt[s->pile[i].place[k] - 1];

            (void)json_array_append_new(list, json_pack("{s:s, s:o, s:f, s:s}", "lot", s->pile[i].lot.ref,
                                                        "bolt", tb_json_text(b->number), "metres", b->metres,
                                                        "parts", parts.s));
        }
        tb_text_free(&parts);
    }
    (void)json_object_set_new(o, "about", tb_json_text(s->about.s));
    (void)json_object_set_new(o, "seed", json_string(seed));
    (void)json_object_set_new(o, "seed_from", json_string(kinds[kind]));
    (void)json_object_set_new(o, "drawn_before", json_integer((json_int_t)s->before.n));
    (void)json_object_set_new(o, "recorded", json_boolean(recorded));
    (void)json_object_set_new(o, "drawn", list);
    return tb_print_json(s->ctx, o, err);
}

/* Of several lots the one whose burns show least counts: the false bolts may all be there. */
static tb_rc least_power(struct site_draw *s, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < s->n && rc == TB_OK; i++) {
        struct draw one = { 0 };
        bool done = false;

        for (size_t k = 0; k < i && !done; k++)
            done = strcmp(s->pile[k].lot.declared, s->pile[i].lot.declared) == 0;
        if (done)
            continue;
        draw_assume(&one);
        if ((rc = draw_power(&one, s->ctx, &s->pile[i].lot, err)) != TB_OK)
            return s->n > 1 ? tb_within(err, rc, "lot %s", s->pile[i].lot.ref) : rc;
        if (i > 0 && one.catch_one >= s->d.catch_one)
            continue;
        s->d.catch_one = one.catch_one;
        memcpy(s->d.catch_from, one.catch_from, sizeof one.catch_from);
    }
    return rc;
}

/* The seed, where it comes from, and the bolts it draws. */
static tb_rc seed_and_pick(struct site_draw *s, enum draw_seed *kind, char made[17], bool dry,
                           struct tb_err *err)
{
    const char *given = tb_opt(s->ctx, "seed");
    tb_rc rc = draw_seed_kind(kind, given, &s->before, err);

    if (dry)
        draw_seed_try(made);
    else
        draw_seed_make(made);
    return rc == TB_OK && s->d.cut >= 0 ? pick(s, given ? given : made, err) : rc;
}

static tb_rc draw_now(struct site_draw *s, struct tb_err *err)
{
    const char *given = tb_opt(s->ctx, "seed"), *svg = tb_opt(s->ctx, "curve"), *seed;
    bool dry = tb_opt_on(s->ctx, "dry-run");
    char made[17];
    struct tb_text why = { 0 };
    enum draw_seed kind = DRAW_SEED_MADE;
    tb_rc rc = least_power(s, err);

    if (rc == TB_OK)
        rc = draw_options(&s->d, s->ctx, err);
    if (rc == TB_OK)
        rc = inspection_by_history(s, &why, err);
    if (rc == TB_OK)
        rc = draw_work_out(&s->d, err);
    if (rc == TB_OK)
        rc = seed_and_pick(s, &kind, made, dry, err);
    seed = given ? given : made;
    if (rc == TB_OK && svg)
        rc = draw_curve_svg(svg, &s->d, err);
    dry = dry || s->d.cut < 0; /* nothing can be drawn that would do */
    if (rc == TB_OK && !dry)
        rc = record(s, seed, err);
    if (rc == TB_OK && s->ctx->json) {
        rc = print_json(s, seed, kind, !dry, err);
    } else if (rc == TB_OK && (rc = draw_say(s->ctx->out, &s->d, err)) == TB_OK) {
        (void)fputs(tb_text_str(&why), s->ctx->out);
        if (s->d.cut >= 0) {
            print_bolts(s, seed, !dry);
            draw_before_say(s->ctx->out, &s->before, kind);
        }
    }
    tb_text_free(&why);
    return rc;
}

/* --- drawn again --- */

/* What a reader has to know of the draw before he trusts it: others beside it, and a seed given by hand. */
static void say_draw_itself(struct site_draw *s, const struct tb_draw *r)
{
    if (s->before.n > 1)
        (void)fprintf(s->ctx->out,
                      _("%zu draws of these bolts stand in the journal; this is the one of %.10s by %s.\n"),
                      s->before.n, r->drawn_at, r->drawn_by);
    if (draw_seed_by_hand(r->seed))
        (void)fprintf(s->ctx->out,
                      _("Its seed %s was given by hand: whoever tries several can choose among the bolts.\n"),
                      r->seed);
}

static bool same_bolts(const struct site_draw *s, const struct tb_bolt *bolt, size_t n)
{
    size_t at = 0;

    for (size_t i = 0; i < s->n; i++)
        at += (size_t)s->d.strata[i].cut;
    if (at != n)
        return false;
    for (size_t k = 0; k < n; k++) {
        bool found = false;

        for (size_t i = 0; i < s->n && !found; i++)
            for (long j = 0; j < s->d.strata[i].cut && !found; j++)
                found = strcmp(s->pile[i].bolt[s->pile[i].place[j] - 1].id, bolt[k].id) == 0;
        if (!found)
            return false;
    }
    return true;
}

static tb_rc draw_again(struct site_draw *s, struct tb_err *err)
{
    struct tb_draw r = { 0 };
    struct tb_bolt *bolt = NULL;
    size_t n = 0;
    bool same;
    tb_rc rc = tb_draw_latest(&r, s->ctx->book, s->about.s, &s->mem, err);

    if (rc == TB_OK)
        rc = tb_draw_bolts(&bolt, &n, s->ctx->book, r.id, &s->mem, err);
    if (rc == TB_OK && r.bolts != s->d.bolts)
        rc = tb_fail(err, TB_EREFUSED,
                     r.bolts == 1 ? "%s had %lld bolt when it was drawn from and has %ld now"
                                  : "%s had %lld bolts when it was drawn from and has %ld now",
                     s->about.s, (long long)r.bolts, s->d.bolts);
    s->d.cut = (long)r.cut;
    if (rc == TB_OK)
        rc = tb_spread(s->d.strata, s->n, s->d.cut, err);
    if (rc == TB_OK)
        rc = pick(s, r.seed, err);
    if (rc != TB_OK)
        return rc;
    same = same_bolts(s, bolt, n);
    if (!same)
        return tb_fail(err, TB_EREFUSED,
                       n == 1 ? "seed %s does not draw the %zu bolt recorded for %s"
                              : "seed %s does not draw the %zu bolts recorded for %s",
                       r.seed, n, s->about.s);
    if (s->ctx->json)
        return tb_print_json(s->ctx,
                             json_pack("{s:s, s:s, s:b, s:s, s:s, s:I}", "about", s->about.s, "seed", r.seed,
                                       "same", 1, "drawn_at", r.drawn_at, "drawn_by", r.drawn_by, "cut",
                                       (json_int_t)r.cut),
                             err);
    (void)fprintf(s->ctx->out,
                  _n("Drawn by %s on %.10s, and drawn again now: the seed gives the same %zu bolt.\n",
                     "Drawn by %s on %.10s, and drawn again now: the seed gives the same %zu bolts.\n", n),
                  r.drawn_by, r.drawn_at, n);
    print_bolts(s, r.seed, true);
    say_draw_itself(s, &r);
    return TB_OK;
}

/* --- what the burns so far prove --- */

static int by_text(const void *a, const void *b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

static bool is_burnt(const struct pile *p, const char *bolt_id)
{
    return p->n_burnt && bsearch(&bolt_id, p->burnt, p->n_burnt, sizeof *p->burnt, by_text);
}

struct burned {
    long drawn, burned;
    long found_drawn; /* of those burned, shown false */
    double *found;    /* metres of the bolts shown false, those chosen by hand too */
    size_t n_found;
    double *other; /* metres of the bolts that may be false though nobody saw it */
    size_t n_other;
    double all_metres;
};

static int by_id(const void *a, const void *b)
{
    return strcmp(((const struct tb_bolt *)a)->id, ((const struct tb_bolt *)b)->id);
}

/* One lot: only bolts that were drawn at random and burned count for the others. */
static tb_rc count_pile(struct burned *out, struct site_draw *s, size_t at, const struct tb_bolt *drawn,
                        size_t n, struct tb_err *err)
{
    struct pile *p = &s->pile[at];
    struct draw_judge j = { 0 };
    tb_rc rc = draw_judge_open(&j, s->ctx, &p->lot, err);

    s->d.strata[at].cut = 0;
    for (size_t k = 0; k < p->n && rc == TB_OK; k++) {
        const struct tb_bolt *b = &p->bolt[k];
        bool counts = false, is_false = false;

        if (is_burnt(p, b->id)) {
            counts = n > 0 && bsearch(b, drawn, n, sizeof *drawn, by_id);
            rc = draw_judge_bolt(&is_false, &j, b->id, err);
        }
        s->d.strata[at].cut += counts;
        out->burned += counts;
        out->all_metres += b->metres;
        out->found_drawn += counts && is_false;
        if (is_false)
            out->found[out->n_found++] = b->metres;
        else if (!is_burnt(p, b->id) || s->d.catch_one < 1)
            out->other[out->n_other++] = b->metres;
    }
    draw_judge_close(&j);
    return rc;
}

static tb_rc say_proof(struct site_draw *s, const struct tb_draw *r, const struct burned *u, long most,
                       double metres, struct tb_err *err)
{
    char conf[32], share[32];
    const struct draw *d = &s->d;
    long found = u->found_drawn, besides = (long)u->n_found - found;

    if (s->ctx->json)
        return tb_print_json(s->ctx,
                             json_pack("{s:s, s:I, s:I, s:I, s:I, s:I, s:I, s:s, s:f, s:f, s:I, s:f, s:f}",
                                       "about", s->about.s, "bolts", (json_int_t)d->bolts, "drawn",
                                       (json_int_t)u->drawn, "burned", (json_int_t)u->burned, "found",
                                       (json_int_t)found, "found_besides", (json_int_t)besides, "draws",
                                       (json_int_t)s->before.n, "seed", r->seed, "sure", d->sure, "catch",
                                       d->catch_one, "most_false", (json_int_t)most, "most_metres", metres,
                                       "metres", u->all_metres),
                             err);
    if (u->burned == 0) {
        (void)fprintf(s->ctx->out,
                      _n("The %ld bolt drawn was not burned yet: nothing is proved.\n",
                         "None of the %ld bolts drawn was burned yet: nothing is proved.\n", u->drawn),
                      u->drawn);
        return TB_OK;
    }
    (void)draw_percent(conf, d->sure);
    (void)draw_percent(share, metres / u->all_metres);
    (void)fprintf(s->ctx->out,
                  _n("Of the %ld bolt drawn at random %ld was burned, and %ld shown false.\n",
                     "Of the %ld bolts drawn at random %ld were burned, and %ld shown false.\n", u->drawn),
                  u->drawn, u->burned, found);
    if (besides > 0)
        (void)fprintf(s->ctx->out,
                      _n("%ld bolt that this draw did not take was shown false too.\n",
                         "%ld bolts that this draw did not take were shown false too.\n", besides),
                      besides);
    (void)fprintf(
        s->ctx->out,
        _n("With a confidence of %s no more than %ld of the %ld bolt delivered is false, and no more than "
           "%.1f of "
           "the %.1f m (%s).\n",
           "With a confidence of %s no more than %ld of the %ld bolts delivered are false, and they hold no "
           "more than %.1f of the %.1f m (%s).\n",
           d->bolts),
        conf, most, d->bolts, metres, u->all_metres, share);
    if (u->burned < u->drawn)
        (void)fprintf(s->ctx->out,
                      _n("%ld of the drawn bolts is not burned yet; the rest are taken to be as good as "
                         "drawn at random.\n",
                         "%ld of the drawn bolts are not burned yet; the rest are taken to be as good as "
                         "drawn at random.\n",
                         u->drawn - u->burned),
                      u->drawn - u->burned);
    (void)fprintf(s->ctx->out,
                  _("It holds for this delivery only, and for burns that show a false bolt with a chance of "
                    "%s (%s).\n"),
                  draw_percent(share, d->catch_one), d->catch_from);
    say_draw_itself(s, r);
    return TB_OK;
}

/* Bolts of these lots may have been drawn under another name: the delivery of a lot, or some of its lots. */
static tb_rc not_drawn(const struct site_draw *s, struct tb_err *err)
{
    const struct tb_draw *last = draw_before_last(&s->before);

    if (last)
        return tb_fail(
            err, TB_EREFUSED,
            "bolts of %s were drawn together with others; what that draw proves: tenterbook draw %s "
            "--proof",
            s->about.s, last->about);
    return tb_fail(err, TB_EREFUSED,
                   "no bolts were drawn from %s at random: bolts chosen by hand prove nothing of the others",
                   s->about.s);
}

static tb_rc prove(struct site_draw *s, struct tb_err *err)
{
    struct tb_draw r = { 0 };
    struct tb_bolt *bolt = NULL;
    struct burned u = { 0 };
    size_t n = 0;
    long most = 0;
    double metres = 0;
    tb_rc rc = tb_draw_latest(&r, s->ctx->book, s->about.s, &s->mem, err);

    if (rc == TB_ENOTFOUND)
        return not_drawn(s, err);
    s->d.catch_one = r.catch_one;
    (void)snprintf(s->d.catch_from, sizeof s->d.catch_from, "%s", r.catch_from ? r.catch_from : "");
    if (rc == TB_OK && (rc = draw_options(&s->d, s->ctx, err)) == TB_OK)
        rc = tb_draw_bolts(&bolt, &n, s->ctx->book, r.id, &s->mem, err);
    if (rc != TB_OK)
        return rc;
    u.found = tb_array(double, (size_t)s->d.bolts + 1);
    u.other = tb_array(double, (size_t)s->d.bolts + 1);
    u.drawn = (long)n;
    if (n > 1)
        qsort(bolt, n, sizeof *bolt, by_id);
    for (size_t i = 0; i < s->n && rc == TB_OK; i++)
        rc = count_pile(&u, s, i, bolt, n, err);
    if (rc == TB_OK)
        rc = tb_proof_most_spread(&most, s->d.strata, s->n, u.found_drawn, s->d.catch_one, s->d.sure, err);
    if (most < (long)u.n_found) /* the bound counts drawn bolts; those seen false otherwise are known too */
        most = (long)u.n_found;
    if (rc == TB_OK)
        rc = tb_proof_metres(&metres, most, u.found, u.n_found, u.other, u.n_other, err);
    if (rc == TB_OK)
        rc = say_proof(s, &r, &u, most, metres, err);
    free(u.found);
    free(u.other);
    return rc;
}

tb_rc draw_on_book(struct tb_ctx *ctx, struct tb_err *err)
{
    struct site_draw s = { .ctx = ctx };
    tb_rc rc;

    draw_assume(&s.d);
    if (tb_opt_on(ctx, "again") && tb_opt_on(ctx, "proof"))
        return tb_misuse(err, "--again and --proof are two questions; ask one");
    rc = gather(&s, err);
    if (rc == TB_OK && tb_opt_on(ctx, "again"))
        rc = draw_again(&s, err);
    else if (rc == TB_OK && tb_opt_on(ctx, "proof"))
        rc = prove(&s, err);
    else if (rc == TB_OK)
        rc = draw_now(&s, err);
    site_draw_free(&s);
    return rc;
}
