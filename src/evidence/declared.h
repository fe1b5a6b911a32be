/* declared.h - inside the evidence module: what a declaration leaves open for the model. */
#ifndef TENTERBOOK_EVIDENCE_DECLARED_H
#define TENTERBOOK_EVIDENCE_DECLARED_H

#include "evidence/model.h"
#include "evidence/pattern.h"

#define TB_MINOR_PERCENT 10.0 /* a declared fibre below this may be too small to show: it is never demanded */

/* One declared composition in model fibres; the words behind it are struct tb_declared of goods.h. */
struct tb_declared_blend {
    int shown[TB_BLEND_MOST], minor[TB_BLEND_MOST]; /* no fibre twice */
    int n_shown, n_minor;
    bool exact;            /* every share was said */
    unsigned finish;       /* named: bits */
    struct tb_blend blend; /* as said; equal shares where nothing was */
    struct tb_kept
        *kept; /* of all shown fibres (kept.h); NULL: the compositions are gone through each time */
};

/*
 * Fill from the shares of a part. False with a reason where it cannot be judged.
 * Notes on fibres judged as their twins go to `notes`, one line each.
 */
bool tb_declared_from(struct tb_declared_blend *out, const struct tb_evidence *ev, const struct tb_part *part,
                      struct tb_text *reason, struct tb_text *notes);

/*
 * log P(observations of n patterns | some of the shown fibres of a declaration (bits), the minor ones optional):
 * what one part may be made of.
 */
double tb_declared_log_evidence(const struct tb_evidence *ev, const struct tb_declared_blend *d,
                                unsigned bits, const struct tb_pattern *pattern, size_t n);

/*
 * Share the sums out over choices of burning classes: out[i] what shows just the classes must[i] (and at most
 * those of the minor fibres besides; the first that fits takes it), out[n] all the rest.
 */
void tb_declared_split(double *out, const struct tb_evidence *ev, const struct tb_declared_blend *d,
                       const unsigned long long *must, size_t n, const struct tb_sums *s);
/* Burning classes of the chosen shown fibres, as bits. */
unsigned long long tb_declared_classes(const struct tb_evidence *ev, const struct tb_declared_blend *d,
                                       unsigned bits);

/* Is a composition that shows these classes as declared? Of a spread declaration any of the shown fibres will do. */
bool tb_declared_shows(const struct tb_evidence *ev, const struct tb_declared_blend *d, bool spread,
                       unsigned long long shown);

/* Takes one composition with its weight. */
typedef void tb_blend_fn(void *to, const struct tb_blend *b, double weight);
/*
 * Go through the compositions that the chosen fibres (bits) leave open, bare and with the finishes they may have; their
 * weights add up to 1.
 */
void tb_declared_walk(const struct tb_evidence *ev, const struct tb_declared_blend *d, unsigned bits,
                      tb_blend_fn *fn, void *to);

#endif
