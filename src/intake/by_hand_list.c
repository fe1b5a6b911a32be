/* by_hand_list.c - what typed answers come to: a table that is read as any other, and a text with which they can be gone on. */
#include "intake/hand.h"

#include <stdlib.h>
#include <string.h>

static const char kept_head[] = "# Answers to tenterbook receive --by-hand, one a line";

/* ---- what comes of them ---------------------------------------------------------------------------------------- */

static void add_cell(struct tb_text *out, const char *s, bool last)
{
    tb_text_addc(out, '"');
    for (; *s; s++) {
        if (*s == '"')
            tb_text_addc(out, '"');
        tb_text_addc(out, *s);
    }
    tb_text_add(out, last ? "\"\n" : "\",");
}

static const struct tb_header_word header[] = {
    { "supplier", TB_FIELD_SUPPLIER }, { "note", TB_FIELD_NOTE },     { "day", TB_FIELD_DAY },
    { "article", TB_FIELD_ARTICLE },   { "colour", TB_FIELD_COLOUR }, { "dye lot", TB_FIELD_LOT },
    { "bolt", TB_FIELD_BOLT },         { "length", TB_FIELD_LENGTH }, { "composition", TB_FIELD_COMPOSITION },
};

void tb_hand_table(struct tb_text *out, const struct tb_hand *h)
{
    for (size_t i = 0; i < TB_COUNT(header); i++)
        add_cell(out, header[i].word, i + 1 == TB_COUNT(header));
    for (size_t i = 0; i < h->bolts; i++) {
        const struct tb_hand_lot *l = &h->lot[h->bolt[i].lot];
        const char *const cell[TB_COUNT(header)] = {
            h->said[TB_HAND_SUPPLIER],
            h->said[TB_HAND_NOTE],
            h->said[TB_HAND_DAY],
            l->article,
            l->colour,
            l->dye_lot,
            h->bolt[i].number,
            h->bolt[i].length,
            l->declared,
        };

        for (size_t k = 0; k < TB_COUNT(header); k++)
            add_cell(out, cell[k], k + 1 == TB_COUNT(header));
    }
}

/* Every row is a bolt and says all of itself: nothing is left to be found out. */
void tb_hand_settles(struct tb_intake_opts *opts, const struct tb_hand *h, struct tb_arena *mem)
{
    struct tb_line_is *line = tb_arena_alloc(mem, (h->bolts + 1) * sizeof *line);

    for (size_t i = 0; i < h->bolts; i++)
        line[i] = (struct tb_line_is){ "", i + 2, TB_LINE_BOLT };
    opts->line = line;
    opts->lines = h->bolts;
    opts->word = header;
    opts->words = TB_COUNT(header);
    opts->decimal = '.';
    opts->dates = 'y';
    opts->whole_rows = true;
    opts->declared = opts->declared ? opts->declared : "";
}

/* ---- kept for later -------------------------------------------------------------------------------------------- */

void tb_hand_kept(struct tb_text *out, const struct tb_hand *h)
{
    size_t n = h->answers - (h->step == TB_HAND_DONE);

    tb_text_addf(out, "%s\n", kept_head);
    for (size_t i = 0; i < n; i++)
        tb_text_addf(out, "%s\n", h->answer[i]);
}

tb_rc tb_hand_go_on(struct tb_hand *h, const char *kept, struct tb_err *err)
{
    size_t line = 1, n = strcspn(kept, "\r\n");
    tb_rc rc = TB_OK;

    if (n != sizeof kept_head - 1 || memcmp(kept, kept_head, n) != 0)
        return tb_fail(err, TB_EFORMAT, "these are not answers that were kept of a list typed by hand");
    for (const char *at = strchr(kept, '\n'); rc == TB_OK && at && at[1]; at = strchr(at, '\n')) {
        char *answer = tb_strndup(at + 1, strcspn(at + 1, "\n"));

        at++;
        line++;
        rc = tb_hand_ask(h) ? tb_hand_answer(h, answer, err)
                            : tb_fail(err, TB_EINVAL, "the list ends before this line");
        free(answer);
    }
    return rc == TB_OK ? rc : tb_within(err, rc, "line %zu", line);
}
