/* qr.h - a text as a QR code (ISO/IEC 18004). Internal. */
#ifndef TENTERBOOK_REPORT_QR_H
#define TENTERBOOK_REPORT_QR_H

#include "tenterbook/tongue.h"

#include "gen/late_drawing.h"
#include <stdbool.h>

/*
 * tb_qr - draw it in black, level M, in bytes: a scanner gives back the very text.
 *   side    points, with the quiet zone of four modules at each edge
 *   result  false: the text is too long for any code, or there is no memory
 */
bool tb_qr(cairo_t *c, double x, double y, double side, const char *text);

/* As wide as a paper takes it for an anchor: some 70 modules of a third of a millimetre, which office printers and telephones manage. */
#define TB_QR_ANCHOR 71.0

#define TB_ANCHOR_WORDS                                                                                      \
    TR_("The code is the anchor of the book in the state this paper was made from. What a scanner reads "    \
        "goes behind "                                                                                       \
        "\"tenterbook prove --since\", which shows whether anything up to then was changed since.")

#endif
