/* A text as a QR code (qr.h). */
#include "report/draw/qr.h"

#include <qrencode.h>

#define QUIET 4

bool tb_qr(cairo_t *c, double x, double y, double side, const char *text)
{
    QRcode *q = QRcode_encodeString8bit(text, 0, QR_ECLEVEL_M);
    double module;

    if (!q)
        return false;
    module = side / (q->width + 2 * QUIET);
    for (int row = 0; row < q->width; row++)
        for (int col = 0; col < q->width; col++)
            if (q->data[row * q->width + col] & 1)
                cairo_rectangle(c, x + module * (col + QUIET), y + module * (row + QUIET), module, module);
    cairo_set_source_rgb(c, 0, 0, 0);
    cairo_fill(c);
    QRcode_free(q);
    return true;
}
