/* settle_ask.c - what a list does not say in any column: asked for, with what stands elsewhere as the likely answer. */
#include "intake/rows.h"
#include "intake/shares.h"

#include "base/say.h"

#include <stdint.h>
#include <string.h>

/* In any table: a file may name the article in one and the composition in another. */
bool tb_somewhere(const struct tb_list_reader *r, enum tb_field f)
{
    for (size_t i = 0; i < r->layouts; i++)
        if (r->layout[i]->of[f])
            return true;
    return !r->layouts && r->partial && r->partial->of[f];
}

bool tb_headed_below(const struct tb_list_reader *r)
{
    return r->headed.said && r->layouts == 1 && r->headed.line > r->headed.table->last_length;
}

/* What an option fills in for the whole file is proposed, never assumed. */
void tb_intake_ask_text(struct tb_list_reader *r, const char *option, const char *value, const char *ask)
{
    struct tb_question *q = tb_list_ask(r->list, 0, ask);

    if (value)
        tb_list_answer(r->list, q, option, value);
    if (q)
        q->proposed = value != NULL;
}

/* Said between the bolts it may be true of some of them only; above or below all of them it is likely true of all. */
static bool said_of_all(const struct tb_list_reader *r)
{
    const struct tb_loose *s = &r->loose[0];

    return r->looses == 1 && !tb_loose_of_some(r, s) &&
           (!s->below || (r->layouts == 1 && s->line > s->table->last_length));
}

/* "100% xyzzy" in a column without a word that is known: whatever it is, the column declares something. */
static bool ask_shares(struct tb_list_reader *r)
{
    const char *column[TB_ANSWERS_MOST];
    size_t n = tb_unread_columns(r, column, TB_ANSWERS_MOST, TB_UNREAD_SHARES);
    struct tb_question *q;

    if (!n)
        return false;
    q = tb_list_ask(
        r->list, 0,
        "no column is understood as the declared composition, and the column '%s' holds percentages; say "
        "--map \"HEADER=composition\" where it declares, else --declared TEXT",
        tb_store_brief(r->list->store, column[0]));
    for (size_t i = 0; i < n; i++)
        tb_list_answer(
            r->list, q, "map",
            tb_store_internf(r->list->store, "%s=%s", column[i], tb_field_key(TB_FIELD_COMPOSITION)));
    if (q)
        q->open = n > 1;
    return true;
}

/* Columns of shares that are understood in part, or come to no whole: they declare something. */
static bool ask_fibre_columns(struct tb_list_reader *r)
{
    const char *column[TB_SHARES_MOST];
    size_t n = tb_shares_doubtful(r, column, TB_COUNT(column));
    struct tb_text seen = { 0 };
    struct tb_question *q;

    if (!n)
        return false;
    for (size_t i = 0; i < n; i++)
        tb_text_addf(&seen, "%s'%s'", i ? ", " : "", tb_store_brief(r->list->store, column[i]));
    q = tb_list_ask(
        r->list, 0,
        "nothing that is understood says what the goods are declared to be, and these columns may: %s; "
        "say --declared TEXT, write it in one column of the file (60%% cotton 40%% linen), or say "
        "--declared \"\" where nothing is declared",
        tb_text_str(&seen));
    tb_list_answer(r->list, q, "declared", "");
    if (q)
        q->open = q->proposed = true;
    tb_text_free(&seen);
    return true;
}

/* "Nothing is declared" is likely only where no composition stands anywhere in the file. */
void tb_ask_declared(struct tb_list_reader *r)
{
    const char *likely = r->looses ? r->loose[0].said : r->pure.said ? r->pure.said : "";
    struct tb_question *q;

    if (!r->second_pass && (ask_shares(r) || (!r->looses && !r->pure.said && ask_fibre_columns(r))))
        return;
    if (!r->looses && r->pure.said)
        q = tb_list_ask(r->list, r->pure.line,
                        "line %zu says '%s', without a percentage; say --declared TEXT, or --declared \"\" "
                        "where nothing is declared",
                        r->pure.line, tb_store_brief(r->list->store, r->pure.said));
    else if (!r->looses && r->percent_line)
        q = tb_list_ask(r->list, r->percent_line,
                        "line %zu holds a percentage, and nothing that is understood says what the goods are "
                        "declared to be; say --declared TEXT, or --declared \"\" where nothing is declared",
                        r->percent_line);
    else if (!r->looses)
        q = tb_list_ask(r->list, 0,
                        "nothing in the file says what the goods are declared to be; say --declared TEXT, or "
                        "--declared \"\" where nothing is declared");
    else if (r->looses == 1 && tb_loose_of_some(r, &r->loose[0]))
        q = tb_list_ask(
            r->list, r->loose[0].line,
            "line %zu says '%s' of some of the goods, and no column declares anything; write it beside each "
            "(Composition: ...), or say --declared TEXT for all of them",
            r->loose[0].line, tb_store_brief(r->list->store, r->loose[0].said));
    else if (r->looses == 1)
        q = tb_list_ask(r->list, r->loose[0].line,
                        "line %zu says '%s', and no column declares anything; say --declared TEXT for all "
                        "goods of the list, or --declared \"\" where nothing is declared",
                        r->loose[0].line, tb_store_brief(r->list->store, r->loose[0].said));
    else
        q = tb_list_ask(r->list, r->loose[0].line,
                        "line %zu says '%s', line %zu '%s', and no column says of which goods that is true; "
                        "say --declared TEXT for all of them, or write it beside each (Composition: ...)",
                        r->loose[0].line, tb_store_brief(r->list->store, r->loose[0].said), r->loose[1].line,
                        tb_store_brief(r->list->store, r->loose[1].said));
    tb_list_answer(r->list, q, "declared", likely);
    if (q) {
        q->proposed = true;
        q->open = (!r->looses && (r->percent_line || r->pure.said)) ||
                  (r->looses && (r->second_pass || !said_of_all(r)));
    }
}

void tb_ask_undeclared(struct tb_list_reader *r)
{
    const struct tb_packing_list *l = r->list;
    bool silent = false;

    for (size_t i = 0; i < l->lots; i++)
        silent = silent || !*l->lot[i].declared;
    if (silent && r->looses && !r->opts->declared && !l->question_count)
        tb_ask_declared(r);
}

/* The file's name names no goods: where a column with words is not understood, that is likelier the article. */
void tb_ask_article(struct tb_list_reader *r)
{
    const char *column[TB_ANSWERS_MOST];
    size_t n = tb_unread_columns(r, column, TB_ANSWERS_MOST, TB_UNREAD_NAMES);
    struct tb_text seen = { 0 };
    struct tb_question *q;

    if (!n) {
        const char *likely = tb_proposed(r, TB_FIELD_ARTICLE);

        q = tb_list_ask(r->list, 0, "nothing in the file names the article; say --article TEXT");
        tb_list_answer(r->list, q, "article", likely ? likely : "");
        if (q) {
            q->proposed = true;
            q->open = !tb_article_said(r); /* a file is seldom called after the goods alone */
        }
        return;
    }
    for (size_t i = 0; i < n; i++)
        tb_text_addf(&seen, "%s'%s'", i ? ", " : "", tb_store_brief(r->list->store, column[i]));
    q = tb_list_ask(r->list, 0,
                    "nothing in the file names the article, and these columns are left out: "
                    "%s; say --map \"HEADER=article\" where one of them names it, else --article TEXT",
                    tb_text_str(&seen));
    for (size_t i = 0; i < n; i++)
        tb_list_answer(r->list, q, "map",
                       tb_store_internf(r->list->store, "%s=%s", column[i], tb_field_key(TB_FIELD_ARTICLE)));
    if (q)
        q->open = n > 1 || !tb_unread_is_name(r, column[0]);
    tb_text_free(&seen);
}

/* Words that touch on paper are read as one cell: "CC-540 DuckBlack", and nothing under "Color". */
void tb_ask_empty(struct tb_list_reader *r)
{
    bool paper = tb_is_drawn(r);

    for (size_t i = 0; i < r->layouts && paper; i++)
        for (size_t k = 0; k < r->layout[i]->n; k++) {
            const struct tb_source_column *c = &r->layout[i]->column[k];
            const char *map = tb_store_internf(r->list->store, "%s=ignore", c->header);
            struct tb_question *q;

            if (c->cells || !c->index || !tb_field_of_goods(c->field) || tb_list_asked(r->list, "map", map))
                continue;
            q = tb_list_ask(r->list, r->layout[i]->line,
                            "no row fills the column '%s'; if its words stand in the column before it, where "
                            "they touch on paper, ask for the list as a workbook or type it (receive "
                            "--by-hand), else say --map \"%s\"",
                            c->header, map);
            tb_list_answer(r->list, q, "map", map);
            if (q)
                q->open = true;
        }
}
