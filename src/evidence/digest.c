/* digest.c - the digest of a model: every figure in force, in the order of the tables. */
#include "evidence/bounds.h"
#include "evidence/counts.h"

#include "gen/ref_burn_fibre.h"
#include "gen/ref_burn_figure.h"
#include "gen/ref_cue.h"

#include <math.h>
#include <sodium.h>
#include <string.h>

/* Least byte first on every machine, so that a digest made elsewhere can be compared. */
static void digest_number(crypto_hash_sha256_state *h, double v)
{
    unsigned char b[8];
    unsigned long long u;

    memcpy(&u, &v, sizeof u);
    for (int i = 0; i < 8; i++)
        b[i] = (unsigned char)(u >> (8 * i));
    (void)crypto_hash_sha256_update(h, b, sizeof b);
}

/* With its NUL, or "ab" then "c" would be "a" then "bc". */
static void digest_text(crypto_hash_sha256_state *h, const char *s)
{
    (void)crypto_hash_sha256_update(h, (const unsigned char *)s, strlen(s) + 1);
}

static void digest_finishes(crypto_hash_sha256_state *h, const struct tb_evidence *ev)
{
    for (size_t z = 0; z < tb_finish_count(); z++) {
        digest_text(h, tb_finish_key((int)z));
        digest_number(h, ev->finish[z].unnamed);
        for (int f = 0; f < ev->fibres; f++) {
            digest_number(h, ev->finish[z].of[0][f]);
            digest_number(h, ev->finish[z].of[1][f]);
        }
    }
    for (int i = 0; i < ev->n_effects; i++) {
        for (int c = 0; c < ev->cues; c++)
            digest_number(h, ev->effects[i].make[c]);
        for (int c = 0; c < ev->channels; c++)
            digest_number(h, ev->effects[i].silent[c]);
    }
}

/* The counts of the site are in it: two houses with the same tables may judge differently, and it shows. */
void tb_counts_digest(struct tb_evidence *ev, const struct tb_counts *n)
{
    crypto_hash_sha256_state h;

    (void)crypto_hash_sha256_init(&h);
    digest_text(&h, "tenterbook evidence 10");
    for (size_t i = 0; i < tb_ref_burn_figure_n; i++) {
        digest_text(&h, tb_ref_burn_figure[i].key);
        digest_number(&h, tb_ref_burn_figure[i].value);
    }
    digest_finishes(&h, ev);
    for (size_t looks = 1; looks < TB_FULL_LOOKS; looks++) {
        struct tb_bounds b;

        tb_bounds_of_looks(&b, &(struct tb_bounds){ .low = -INFINITY, .high = INFINITY }, looks);
        digest_number(&h, b.low);
        digest_number(&h, b.high);
    }
    digest_number(&h, ev->set.fibres_most);
    digest_number(&h, ev->fig.bench_error);
    for (int c = 0; c < ev->cues; c++) {
        digest_text(&h, tb_ref_cue[c].key);
        digest_number(&h, (int)ev->cue[c].law * 64 + ev->cue[c].group * 8 + (ev->cue[c].telling ? 1 : 0));
        digest_number(&h, tb_ref_cue[c].fire);
        digest_number(&h, ev->cue[c].general);
        digest_number(&h, ev->cue[c].counts_as);
        digest_number(&h, ev->ramp[ev->cue[c].ramp].from);
        digest_number(&h, ev->ramp[ev->cue[c].ramp].to);
        digest_number(&h, ev->ramp[ev->cue[c].ramp].least);
    }
    for (int i = 0; i < ev->n_implied; i++) {
        digest_number(&h, ev->implied[i].by);
        digest_number(&h, ev->implied[i].cue);
        digest_number(&h, ev->implied[i].there);
    }
    for (int f = 0; f < ev->fibres; f++) {
        digest_text(&h, tb_ref_burn_fibre[f].fibre);
        digest_text(&h, ev->class_key[f]);
        digest_number(&h, tb_ref_burn_fibre[f].share_percent);
        digest_number(&h, tb_ref_burn_fibre[f].alone);
        digest_number(&h, ev->protective[f]);
        digest_number(&h, tb_ref_burn_fibre[f].mineral);
        for (int c = 0; c < ev->cues; c++) {
            digest_number(&h, n->said[f][c]);
            digest_number(&h, n->unsaid[f][c]);
        }
    }
    (void)crypto_hash_sha256_final(&h, ev->figures);
    tb_bounds_digest(ev);
}

void tb_digest_within(char out[TB_REFERENCE], const struct tb_evidence *ev, const struct tb_bounds *bounds)
{
    crypto_hash_sha256_state h;
    unsigned char sum[crypto_hash_sha256_BYTES];
    char hex[2 * sizeof sum + 1];

    (void)crypto_hash_sha256_init(&h);
    (void)crypto_hash_sha256_update(&h, ev->figures, sizeof ev->figures);
    digest_number(&h, bounds->low);
    digest_number(&h, bounds->high);
    (void)crypto_hash_sha256_final(&h, sum);
    (void)sodium_bin2hex(hex, sizeof hex, sum, sizeof sum);
    (void)strcpy(out, "sha256:");
    (void)strcat(out, hex);
}

void tb_bounds_digest(struct tb_evidence *ev)
{
    tb_digest_within(ev->digest, ev, &ev->bounds);
}

const char *tb_evidence_reference(const struct tb_evidence *ev)
{
    return ev->digest;
}

void tb_evidence_stamp(unsigned char out[TB_STAMP], const struct tb_evidence *ev)
{
    crypto_hash_sha256_state h;

    (void)crypto_hash_sha256_init(&h);
    digest_text(&h, ev->digest);
    digest_number(&h, ev->set.contradicts_below);
    digest_number(&h, ev->set.speaks_below);
    digest_number(&h, ev->set.fits_above);
    digest_number(&h, ev->set.site_weight);
    digest_number(&h, ev->set.hazards_allowed);
    for (size_t i = 0; i < ev->site.n; i++) { /* cloth of a unit is judged without its own lots */
        digest_text(&h, ev->site.lot[i].unit ? ev->site.lot[i].unit : "");
        digest_number(&h, ev->site.lot[i].as_declared);
        digest_number(&h, ev->site.lot[i].log_ratio);
        digest_number(&h, (int)ev->site.lot[i].grade);
        for (int g = 0; g < TB_GRADES; g++)
            digest_number(&h, ev->site.lot[i].judged[g]);
    }
    for (int g = 0; g < TB_GRADES; g++)
        digest_number(&h, ev->site.judged[g]);
    (void)crypto_hash_sha256_final(&h, out);
}
