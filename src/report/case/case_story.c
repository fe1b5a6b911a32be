/*
 * case_story.c - everything about a lot, read back from the data of its case alone.
 *
 * The facts of the data become a book in memory, and are read through the same functions as a book on disk. So pages say
 * of a case what any command would say of the lot, and damage is found by the checks every book goes through.
 */
#include "report/case/case_impl.h"

#include "base/members.h"
#include "tenterbook/date.h"
#include "tenterbook/extract.h"
#include "tenterbook/limits.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <sodium.h>

/* Attachments of one record, with their bytes. */
static tb_rc add_photos(struct story *s, const char *subject, size_t *cap, struct tb_err *err)
{
    struct tb_attachment *a;
    size_t n;
    tb_rc rc = tb_attachment_list(&a, &n, s->book, subject, &s->mem, err);

    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        TB_PUSH_ROOM(s->photo, s->photos, *cap);
        s->photo[s->photos] = (struct tb_attachment){ 0 };
        rc = tb_attachment_load(&s->photo[s->photos], s->book, a[i].id, &s->mem, err);
        s->photos += rc == TB_OK;
    }
    return rc;
}

/* From the delivery to the single burn, in the order a reader meets them on the pages. */
static tb_rc load_photos(struct story *s, struct tb_err *err)
{
    size_t cap = 0;
    tb_rc rc = add_photos(s, s->of.lot.delivery, &cap, err);

    if (rc == TB_OK)
        rc = add_photos(s, s->of.lot.id, &cap, err);
    for (size_t i = 0; i < s->swatches && rc == TB_OK; i++)
        rc = add_photos(s, s->swatch[i].id, &cap, err);
    for (size_t i = 0; i < s->of.burns && rc == TB_OK; i++)
        rc = add_photos(s, s->of.burn[i].id, &cap, err);
    for (size_t i = 0; i < s->of.tests && rc == TB_OK; i++)
        rc = add_photos(s, s->of.test[i].id, &cap, err);
    return rc;
}

/* The answers of each analysis, taken apart once for the pages that tell them. */
static tb_rc read_answers(struct story *s, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    s->conform = tb_arena_alloc(&s->mem, (s->analyses + 1) * sizeof *s->conform);
    for (size_t i = 0; i < s->analyses && rc == TB_OK; i++)
        rc = tb_conformity_parse(&s->conform[i], s->analysis[i].detail, &s->mem, err);
    return rc;
}

static tb_rc load(struct story *s, const char *ref, struct tb_err *err)
{
    struct tb_book *b = s->book;
    struct tb_arena *mem = &s->mem;
    tb_rc rc = tb_lot_find(&s->of.lot, b, ref, mem, err);
    const char *id = s->of.lot.id;

    s->of.lot.own_words = tb_extract_own_words(json_object_get(s->data, "extract"));
    if (rc != TB_OK || (rc = tb_lot_story_lists(&s->of, b, mem, err)) != TB_OK ||
        (rc = tb_delivery_find(&s->delivery, b, s->of.lot.delivery_ref, mem, err)) != TB_OK ||
        (rc = tb_swatch_list(&s->swatch, &s->swatches, b, id, mem, err)) != TB_OK ||
        (rc = tb_analysis_list(&s->analysis, &s->analyses, b, id, mem, err)) != TB_OK ||
        (rc = tb_dispute_list(&s->dispute, &s->disputes, b, id, mem, err)) != TB_OK ||
        (rc = tb_bolt_use_list(&s->use, &s->uses, b, id, mem, err)) != TB_OK ||
        (rc = tb_moves_here(&s->move, &s->moves, b, id, mem, err)) != TB_OK)
        return rc;
    s->of.claim.use = s->use;
    s->of.claim.uses = s->uses;
    if ((rc = tb_said_of_lot(&s->said, b, id, mem, err)) != TB_OK)
        return rc;
    tb_laboratory_take(&s->laboratory, s->analysis, s->analyses, s->said.said);
    if ((rc = read_answers(s, err)) != TB_OK)
        return rc;
    return load_photos(s, err);
}

/* Of the text as it is attached, so that anybody can compute it from the file with common tools. */
static void digest(char out[65], const char *text)
{
    unsigned char sum[crypto_hash_sha256_BYTES];

    (void)crypto_hash_sha256(sum, (const unsigned char *)text, strlen(text));
    (void)sodium_bin2hex(out, 65, sum, sizeof sum);
}

static const char *text(struct tb_members *m, const json_t *o, const char *key)
{
    const char *s = tb_member_text(m, o, key);

    return s ? s : "";
}

/* Rows of other lots are there by their digest only. */
static void read_written(struct story *s, const json_t *journal, struct tb_members *m)
{
    const json_t *row;
    size_t i;

    json_array_foreach(journal, i, row)
    {
        if (json_object_get(row, "content"))
            tb_circumstances_add(&s->written, tb_member_whole(m, row, "number"), text(m, row, "at"),
                                 text(m, row, "person"), text(m, row, "content"), "");
    }
}

/* Whether the replies say the same is seen where the file is proved. */
static void read_stamps(struct story *s, const json_t *head, struct tb_members *m)
{
    const json_t *list;

    s->stamp = tb_member_list(m, head, "stamps", sizeof *s->stamp, &s->stamps, &list);
    for (size_t i = 0; i < s->stamps; i++) {
        const json_t *one = json_array_get(list, i);

        s->stamp[i].number = tb_member_whole(m, one, "number");
        (void)snprintf(s->stamp[i].at, sizeof s->stamp[i].at, "%s", text(m, one, "at"));
        (void)snprintf(s->stamp[i].by, sizeof s->stamp[i].by, "%s", text(m, one, "by"));
        (void)snprintf(s->stamp[i].serial, sizeof s->stamp[i].serial, "%s", text(m, one, "serial"));
    }
}

/* What the data say besides the records: who made the case, what is asked, the verdict, the end of the journal. */
static tb_rc read_head(struct story *s, const char **ref, struct tb_err *err)
{
    struct tb_members m = { &s->mem, err, TB_OK };
    const json_t *verdict = json_object_get(s->data, "verdict");
    const json_t *extract = json_object_get(s->data, "extract"), *last = json_object_get(extract, "head");
    const json_t *journal = json_object_get(extract, "journal");

    *ref = text(&m, s->data, "lot");
    s->made = text(&m, s->data, "made");
    s->by = text(&m, s->data, "by");
    s->program = text(&m, s->data, "program");
    s->drawn_with = text(&m, s->data, "drawn_with");
    s->asked = text(&m, s->data, "asked");
    s->answer_by = text(&m, s->data, "answer_by");
    if (!last) /* before there were trees */
        last = json_array_get(journal, json_array_size(journal) - 1);
    s->last_row = tb_member_whole(&m, last, "number");
    s->last_digest = text(&m, last, "digest");
    read_written(s, journal, &m);
    read_stamps(s, json_object_get(extract, "head"), &m);
    if (m.rc != TB_OK)
        return tb_within(err, m.rc, "the data of the case are damaged");
    if (!**ref || !tb_moment_valid(s->made))
        return tb_fail(err, TB_EFORMAT, "the data are not those of a case");
    s->judged_now = verdict && !json_is_null(verdict);
    if (s->judged_now && (m.rc = tb_stored_verdict_read(&s->verdict, verdict, &s->mem, err)) != TB_OK)
        return m.rc;
    return tb_catch_stored(&s->caught, &s->verdict, &s->mem, err);
}

/* Who made the case says so much at most, and asks so much; what goes onto a page takes time to set. */
#define WORD_MOST 1000u

static bool is_of_length(const json_t *data)
{
    static const struct {
        const char *key;
        size_t most;
    } text[] = { { "program", WORD_MOST },   { "made", WORD_MOST },     { "by", WORD_MOST },
                 { "lot", WORD_MOST },       { "asked", TB_SAID_MOST }, { "answer_by", WORD_MOST },
                 { "drawn_with", WORD_MOST } };

    for (size_t i = 0; i < TB_COUNT(text); i++)
        if (json_string_length(json_object_get(data, text[i].key)) > text[i].most)
            return false;
    return true;
}

/* These and no others, in every form; and the language of the pages in the form that has one. */
static bool is_of_members(const json_t *data, bool language)
{
    return json_unpack_ex((json_t *)data, NULL, JSON_VALIDATE_ONLY | JSON_STRICT,
                          language ? "{s:I, s:s, s:s, s:s, s:s, s:s, s:s, s:s, s:o, s:o, s:s}"
                                   : "{s:I, s:s, s:s, s:s, s:s, s:s, s:s, s:s, s:o, s:o}",
                          "tenterbook_case", "program", "made", "by", "lot", "asked", "answer_by",
                          "drawn_with", "verdict", "extract", "language") == 0;
}

/* The records of a file with a language are as those of one without. */
static int extract_form(int form)
{
    return form == TB_CASE_FORM_LANGUAGE           ? TB_CASE_FORM
           : form == TB_CASE_FORM_LANGUAGE_WITHOUT ? TB_EXTRACT_FORM_STAMPS
                                                   : form;
}

/* English is said by the form that has no language: the same pages have one form. */
static tb_rc read_language(struct story *s, struct tb_err *err)
{
    const char *word = json_string_value(json_object_get(s->data, "language"));
    int tongue = TB_ENGLISH;

    if (word && (!tb_word_find(&tongue, &tb_tongue_words, word) || tongue == TB_ENGLISH))
        return tb_fail(err, TB_EFORMAT,
                       "the data name '%s' as the language of the pages, and no case has that", word);
    s->tongue = (enum tb_tongue)tongue;
    return TB_OK;
}

/* By word and ratio: settings and known cloth may have come between the two. */
static bool is_attached(const struct story *s, const struct tb_judged *v)
{
    double now = s->verdict.log_ratio;
    bool ratio = isnan(now) ? isnan(v->log_ratio) : fabs(now - v->log_ratio) <= 1e-9 * (1 + fabs(now));

    return s->judged_now && s->verdict.kind == v->verdict && ratio;
}

/* The verdict that is told: the last one on the words of the supplier. On a label of ours they have nothing to answer. */
const struct tb_judged *tb_story_judged(const struct story *s)
{
    for (size_t i = s->of.judgeds; i > 0; i--)
        if (s->said.judged && strcmp(s->of.judged[i - 1].id, s->said.judged) == 0)
            return &s->of.judged[i - 1];
    return NULL;
}

/* What was kept without details, or cannot be read, has its word and its ratio, within the published bounds. */
static void read_recorded(struct story *s)
{
    const struct tb_judged *v = tb_story_judged(s);
    struct tb_told_verdict told;
    struct tb_err unread;

    if (!v)
        return;
    if (is_attached(s, v))
        s->recorded = s->verdict;
    else if (tb_stored_verdict_parse(&s->recorded, v->detail, &s->mem, &unread) != TB_OK)
        s->recorded = (struct tb_stored_verdict){
            .kind = v->verdict, .reason = "", .rule = "", .declared = "", .not_as_declared = NAN
        };
    tb_judged_told(&told, v);
    if (!s->recorded.grade)
        s->recorded.grade = told.grade;
    if (!(s->recorded.bounds.high > 0))
        s->recorded.bounds = told.bounds;
    s->recorded.log_ratio = v->log_ratio;
}

tb_rc tb_story_open(struct story *s, const json_t *data, struct tb_err *err)
{
    json_int_t said = json_integer_value(json_object_get(data, "tenterbook_case"));
    json_int_t keeps = said & TB_EXTRACT_KEEPS, form = said - keeps;
    const char *ref;
    char *text;
    tb_rc rc;

    *s = (struct story){ .data = data, .form = form };
    if (form < 1)
        return tb_fail(err, TB_EFORMAT, "the data are not those of a case");
    if (form > TB_CASE_FORM_LANGUAGE_WITHOUT)
        return tb_fail(err, TB_EFORMAT, "the case was made by a newer program; use that one");
    /* a file must not choose the weaker rule of an older form and call itself a new one, nor the other way about */
    if (!is_of_members(data, form >= TB_CASE_FORM_LANGUAGE))
        return tb_fail(err, TB_EFORMAT, "the data are not those of a case");
    if (!is_of_length(data))
        return tb_fail(err, TB_EFORMAT, "the data hold a longer text than a case has");
    if ((rc = read_language(s, err)) != TB_OK)
        return rc;
    if ((rc = tb_extract_shape(json_object_get(data, "extract"), extract_form((int)form) | (int)keeps,
                               err)) != TB_OK)
        return rc;
    text = tb_case_text(data);
    digest(s->sha256, text ? text : "");
    free(text);
    if ((rc = read_head(s, &ref, err)) == TB_OK &&
        (rc = tb_extract_book(&s->book, json_object_get(data, "extract"), err)) == TB_OK)
        rc = load(s, ref, err);
    if (rc == TB_OK)
        read_recorded(s);
    if (rc == TB_OK && strcmp(ref, s->of.lot.ref) != 0)
        rc = tb_fail(err, TB_EFORMAT, "the data are of lot %s, and say that they are of %s", s->of.lot.ref,
                     ref);
    if (rc != TB_OK)
        tb_story_close(s);
    return rc;
}

void tb_story_close(struct story *s)
{
    free(s->photo);
    tb_book_close(s->book);
    tb_arena_free(&s->mem);
    *s = (struct story){ 0 };
}

static bool looked_at(const struct story *s, const char *bolt)
{
    for (size_t k = 0; k < s->of.burns; k++)
        if (strcmp(s->of.burn[k].bolt_number, bolt) == 0)
            return true;
    for (size_t k = 0; k < s->of.tests; k++)
        if (strcmp(s->of.test[k].bolt_number, bolt) == 0)
            return true;
    return false;
}

/* A bolt counts once, however often it was burnt or tested. */
double tb_story_metres_looked_at(const struct story *s)
{
    double metres = 0;

    for (size_t i = 0; i < s->of.bolts; i++)
        if (looked_at(s, s->of.bolt[i].number) && !isnan(s->of.bolt[i].metres))
            metres += s->of.bolt[i].metres;
    return metres;
}

/* The key that counted for the last row is the latest the data tell; older programs told neither key nor signature. */
void tb_story_anchor(struct tb_text *out, const struct story *s)
{
    const json_t *head = json_object_get(json_object_get(s->data, "extract"), "head");
    const json_t *keys = json_object_get(head, "keys"),
                 *key = json_array_get(keys, json_array_size(keys) - 1);
    const char *signature = json_string_value(json_object_get(head, "signature")),
               *public = json_string_value(json_object_get(key, "public"));
    struct tb_anchor a = { .number = s->last_row };

    if (s->last_row < 1)
        return;
    (void)snprintf(a.site, sizeof a.site, "%s", tb_book_site(s->book)->code);
    (void)snprintf(a.digest, sizeof a.digest, "%s", s->last_digest);
    if (signature && *signature && public) {
        (void)snprintf(a.key, sizeof a.key, "%s", public);
        (void)snprintf(a.signature, sizeof a.signature, "%s", signature);
    }
    tb_anchor_line(out, &a);
}

void tb_story_stamp(struct tb_text *out, enum tb_tongue to, const struct tb_stamped *s)
{
    tb_text_addf(out, tb_tr(to, "journal row %lld and every row before it, by %s on %s, serial number %s"),
                 (long long)s->number, *s->by ? s->by : tb_tr(to, "an authority without a name"), s->at,
                 s->serial);
}
