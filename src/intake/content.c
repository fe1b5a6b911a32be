/* content.c - what the columns of a table hold, whatever their headers say: compositions, words, figures. */
#include "intake/below.h"
#include "intake/box.h"
#include "intake/rows.h"
#include "intake/shares.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define GRADE_SIGNS                                                                                          \
    3 /* of "A", "1st", "II": a longer word names something, where it is none of these. Source: common practice, no source. */
static const char grade[] =
    "first second third seconds prime prima secunda tertia standard grade class quality choice choix "
    "wahl qualitat scelta seconda calidad clase primera segunda kalite birinci ikinci "
    "kwaliteit keus jakosc gatunek qualidade classe good premium best";

/* "A", "1st", "2. Wahl": how good a bolt is. */
static bool is_grade(const char *text)
{
    char key[TB_HEADER_KEY_MOST];

    if (!tb_header_key(key, text, strlen(text)))
        return false;
    for (const char *s = key; *s; s += strspn(s, " /#")) {
        size_t n = strcspn(s, " /#");

        if (n > GRADE_SIGNS && !tb_word_listed(grade, s, n, " "))
            return false;
        s += n;
    }
    return true;
}

/* A ditto mark holds what stands above it. */
static void learn_cell(struct tb_content *c, const char *text, bool material)
{
    struct tb_stretch part;

    if (*c->last && tb_is_ditto(text))
        text = c->last;
    c->filled++;
    c->words += tb_has_letter(text, strlen(text));
    c->grades += is_grade(text);
    c->shares += tb_has_letter(text, strlen(text)) && strchr(text, '%') && strpbrk(text, "0123456789");
    if (strcmp(c->last, text) != 0) {
        c->last_declares = tb_declares(&part, text);
        c->last_whole = c->last_declares && tb_declares_wholly(&part, text);
        c->fibres += material && tb_holds_fibre(text);
        (void)snprintf(c->last, sizeof c->last, "%s", strlen(text) < sizeof c->last ? text : "");
    }
    c->declares += c->last_declares;
    c->whole += c->last_whole;
}

#define NEAR 0.2       /* shares of a length: what is left of it after allowances, or was more before them */
#define ROUNDED 0.0125 /* the same length in yards and in metres, each rounded to whole ones */

/* How a figure compares with the length of its row: nearly that, or that in the other unit. */
static void learn_figure(struct tb_content *c, const struct tb_cell *cell, double length)
{
    double v;

    if (!tb_cell_figure(cell, &v))
        return;
    c->figures++;
    c->counted += v == (double)c->counted + 1;
    c->sum += v;
    c->below += v <= length && v >= length * (1 - NEAR);
    c->above += v >= length && v <= length * (1 + NEAR);
    c->other_unit +=
        fabs(v * 0.9144 - length) <= length * ROUNDED || fabs(v - length * 0.9144) <= length * ROUNDED;
}

void tb_content_learn(struct tb_table_layout *l, const struct tb_row *row)
{
    const struct tb_cell *length = tb_cell_at(row, l->of[TB_FIELD_LENGTH]);
    const struct tb_source_column *said = l->of[TB_FIELD_COMPOSITION];
    double v;

    if (!length || !tb_cell_figure(length, &v))
        v = NAN;
    for (size_t i = 0; i < row->n && i < TB_COLUMNS_MOST; i++) {
        const struct tb_cell *cell = &row->cell[i];
        struct tb_content *c = &l->content[i];

        c->lead += cell->type != TB_CELL_EMPTY && c->lead + 1 == l->habit.rows;
        if (cell->type == TB_CELL_TEXT)
            learn_cell(c, cell->text, said && said->index == i);
        else
            c->filled += cell->type != TB_CELL_EMPTY;
        if (cell->type == TB_CELL_EMPTY || tb_is_ditto(cell->text))
            continue;
        c->digits += strpbrk(cell->text, "0123456789") != NULL;
        c->changes += strncmp(c->before, cell->text, sizeof c->before - 1) != 0;
        (void)snprintf(c->before, sizeof c->before, "%s", cell->text);
        learn_figure(c, cell, v);
    }
}

static enum tb_field field_at(const struct tb_table_layout *l, size_t index)
{
    for (size_t k = 0; k < l->n; k++)
        if (l->column[k].index == index)
            return l->column[k].field;
    return TB_FIELD_NONE;
}

/* A column of names may name a fibre beside the article; it is a composition only where nothing else stands in it. */
static bool shows_composition(const struct tb_table_layout *l, size_t i)
{
    const struct tb_content *c = &l->content[i];
    enum tb_field f = field_at(l, i);
    bool named = f == TB_FIELD_ARTICLE || f == TB_FIELD_DESIGN || f == TB_FIELD_COLOUR || f == TB_FIELD_LOT ||
                 f == TB_FIELD_SUPPLIER || f == TB_FIELD_BOLT || f == TB_FIELD_LENGTH;

    return c->declares * 2 >= c->filled && c->declares > 0 && (!named || c->whole * 2 >= c->filled);
}

/* Does a person say what the column is? */
static bool is_said(const struct tb_list_reader *r, const struct tb_table_layout *l, size_t i)
{
    for (size_t k = 0; k < l->n; k++)
        if (l->column[k].index == i)
            return tb_header_words_said(r->words, l->column[k].header);
    return false;
}

/* "Anyag" over names, where nothing else names the article: no cell of it names a fibre. */
static bool names_goods(const struct tb_list_reader *r, const struct tb_table_layout *l)
{
    const struct tb_source_column *said = l->of[TB_FIELD_COMPOSITION];
    const struct tb_content *c = said && said->index < TB_COLUMNS_MOST ? &l->content[said->index] : NULL;

    return c && c->words && c->words == c->filled && !c->fibres && !c->declares && !l->of[TB_FIELD_ARTICLE] &&
           !l->of[TB_FIELD_DESIGN] && !r->title.value[TB_FIELD_ARTICLE] && !r->opts->article &&
           tb_label_is_material(said->header);
}

/* "Commandé" is spelt like "Commande": figures near the length of each row are no numbers of an order, but what was ordered. */
static bool show_ordered(struct tb_shown_all *all, const struct tb_table_layout *l)
{
    const struct tb_source_column *c = l->of[TB_FIELD_ORDER];
    const struct tb_content *k = c && c->index < TB_COLUMNS_MOST ? &l->content[c->index] : NULL;

    if (!k || k->figures < 2 || k->figures < k->filled || k->below + k->above < k->figures ||
        all->n == TB_SHOWN_MOST)
        return false;
    all->at[all->n++] = (struct tb_shown){
        .sheet = l->sheet, .line = l->line, .index = c->index, .field = TB_FIELD_LENGTH_ORDERED
    };
    return true;
}

/* Does a header name the goods by a word that gives way to a stronger one: "Bezeichnung" beside "Art.-Nr."? "Quality" may be that of a bolt too. */
static bool names_weakly(const struct tb_list_reader *r, const struct tb_table_layout *l, size_t i)
{
    struct tb_word_hit hit[TB_HITS_MOST];
    const char *header = l->head[1][i] ? l->head[1][i] : l->head[0][i];
    size_t hits = header ? tb_header_words_find(r->words, header, hit) : 0;

    for (size_t k = 0; k < hits; k++)
        if (hit[k].field != TB_FIELD_ARTICLE ? hit[k].field != TB_FIELD_CLASS : !hit[k].weak || hit[k].site)
            return false;
    return hits && (hit[0].field == TB_FIELD_ARTICLE || hits > 1);
}

/* The number of an article and its name stand beside each other: both are kept. */
static bool show_name(const struct tb_list_reader *r, struct tb_shown_all *all,
                      const struct tb_table_layout *l)
{
    const struct tb_source_column *number = l->of[TB_FIELD_ARTICLE];
    bool any = false;

    if (!number || number->index >= TB_COLUMNS_MOST ||
        l->content[number->index].counted == l->content[number->index].filled || l->of[TB_FIELD_DESIGN] ||
        l->made_of_n[TB_FIELD_ARTICLE] != 1)
        return false;
    for (size_t i = 0; i < TB_COLUMNS_MOST && all->n < TB_SHOWN_MOST; i++) {
        const struct tb_content *c = &l->content[i];

        enum tb_field f = field_at(l, i);

        if ((f && f != TB_FIELD_CLASS) || c->grades || !c->words || c->words != c->filled || c->whole ||
            c->filled * 2 < l->content[number->index].filled || !names_weakly(r, l, i))
            continue;
        all->at[all->n++] = (struct tb_shown){
            .sheet = l->sheet, .line = l->line, .index = i, .field = TB_FIELD_ARTICLE, .joins = true
        };
        any = true;
    }
    return any;
}

/* The article's column holds the composition of each article too, below its first bolt: it gets a column behind the others. */
static bool show_below(struct tb_list_reader *r, const struct tb_table_layout *l)
{
    struct tb_shown_all *all = &r->shown;
    size_t end = SIZE_MAX;

    if (!tb_below_is(l) || l->cells + 1 >= TB_COLUMNS_MOST || all->n == TB_SHOWN_MOST)
        return false;
    for (size_t i = 0; i < r->layouts; i++)
        if (r->layout[i]->sheet == l->sheet && r->layout[i]->line > l->line && r->layout[i]->line < end)
            end = r->layout[i]->line;
    all->at[all->n++] = (struct tb_shown){ .sheet = l->sheet,
                                           .line = l->line,
                                           .index = l->cells + 1, /* a cell too many shows */
                                           .field = TB_FIELD_COMPOSITION,
                                           .below = true,
                                           .name = l->of[TB_FIELD_ARTICLE]->index,
                                           .end = end };
    return true;
}

/* "Composition" over "60% cotton | 40% polyester": the header stands over the first of two columns. */
static bool show_rest(struct tb_shown_all *all, const struct tb_table_layout *l)
{
    const struct tb_source_column *said = l->of[TB_FIELD_COMPOSITION];
    size_t i = said ? said->index + 1 : 0;
    const struct tb_content *c = i && i < TB_COLUMNS_MOST ? &l->content[i] : NULL;

    if (!c || l->head[0][i] || l->head[1][i] || !c->declares || c->declares * 2 < c->filled ||
        !l->content[said->index].declares || all->n == TB_SHOWN_MOST)
        return false;
    all->at[all->n++] = (struct tb_shown){ .sheet = l->sheet,
                                           .line = l->line,
                                           .index = i,
                                           .field = TB_FIELD_COMPOSITION,
                                           .joins = true,
                                           .rest = true,
                                           .name = said->index };
    return true;
}

/* The column that the header calls a composition holds none, and others do: they are one. */
static bool show_table(struct tb_list_reader *r, const struct tb_table_layout *l)
{
    const struct tb_source_column *said = l->of[TB_FIELD_COMPOSITION];
    struct tb_shown_all *all = &r->shown;
    bool ordered = show_ordered(all, l), rest = show_rest(all, l);
    bool any = show_name(r, all, l) || ordered || rest;

    if (names_goods(r, l) && all->n < TB_SHOWN_MOST) {
        all->at[all->n++] = (struct tb_shown){
            .sheet = l->sheet, .line = l->line, .index = said->index, .field = TB_FIELD_ARTICLE
        };
        return true;
    }

    any = tb_shares_show(r, l) || any;
    if (said && (said->index >= TB_COLUMNS_MOST || l->content[said->index].declares))
        return any;
    if (show_below(r, l))
        return true;
    for (size_t i = 0; i < TB_COLUMNS_MOST; i++)
        if (shows_composition(l, i) && !is_said(r, l, i) && all->n < TB_SHOWN_MOST) {
            all->at[all->n++] = (struct tb_shown){
                .sheet = l->sheet, .line = l->line, .index = i, .field = TB_FIELD_COMPOSITION
            };
            any = true;
        }
    return any;
}

bool tb_content_show(struct tb_list_reader *r)
{
    bool any = false;

    for (size_t i = 0; i < r->layouts; i++)
        any = tb_box_show(r, r->layout[i]) || any;
    if (any)
        return true;
    for (size_t i = 0; i < r->layouts; i++)
        any = (!r->layout[i]->given && show_table(r, r->layout[i])) || any;
    if (!r->layouts && r->partial)
        any = show_table(r, r->partial) || any;
    return any;
}

/* "Quality is as per your order": a sentence names nothing. */
static bool is_sentence(const char *text, size_t n)
{
    for (size_t at = 0, word; at < n; at += word + 1) {
        word = strcspn(text + at, " ");
        if (at && at + word < n && tb_word_tells(text + at, word))
            return true;
    }
    return false;
}

/* A few words before a composition in one line are mostly the name of the goods; NULL: there are none, or too many. */
static const char *name_before(struct tb_list_reader *r, const char *text, size_t n)
{
    if (memchr(text, ':', n) || memmem(text, n, "\uFF1A", 3))
        return NULL; /* a label, whatever it means: "Commodity: 100% cotton" */
    while (n && strchr(" ,;-(/|", text[n - 1]))
        n--;
    if (n < 2 || n > 60 || is_sentence(text, n) || tb_label_field(r->words, text, n))
        return NULL;
    return tb_store_intern(r->list->store, text, n);
}

/* "Art. RC-45": a label of the article without a colon, and what stands behind it; NULL: there is none. */
static const char *article_behind(const struct tb_list_reader *r, const char *text)
{
    size_t n = strlen(text);
    struct tb_stretch part;

    if (n > 80 || tb_colon_in(text, NULL) || tb_declares(&part, text))
        return NULL;
    for (size_t at = n; at > 1; at--) {
        enum tb_field f;

        if (text[at - 1] != ' ' && text[at - 1] != '.' && text[at - 1] != '#')
            continue;
        f = tb_label_field(r->words, text, at);
        if (f != TB_FIELD_ARTICLE && f != TB_FIELD_DESIGN)
            continue;
        text += at + strspn(text + at, " ");
        return strcspn(text, "0123456789") < strcspn(text, " ") ? text : NULL;
    }
    return NULL;
}

void tb_learn_loose_article(struct tb_list_reader *r, const struct tb_row *row)
{
    for (size_t i = 0; i < row->n && !r->article_like; i++) {
        const char *said = row->cell[i].type == TB_CELL_TEXT ? article_behind(r, row->cell[i].text) : NULL;

        r->article_like = said ? tb_store_text(r->list->store, said) : NULL;
    }
}

static const char *words_before(struct tb_list_reader *r, const struct tb_row *row, size_t cell, size_t n)
{
    struct tb_text t = { 0 };
    const char *kept;

    for (size_t i = 0; i < cell; i++)
        tb_text_addf(&t, "%s ", row->cell[i].text);
    tb_text_addf(&t, "%.*s", (int)n, row->cell[cell].text);
    kept = tb_store_text(r->list->store, tb_text_str(&t));
    tb_text_free(&t);
    return kept;
}

/* "R 65/35" behind the label of the note or of the order declares nothing, nor does "DDT N. 604" that gives the number. */
static bool names_delivery(const struct tb_list_reader *r, const char *text, const char *said)
{
    static const enum tb_field named[] = { TB_FIELD_NOTE, TB_FIELD_ORDER };

    for (size_t i = 0; i < TB_COUNT(named); i++) {
        const char *number = r->title.value[named[i]];

        if (number && (strstr(number, said) || (!strchr(text, '%') && strstr(text, number))))
            return true;
    }
    return false;
}

/* A composition that no heading names and no column holds: in a title, in a footer, between the bolts. */
void tb_learn_loose(struct tb_list_reader *r, const struct tb_row *row)
{
    for (size_t i = 0; i < row->n; i++) {
        const char *text = row->cell[i].text, *said;
        struct tb_stretch part;

        if (row->cell[i].type != TB_CELL_TEXT)
            continue;
        if (!tb_declares(&part, text)) {
            if (!r->percent_line && tb_has_letter(text, strlen(text)) &&
                (strstr(text, "100%") || strstr(text, "100 %") || strstr(text, "%100")))
                r->percent_line = row->line;
            if (!r->pure.said && tb_names_pure(text))
                r->pure = (struct tb_loose){ .said = tb_store_text(r->list->store, text), .line = row->line };
            continue;
        }
        said = tb_store_intern(r->list->store, text + part.at, part.n);
        if (names_delivery(r, text, said))
            continue;
        for (size_t k = 0; k < r->looses; k++)
            if (r->loose[k].said == said)
                said = NULL;
        if (said && r->looses < TB_LOOSE_MOST) {
            r->loose[r->looses] = (struct tb_loose){
                said, row->line, r->now != NULL, r->now, name_before(r, text, part.at), false, NULL, NULL
            };
            if (tb_has_letter(text + part.at + part.n, strlen(text + part.at + part.n)))
                r->loose[r->looses].behind = tb_store_text(r->list->store, text);
            r->loose[r->looses++].before = words_before(r, row, i, part.at);
        }
    }
}

bool tb_learn_labelled(struct tb_list_reader *r, const struct tb_row *row, const char *said)
{
    struct tb_stretch part;
    const char *before = NULL;

    if (r->looses == TB_LOOSE_MOST)
        return false;
    for (size_t i = 0; i < row->n && !before; i++)
        if (row->cell[i].type == TB_CELL_TEXT && tb_declares(&part, row->cell[i].text))
            before = words_before(r, row, i, part.at);
    r->loose[r->looses++] = (struct tb_loose){ said, row->line, true, r->now, NULL, true, before, NULL };
    return true;
}

void tb_settle_labelled(struct tb_list_reader *r)
{
    size_t kept = 0;

    for (size_t i = 0; i < r->looses; i++) {
        const struct tb_loose *s = &r->loose[i];
        bool again = false;

        if (s->labelled && s->line < s->table->last_length) {
            r->any_composition = true; /* a heading: bolts stand below it */
            continue;
        }
        for (size_t k = 0; k < kept; k++)
            again = again || r->loose[k].said == s->said;
        if (!again)
            r->loose[kept++] = *s;
    }
    r->looses = kept;
}

/* In the table of that sheet: words, or shares of something, or anything, in most of its rows. */
static bool holds(const struct tb_list_reader *r, const struct tb_list_column *c, enum tb_unread which)
{
    for (size_t i = 0; i < r->layouts; i++) {
        const struct tb_table_layout *l = r->layout[i];
        const struct tb_content *k = &l->content[c->column < TB_COLUMNS_MOST ? c->column : 0];
        size_t n = which == TB_UNREAD_ANY ? k->filled : which == TB_UNREAD_SHARES ? k->shares : k->words;

        if (strcmp(l->sheet_name, c->sheet) == 0 && c->column < TB_COLUMNS_MOST && n > 0 &&
            n * 2 >= k->filled && k->filled * 2 >= l->habit.rows)
            return true;
    }
    return false;
}

bool tb_unread_is_name(const struct tb_list_reader *r, const char *header)
{
    for (size_t i = 0; i < r->list->columns; i++) {
        const struct tb_list_column *c = &r->list->column[i];

        if (strcmp(c->header, header) != 0 || c->column >= TB_COLUMNS_MOST)
            continue;
        for (size_t k = 0; k < r->layouts; k++) {
            const struct tb_content *t = &r->layout[k]->content[c->column];

            if (strcmp(r->layout[k]->sheet_name, c->sheet) == 0 && t->digits * 2 >= t->filled)
                return false;
        }
    }
    return true;
}

size_t tb_unread_columns(const struct tb_list_reader *r, const char **header, size_t most,
                         enum tb_unread which)
{
    static const enum tb_field looked_at[] = { TB_FIELD_NONE, TB_FIELD_YARN, TB_FIELD_CLASS };
    size_t n = 0;

    for (size_t f = 0; f < (which == TB_UNREAD_NAMES ? 3 : 1) && !n; f++)
        for (size_t i = 0; i < r->list->columns && n < most; i++) {
            const struct tb_list_column *c = &r->list->column[i];
            bool again = false;

            for (size_t k = 0; k < n; k++)
                again = again || strcmp(header[k], c->header) == 0;
            if (c->field == looked_at[f] && *c->header && !again && holds(r, c, which) &&
                (which != TB_UNREAD_NAMES || !tb_header_words_width(c->header)))
                header[n++] = c->header;
        }
    return n;
}
