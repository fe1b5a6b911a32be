/*
 * workbook_chart.c - charts the spreadsheet draws itself from the cells of a list.
 *
 * The library knows no error bars with ends of their own, so an interval is a bar that floats on an undrawn foot:
 * from the low end to the value in one hatching, on to the high end in another. That reads in every spreadsheet.
 */
#include "report/table/workbook_impl.h"

#include "base/say.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

/* Four and no more: others are not told apart on paper. Neighbours differ in direction: some spreadsheets draw dots and percentages as slanting lines too. */
static const uint8_t hatching[] = {
    LXW_CHART_PATTERN_WIDE_UPWARD_DIAGONAL,
    LXW_CHART_PATTERN_WIDE_DOWNWARD_DIAGONAL,
    LXW_CHART_PATTERN_DARK_HORIZONTAL,
    LXW_CHART_PATTERN_LIGHT_VERTICAL,
};

/* Intervals, drawn as bars that do not begin at 0. */
static bool floats(const struct tb_sheet_chart *k)
{
    return k->kind == TB_SHEET_SPANS || k->kind == TB_SHEET_SPANS_LYING;
}

static bool lies(const struct tb_sheet_chart *k)
{
    return k->kind != TB_SHEET_SPANS && k->kind != TB_SHEET_POINTS;
}

/* Said expressly: charts inherit nothing from the cells of their sheet. */
static void set_font(lxw_chart_font *f, double size, bool bold)
{
    *f = (lxw_chart_font){
        .name = FACE, .size = size, .bold = bold ? LXW_TRUE : LXW_EXPLICIT_FALSE, .color = INK
    };
}

/* A mark for the value, small dots for the ends of its interval, a broken line for what is aimed at: told apart without colour. */
static void dress_points(lxw_chart_series *series, size_t i)
{
    static const uint8_t mark[] = { LXW_CHART_MARKER_CIRCLE, LXW_CHART_MARKER_DIAMOND,
                                    LXW_CHART_MARKER_CIRCLE, LXW_CHART_MARKER_NONE };
    lxw_chart_line line = { .color = i == 1 ? MADDER : INK, .width = i == 1 ? 1.75 : 1.5 };
    lxw_chart_line edge = { .color = line.color, .width = 0.75 };
    lxw_chart_fill fill = { .color = line.color };

    if (i == 3)
        line.dash_type = LXW_CHART_LINE_DASH_DASH;
    else if (i != 1)
        line = (lxw_chart_line){ .none = LXW_TRUE };
    chart_series_set_line(series, &line);
    chart_series_set_marker_type(series, mark[i]);
    if (i == 3)
        return;
    chart_series_set_marker_size(series, i == 1 ? 8 : 5);
    chart_series_set_marker_line(series, &edge);
    chart_series_set_marker_fill(series, &fill);
}

/* The foot of an interval is there and not seen; the hatchings after it begin with the first pattern. */
static void dress_series(lxw_chart_series *series, const struct tb_sheet_chart *k, size_t i)
{
    lxw_chart_line edge = { .color = INK, .width = 0.75 };
    lxw_chart_line no_line = { .none = LXW_TRUE };
    lxw_chart_fill empty = { .none = LXW_TRUE };
    lxw_chart_pattern hatch = { .bg_color = PAPER };
    size_t drawn;

    if (k->kind == TB_SHEET_POINTS) {
        dress_points(series, i);
        return;
    }
    if (floats(k) && i == 0) {
        chart_series_set_fill(series, &empty);
        chart_series_set_line(series, &no_line);
        return;
    }
    drawn = floats(k) ? i - 1 : i;
    hatch.fg_color = drawn % 2 ? INK : MADDER;
    hatch.type = hatching[drawn];
    chart_series_set_pattern(series, &hatch);
    chart_series_set_line(series, &edge);
}

/* Cells are named, not their values: the chart follows when a figure changes. */
static lxw_error add_series(lxw_chart *c, const struct tb_tab *data, const struct tb_sheet_chart *k, size_t i)
{
    const struct piece *p = &data->piece[0];
    lxw_row_t first = p->first + (lxw_row_t)k->from, last = first + (lxw_row_t)k->rows - 1;
    lxw_col_t words = tb_tab_column(data, k->label), at = tb_tab_column(data, k->series[i]);
    lxw_chart_series *series = chart_add_series(c, NULL, NULL);
    lxw_chart_font font;

    if (!series)
        return LXW_ERROR_MEMORY_MALLOC_FAILED;
    chart_series_set_categories(series, p->tab, first, words, last, words);
    chart_series_set_values(series, p->tab, first, at, last, at);
    chart_series_set_name(series, k->name ? k->name[i] : _(data->col[at].plan.heading));
    dress_series(series, k, i);
    if (k->kind == TB_SHEET_BARS) {
        set_font(&font, 8, false);
        chart_series_set_labels(series);
        chart_series_set_labels_font(series, &font);
        if (k->share)
            chart_series_set_labels_num_format(series, "0.0 %");
    }
    return LXW_NO_ERROR;
}

/* Values begin at 0, and shares end where the caller says: left to itself a spreadsheet draws up to 120 %. */
static void dress_axes(lxw_chart *c, const struct tb_sheet_chart *k)
{
    lxw_chart_line grid = { .color = THREAD, .width = 0.5 }, edge = { .color = INK, .width = 0.75 };
    /* the library names axes by where they lie */
    lxw_chart_axis *words = lies(k) ? c->y_axis : c->x_axis, *values = lies(k) ? c->x_axis : c->y_axis;
    lxw_chart_font font;

    set_font(&font, 8, false);
    chart_axis_set_num_font(words, &font);
    chart_axis_set_num_font(values, &font);
    chart_axis_set_line(words, &edge);
    chart_axis_major_gridlines_set_visible(values, LXW_TRUE);
    chart_axis_major_gridlines_set_line(values, &grid);
    chart_axis_set_min(values, 0);
    if (k->y_most > 0)
        chart_axis_set_max(values, k->y_most);
    if (k->share)
        chart_axis_set_num_format(values, "0 %");
    if (k->note) {
        chart_axis_set_name(values, k->note);
        chart_axis_set_name_font(values, &font);
    }
    if (lies(k)) { /* the first row on top, the values still below */
        chart_axis_set_reverse(words);
        chart_axis_set_crossing_max(words);
    }
}

static void dress_chart(lxw_chart *c, const struct tb_sheet_chart *k)
{
    lxw_chart_font font;
    lxw_chart_line frame = { .none = LXW_TRUE };

    set_font(&font, 11, true);
    chart_title_set_name(c, k->title);
    chart_title_set_name_font(c, &font);
    set_font(&font, 8, false);
    chart_legend_set_font(c, &font);
    chart_legend_set_position(c, k->n > 1 ? LXW_CHART_LEGEND_BOTTOM : LXW_CHART_LEGEND_NONE);
    chart_chartarea_set_line(c, &frame);
    dress_axes(c, k);
}

/* The library scales a chart of 480 by 288 pixels. */
tb_rc tb_tab_chart(struct tb_tab *on, const struct tb_tab *data, const struct tb_sheet_chart *k,
                   struct tb_err *err)
{
    uint8_t type = k->kind == TB_SHEET_POINTS  ? LXW_CHART_LINE
                   : k->kind == TB_SHEET_SPANS ? LXW_CHART_COLUMN_STACKED
                   : k->kind == TB_SHEET_BARS  ? LXW_CHART_BAR
                                               : LXW_CHART_BAR_STACKED;
    lxw_chart_options place = { .x_offset = (int32_t)k->x, .y_offset = (int32_t)k->y };
    lxw_chart *c = workbook_add_chart(on->w->lxw, type);
    lxw_error e = c ? LXW_NO_ERROR : LXW_ERROR_MEMORY_MALLOC_FAILED;
    struct tb_text words = { 0 };

    assert(k->rows > 0 && (floats(k) ? k->n == 3 : k->n <= TB_COUNT(hatching)));
    for (size_t i = 0; i < k->n && !e; i++)
        e = add_series(c, data, k, i);
    if (!e) {
        dress_chart(c, k);
        place.x_scale = k->width / 480;
        place.y_scale = k->height / 288;
        tb_text_addf(&words, "%s (%s)", k->title, data->piece[0].tab);
        place.description = words.s;
        e = worksheet_insert_chart_opt(on->piece[0].ws, on->row, 0, c, &place);
    }
    tb_text_free(&words);
    return tb_lxw(err, e, on->w->file->path);
}
