/* likely_words.c - what a cloth is likeliest to be, with its chance; bolt by bolt where they burn differently. */
#include "base/say.h"
#include "tenterbook/fibre_words.h"
#include "tenterbook/tell.h"

#include <string.h>

/* "cotton 60 %, polyester 40 %" */
static void shares(struct tb_text *t, enum tb_tongue to, const struct tb_stored_likely *l)
{
    for (size_t i = 0; i < l->n; i++) {
        tb_text_add(t, i ? tb_tr(to, ", ") : "");
        /* TRANSLATORS: a fibre and its share: "cotton 60 %" */
        tb_text_addf(t, tb_tr(to, "%s %.0f %%"), tb_fibre_key_in(to, l->fibre[i].fibre), l->fibre[i].percent);
    }
}

/* Of each part the first: "warp: cotton 60 %, polyester 40 % (71 in 100); weft: ..." */
static void parts(struct tb_text *out, enum tb_tongue to, const struct tb_stored_likely *l, size_t n)
{
    const size_t before = out->n;

    for (size_t i = 0; i < n; i++) {
        struct tb_text cloth = { 0 };

        if (i && l[i].part == l[i - 1].part)
            continue;
        if (l[i].part != TB_PART_WHOLE)
            tb_text_addf(&cloth, "%s: ", tb_part_in(to, l[i].part));
        shares(&cloth, to, &l[i]);
        tb_text_add(out, out->n > before ? tb_tr(to, ", ") : "");
        tb_text_addf(out, tb_tr(to, "%s (%.0f in 100)"), tb_text_str(&cloth), 100 * l[i].probability);
        tb_text_free(&cloth);
    }
}

/* --- bolts that burn differently ----------------------------------------------------------------------------------- */

static bool fits(const struct tb_stored_bolt *b)
{
    return b->kind == TB_FITS;
}

static bool same_kinds(const struct tb_stored_likely *a, const struct tb_stored_likely *b)
{
    bool same = a->part == b->part && a->n == b->n;

    for (size_t i = 0; same && i < a->n; i++)
        same = strcmp(a->fibre[i].fibre, b->fibre[i].fibre) == 0;
    return same;
}

/* Shares and chances differ from burn to burn of one cloth; the kinds of fibre do not. */
static bool same_cloth(const struct tb_stored_bolt *a, const struct tb_stored_bolt *b)
{
    bool same =
        a->n_likely == b->n_likely &&
        (a->n_likely ? (a->kind == TB_CONTRADICTS) == (b->kind == TB_CONTRADICTS) : a->kind == b->kind);

    for (size_t i = 0; same && i < a->n_likely; i++)
        same = same_kinds(&a->likely[i], &b->likely[i]);
    return same || (fits(a) && fits(b));
}

bool tb_bolts_differ(const struct tb_stored_verdict *v)
{
    for (size_t i = 1; i < v->n_bolt; i++)
        if (!same_cloth(&v->bolt[0], &v->bolt[i]))
            return true;
    return false;
}

/* Verdicts of older programs do not say it of each bolt. */
static bool each_told(const struct tb_stored_verdict *v)
{
    for (size_t i = 0; i < v->n_bolt; i++)
        if (!fits(&v->bolt[i]) && !v->bolt[i].n_likely)
            return false;
    return true;
}

/* What else a bolt that fits might be burns like what is declared, and is not guessed at. */
static const char *of_bolt(struct tb_text *t, enum tb_tongue to, const struct tb_stored_bolt *b)
{
    tb_text_clear(t);
    if (fits(b))
        tb_text_add(t, tb_tr(to, "fits the declaration"));
    else
        parts(t, to, b->likely, b->n_likely);
    return tb_text_str(t);
}

/* Was the same said of a bolt before this one? Then it stands there. */
static bool said_before(const struct tb_stored_verdict *v, size_t at, const char *cloth, enum tb_tongue to)
{
    struct tb_text t = { 0 };
    bool said = false;

    for (size_t i = 0; i < at && !said; i++)
        said = strcmp(of_bolt(&t, to, &v->bolt[i]), cloth) == 0;
    tb_text_free(&t);
    return said;
}

/* The numbers of all bolts of which this is said; how many there are. */
static unsigned long numbers(struct tb_text *out, const struct tb_stored_verdict *v, const char *cloth,
                             enum tb_tongue to)
{
    struct tb_text t = { 0 };
    unsigned long n = 0;

    for (size_t i = 0; i < v->n_bolt; i++)
        if (strcmp(of_bolt(&t, to, &v->bolt[i]), cloth) == 0) {
            tb_text_add(out, n++ ? tb_tr(to, ", ") : "");
            tb_text_add(out, v->bolt[i].number);
        }
    tb_text_free(&t);
    return n;
}

void tb_bolts_likely_words(struct tb_text *out, enum tb_tongue to, const struct tb_stored_verdict *v)
{
    struct tb_text cloth = { 0 }, bolts = { 0 };
    const size_t before = out->n;
    unsigned long n;

    if (!tb_bolts_differ(v) || !each_told(v))
        return;
    for (size_t i = 0; i < v->n_bolt; i++) {
        (void)of_bolt(&cloth, to, &v->bolt[i]);
        if (said_before(v, i, cloth.s, to))
            continue;
        tb_text_clear(&bolts);
        n = numbers(&bolts, v, cloth.s, to);
        tb_text_add(out, out->n > before ? tb_tr(to, "; ") : "");
        /* TRANSLATORS: numbers of bolts, and what they are likeliest to be: "bolts R2, R3: polyester 100 % (94 in 100)" */
        tb_text_addf(out, tb_trn(to, "bolt %s: %s", "bolts %s: %s", n), bolts.s, cloth.s);
    }
    tb_text_free(&cloth);
    tb_text_free(&bolts);
}

void tb_bolts_words(struct tb_text *out, const struct tb_stored_verdict *v, const char *indent)
{
    struct tb_text bolts = { 0 };

    tb_bolts_likely_words(&bolts, TB_READER, v);
    if (bolts.n)
        tb_text_say(out, "%sBolts burn differently. Likeliest: %s.\n", indent, bolts.s);
    tb_text_free(&bolts);
}

void tb_likely_words(struct tb_text *out, enum tb_tongue to, const struct tb_stored_verdict *v)
{
    if (tb_bolts_differ(v))
        tb_bolts_likely_words(out, to, v);
    else
        parts(out, to, v->likely, v->n_likely);
}
