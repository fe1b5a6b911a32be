/* icc.h - the colours that papers are written in, for printers and archives. Internal. */
#ifndef TENTERBOOK_REPORT_ICC_H
#define TENTERBOOK_REPORT_ICC_H

#include "tenterbook/base.h"

/*
 * tb_icc_srgb - add a profile of the sRGB colour space (IEC 61966-2-1).
 *
 *   out     the bytes, the same each time: version 4.2 of the ISO 15076-1 profile, of a display
 *   source  ISO 15076-1:2005, 7.2 (header), 8.3.3 (what a display needs), 10 (kinds of tags); primaries and chromatic
 *           adaptation to D50 by the Bradford matrix (its annex E), computed in tests/unit/test_pdf_archive.c; the curve is that of IEC 61966-2-1
 */
void tb_icc_srgb(struct tb_text *out);

#endif
