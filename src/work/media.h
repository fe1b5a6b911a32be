/* media.h - inside the module: whether a photograph or a paper is all there. */
#ifndef TENTERBOOK_WORK_MEDIA_H
#define TENTERBOOK_WORK_MEDIA_H

#include "tenterbook/base.h"

/*
 * tb_media_whole - whether a file goes from its beginning to its end: what a camera or a mail cut short is found when it is
 * taken in, and not years later, when it is shown.
 *   whole   the answer, found in a process apart (base/apart.h)
 *   media   "image/jpeg", "image/png" or "application/pdf", as its first bytes say
 *   bytes   n of them, borrowed
 *   fails   TB_EFORMAT the process broke off; TB_EIO there can be none. The sentence does not name the file
 *   source  JPEG: ISO/IEC 10918-1, annex B; PNG: ISO/IEC 15948, 5.3; PDF: ISO 32000-1, 7.5.5, and annex H, note 18, for
 *           how near to its end %%EOF stands
 */
tb_rc tb_media_whole(bool *whole, const char *media, const void *bytes, size_t n, struct tb_err *err);

#endif
