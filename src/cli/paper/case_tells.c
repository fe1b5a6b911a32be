/* case_tells.c - what a case gives away, told before it is written. */
#include "cli/paper/case_tells.h"

#include "base/say.h"
#include "tenterbook/json.h"

#include <string.h>

#define QUOTED 6 /* reasons that are quoted; the rest is counted */

/* "a", "b" and so on, from lines. */
static void quote_lines(struct tb_text *out, const char *lines, size_t most)
{
    for (size_t i = 0; *lines && i < most; i++) {
        int n = (int)strcspn(lines, "\n");

        tb_text_addf(out, "%s\"%.*s\"", i ? ", " : "", n, lines);
        lines += n + 1;
    }
}

static void typed_words(struct tb_text *out, const struct tb_case_tells *t)
{
    if (!t->typeds)
        return;
    tb_text_addf(out,
                 _n("  - %zu remark that people typed: ", "  - %zu remarks that people typed: ", t->typeds),
                 t->typeds);
    quote_lines(out, tb_text_str(&t->typed), QUOTED);
    if (t->typeds > QUOTED)
        tb_text_addf(out, _(" and %zu more"), t->typeds - QUOTED);
    tb_text_addc(out, '\n');
}

static void file_words(struct tb_text *out, const struct tb_case_tells *t)
{
    if (!t->papers && !t->photographs)
        return;
    tb_text_addf(out, _("  - photographs: %zu, papers: %zu: "), t->photographs, t->papers);
    quote_lines(out, tb_text_str(&t->files), QUOTED);
    if (t->papers + t->photographs > QUOTED)
        tb_text_addf(out, _(" and %zu more"), t->papers + t->photographs - QUOTED);
    tb_text_addc(out, '\n');
}

/* What is kept beside records now stood within them once, where digests cover it. */
static void older_words(struct tb_text *out, const struct tb_case_tells *t)
{
    if (t->logins)
        tb_text_addf(out,
                     _n("  - the login name of %zu journal row, by an older program\n",
                        "  - the login names of %zu journal rows, by an older program\n", t->logins),
                     t->logins);
    if (t->bases)
        tb_text_addf(
            out,
            _n("  - the site's share of lots that are not as declared, in %zu verdict by an older program\n",
               "  - the site's share of lots that are not as declared, in %zu verdicts by an older program\n",
               t->bases),
            t->bases);
    if (t->labels)
        tb_text_addf(out,
                     _n("  - what a label of ours says, in %zu record by an older program\n",
                        "  - what a label of ours says, in %zu records by an older program\n", t->labels),
                     t->labels);
}

void tb_case_tells_words(struct tb_text *out, const struct tb_case_tells *t, const char *lot)
{
    tb_text_say(out, "Whoever gets this file gets, besides what was seen of the cloth:\n");
    if (t->steps)
        tb_text_addf(
            out,
            _n("  - the dispute, %zu step with its words and amount (--without-dispute keeps it back)\n",
               "  - the dispute, %zu steps with their words and amounts (--without-dispute keeps it "
               "back)\n",
               t->steps),
            t->steps);
    typed_words(out, t);
    file_words(out, t);
    if (t->price)
        tb_text_say(out, "  - the price that was invoiced\n");
    tb_text_addf(out, _n("  - the name of %zu person\n", "  - the names of %zu people\n", t->people),
                 t->people);
    older_words(out, t);
    if (t->settings || t->known)
        tb_text_say(out, "  - settings of the bench: %zu, swatches of known cloth: %zu\n", t->settings,
                    t->known);
    tb_text_say(out,
                "Records cannot be left out one by one: the file would not prove. Read them first: "
                "tenterbook look %s\n",
                lot);
}

json_t *tb_json_case_tells(const struct tb_case_tells *t)
{
    return json_pack("{s:I, s:o, s:I, s:I, s:o, s:b, s:I, s:I, s:I, s:I, s:I, s:I}", "dispute_steps",
                     (json_int_t)t->steps, "typed", tb_json_lines(tb_text_str(&t->typed)), "photographs",
                     (json_int_t)t->photographs, "papers", (json_int_t)t->papers, "files",
                     tb_json_lines(tb_text_str(&t->files)), "price", t->price, "people",
                     (json_int_t)t->people, "settings", (json_int_t)t->settings, "known_swatches",
                     (json_int_t)t->known, "logins", (json_int_t)t->logins, "site_shares",
                     (json_int_t)t->bases, "own_label", (json_int_t)t->labels);
}
