/* The header of a table: is this row one, and which column holds what. */
#include "intake_in.h"

#include <stdlib.h>
#include <string.h>

void texts_free(struct texts *t)
{
    for (size_t i = 0; i < t->n; i++)
        free(t->text[i]);
    free(t->text);
    *t = (struct texts){ 0 };
}

void texts_take(struct texts *t, const struct tb_row *row)
{
    texts_free(t);
    t->n = row->n;
    t->line = row->line;
    t->text = tb_array(char *, row->n);
    for (size_t i = 0; i < row->n; i++)
        if (row->cell[i].type != TB_CELL_EMPTY)
            t->text[i] = tb_strdup(row->cell[i].text);
}

static bool is_figure(const struct tb_cell *c)
{
    struct figure f;

    return c->type == TB_CELL_NUMBER || c->type == TB_CELL_DAY ||
           (c->text[0] >= '0' && c->text[0] <= '9' && figure_scan(&f, c->text) && f.rest_n == 0);
}

void header_look(struct header_look *out, const struct words *w, const struct tb_row *row)
{
    *out = (struct header_look){ 0 };
    for (size_t i = 0; i < row->n && out->cells < 200; i++) {
        struct word_hit hit[HITS_MOST];
        size_t n;

        if (row->cell[i].type == TB_CELL_EMPTY)
            continue;
        out->cells++;
        if (is_figure(&row->cell[i])) {
            out->figures = true;
            continue;
        }
        n = words_find(w, row->cell[i].text, hit);
        out->known += n > 0;
        for (size_t k = 0; k < n; k++) {
            out->bolt = out->bolt || hit[k].field == TB_FIELD_BOLT;
            out->length = out->length || hit[k].field == TB_FIELD_LENGTH;
        }
    }
}

bool header_is(const struct header_look *k)
{
    if (k->figures || k->known < 2)
        return false;
    return (k->bolt && k->length) || ((k->bolt || k->length) && k->known * 2 >= k->cells);
}

static bool is_unit(const char *s)
{
    size_t n = strlen(s);

    if (n > 2 && strchr("([", s[0]) && strchr(")]", s[n - 1])) {
        s++;
        n -= 2;
    }
    return unit_find(TB_FIELD_LENGTH, s, n) || unit_find(TB_FIELD_WIDTH, s, n) ||
           unit_find(TB_FIELD_MASS, s, n) || currency_find(s, n);
}

bool row_alone(const struct tb_row *row)
{
    size_t cells = 0;

    for (size_t i = 0; i < row->n; i++)
        cells += row->cell[i].type != TB_CELL_EMPTY;
    return cells == 1;
}

/* "gross m" is "gross" and the unit after it. */
static size_t core_length(const char *low)
{
    const char *blank = strrchr(low, ' ');

    return blank && is_unit(blank + 1) ? (size_t)(blank - low) : strlen(low);
}

/* A unit, a word, a word for "number", or anything with a unit after it. */
static bool is_lower_half(const struct words *w, const char *text)
{
    struct word_hit hit[HITS_MOST];

    return is_unit(text) || words_find(w, text, hit) || words_number(text) ||
           core_length(text) < strlen(text);
}

bool header_second(const struct words *w, const struct tb_row *row)
{
    size_t known = 0, cells = 0;

    for (size_t i = 0; i < row->n; i++) {
        const char *text = row->cell[i].text;

        if (row->cell[i].type == TB_CELL_EMPTY)
            continue;
        if (is_figure(&row->cell[i]) || ditto(text) || strpbrk(text, ":"))
            return false;
        cells++;
        known += is_lower_half(w, text);
    }
    return known > 0 && known * 3 >= cells * 2;
}

/* --- mapping ---------------------------------------------------------------------------------------------- */
struct guess {
    struct word_hit hit[HITS_MOST];
    size_t n;
    const char *header;
    const char *currency;
    enum tb_field field; /* what it became */
    enum tb_unit unit;
};

struct mapping {
    struct guess *guess;
    size_t n;
    struct tb_packing_list *list;
    struct tb_err *err;
};

static const char *currency_in(const char *header)
{
    const char *code = NULL;

    for (const char *s = header; *s && !code;) {
        size_t n = strcspn(s, " ()[]/,");

        if (n)
            code = currency_find(s, n);
        s += n + (s[n] != '\0');
    }
    return code;
}

static void unit_from(struct guess *g, const char *text)
{
    size_t n = strlen(text), skip = n > 2 && strchr("([", text[0]) ? 1 : 0;

    for (size_t i = 0; i < g->n; i++) {
        enum tb_unit u = unit_find(g->hit[i].field, text + skip, n - 2 * skip);

        if (u)
            g->hit[i].unit = u;
    }
}

/* The upper header cell is often merged over several: an empty one continues its left neighbour. */
static const char *upper(const struct texts *first, size_t i, bool *own)
{
    *own = i < first->n && first->text[i];
    if (i >= first->n)
        return NULL;
    for (size_t k = i + 1; k > 0; k--)
        if (first->text[k - 1])
            return first->text[k - 1];
    return NULL;
}

/* The halves of a header over two rows: "Length" over "net m" is "Length net" or "net Length". */
static void guess_halves(struct guess *g, const struct words *w, const char *high, const char *low)
{
    struct tb_text t = { 0 };
    size_t core = core_length(low);

    for (int turn = 0; turn < 2 && !g->n && !is_unit(low); turn++) {
        tb_text_clear(&t);
        if (turn == 0)
            tb_text_addf(&t, "%s %.*s", high, (int)core, low);
        else
            tb_text_addf(&t, "%.*s %s", (int)core, low, high);
        g->n = words_find(w, t.s, g->hit);
        if (g->n && core < strlen(low))
            unit_from(g, low + core + 1);
    }
    tb_text_free(&t);
}

static void guess_column(struct guess *g, const struct words *w, struct tb_list_store *s,
                         const struct texts *first, const struct tb_row *second, size_t i)
{
    const char *low = second && i < second->n && second->cell[i].type ? second->cell[i].text : NULL;
    bool own;
    const char *high = upper(first, i, &own);
    struct tb_text both = { 0 };

    if (!own && !low)
        return;
    if (high)
        tb_text_add(&both, high);
    if (low)
        tb_text_addf(&both, "%s%s", both.n ? " " : "", low);
    g->n = words_find(w, both.s, g->hit);
    if (!g->n && low && high)
        guess_halves(g, w, high, low);
    if (!g->n && low && !is_unit(low))
        g->n = words_find(w, low, g->hit);
    if (!g->n && own && low) {
        g->n = words_find(w, high, g->hit);
        unit_from(g, low);
    }
    g->header = store_intern(s, both.s, both.n);
    g->currency = currency_in(g->header);
    tb_text_free(&both);
}

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

static void assign(struct guess *g, size_t k)
{
    g->field = g->hit[k].field;
    g->unit = g->hit[k].unit;
}

/* Words with one meaning first; then weak ones where nothing stronger stands; then those with several. */
static void assign_all(struct mapping *m)
{
    for (int round = 0; round < 4; round++)
        for (size_t i = 0; i < m->n; i++) {
            struct guess *g = &m->guess[i];
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

static void say_several_meanings(struct mapping *m)
{
    for (size_t i = 0; i < m->n; i++) {
        const struct guess *g = &m->guess[i];

        if (g->n < 2 || g->field == TB_FIELD_NONE || g->field > TB_FIELD_PARTS)
            continue;
        for (size_t k = 0; k < g->n; k++)
            if (g->hit[k].field != g->field) {
                list_say(m->list, "the column '%s' is read as %s; if it means %s, say --map \"%s=%s\"",
                         g->header, tb_field_name(g->field), tb_field_name(g->hit[k].field), g->header,
                         tb_field_key(g->hit[k].field));
                break;
            }
    }
}

/* Length in metres and again in yards: the metres count. */
static bool settle_two_units(struct mapping *m, size_t a, size_t b)
{
    struct guess *x = &m->guess[a], *y = &m->guess[b];

    if (x->field != TB_FIELD_LENGTH || !x->unit || !y->unit || x->unit == y->unit)
        return false;
    if (y->unit == TB_UNIT_M) {
        x->field = TB_FIELD_IGNORE;
        x = &m->guess[b];
        y = &m->guess[a];
    } else {
        y->field = TB_FIELD_IGNORE;
    }
    list_say(m->list, "the length stands in two columns; '%s' is taken, '%s' is left out", x->header,
             y->header);
    return true;
}

static tb_rc settle_doubles(struct mapping *m)
{
    for (size_t a = 0; a < m->n; a++)
        for (size_t b = a + 1; b < m->n; b++) {
            const struct guess *x = &m->guess[a], *y = &m->guess[b];

            if (!x->field || x->field != y->field || joins(x->field) || settle_two_units(m, a, b))
                continue;
            if (strcmp(x->header, y->header) == 0)
                return tb_fail(m->err, TB_EINVAL, "there are two columns '%s'; rename one of them",
                               x->header);
            return tb_fail(
                m->err, TB_EINVAL,
                "the columns '%s' and '%s' could both be the %s; say --map \"%s=%s\" or --map \"%s=%s\"",
                x->header, y->header, tb_field_name(x->field), x->header, tb_field_key(x->field), y->header,
                tb_field_key(y->field));
        }
    return TB_OK;
}

static void put_columns(struct layout *out, const struct mapping *m)
{
    for (size_t i = 0; i < m->n; i++) {
        const struct guess *g = &m->guess[i];
        struct column *c;

        if (!g->header || !*g->header)
            continue;
        list_column(m->list, &(struct tb_list_column){ out->sheet_name, i, g->header, g->field, g->unit });
        if (!g->field || g->field > TB_FIELD_COUNT || out->n == COLUMNS_MOST)
            continue;
        c = &out->column[out->n++];
        *c = (struct column){ .field = g->field,
                              .index = i,
                              .header = g->header,
                              .unit = g->unit,
                              .currency = g->currency,
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

static void join_columns(struct layout *out)
{
    for (int f = TB_FIELD_NONE + 1; f <= TB_FIELD_PARTS; f++)
        for (size_t k = 0; k < out->n && out->made_of_n[f] < MADE_OF_MOST; k++)
            if (part_of(out->column[k].field, (enum tb_field)f))
                out->made_of[f][out->made_of_n[f]++] = (unsigned char)k;
}

tb_rc header_map(struct layout *out, const struct words *w, struct tb_packing_list *list,
                 const struct tb_row *second, const struct texts *first, struct tb_err *err)
{
    struct mapping m = { .list = list, .err = err };
    tb_rc rc;

    m.n = second && second->n > first->n ? second->n : first->n;
    m.guess = tb_array(struct guess, m.n);
    for (size_t i = 0; i < m.n; i++)
        guess_column(&m.guess[i], w, list->store, first, second, i);
    assign_all(&m);
    obey_site(&m);
    rc = settle_doubles(&m);
    say_several_meanings(&m);
    put_columns(out, &m);
    join_columns(out);
    free(m.guess);
    return rc;
}
