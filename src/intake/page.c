/*
 * page.c - which code page a text is in: the one in which words of headers, fibres and totals stand in it.
 *
 * Exact letters count here: folding would make the right page and a wrong one look the same.
 */
#include "intake/page.h"

#include "base/infile.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define SAMPLE_MOST (1u << 20) /* bytes looked at */

/* Whole lines only, so that no character is cut; a file without any is looked at as it is. */
static tb_rc take_sample(struct tb_text *out, const char *path, struct tb_err *err)
{
    FILE *f;
    char buf[65536];
    size_t n;
    tb_rc rc = tb_in_open(&f, NULL, path, TB_SHEET_FILE_MOST, err);

    if (rc != TB_OK)
        return rc;
    while (out->n < SAMPLE_MOST && (n = fread(buf, 1, sizeof buf, f)) > 0)
        tb_text_addn(out, buf, n);
    (void)fclose(f);
    n = out->n;
    while (out->n >= SAMPLE_MOST && n && out->s[n - 1] != '\n')
        n--;
    out->n = n ? n : out->n;
    return TB_OK;
}

/* Zero bytes are in no text but UTF-16. */
static size_t gather(struct tb_candidate *c, const struct tb_text *sample)
{
    size_t pages, n = 0;
    const struct tb_code_page *page = tb_code_pages(&pages);
    bool utf16 = memchr(sample->s, '\0', sample->n) != NULL;

    for (size_t i = 0; i < pages; i++) {
        c[n] = (struct tb_candidate){ .page = &page[i] };
        if ((utf16 ? strncmp(page[i].name, "UTF-16", 6) == 0 : page[i].tried) &&
            tb_code_page_convert(&c[n].text, &page[i], sample->s, utf16 ? sample->n & ~(size_t)1 : sample->n))
            n++;
        else
            tb_text_free(&c[n].text);
    }
    return n;
}

static void drop(struct tb_candidate *c, size_t *n, size_t i)
{
    tb_text_free(&c[i].text);
    memmove(c + i, c + i + 1, (--*n - i) * sizeof *c);
}

/* Those in which words are written as nobody writes them; in Chinese text a letter may stand beside a sign. */
static void drop_odd(struct tb_candidate *c, size_t *n)
{
    for (size_t i = *n; i > 0; i--)
        if (c[i - 1].page->wide ? c[i - 1].odd * 2 > c[i - 1].runs : c[i - 1].odd > 0)
            drop(c, n, i - 1);
}

/* Those with less of something than the most that one has. */
static void keep_most(struct tb_candidate *c, size_t *n, bool native)
{
    size_t most = 0;

    for (size_t i = 0; i < *n; i++)
        most = (native ? c[i].native : c[i].words) > most ? (native ? c[i].native : c[i].words) : most;
    for (size_t i = *n; i > 0; i--)
        if ((native ? c[i - 1].native : c[i - 1].words) < most)
            drop(c, n, i - 1);
}

/* Pages in which the text is the same are one: nothing depends on which it is. */
static void drop_same(struct tb_candidate *c, size_t *n)
{
    for (size_t i = *n; i > 1; i--)
        for (size_t k = 0; k < i - 1; k++)
            if (c[k].text.n == c[i - 1].text.n && memcmp(c[k].text.s, c[i - 1].text.s, c[k].text.n) == 0) {
                drop(c, n, i - 1);
                break;
            }
}

/* Nothing speaks for any of them but the letters' frequencies: what Western lists in English are. */
static bool is_western(const struct tb_candidate *c, size_t n, const struct tb_code_page *hint)
{
    return n && c[0].words == 0 && strcmp(c[0].page->name, TB_SHEET_WESTERN) == 0 &&
           (n == 1 || (hint && strcmp(hint->name, TB_SHEET_WESTERN) == 0));
}

/* Is the first of them, alone or not, what the words say? */
static bool is_clear(const struct tb_candidate *c, size_t n)
{
    return n == 1 && c[0].words >= (c[0].page->wide ? 2 : 1);
}

/* The first word that the two read differently, of either. */
static const char *differing(struct tb_list_store *s, const struct tb_text *of, const struct tb_text *from)
{
    size_t at = 0, end;

    while (at < of->n && at < from->n && of->s[at] == from->s[at])
        at++;
    while (at && (unsigned char)of->s[at - 1] > ' ' && !strchr(",;\"", of->s[at - 1]))
        at--;
    for (end = at; end < of->n && (unsigned char)of->s[end] > ' ' && !strchr(",;\"", of->s[end]);)
        end++;
    return tb_store_brief(s, tb_store_intern(s, of->s + at, end - at));
}

/* The likely one first: what the frequencies speak for, else the page whose languages the list speaks. */
static void ask(struct tb_list_reader *r, struct tb_candidate *c, size_t n, const struct tb_code_page *hint)
{
    struct tb_list_store *s = r->list->store;
    struct tb_question *q;
    struct tb_candidate first;

    for (size_t i = 1; i < n; i++)
        if (c[i].page == hint) {
            first = c[i];
            memmove(c + 1, c, i * sizeof *c);
            c[0] = first;
        }
    if (n == 1)
        q = tb_list_ask(r->list, 0, "the file is not UTF-8; it may be %s text; say --encoding %s if it is",
                        c[0].page->name, c[0].page->name);
    else
        q = tb_list_ask(r->list, 0,
                        "the file is not UTF-8; as %s it reads '%s', as %s '%s'; say --encoding %s or "
                        "--encoding %s",
                        c[0].page->name, differing(s, &c[0].text, &c[1].text), c[1].page->name,
                        differing(s, &c[1].text, &c[0].text), c[0].page->name, c[1].page->name);
    for (size_t i = 0; i < n; i++)
        tb_list_answer(r->list, q, "encoding", c[i].page->name);
}

/* Words decide; then the languages of all words; and where still two pages read two texts, a person. */
static tb_rc choose(struct tb_list_reader *r, struct tb_candidate *c, size_t *n, const struct tb_text *sample,
                    struct tb_err *err)
{
    const struct tb_code_page *hint = tb_code_page_hint(sample->s, sample->n);

    drop_odd(c, n);
    keep_most(c, n, false);
    drop_same(c, n);
    if (!is_clear(c, *n) && !is_western(c, *n, hint))
        keep_most(c, n, true);
    if (*n == 0)
        return tb_fail(err, TB_EINVAL,
                       "this is not text in any code page that is known here; save it as UTF-8 and receive "
                       "that, or say --encoding NAME");
    if (!is_clear(c, *n) && !is_western(c, *n, hint) && !(*n == 1 && c[0].native > 1))
        ask(r, c, *n, hint);
    r->encoding = c[0].page->name;
    return TB_OK;
}

tb_rc tb_page_choose(struct tb_list_reader *r, const char *path, struct tb_err *err)
{
    struct tb_text sample = { 0 };
    struct tb_candidate *c = NULL;
    size_t n = 0, pages;
    tb_rc rc = take_sample(&sample, path, err);

    if (rc == TB_OK) {
        (void)tb_code_pages(&pages);
        c = tb_array(struct tb_candidate, pages);
        n = gather(c, &sample);
        tb_page_weigh(c, n);
        rc = choose(r, c, &n, &sample, err);
    }
    for (size_t i = 0; i < n; i++)
        tb_text_free(&c[i].text);
    free(c);
    tb_text_free(&sample);
    return rc;
}
