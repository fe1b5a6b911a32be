/* pdf_attach.h - a file attached to a PDF, by an incremental update (ISO 32000-1, 7.5.6 and 7.11.4). Internal. */
#ifndef TENTERBOOK_REPORT_PDF_ATTACH_H
#define TENTERBOOK_REPORT_PDF_ATTACH_H

#include "tenterbook/base.h"

#define TB_PDF_ATTACHED_MOST (128u << 20) /* bytes of an attachment that is read back */

/*
 * tb_pdf_attach - append an attachment to a PDF in memory.
 *
 *   pdf     must have a classic cross-reference table, as cairo writes it; it grows
 *   name    of the file, printable ASCII without ( ) \
 *   media   "application/json"
 *   moment  for the description
 *   fails   TB_EFORMAT: another kind of PDF, or one with an attachment already
 */
tb_rc tb_pdf_attach(struct tb_text *pdf, const char *name, const char *media, const char *moment,
                    const void *data, size_t size, struct tb_err *err);
/*
 * tb_pdf_attached - read back what tb_pdf_attach appended.
 *
 *   out     the attachment; free it with tb_text_free
 *   pdf     n bytes from anywhere: nothing in them is trusted
 *   fails   TB_EFORMAT: no PDF, no attachment, damaged, or written by another program
 */
tb_rc tb_pdf_attached(struct tb_text *out, const char *pdf, size_t n, struct tb_err *err);

#endif
