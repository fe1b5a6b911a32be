/*
 * pdf_compare.c - whether two PDF files draw their pages by the same steps.
 *
 * A program that saves a file anew numbers, packs and orders its objects as it likes. What a page draws is its content and all that this
 * refers to: so the two are followed side by side, and only what says how something is stored is passed over.
 */
#include "report/draw/pdf_compare.h"

#include "report/draw/pdf_attached.h"
#include "report/draw/qpdf_load.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define DEEP 24 /* a page refers to fonts and pictures, these to little more: what goes deeper was made to */

struct both {
    const struct tb_qpdf *q;
    qpdf_data a, b;
};

static bool same(struct both *t, qpdf_oh a, qpdf_oh b, int depth);

/* How it is packed, and where it stands in the file, in the tree of pages or of tags. */
static bool is_passed_over(const char *key)
{
    static const char *const stored[] = { "/Length",        "/Filter", "/DecodeParms",  "/Parent",  "/Type",
                                          "/StructParents", "/DL",     "/StructParent", "/Metadata" };

    for (size_t i = 0; i < TB_COUNT(stored); i++)
        if (strcmp(key, stored[i]) == 0)
            return true;
    return false;
}

/* Every key of one is in the other; the names are copied, since the library keeps only one walk at a time. */
static bool same_keys(struct both *t, qpdf_oh a, qpdf_oh b, bool back, int depth)
{
    const struct tb_qpdf *q = t->q;
    qpdf_data d = back ? t->b : t->a;
    struct tb_text keys = { 0 };
    bool good = true;

    q->oh_begin_dict_key_iter(d, back ? b : a);
    while (q->oh_dict_more_keys(d)) {
        tb_text_add(&keys, q->oh_dict_next_key(d));
        tb_text_addc(&keys, '\0');
    }
    for (const char *key = keys.s; good && key && key < keys.s + keys.n; key += strlen(key) + 1)
        if (!is_passed_over(key))
            good = back ? q->oh_has_key(t->a, a, key)
                        : same(t, q->oh_get_key(t->a, a, key), q->oh_get_key(t->b, b, key), depth);
    tb_text_free(&keys);
    return good;
}

static bool same_dictionary(struct both *t, qpdf_oh a, qpdf_oh b, int depth)
{
    return same_keys(t, a, b, false, depth) && same_keys(t, a, b, true, depth);
}

static bool same_list(struct both *t, qpdf_oh a, qpdf_oh b, int depth)
{
    int n = t->q->oh_get_array_n_items(t->a, a);

    if (n != t->q->oh_get_array_n_items(t->b, b))
        return false;
    for (int i = 0; i < n; i++)
        if (!same(t, t->q->oh_get_array_item(t->a, a, i), t->q->oh_get_array_item(t->b, b, i), depth))
            return false;
    return true;
}

static bool same_stream(struct both *t, qpdf_oh a, qpdf_oh b, int depth)
{
    const struct tb_qpdf *q = t->q;
    unsigned char *x = NULL, *y = NULL;
    size_t n = 0, m = 0;
    bool good = same_dictionary(t, q->oh_get_dict(t->a, a), q->oh_get_dict(t->b, b), depth) &&
                q->oh_get_stream_data(t->a, a, qpdf_dl_generalized, NULL, &x, &n) < QPDF_ERRORS &&
                q->oh_get_stream_data(t->b, b, qpdf_dl_generalized, NULL, &y, &m) < QPDF_ERRORS && n == m &&
                (n == 0 || memcmp(x, y, n) == 0);

    free(x);
    free(y);
    return good;
}

/* Numbers may be written in several ways, 0.50 and .5; all else in one. */
static bool same_value(struct both *t, qpdf_oh a, qpdf_oh b)
{
    const struct tb_qpdf *q = t->q;
    double x, y;
    char *one;
    bool good;

    if (q->oh_get_value_as_number(t->a, a, &x))
        return q->oh_get_value_as_number(t->b, b, &y) && fabs(x - y) < 1e-6;
    one = tb_strdup(q->oh_unparse_resolved(t->a, a));
    good = strcmp(one, q->oh_unparse_resolved(t->b, b)) == 0;
    free(one);
    return good;
}

static bool same(struct both *t, qpdf_oh a, qpdf_oh b, int depth)
{
    const struct tb_qpdf *q = t->q;

    if (depth > DEEP)
        return false;
    if (q->oh_is_stream(t->a, a))
        return q->oh_is_stream(t->b, b) && same_stream(t, a, b, depth + 1);
    if (q->oh_is_dictionary(t->a, a))
        return q->oh_is_dictionary(t->b, b) && same_dictionary(t, a, b, depth + 1);
    if (q->oh_is_array(t->a, a))
        return q->oh_is_array(t->b, b) && same_list(t, a, b, depth + 1);
    return !q->oh_is_stream(t->b, b) && !q->oh_is_dictionary(t->b, b) && !q->oh_is_array(t->b, b) &&
           same_value(t, a, b);
}

static tb_rc read_pdf(qpdf_data *d, const struct tb_qpdf *q, const char *pdf, size_t n, struct tb_err *err)
{
    *d = q->init();
    q->silence_errors(*d);
    q->set_suppress_warnings(*d, QPDF_TRUE);
    if (q->read_memory(*d, "pages", pdf, n, NULL) < QPDF_ERRORS &&
        q->push_inherited_attributes_to_page(*d) < QPDF_ERRORS)
        return TB_OK;
    return tb_fail(err, TB_EFORMAT, "this PDF is damaged: it cannot be taken to pieces");
}

static bool same_pages(struct both *t)
{
    int n = t->q->get_num_pages(t->a);
    bool good = n > 0 && n == t->q->get_num_pages(t->b);

    for (int i = 0; good && i < n; i++) {
        good = same(t, t->q->get_page_n(t->a, (size_t)i), t->q->get_page_n(t->b, (size_t)i), 0);
        t->q->oh_release_all(t->a);
        t->q->oh_release_all(t->b);
    }
    return good;
}

/* Are the pages drawn by the same steps? */
static tb_rc same_steps(bool *out, const struct pdf_pair *pair, struct tb_err *err)
{
    struct both t = { 0 };
    tb_rc rc = tb_qpdf_load(&t.q, err);

    *out = false;
    if (rc != TB_OK)
        return rc;
    if ((rc = read_pdf(&t.a, t.q, pair->file, pair->file_n, err)) == TB_OK &&
        (rc = read_pdf(&t.b, t.q, pair->made, pair->made_n, err)) == TB_OK)
        *out = same_pages(&t);
    t.q->cleanup(&t.a);
    if (t.b)
        t.q->cleanup(&t.b);
    return rc;
}

void tb_pdf_compare_before(void)
{
    tb_pdf_before();
    tb_pdf_look_before();
}

tb_rc tb_pdf_compare(enum pdf_likeness *out, int *page, const struct pdf_pair *pair, struct tb_err *err)
{
    bool steps;
    tb_rc rc = same_steps(&steps, pair, err);

    *out = PDF_SAME_PAGES;
    return rc == TB_OK && !steps ? tb_pdf_same_look(out, page, pair, err) : rc;
}
