/* columns.c - which column becomes which field, and what a person must be told or asked. */
#include "intake/header.h"

#include "base/say.h"
#include "intake/written.h"
#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>

struct mapping {
    struct tb_guess *guess;
    size_t n;
    struct tb_packing_list *list;
    struct tb_err *err;
};

/* Two columns of a name make one name; two columns of a figure would be two figures. */
static bool joins(enum tb_field f)
{
    return f == TB_FIELD_ARTICLE || f == TB_FIELD_DESIGN || f == TB_FIELD_COLOUR || f == TB_FIELD_LOT ||
           f == TB_FIELD_SHADE_GROUP || f > TB_FIELD_PARTS;
}

static bool taken(const struct mapping *m, enum tb_field f)
{
    for (size_t i = 0; i < m->n; i++)
        if (m->guess[i].field == f)
            return true;
    return false;
}

/* "Net", "Brutto": a length as often as a weight. */
static bool may_weigh(const struct tb_guess *g)
{
    for (size_t i = 0; i < g->n; i++)
        if (g->hit[i].field == TB_FIELD_WEIGHT_NET || g->hit[i].field == TB_FIELD_WEIGHT_GROSS)
            return g->n > 1;
    return false;
}

static void assign(struct tb_guess *g, size_t k)
{
    g->field = g->hit[k].field;
    g->unit = g->hit[k].unit;
}

/* Words with one meaning first; then weak ones where nothing stronger stands; then those with several. */
static void assign_all(struct mapping *m)
{
    for (int round = 0; round < 4; round++)
        for (size_t i = 0; i < m->n; i++) {
            struct tb_guess *g = &m->guess[i];
            size_t k;

            if (g->field || !g->n || (round == 0) != g->hit[0].site)
                continue;
            if (round == 0 || (round == 1 && g->n == 1 && !g->hit[0].weak)) {
                if (round == 0 || !taken(m, g->hit[0].field) || joins(g->hit[0].field) ||
                    !m->guess[i].hit[0].site)
                    assign(g, 0);
            } else if (round == 2 && g->n == 1) {
                if (!taken(m, g->hit[0].field))
                    assign(g, 0);
            } else if (round == 3 && g->n > 1) {
                for (k = 0; k < g->n && (taken(m, g->hit[k].field) || g->hit[k].field > TB_FIELD_PARTS); k++)
                    ;
                for (size_t j = 0; k == g->n && j < g->n; j++)
                    if (g->hit[j].field > TB_FIELD_PARTS)
                        k = j;
                if (k < g->n)
                    assign(g, k);
            }
        }
}

/* A column somebody pointed at stands alone: others that only look like it give way. */
static void obey_site(struct mapping *m)
{
    for (size_t i = 0; i < m->n; i++)
        if (m->guess[i].field && m->guess[i].hit[0].site && m->guess[i].field != TB_FIELD_IGNORE)
            for (size_t k = 0; k < m->n; k++)
                if (m->guess[k].field == m->guess[i].field && !m->guess[k].hit[0].site)
                    m->guess[k].field = TB_FIELD_IGNORE;
}

/* "Net kg", "N.W.(kg)": the last word is the unit. */
static bool says_kilograms(const char *header)
{
    size_t n = strlen(header), end = n > 2 && header[n - 1] == ')' ? n - 1 : n, from = end;

    while (from > 0 && !strchr(" (", header[from - 1]))
        from--;
    return tb_unit_find(TB_FIELD_LENGTH, header + from, end - from) == TB_UNIT_KG;
}

/* Does a column that nobody knows say metres or yards? It may be the length: that is asked, not settled by a weight. */
static bool length_unread(const struct mapping *m)
{
    for (size_t i = 0; i < m->n; i++) {
        const struct tb_guess *g = &m->guess[i];
        enum tb_unit u = g->field || !g->header ? TB_UNIT_NONE : tb_header_words_unit(g->header);

        if (u == TB_UNIT_M || u == TB_UNIT_YD || u == TB_UNIT_FT)
            return true;
    }
    return false;
}

/* Goods without a length are counted by their net weight. */
static void promote_weight(struct mapping *m)
{
    struct tb_guess *found = NULL;
    size_t n = 0;

    if (length_unread(m))
        return;
    for (size_t i = 0; i < m->n && !taken(m, TB_FIELD_LENGTH); i++)
        if (m->guess[i].field == TB_FIELD_WEIGHT_NET ||
            (m->guess[i].field == TB_FIELD_MASS && m->guess[i].unit == TB_UNIT_KG)) {
            found = &m->guess[i];
            n++;
        }
    if (n != 1)
        return;
    found->field = TB_FIELD_LENGTH;
    found->weight = true;
    if (!found->unit && says_kilograms(found->header))
        found->unit = TB_UNIT_KG;
}

/* Beside lengths that count, what a bolt weighs is kept: one column of it, in kilograms where two have units. */
static void keep_weight(struct mapping *m)
{
    struct tb_guess *found = NULL;

    if (!taken(m, TB_FIELD_LENGTH))
        return;
    for (size_t i = 0; i < m->n; i++) {
        struct tb_guess *g = &m->guess[i];

        if (g->field == TB_FIELD_LENGTH && (g->weight || g->unit == TB_UNIT_KG))
            return;
        if (g->field != TB_FIELD_WEIGHT_NET)
            continue;
        if (!g->unit && says_kilograms(g->header))
            g->unit = TB_UNIT_KG;
        if (!found || (g->unit == TB_UNIT_KG && found->unit != TB_UNIT_KG)) {
            found = g;
            continue;
        }
        if (g->unit == found->unit)
            tb_list_say(m->list, "the weight stands in two columns; '%s' is taken, '%s' is left out",
                        found->header, g->header);
    }
    if (found)
        found->kept = true;
}

/* "Gross Kgs": whatever the word, kilograms are no second length. */
static void settle_weights(struct mapping *m)
{
    for (size_t i = 0; i < m->n; i++)
        if (m->guess[i].field == TB_FIELD_LENGTH_GROSS &&
            (m->guess[i].unit == TB_UNIT_KG || says_kilograms(m->guess[i].header)))
            m->guess[i].field = TB_FIELD_WEIGHT_GROSS;
}

/* "Gross m" beside "Net m", "Ordered" beside "Delivered": what came, net, is what counts; which column that is should be seen. */
static void say_gross(struct mapping *m)
{
    const struct tb_guess *net = NULL, *gross = NULL;

    for (size_t i = 0; i < m->n; i++) {
        enum tb_field f = m->guess[i].field;

        net = f == TB_FIELD_LENGTH ? &m->guess[i] : net;
        gross = f == TB_FIELD_LENGTH_GROSS || f == TB_FIELD_LENGTH_ORDERED ? &m->guess[i] : gross;
    }
    if (net && gross)
        tb_list_say(m->list, "the length stands in two columns; '%s' is taken, '%s' is left out", net->header,
                    gross->header);
}

/* A choice between meanings is reported once a column, with the option that changes it. */
static void say_several_meanings(struct mapping *m)
{
    for (size_t i = 0; i < m->n; i++) {
        const struct tb_guess *g = &m->guess[i];

        if (g->n < 2 || g->field == TB_FIELD_NONE || g->field > TB_FIELD_PARTS)
            continue;
        for (size_t k = 0; k < g->n; k++)
            if (g->hit[k].field != g->field) {
                tb_list_say(m->list, "the column '%s' is read as %s; if it means %s, say --map \"%s=%s\"",
                            g->header, tb_field_name(g->field), tb_field_name(g->hit[k].field), g->header,
                            tb_field_key(g->hit[k].field));
                break;
            }
    }
}

/* Length in metres and again in yards: the metres count. A length and a weight are not two lengths. */
static bool settle_two_units(struct mapping *m, size_t a, size_t b)
{
    struct tb_guess *x = &m->guess[a], *y = &m->guess[b];

    if (x->field != TB_FIELD_LENGTH || !x->unit || !y->unit || x->unit == y->unit)
        return false;
    if (x->unit == TB_UNIT_KG || y->unit == TB_UNIT_KG) {
        (x->unit == TB_UNIT_KG ? x : y)->field = TB_FIELD_WEIGHT_NET;
        return true;
    }
    if (y->unit == TB_UNIT_M) {
        x->field = TB_FIELD_IGNORE;
        x = &m->guess[b];
        y = &m->guess[a];
    } else {
        y->field = TB_FIELD_IGNORE;
    }
    tb_list_say(m->list, "the length stands in two columns; '%s' is taken, '%s' is left out", x->header,
                y->header);
    return true;
}

/* Is one of these the word of a header, whatever its case and accents? */
static bool has_word(const char *header, const char *words)
{
    char *s = tb_fold(header, strlen(header));
    bool found = false;

    for (const char *at = s; *at && !found;) {
        size_t n = strcspn(at, " .()[]/,-");

        found = n && tb_word_listed(words, at, n, " ");
        at += n + (at[n] != '\0');
    }
    free(s);
    return found;
}

/* "Length m" beside "Net m", "Metres" beside "Gross m": net is what came. */
static bool settle_net(struct tb_guess *x, struct tb_guess *y)
{
    static const char net[] = "net nett netto netta netti neto neta netos nette nettes liquido liquida liq",
                      gross[] = "gross brutto bruto bruta brutos brut brute bruts lordo lorda lordi brutt";
    int by = has_word(x->header, net) - has_word(y->header, net);

    by = by ? by : has_word(y->header, gross) - has_word(x->header, gross);
    if (x->field != TB_FIELD_LENGTH || !by)
        return false;
    (by > 0 ? y : x)->field = TB_FIELD_LENGTH_GROSS;
    return true;
}

/* The reading goes on with the first of the two, so that what else is open is asked at once. */
static void ask_which(struct mapping *m, const struct tb_guess *x, struct tb_guess *y)
{
    struct tb_list_store *s = m->list->store;
    const char *key = tb_field_key(x->field);
    struct tb_question *q = tb_list_ask(
        m->list, 0, "the columns '%s' and '%s' could both be the %s; say --map \"%s=%s\" or --map \"%s=%s\"",
        x->header, y->header, tb_field_name(x->field), x->header, key, y->header, key);

    tb_list_answer(m->list, q, "map", tb_store_internf(s, "%s=%s", x->header, key));
    tb_list_answer(m->list, q, "map", tb_store_internf(s, "%s=%s", y->header, key));
    if (q)
        q->open = true;
    y->field = TB_FIELD_IGNORE;
}

/* Two columns for one figure are not chosen between, but for a length in two units: the person says which. */
static tb_rc settle_doubles(struct mapping *m)
{
    for (size_t a = 0; a < m->n; a++)
        for (size_t b = a + 1; b < m->n; b++) {
            struct tb_guess *x = &m->guess[a], *y = &m->guess[b];

            if (!x->field || x->field != y->field || joins(x->field) ||
                (y->shown && (x->shown || x->header == y->header)) || settle_two_units(m, a, b) ||
                settle_net(x, y))
                continue;
            if (strcmp(x->header, y->header) == 0)
                return tb_fail(m->err, TB_EINVAL,
                               "there are two columns '%s'; rename one of them, or say --columns with the "
                               "fields of all columns in their order, - for one that is left out",
                               x->header);
            ask_which(m, x, y);
        }
    return TB_OK;
}

/* Every column is reported, also those that are left out: the person must see what was made of the file. */
static void put_columns(struct tb_table_layout *out, const struct mapping *m)
{
    for (size_t i = 0; i < m->n; i++) {
        const struct tb_guess *g = &m->guess[i];
        struct tb_source_column *c;

        if (i < TB_COLUMNS_MOST && g->field) {
            out->known |= (uint64_t)1 << i;
            out->meant[i] = (unsigned char)g->field;
            out->beyond |= (uint64_t)g->below << i;
            out->remarks |= (uint64_t)(g->field == TB_FIELD_REMARK) << i;
        }
        if (!g->header || !*g->header)
            continue;
        tb_list_put_column(
            m->list, &(struct tb_list_column){ out->sheet_name, i, g->header, g->field, g->unit, g->kept });
        if (!g->field || (g->field > TB_FIELD_COUNT && !g->kept) || out->n == TB_COLUMNS_MOST)
            continue;
        c = &out->column[out->n++];
        *c = (struct tb_source_column){ .field = g->field,
                                        .index = i,
                                        .header = g->header,
                                        .unit = g->unit,
                                        .currency = g->currency,
                                        .weight = g->weight,
                                        .below = g->below,
                                        .maybe_weight = may_weigh(g),
                                        .decimal = '.',
                                        .unit_mask = ~0u };
        if (!out->of[g->field])
            out->of[g->field] = c;
    }
}

/* Which columns make a field: design joins the article, the shade band the colour. */
static bool part_of(enum tb_field column, enum tb_field f)
{
    return column == f || (f == TB_FIELD_ARTICLE && column == TB_FIELD_DESIGN) ||
           (f == TB_FIELD_COLOUR && column == TB_FIELD_SHADE_GROUP);
}

void tb_header_join(struct tb_table_layout *out)
{
    for (int f = TB_FIELD_NONE + 1; f <= TB_FIELD_PARTS; f++)
        for (size_t k = 0; k < out->n && out->made_of_n[f] < TB_MADE_OF_MOST; k++)
            if (part_of(out->column[k].field, (enum tb_field)f))
                out->made_of[f][out->made_of_n[f]++] = (unsigned char)k;
}

static bool is_of(const struct tb_shown *s, const struct tb_table_layout *l)
{
    return s->sheet == l->sheet && s->line == l->line;
}

/* A column that shows what it is needs no header; other columns do not mean the same then. */
static void obey_content(struct mapping *m, const struct tb_shown *s)
{
    struct tb_guess *g = &m->guess[s->index];
    char letters[8];

    tb_column_letters(letters, s->index);
    *g = (struct tb_guess){ .hit = { { .field = s->field, .unit = s->unit, .site = !s->joins } },
                            .n = 1,
                            .header = s->legend ? s->header : g->header,
                            .shown = true };
    g->below = s->below || s->legend;
    if (s->below || s->rest)
        g->header = m->guess[s->name].header;
    if (!g->header || !*g->header)
        g->header = tb_store_text(m->list->store, letters);
    if (s->joins)
        return;
    if (s->field == TB_FIELD_ARTICLE)
        tb_list_say(m->list, "the column '%s' is read as %s: nothing in it names a fibre", g->header,
                    _(tb_field_name(s->field)));
    for (size_t i = 0; i < m->n; i++) {
        struct tb_guess *o = &m->guess[i];
        size_t kept = 0;

        for (size_t k = 0; !o->shown && k < o->n; k++)
            if (o->hit[k].field != s->field || o->hit[k].site)
                o->hit[kept++] = o->hit[k];
        o->n = o->shown ? o->n : kept;
    }
}

/* Words decide first, then what only one column can be, and the doubts are reported last. */
tb_rc tb_header_map(struct tb_table_layout *out, const struct tb_header_words *w,
                    const struct tb_shown_all *shown, struct tb_packing_list *list,
                    const struct tb_row *second, const struct tb_texts *first, struct tb_err *err)
{
    struct mapping m = { .list = list, .err = err };
    tb_rc rc;

    m.n = second && second->n > first->n ? second->n : first->n;
    for (size_t i = 0; i < shown->n; i++)
        if (is_of(&shown->at[i], out) && shown->at[i].index >= m.n)
            m.n = shown->at[i].index + 1;
    m.guess = tb_array(struct tb_guess, m.n);
    for (size_t i = 0; i < m.n; i++)
        tb_guess_column(&m.guess[i], w, list->store, first, second, i);
    for (size_t i = 0; i < shown->n; i++)
        if (is_of(&shown->at[i], out))
            obey_content(&m, &shown->at[i]);
    assign_all(&m);
    obey_site(&m);
    promote_weight(&m);
    rc = settle_doubles(&m);
    settle_weights(&m);
    keep_weight(&m);
    say_gross(&m);
    say_several_meanings(&m);
    put_columns(out, &m);
    tb_header_join(out);
    free(m.guess);
    return rc;
}
