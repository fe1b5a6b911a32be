/*
 * lab_standard.h - published standards that separate fibres or tell them apart, beyond the Regulation's own methods.
 *
 * Pure, as lab.h. What a standard covers is a row of sql/reference/lab_standard.csv, with where that was read; its
 * conditions and factors are not here: the laboratory has the standard. docs/laboratory.md, "Standards".
 */
#ifndef TENTERBOOK_LAB_STANDARD_H
#define TENTERBOOK_LAB_STANDARD_H

#include "tenterbook/fibre.h"
#include "tenterbook/words.h"

/* How a standard goes about it. */
enum tb_lab_means {
    TB_LAB_MEANS_HAND,      /* separated by hand and weighed */
    TB_LAB_MEANS_CHEMISTRY, /* one fibre is dissolved, the others are weighed */
    TB_LAB_MEANS_TERNARY,   /* methods joined for three fibres */
    TB_LAB_MEANS_MICROSCOPE,
    TB_LAB_MEANS_PROTEINS,
    TB_LAB_MEANS_SPECTRUM,
    TB_LAB_MEANS_IDENTIFY, /* any test that says which fibres are there */
    TB_LAB_MEANS
};
extern const struct tb_words tb_lab_means_words;

/* One standard. Text is static, "" where there is none. */
struct tb_lab_standard {
    enum tb_lab_means means;
    const char *covers;  /* words: "acetate with other fibres" */
    const char *reagent; /* of chemistry */
    const char *hazard, *effort;
    const char *tells;  /* what comes out of it: "the share of each, by weighing what is left" */
    const char *note;   /* its limits */
    const char *series; /* "ISO 1833" */
    const char *
        number; /* "ISO 1833-22"; from memory where the status says so, and then never to be shown as a fact */
    int year;   /* of the edition that was read of; 0: not read */
    const char *source, *status; /* where number and scope were read; "seen", "second-hand" or "memory" */
};
size_t tb_lab_standard_count(void);
/* Standard i, 0 .. tb_lab_standard_count() - 1. */
struct tb_lab_standard tb_lab_standard_at(size_t i);
/* The place in the table of the standard of that key, which is one of the table. */
size_t tb_lab_standard_by_key(const char *key);
/* The first of the table that goes about it so. */
size_t tb_lab_standard_of(enum tb_lab_means means);

/* One step: these fibres are dissolved, or told from each other. */
struct tb_lab_step {
    size_t standard;
    bool dissolves;
    bool some; /* only certain kinds of a dissolved fibre go: try it on pure fibre first */
    int fibre[3];
    size_t fibres;
};
/* One way by standards: one step or two, the first done first. */
struct tb_lab_path {
    struct tb_lab_step step[2];
    size_t steps;
};
/* Whether two fibres are taken out one after the other: the standard for three fibres says how the two are joined. */
bool tb_lab_path_joined(const struct tb_lab_path *path);
#define TB_LAB_PATHS_MOST 48
/*
 * tb_lab_paths - ways by standards that the methods of the Regulation do not give, the mildest first.
 *
 *   out    room for TB_LAB_PATHS_MOST; *n how many, 0 where no standard of the table serves
 *   part   2 or 3 fibres, as tb_lab_plan takes them; percentages are of no account
 *   fails  TB_EINVAL as tb_lab_plan
 */
tb_rc tb_lab_paths(struct tb_lab_path *out, size_t *n, const struct tb_part *part, struct tb_err *err);

#endif
