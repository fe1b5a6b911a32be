/*
 * pdf_archive.c - what cairo leaves out of a file that is to be read in thirty years (ISO 19005-3:2012): what it says of itself
 * in XMP (6.6), what its colours mean (6.2.3), an identifier (6.1.3), and files that go with it (6.8).
 */
#include "report/draw/pdf_archive.h"

#include "report/draw/icc.h"
#include "report/draw/qpdf_load.h"
#include "tenterbook/date.h"

#include <stdlib.h>
#include <string.h>

/* One PDF in the hands of the library. */
struct archive {
    const struct tb_qpdf *q;
    qpdf_data d;
    qpdf_oh root;
    const struct pdf_archive *how;
    size_t figures; /* that were told so far */
};

/* The library says nothing a person could act on: its words go to the log. */
static tb_rc failed(struct archive *a, struct tb_err *err)
{
    if (!a->q->has_error(a->d))
        return TB_OK;
    (void)tb_fail(err, TB_EIO, "the PDF cannot be finished");
    tb_detail(err, "qpdf: %s", a->q->get_error_full_text(a->d, a->q->get_error(a->d)));
    return TB_EIO;
}

static qpdf_oh parse(struct archive *a, const char *text)
{
    return a->q->oh_parse(a->d, text);
}

/* A stream of its own with these entries in its dictionary; it is packed as it is written, unless it is metadata. */
static qpdf_oh stream(struct archive *a, const char *entries, const void *data, size_t n)
{
    const struct tb_qpdf *q = a->q;
    qpdf_oh s = q->oh_new_stream(a->d), from = parse(a, entries), dict = q->oh_get_dict(a->d, s);
    static const char *const key[] = { "/Type", "/Subtype", "/N", "/Params" };

    q->oh_replace_stream_data(a->d, s, data, n, q->oh_new_null(a->d), q->oh_new_null(a->d));
    for (size_t i = 0; i < TB_COUNT(key); i++)
        if (q->oh_has_key(a->d, from, key[i]))
            q->oh_replace_key(a->d, dict, key[i], q->oh_get_key(a->d, from, key[i]));
    return s;
}

/* "D:20261026073320Z"; of a day alone, its beginning. */
static void pdf_date(struct tb_text *t, const char *moment)
{
    tb_text_add(t, "D:");
    for (const char *c = moment; *c; c++)
        if (*c >= '0' && *c <= '9')
            tb_text_addc(t, *c);
    tb_text_add(t, strlen(moment) > TB_DAY_LEN ? "Z" : "000000Z");
}

/* --- what it says of itself ------------------------------------------------------------------------------------- */

static void add_escaped(struct tb_text *t, const char *s)
{
    for (; *s; s++) {
        if (*s == '&')
            tb_text_add(t, "&amp;");
        else if (*s == '<')
            tb_text_add(t, "&lt;");
        else if (*s == '>')
            tb_text_add(t, "&gt;");
        else if ((unsigned char)*s >= ' ') /* no others are letters of XML */
            tb_text_addc(t, *s);
    }
}

static const char *language(const struct archive *a)
{
    return a->how->language ? a->how->language : "en";
}

/* Those of Info are said again (6.6): a title, who made it and when. A program that finds the two apart trusts neither. */
static void metadata(struct archive *a)
{
    const char *producer = a->q->get_info_key(a->d, "/Producer");
    struct tb_text x = { 0 };

    tb_text_add(&x,
                "<?xpacket begin=\"\xEF\xBB\xBF\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n"
                "<x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\n"
                "<rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n"
                "<rdf:Description rdf:about=\"\" xmlns:pdfaid=\"http://www.aiim.org/pdfa/ns/id/\"\n"
                " xmlns:dc=\"http://purl.org/dc/elements/1.1/\" xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\"\n"
                " xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\">\n"
                "<pdfaid:part>3</pdfaid:part>\n<pdfaid:conformance>U</pdfaid:conformance>\n"
                "<dc:format>application/pdf</dc:format>\n"
                "<dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">");
    add_escaped(&x, a->how->title);
    tb_text_add(&x, "</rdf:li></rdf:Alt></dc:title>\n<dc:language><rdf:Bag><rdf:li>");
    add_escaped(&x, language(a));
    tb_text_add(&x, "</rdf:li></rdf:Bag></dc:language>\n<xmp:CreateDate>");
    add_escaped(&x, a->how->created);
    tb_text_add(&x, "</xmp:CreateDate>\n<xmp:CreatorTool>Tenterbook " TB_VERSION "</xmp:CreatorTool>\n");
    if (producer) {
        tb_text_add(&x, "<pdf:Producer>");
        add_escaped(&x, producer);
        tb_text_add(&x, "</pdf:Producer>\n");
    }
    tb_text_add(&x, "</rdf:Description>\n</rdf:RDF>\n</x:xmpmeta>\n<?xpacket end=\"r\"?>\n");
    a->q->oh_replace_key(a->d, a->root, "/Metadata",
                         stream(a, "<< /Type /Metadata /Subtype /XML >>", x.s, x.n));
    tb_text_free(&x);
}

/* Which red the red is: without it no printer need know. */
static void colours(struct archive *a)
{
    const struct tb_qpdf *q = a->q;
    qpdf_oh intent = parse(a, "<< /Type /OutputIntent /S /GTS_PDFA1 /OutputConditionIdentifier (sRGB) "
                              "/RegistryName (http://www.color.org) /Info (sRGB, IEC 61966-2-1) >>"),
            all = parse(a, "[ ]");
    struct tb_text icc = { 0 };

    tb_icc_srgb(&icc);
    q->oh_replace_key(a->d, intent, "/DestOutputProfile", stream(a, "<< /N 3 >>", icc.s, icc.n));
    q->oh_append_item(a->d, all, intent);
    q->oh_replace_key(a->d, a->root, "/OutputIntents", all);
    tb_text_free(&icc);
}

/* --- what goes with it ------------------------------------------------------------------------------------------ */

static qpdf_oh embedded(struct archive *a)
{
    const struct pdf_attached *file = a->how->attached;
    struct tb_text name = { 0 }, entries = { 0 };
    qpdf_oh s;

    tb_text_add(&entries, "<< /Type /EmbeddedFile /Params << /ModDate (");
    pdf_date(&entries, a->how->created);
    tb_text_addf(&entries, ") /Size %zu >> >>", file->size);
    s = stream(a, entries.s, file->data, file->size);
    tb_text_addf(&name, "/%s", file->media);
    a->q->oh_replace_key(a->d, a->q->oh_get_dict(a->d, s), "/Subtype", a->q->oh_new_name(a->d, name.s));
    tb_text_free(&name);
    tb_text_free(&entries);
    return s;
}

static void attach(struct archive *a)
{
    const struct pdf_attached *file = a->how->attached;
    const struct tb_qpdf *q = a->q;
    qpdf_oh spec = parse(a, "<< /Type /Filespec /AFRelationship /Data >>"), ef = parse(a, "<< >>"),
            names = parse(a, "[ ]"), tree = parse(a, "<< >>"), all = parse(a, "<< >>"), af = parse(a, "[ ]");
    qpdf_oh bytes = embedded(a), name = q->oh_new_unicode_string(a->d, file->name);

    q->oh_replace_key(a->d, ef, "/F", bytes);
    q->oh_replace_key(a->d, ef, "/UF", bytes);
    q->oh_replace_key(a->d, spec, "/EF", ef);
    q->oh_replace_key(a->d, spec, "/F", name);
    q->oh_replace_key(a->d, spec, "/UF", name);
    q->oh_replace_key(a->d, spec, "/Desc", q->oh_new_unicode_string(a->d, file->about));
    spec = q->make_indirect_object(a->d, spec);
    q->oh_append_item(a->d, names, name);
    q->oh_append_item(a->d, names, spec);
    q->oh_replace_key(a->d, tree, "/Names", names);
    q->oh_replace_key(a->d, all, "/EmbeddedFiles", tree);
    q->oh_append_item(a->d, af, spec);
    q->oh_replace_key(a->d, a->root, "/Names", all);
    q->oh_replace_key(a->d, a->root, "/AF", af);
}

/* --- the pages -------------------------------------------------------------------------------------------------- */

/*
 * What cairo writes otherwise: pictures are not to be smoothed by whoever shows them (6.2.8), and of a font whose letters have numbers
 * it is said that these are the numbers of its shapes (6.2.11.3.2).
 */
static void mend(struct archive *a)
{
    const struct tb_qpdf *q = a->q;
    int objects = 0;

    (void)q->oh_get_value_as_int(a->d, q->oh_get_key(a->d, q->get_trailer(a->d), "/Size"), &objects);
    for (int i = 1; i < objects; i++) {
        qpdf_oh o = q->get_object_by_id(a->d, i, 0);

        if (q->oh_is_stream(a->d, o) && q->oh_has_key(a->d, q->oh_get_dict(a->d, o), "/Interpolate"))
            q->oh_remove_key(a->d, q->oh_get_dict(a->d, o), "/Interpolate");
        else if (q->oh_is_dictionary(a->d, o) && q->oh_has_key(a->d, o, "/CIDSystemInfo"))
            q->oh_replace_key(a->d, o, "/CIDToGIDMap", q->oh_new_name(a->d, "/Identity"));
    }
}

/* All tags are those of one document (ISO 32000-1, 14.8.4.2); of what was drawn as several, each is a part of it. */
static void one_document(struct archive *a, qpdf_oh tree)
{
    const struct tb_qpdf *q = a->q;
    qpdf_oh was = q->oh_get_key(a->d, tree, "/K"), all = parse(a, "[ ]"),
            document = q->make_indirect_object(a->d, parse(a, "<< /Type /StructElem /S /Document >>"));
    int n = q->oh_is_array(a->d, was) ? q->oh_get_array_n_items(a->d, was) : 1;

    for (int i = 0; i < n; i++) {
        qpdf_oh one = q->oh_is_array(a->d, was) ? q->oh_get_array_item(a->d, was, i) : was;

        if (q->oh_is_name_and_equals(a->d, q->oh_get_key(a->d, one, "/S"), "/Document")) {
            if (n == 1)
                return;
            q->oh_replace_key(a->d, one, "/S", q->oh_new_name(a->d, "/Part"));
        }
        q->oh_replace_key(a->d, one, "/P", document);
        q->oh_append_item(a->d, all, one);
    }
    q->oh_replace_key(a->d, document, "/P", tree);
    q->oh_replace_key(a->d, document, "/K", all);
    q->oh_replace_key(a->d, tree, "/K", document);
}

/* Each Figure below an element of the tree gets its words (ISO 32000-1, 14.9.3): the elements stand in the order they were drawn. */
static void tell_figures(struct archive *a, qpdf_oh of)
{
    const struct tb_qpdf *q = a->q;
    qpdf_oh below = q->oh_get_key(a->d, of, "/K");
    int n = q->oh_is_array(a->d, below) ? q->oh_get_array_n_items(a->d, below) : 1;

    if (q->oh_is_name_and_equals(a->d, q->oh_get_key(a->d, of, "/S"), "/Figure") &&
        a->figures < a->how->figures)
        q->oh_replace_key(a->d, of, "/Alt",
                          q->oh_new_unicode_string(a->d, tb_text_str(&a->how->figure[a->figures++])));
    for (int i = 0; i < n; i++) {
        qpdf_oh one = q->oh_is_array(a->d, below) ? q->oh_get_array_item(a->d, below, i) : below;

        if (q->oh_is_dictionary(a->d, one) && q->oh_has_key(a->d, one, "/S")) /* others are content */
            tell_figures(a, one);
    }
}

static void describe(struct archive *a)
{
    const struct tb_qpdf *q = a->q;
    struct tb_text date = { 0 };

    pdf_date(&date, a->how->created);
    q->set_info_key(a->d, "/CreationDate", date.s); /* without the D: of ISO 32000-1, 7.9.4, as it was */
    tb_text_free(&date);
    if (q->oh_has_key(a->d, a->root, "/StructTreeRoot")) {
        q->oh_replace_key(a->d, a->root, "/MarkInfo", parse(a, "<< /Marked true >>"));
        one_document(a, q->oh_get_key(a->d, a->root, "/StructTreeRoot"));
        tell_figures(a, q->oh_get_key(a->d, a->root, "/StructTreeRoot"));
    }
    q->oh_replace_key(a->d, a->root, "/Lang", q->oh_new_unicode_string(a->d, language(a)));
    q->oh_replace_key(a->d, a->root, "/ViewerPreferences", parse(a, "<< /DisplayDocTitle true >>"));
}

/* Streams keep the packing they have, an end of line stands before each endstream (6.1.7), and the identifier is a digest. */
static tb_rc write(struct tb_text *pdf, struct archive *a, struct tb_err *err)
{
    const struct tb_qpdf *q = a->q;

    (void)q->init_write_memory(a->d);
    q->set_object_stream_mode(a->d, qpdf_o_disable);
    q->set_decode_level(a->d, qpdf_dl_none);
    q->set_newline_before_endstream(a->d, QPDF_TRUE);
    q->set_deterministic_ID(a->d, QPDF_TRUE);
    q->force_pdf_version(a->d, "1.7");
    (void)q->write(a->d);
    if (failed(a, err) != TB_OK)
        return TB_EIO;
    tb_text_clear(pdf);
    tb_text_addn(pdf, (const char *)q->get_buffer(a->d), q->get_buffer_length(a->d));
    return TB_OK;
}

tb_rc tb_pdf_archive(struct tb_text *pdf, const struct pdf_archive *how, struct tb_err *err)
{
    struct archive a = { .how = how };
    tb_rc rc = tb_qpdf_load(&a.q, err);

    if (rc != TB_OK)
        return rc;
    a.d = a.q->init();
    a.q->silence_errors(a.d);
    a.q->set_suppress_warnings(a.d, QPDF_TRUE);
    (void)a.q->read_memory(a.d, "pages", pdf->s, pdf->n, NULL);
    if ((rc = failed(&a, err)) == TB_OK) {
        a.root = a.q->get_root(a.d);
        describe(&a);
        metadata(&a);
        colours(&a);
        if (how->attached)
            attach(&a);
        mend(&a);
        if ((rc = failed(&a, err)) == TB_OK)
            rc = write(pdf, &a, err);
    }
    a.q->cleanup(&a.d);
    return rc;
}
