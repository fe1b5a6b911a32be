/*
 * jpeg.h - a picture as baseline JPEG (ITU-T T.81), with its orientation in Exif (CIPA DC-008, tag 0x0112).
 *
 *   pixels       width * height of 0xRRGGBB, row by row from the top, as the picture is to be seen
 *   orientation  1 or 6; 6: it is written as a camera does that was held a quarter turn over, and shown upright again
 *   fails        false where the file cannot be written; what was written of it is removed
 */
#ifndef PHOTOGRAPH_JPEG_H
#define PHOTOGRAPH_JPEG_H

#include <stdbool.h>
#include <stdint.h>

bool jpeg_write(const char *path, const uint32_t *pixels, int width, int height, int orientation);

#endif
