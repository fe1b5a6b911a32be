/* jpeg_head.h - what the head of a JPEG says of the picture behind it. Internal. */
#ifndef TENTERBOOK_REPORT_JPEG_HEAD_H
#define TENTERBOOK_REPORT_JPEG_HEAD_H

#include <stddef.h>
#include <stdint.h>

struct jpeg_head {
    int32_t width, height;
    int components; /* 1 grey, 3 colours, 4 inks */
    int orientation; /* of EXIF, 1 to 8: 1 as it is, 3 upside down, 6 to be turned a quarter clockwise; 1 where it says none */
};

/*
 * jpeg_head_read - from n bytes that nobody has checked.
 *   out     all 0 where they are no JPEG with a frame (ITU-T T.81, annex B)
 *   source  of the orientation: CIPA DC-008 (EXIF), tag 0x0112; TIFF 6.0, section 2
 */
void jpeg_head_read(struct jpeg_head *out, const unsigned char *p, size_t n);

#endif
