/*
 * How much ink lies on each line and in each column of a picture: whatever is drawn in another place, in another size
 * or not at all changes some of these sums, while letters drawn a little softer by another library hardly do.
 */
#ifndef TB_INK_H
#define TB_INK_H

#include "tenterbook/base.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#include <cmocka.h>

/* Sums in whole dots of full black, twenty to a line. */
static inline void ink_sums(struct tb_text *out, const char *name, const unsigned char *grey, size_t lines,
                            size_t dots, size_t to_next_line, size_t to_next_dot)
{
    tb_text_addf(out, "%s", name);
    for (size_t y = 0; y < lines; y++) {
        double sum = 0;

        for (size_t x = 0; x < dots; x++)
            sum += (255 - grey[y * to_next_line + x * to_next_dot]) / 255.0;
        tb_text_addf(out, "%s%.0f", y % 20 ? " " : "\n", sum);
    }
    tb_text_addf(out, "\n");
}

/* Of a picture with one byte a dot, 0 black. */
static inline void ink(struct tb_text *out, const unsigned char *grey, size_t width, size_t height)
{
    ink_sums(out, "lines, from the top:", grey, height, width, width, 1);
    ink_sums(out, "columns, from the left:", grey, width, height, 1, width);
}

/* The ink of one page of a PDF at so many dots an inch; 72 are a dot for a point. */
static inline void ink_page(struct tb_text *out, const char *pdf, int page, int dots_an_inch)
{
    struct tb_text command = { 0 };
    size_t width, height, most;
    unsigned char *grey;
    FILE *f;

    tb_text_addf(&command, "pdftoppm -r %d -f %d -l %d -gray -singlefile %s", dots_an_inch, page, page, pdf);
    f = popen(tb_text_str(&command), "r");
    assert_int_equal(fscanf(f, "P5 %zu %zu %zu", &width, &height, &most), 3);
    assert_true(width < 2000 && height < 2000 && most == 255 && fgetc(f) == '\n');
    grey = tb_alloc(width, height);
    assert_int_equal(fread(grey, 1, width * height, f), width * height);
    assert_int_equal(pclose(f), 0);
    tb_text_addf(out, "page %d, %zu by %zu\n", page, width, height);
    ink(out, grey, width, height);
    free(grey);
    tb_text_free(&command);
}

#endif
