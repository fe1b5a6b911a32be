/* assay --plan: what published standards do where the Regulation's own methods do not reach. */
#include "cli/lab/assay.h"

/* "cotton and flax", "flax, hemp and ramie" */
static void fibres_words(struct tb_text *out, const struct tb_lab_step *s)
{
    const char *a = tb_fibre_words(s->fibre[0]);

    if (s->fibres == 1)
        tb_text_add(out, a);
    else if (s->fibres == 2)
        tb_text_say(out, "%s and %s", a, tb_fibre_words(s->fibre[1]));
    else
        tb_text_say(out, "%s, %s and %s", a, tb_fibre_words(s->fibre[1]), tb_fibre_words(s->fibre[2]));
}

static void print_step(FILE *out, const struct tb_lab_step *s)
{
    struct tb_lab_standard std = tb_lab_standard_at(s->standard);
    struct tb_text number = { 0 }, fibres = { 0 };

    tb_standard_words(&number, &std);
    fibres_words(&fibres, s);
    if (s->dissolves)
        tb_say(out, "dissolve %s with %s, weigh what is left: %s\n", tb_text_str(&fibres), std.reagent,
               tb_text_str(&number));
    else
        tb_say(out, "tell %s apart: %s\n", tb_text_str(&fibres), tb_text_str(&number));
    tb_say(out, "       covers: %s\n       tells: %s\n       hazard: %s\n       effort: %s\n", std.covers,
           std.tells, std.hazard, std.effort);
    if (std.note[0])
        tb_say(out, "       note: %s\n", std.note);
    if (s->some)
        tb_say(out, "       only some kinds of the dissolved fibre go: try it on pure fibre first\n");
    tb_say(out, "       source: %s (%s)\n", std.source, std.status);
    tb_text_free(&number);
    tb_text_free(&fibres);
}

/* Where two fibres are taken out one after the other, the standard for three fibres says how they are joined. */
static bool is_ternary(const struct tb_lab_path *p)
{
    return p->steps == 2 && p->step[0].dissolves && p->step[1].dissolves;
}

void assay_print_paths(FILE *out, const struct tb_lab_path *path, size_t n, size_t first)
{
    struct tb_lab_standard three = tb_lab_standard_at(tb_lab_standard_of(TB_LAB_MEANS_TERNARY));

    if (n == 0)
        return;
    tb_say(out,
           "\nWays by published standards, not in the Regulation: %zu, the mildest first. Conditions and "
           "factors are not in the tables here; the laboratory has the standard.\n",
           n);
    for (size_t i = 0; i < n; i++) {
        (void)fprintf(out, "\n%2zu. ", first + i);
        for (size_t k = 0; k < path[i].steps; k++) {
            if (k)
                (void)fputs("    ", out);
            print_step(out, &path[i].step[k]);
        }
        if (is_ternary(&path[i])) {
            struct tb_text number = { 0 };

            tb_standard_words(&number, &three);
            tb_say(out, "    joined for three fibres by %s\n", tb_text_str(&number));
            tb_text_free(&number);
        }
    }
}

static json_t *step_json(const struct tb_lab_step *s)
{
    struct tb_lab_standard std = tb_lab_standard_at(s->standard);
    json_t *fibres = json_array();

    for (size_t i = 0; i < s->fibres; i++)
        tb_json_push(fibres, json_string(tb_fibre_at(s->fibre[i])->key));
    return json_pack("{s:s, s:o, s:b, s:o}", "does", s->dissolves ? "dissolve" : "tell_apart", "fibres",
                     fibres, "check_solubility", s->some, "standard", tb_json_standard(&std));
}

json_t *assay_paths_json(const struct tb_lab_path *path, size_t n)
{
    struct tb_lab_standard three = tb_lab_standard_at(tb_lab_standard_of(TB_LAB_MEANS_TERNARY));
    json_t *list = json_array();

    for (size_t i = 0; i < n; i++) {
        json_t *steps = json_array();

        for (size_t k = 0; k < path[i].steps; k++)
            tb_json_push(steps, step_json(&path[i].step[k]));
        tb_json_push(list, json_pack("{s:o, s:o}", "steps", steps, "joined_by",
                                     is_ternary(&path[i]) ? tb_json_standard(&three) : json_null()));
    }
    return list;
}
