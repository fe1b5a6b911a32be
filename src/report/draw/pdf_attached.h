/* pdf_attached.h - the data of a case found again in a PDF, whoever saved it last. Internal. */
#ifndef TENTERBOOK_REPORT_PDF_ATTACHED_H
#define TENTERBOOK_REPORT_PDF_ATTACHED_H

#include "tenterbook/base.h"

#define TB_PDF_ATTACHED_MOST (128u << 20) /* bytes of an attachment that is read back */

/*
 * tb_pdf_attached - the file embedded in a PDF that holds the data of a case, wherever in it that is.
 *
 *   out     the data as they were attached; free it with tb_text_free. Untouched on failure
 *   pdf     n bytes from anywhere: nothing in them is trusted. Call it in a process apart (apart.h), with tb_pdf_before
 *   fails   TB_EFORMAT: no PDF, a damaged one, no such data or those of two cases, or more of them than any case has; TB_EIO: the library
 *           that reads it is not on this machine
 */
tb_rc tb_pdf_attached(struct tb_text *out, const char *pdf, size_t n, struct tb_err *err);

/* tb_pdf_before - load the library, while files may still be opened. */
void tb_pdf_before(void);

#endif
