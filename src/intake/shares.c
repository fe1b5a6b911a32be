/* shares.c - a composition over several columns: a fibre for each header ("CO % | PES %"), or fibres and shares in turn. */
#include "intake/shares.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define WHOLE_NEAR 0.5 /* percent: shares are rounded */
#define FIBRE_MOST 40  /* bytes: a longer header, or cell, names more than a fibre */

/* The name of a fibre in a header or a cell, without the sign for percent and brackets; "": it is none. */
static void fibre_in(char out[FIBRE_MOST], const char *text)
{
    char said[FIBRE_MOST + 8];
    struct tb_stretch part;
    size_t n = 0;

    for (; *text && n + 1 < FIBRE_MOST; text++)
        if (!strchr("%()[]", *text) && (n || *text != ' '))
            out[n++] = *text;
    while (n && out[n - 1] == ' ')
        n--;
    out[*text ? 0 : n] = '\0';
    (void)snprintf(said, sizeof said, "100%% %s", out);
    if (strpbrk(out, "0123456789") || !tb_declares(&part, said) || !tb_declares_wholly(&part, said))
        out[0] = '\0';
}

static const char *header_of(const struct tb_table_layout *l, size_t i)
{
    const char *lower = l->head[1][i] ? l->head[1][i] : NULL, *upper = l->head[0][i];

    return lower && strcmp(lower, "%") != 0 ? lower : upper ? upper : lower ? lower : "";
}

/* A column that nobody understands, or that the header calls a composition. */
static bool is_open(const struct tb_table_layout *l, size_t i)
{
    return !(l->known & (uint64_t)1 << i) || l->meant[i] == TB_FIELD_COMPOSITION;
}

/* The headers alone are looked at once. */
static void look_at_headers(struct tb_share_look *k, const struct tb_table_layout *l)
{
    char fibre[FIBRE_MOST];

    k->looked = true;
    for (size_t i = 0; i < TB_COLUMNS_MOST; i++) {
        if (!is_open(l, i))
            continue;
        fibre_in(fibre, header_of(l, i));
        k->headed |= (uint64_t)(*fibre != '\0') << i;
    }
}

/* A share: a figure up to 100, with a sign for percent at most. */
static bool is_share(const struct tb_cell *cell, double *v)
{
    return (cell->type == TB_CELL_NUMBER ||
            (cell->type == TB_CELL_TEXT && !tb_has_letter(cell->text, strlen(cell->text)))) &&
           tb_cell_figure(cell, v) && *v >= 0 && *v <= 100;
}

static bool names_fibre(const struct tb_cell *cell)
{
    char fibre[FIBRE_MOST];

    if (cell->type != TB_CELL_TEXT || !tb_has_letter(cell->text, strlen(cell->text)))
        return false;
    fibre_in(fibre, cell->text);
    return *fibre != '\0';
}

static bool is_whole(double sum)
{
    return fabs(sum - 100) <= WHOLE_NEAR || fabs(sum - 1) <= WHOLE_NEAR / 100;
}

void tb_shares_learn(struct tb_table_layout *l, const struct tb_row *row)
{
    struct tb_share_look *k = &l->shares;
    double sum = 0, v;
    size_t cells = 0;

    if (l->given)
        return;
    if (!k->looked)
        look_at_headers(k, l);
    for (size_t i = 0; i < row->n && i < TB_COLUMNS_MOST; i++) {
        bool behind = i && is_open(l, i) && is_open(l, i - 1) && names_fibre(&row->cell[i - 1]);

        if (!(k->headed & (uint64_t)1 << i) && !behind)
            continue;
        if (!is_share(&row->cell[i], &v))
            continue;
        k->behind |= (uint64_t)behind << i;
        sum += v;
        cells++;
    }
    k->rows += cells > 0;
    k->whole += cells && is_whole(sum);
}

bool tb_shares_show(struct tb_list_reader *r, const struct tb_table_layout *l)
{
    const struct tb_share_look *k = &l->shares;
    const struct tb_source_column *said = l->of[TB_FIELD_COMPOSITION];
    struct tb_share_table *t = &r->shares.at[r->shares.n];
    struct tb_text headers = { 0 };

    if (k->whole * 2 <= k->rows || r->shares.n == TB_SHARE_TABLES_MOST || r->shown.n == TB_SHOWN_MOST ||
        (said && said->index < TB_COLUMNS_MOST && l->content[said->index].declares))
        return false;
    *t = (struct tb_share_table){ .sheet = l->sheet, .line = l->line, .header = !l->given };
    for (size_t i = 0; i < TB_COLUMNS_MOST && t->n < TB_SHARES_MOST; i++) {
        struct tb_share_column *c = &t->column[t->n];

        if (!((k->headed | k->behind) & (uint64_t)1 << i))
            continue;
        *c = (struct tb_share_column){ .share = i, .name = k->behind & (uint64_t)1 << i ? i - 1 : SIZE_MAX };
        c->header = tb_store_text(r->list->store, header_of(l, i));
        tb_text_addf(&headers, "%s'%s'", t->n++ ? ", " : "",
                     tb_store_brief(r->list->store, c->name == SIZE_MAX ? c->header : header_of(l, c->name)));
    }
    if (t->n == 1 && t->column[0].name == SIZE_MAX && !strchr(t->column[0].header, '%'))
        t->n = 0;
    if (t->n) {
        t->first = t->column[0].name == SIZE_MAX ? t->column[0].share : t->column[0].name;
        t->said = tb_store_intern(r->list->store, tb_text_str(&headers), headers.n);
        r->shown.at[r->shown.n++] = (struct tb_shown){
            .sheet = l->sheet, .line = l->line, .index = t->first, .field = TB_FIELD_COMPOSITION
        };
        r->shares.n++;
    }
    tb_text_free(&headers);
    return t->n > 0;
}

/* "60% CO 40% PES" of a row; false: it holds no share. */
static bool compose(struct tb_text *out, const struct tb_share_table *t, const struct tb_row *row)
{
    double sum = 0, v;
    bool whole;

    for (size_t i = 0; i < t->n; i++)
        if (t->column[i].share < row->n && is_share(&row->cell[t->column[i].share], &v))
            sum += v;
    whole = sum <= 1.0 + WHOLE_NEAR / 100; /* a spreadsheet keeps 60% as 0.6 */
    for (size_t i = 0; i < t->n; i++) {
        const struct tb_share_column *c = &t->column[i];
        char fibre[FIBRE_MOST];
        const char *name = c->name == SIZE_MAX ? c->header : c->name < row->n ? row->cell[c->name].text : "";

        if (c->share >= row->n || !is_share(&row->cell[c->share], &v) || !(v > 0))
            continue;
        fibre_in(fibre, name);
        tb_text_addf(out, "%s%.4g%% %s", out->n ? " " : "", whole ? v * 100 : v, *fibre ? fibre : name);
    }
    return out->n > 0;
}

/* Of a table that begins in this row, or that stands already. */
static struct tb_share_table *table_of(struct tb_list_reader *r, const struct tb_row *row)
{
    struct tb_share_tables *s = &r->shares;

    for (size_t i = 0; i < s->n; i++)
        if (s->at[i].sheet == r->sheet.number && s->at[i].line == row->line)
            s->now = i + 1;
    return s->now && s->at[s->now - 1].sheet == r->sheet.number ? &s->at[s->now - 1] : NULL;
}

/* The first cell takes the text, and the others of these columns are empty. */
static void put(struct tb_share_tables *s, const struct tb_share_table *t, const struct tb_row *row,
                struct tb_row *out, const char *text)
{
    size_t n = row->n < TB_COLUMNS_MOST ? row->n : TB_COLUMNS_MOST;
    const struct tb_cell empty = { TB_CELL_EMPTY, "", (double)NAN };

    memcpy(s->cell, row->cell, n * sizeof *s->cell);
    for (size_t i = 0; i < t->n; i++) {
        const struct tb_share_column *c = &t->column[i];

        if (c->share < n)
            s->cell[c->share] = empty;
        if (c->name < n)
            s->cell[c->name] = empty;
    }
    if (t->first < n && *text)
        s->cell[t->first] = (struct tb_cell){ TB_CELL_TEXT, text, (double)NAN };
    *out = *row;
    out->cell = s->cell;
    out->n = n;
}

/* Words in one of these columns that name no fibre: a header, a heading, a total. */
static bool holds_words(const struct tb_share_table *t, const struct tb_row *row)
{
    double v;

    for (size_t i = 0; i < t->n; i++) {
        const struct tb_share_column *c = &t->column[i];

        if (tb_row_filled(row, c->share) && !tb_is_ditto(row->cell[c->share].text) &&
            !is_share(&row->cell[c->share], &v))
            return true;
    }
    return false;
}

/* The header, wherever it stands again. */
static bool is_header(const struct tb_share_table *t, const struct tb_row *row)
{
    for (size_t i = 0; i < t->n; i++)
        if (t->column[i].share >= row->n ||
            strcmp(row->cell[t->column[i].share].text, t->column[i].header) != 0)
            return false;
    return t->n > 0;
}

const struct tb_row *tb_shares_row(struct tb_list_reader *r, const struct tb_row *row, struct tb_row *out)
{
    struct tb_share_table *t = r->shares.n ? table_of(r, row) : NULL;
    struct tb_text text = { 0 };

    if (!t || row->n > TB_COLUMNS_MOST)
        return row;
    if (is_header(t, row)) {
        put(&r->shares, t, row, out, t->first < row->n ? row->cell[t->first].text : "");
        return out;
    }
    if (holds_words(t, row) || !compose(&text, t, row)) {
        tb_text_free(&text);
        return row;
    }
    put(&r->shares, t, row, out, tb_store_intern(r->list->store, text.s, text.n));
    tb_text_free(&text);
    return out;
}

/* "XX %", or "%" behind a column of words that nobody understands. */
static bool says_percent(const struct tb_table_layout *l, size_t i)
{
    const char *text = header_of(l, i);

    return l->content[i].figures &&
           (strchr(text, '%') || strstr(text, "\xEF\xBC\x85")); /* U+FF05, full-width */
}

/* One such column alone may be of anything: "Shrinkage %". */
size_t tb_shares_doubtful(const struct tb_list_reader *r, const char **header, size_t most)
{
    size_t n = 0, percent = 0, fibres = 0;

    for (size_t i = 0; i < r->layouts; i++)
        for (size_t k = 0; k < TB_COLUMNS_MOST && n < most; k++) {
            const struct tb_table_layout *l = r->layout[i];
            bool fibre = (l->shares.headed | l->shares.behind) & (uint64_t)1 << k;

            if (l->given || !is_open(l, k) || !l->content[k].filled || !(fibre || says_percent(l, k)))
                continue;
            fibres += fibre;
            percent += !fibre;
            header[n++] = header_of(l, k);
        }
    return fibres || percent > 1 ? n : 0;
}

void tb_shares_say(struct tb_list_reader *r)
{
    for (size_t i = 0; i < r->shares.n; i++)
        if (r->shares.at[i].header && (i == 0 || r->shares.at[i].said != r->shares.at[i - 1].said))
            tb_list_say(r->list, "the declared composition is put together from the columns %s",
                        r->shares.at[i].said);
}
