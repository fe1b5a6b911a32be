/*
 * workbook_look.c - how cells look. Ink, undyed cloth and one madder red; thin rules instead of stripes, so
 * that a list still reads after sorting, on a black-and-white printer and on a fax.
 */
#include "report/table/workbook_impl.h"

#include <string.h>

/*
 * Formats that name no locale: a spreadsheet shows its own separators. Days stay in the order year, month, day.
 */
static const char *number_format(const struct look *l)
{
    static const char *const plain[] = { "#,##0", "#,##0.0", "#,##0.00", "#,##0.000" };
    static const char *const share[] = { "0 %", "0.0 %", "0.00 %", "0.000 %" };
    size_t d = l->decimals < 0 ? 0 : l->decimals > 3 ? 3 : (size_t)l->decimals;

    switch (l->type) {
    case TB_COL_COUNT:
        return plain[0];
    case TB_COL_NUMBER:
        return l->decimals == TB_DECIMALS_FREE ? "[<0.001]0.0E+00;[>=10000]0.0E+00;0.000" : plain[d];
    case TB_COL_SHARE:
        return share[d];
    case TB_COL_DAY:
        return "yyyy-mm-dd";
    case TB_COL_MOMENT:
        return "yyyy-mm-dd hh:mm";
    case TB_COL_TEXT:
    case TB_COL_ANY:
        break;
    }
    return NULL;
}

/* Each tone changes weight, slant, frame or ground besides the colour: a photocopy keeps it. */
static void dress_tone(lxw_format *f, enum tb_tone tone)
{
    switch (tone) {
    case TB_TONE_ALARM:
        format_set_bold(f);
        format_set_font_color(f, PAPER);
        format_set_pattern(f, LXW_PATTERN_SOLID);
        format_set_bg_color(f, MADDER);
        break;
    case TB_TONE_DOUBT:
        format_set_italic(f);
        format_set_pattern(f, LXW_PATTERN_SOLID);
        format_set_bg_color(f, 0xE6DFCC);
        format_set_border(f, LXW_BORDER_THIN);
        format_set_border_color(f, INK);
        break;
    case TB_TONE_QUIET:
        format_set_font_color(f, FADED);
        break;
    case TB_TONE_AGREE:
        format_set_bold(f);
        format_set_border(f, LXW_BORDER_THIN);
        format_set_border_color(f, FADED);
        break;
    case TB_TONE_PLAIN:
        break;
    }
}

/* Hair lines between rows instead of stripes: stripes lie once a list is sorted. */
static void dress_role(lxw_format *f, enum look_role role)
{
    switch (role) {
    case LOOK_TITLE:
        format_set_bold(f);
        format_set_font_size(f, 15);
        format_set_font_color(f, MADDER);
        break;
    case LOOK_NOTE:
        format_set_font_size(f, 9);
        format_set_font_color(f, FADED);
        break;
    case LOOK_HEADING:
        format_set_bold(f);
        format_set_align(f, LXW_ALIGN_VERTICAL_BOTTOM);
        format_set_text_wrap(f);
        format_set_pattern(f, LXW_PATTERN_SOLID);
        format_set_bg_color(f, CLOTH);
        format_set_top(f, LXW_BORDER_MEDIUM);
        format_set_bottom(f, LXW_BORDER_THIN);
        break;
    case LOOK_TOTAL:
        format_set_bold(f);
        format_set_top(f, LXW_BORDER_THIN);
        format_set_bottom(f, LXW_BORDER_DOUBLE);
        break;
    case LOOK_SECTION:
        format_set_bold(f);
        format_set_font_size(f, 11);
        format_set_bottom(f, LXW_BORDER_MEDIUM);
        format_set_bottom_color(f, MADDER);
        break;
    case LOOK_ITEM:
    case LOOK_BODY:
        format_set_align(f, LXW_ALIGN_VERTICAL_CENTER);
        format_set_bottom(f, LXW_BORDER_HAIR);
        format_set_bottom_color(f, THREAD);
        break;
    }
}

static lxw_format *make(struct tb_workbook *w, const struct look *l)
{
    lxw_format *f = workbook_add_format(w->lxw);
    const char *number = number_format(l);

    if (!f)
        return NULL;
    format_set_font_name(f, FACE);
    format_set_font_size(f, 10);
    format_set_font_color(f, INK);
    dress_role(f, l->role);
    if (number)
        format_set_num_format(f, number);
    /* headings of figures stand over the figures */
    if (l->role == LOOK_HEADING && l->type != TB_COL_TEXT && l->type != TB_COL_ANY)
        format_set_align(f, LXW_ALIGN_RIGHT);
    if (l->role == LOOK_BODY && (l->type == TB_COL_DAY || l->type == TB_COL_MOMENT))
        format_set_align(f, LXW_ALIGN_RIGHT);
    /* words keep off the figures in the column before them */
    if (l->type == TB_COL_TEXT && l->indent)
        format_set_indent(f, 1);
    if (l->wrap)
        format_set_text_wrap(f);
    if (l->wrap && l->role == LOOK_NOTE)
        format_set_align(f, LXW_ALIGN_VERTICAL_TOP);
    dress_tone(f, l->tone);
    return f;
}

static bool same(const struct look *a, const struct look *b)
{
    return a->role == b->role && a->type == b->type && a->decimals == b->decimals && a->tone == b->tone &&
           a->wrap == b->wrap && a->indent == b->indent;
}

/* A few dozen looks in all, so that a list is searched faster than a table is kept. */
lxw_format *tb_look(struct tb_workbook *w, const struct look *look)
{
    for (size_t i = 0; i < w->formats; i++)
        if (same(&w->format[i].look, look))
            return w->format[i].format;
    TB_PUSH_ROOM(w->format, w->formats, w->format_cap);
    w->format[w->formats].look = *look;
    w->format[w->formats].format = make(w, look);
    return w->format[w->formats++].format;
}

/* Only what differs from the cell below: a conditional format is laid over it. */
lxw_format *tb_look_tone(struct tb_workbook *w, enum tb_tone tone)
{
    lxw_format *f = workbook_add_format(w->lxw);

    if (f)
        dress_tone(f, tone);
    return f;
}
