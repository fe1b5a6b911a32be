/*
 * qpdf_load.h - the library that takes a PDF to pieces and puts it together again. Internal.
 *
 * It comes with eight others and takes milliseconds to load, so it is loaded where a PDF is written or read, and nowhere else.
 */
#ifndef TENTERBOOK_REPORT_QPDF_LOAD_H
#define TENTERBOOK_REPORT_QPDF_LOAD_H

#include "tenterbook/base.h"

#include <qpdf/qpdf-c.h>

/* Those of its functions that are used, by the names it gives them. */
#define TB_QPDF_FUNCTIONS(F)                                                                                 \
    F(get_qpdf_version)                                                                                      \
    F(init)                                                                                                  \
    F(cleanup)                                                                                               \
    F(silence_errors)                                                                                        \
    F(set_suppress_warnings)                                                                                 \
    F(has_error)                                                                                             \
    F(get_error)                                                                                             \
    F(get_error_full_text)                                                                                   \
    F(read_memory)                                                                                           \
    F(set_info_key)                                                                                          \
    F(get_info_key)                                                                                          \
    F(get_root)                                                                                              \
    F(get_trailer)                                                                                           \
    F(get_object_by_id)                                                                                      \
    F(make_indirect_object)                                                                                  \
    F(init_write_memory)                                                                                     \
    F(set_object_stream_mode)                                                                                \
    F(set_decode_level)                                                                                      \
    F(set_newline_before_endstream)                                                                          \
    F(set_deterministic_ID)                                                                                  \
    F(force_pdf_version)                                                                                     \
    F(write)                                                                                                 \
    F(get_buffer)                                                                                            \
    F(get_buffer_length)                                                                                     \
    F(oh_release_all)                                                                                        \
    F(oh_parse)                                                                                              \
    F(oh_get_key)                                                                                            \
    F(oh_has_key)                                                                                            \
    F(oh_replace_key)                                                                                        \
    F(oh_remove_key)                                                                                         \
    F(oh_is_stream)                                                                                          \
    F(oh_is_dictionary)                                                                                      \
    F(oh_is_name_and_equals)                                                                                 \
    F(oh_is_or_has_name)                                                                                     \
    F(oh_get_array_n_items)                                                                                  \
    F(oh_get_array_item)                                                                                     \
    F(oh_is_array)                                                                                           \
    F(oh_begin_dict_key_iter)                                                                                \
    F(oh_dict_more_keys)                                                                                     \
    F(oh_dict_next_key)                                                                                      \
    F(oh_unparse_resolved)                                                                                   \
    F(oh_get_value_as_number)                                                                                \
    F(get_num_pages)                                                                                         \
    F(get_page_n)                                                                                            \
    F(push_inherited_attributes_to_page)                                                                     \
    F(oh_get_stream_data)                                                                                    \
    F(oh_get_value_as_longlong)                                                                              \
    F(oh_get_value_as_int)                                                                                   \
    F(oh_get_dict)                                                                                           \
    F(oh_new_stream)                                                                                         \
    F(oh_new_null)                                                                                           \
    F(oh_new_name)                                                                                           \
    F(oh_new_integer)                                                                                        \
    F(oh_new_unicode_string)                                                                                 \
    F(oh_append_item)                                                                                        \
    F(oh_replace_stream_data)

#define TB_QPDF_MEMBER(name) __typeof__(&qpdf_##name) name;
struct tb_qpdf {
    TB_QPDF_FUNCTIONS(TB_QPDF_MEMBER)
};
#undef TB_QPDF_MEMBER

/*
 * tb_qpdf_load - the functions; the same each time, and loaded once.
 *   fails   TB_EIO: it is not on this machine; the sentence names the package
 */
tb_rc tb_qpdf_load(const struct tb_qpdf **out, struct tb_err *err);

/* tb_qpdf_version - "11.3.0", static; "none": it is not on this machine. */
const char *tb_qpdf_version(void);

#endif
