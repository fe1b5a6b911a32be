/* Names: words of a label out of a saved copy of the law, kept as settings of the site. */
#include "tenterbook/names.h"

#include "base/apart.h"
#include "base/infile.h"
#include "tenterbook/setting.h"
#include "tenterbook/utf8.h"
#include "work/act.h"

#include <stdlib.h>
#include <string.h>

/* --- reading ----------------------------------------------------------------------------------------------------- */

struct reading {
    struct tb_text bytes;
    struct tb_law_copy copy; /* in the parent */
};
struct seen_head {
    int32_t quoted, number, place;
    uint32_t n;
};

static tb_rc in_child(struct tb_apart *to, void *arg, struct tb_err *err)
{
    const struct reading *r = arg;
    struct tb_law_copy copy;
    struct tb_text part = { 0 };

    (void)err;
    tb_law_copy_read(&copy, tb_text_str(&r->bytes), r->bytes.n);
    for (size_t i = 0; i < copy.n; i++) {
        const struct tb_law_seen *s = &copy.seen[i];
        const struct seen_head head = { s->quoted, s->number, s->place, (uint32_t)strlen(s->text) };

        tb_text_clear(&part);
        tb_piece_add(&part, &head, sizeof head);
        tb_piece_add(&part, s->text, head.n);
        tb_apart_send(to, part.s, part.n);
    }
    tb_text_free(&part);
    tb_law_copy_free(&copy);
    return TB_OK;
}

static bool is_text(const char *s, size_t n)
{
    if (n == 0 || n > TB_LAW_TEXT_MOST || memchr(s, '\0', n) || !tb_utf8_valid(s, n))
        return false;
    for (size_t at = 0; at < n;) {
        unsigned cp;

        at += tb_utf8_next(s + at, n - at, &cp);
        if (tb_utf8_control(cp))
            return false;
    }
    return true;
}

static tb_rc take(void *arg, const unsigned char *part, size_t n, bool *yes, struct tb_err *err)
{
    struct reading *r = arg;
    struct tb_piece p = { part, n };
    struct seen_head head;
    const char *text;

    (void)yes;
    if (!tb_piece_take(&p, &head, sizeof head) || head.number < 1 || head.number > 99 || head.place < 0 ||
        head.place > TB_LAW_SEEN_MOST || !(text = tb_piece_bytes(&p, head.n)) || p.left ||
        !is_text(text, head.n) || r->copy.n == TB_LAW_SEEN_MOST)
        return tb_fail(err, TB_EFORMAT,
                       "what was read of the file is no table of names; it is damaged or hostile");
    tb_law_copy_add(&r->copy, &(struct tb_law_seen){ .quoted = head.quoted != 0,
                                                     .number = head.number,
                                                     .place = head.place,
                                                     .text = tb_arena_strndup(&r->copy.mem, text, head.n) });
    return TB_OK;
}

/* The digest is that of the bytes that were read: a file that changes in between is not taken. */
static tb_rc read_copy(struct reading *r, struct tb_names *out, const char *path, struct tb_err *err)
{
    const struct tb_apart_job job = { .read = in_child, .take = take, .arg = r, .file = -1 };
    char after[TB_DIGEST_LEN + 1];
    tb_rc rc = tb_file_digest(out->digest, path, err);

    if (rc != TB_OK || (rc = tb_in_whole(&r->bytes, path, TB_LAW_COPY_MOST, err)) != TB_OK ||
        (rc = tb_file_digest(after, path, err)) != TB_OK)
        return rc;
    if (strcmp(out->digest, after) != 0)
        return tb_fail(err, TB_EFORMAT, "the file changed while it was read; try again");
    if (!tb_utf8_valid(tb_text_str(&r->bytes), r->bytes.n))
        return tb_fail(
            err, TB_EFORMAT,
            "the copy is not in UTF-8, so that letters of its names would be lost: save the page as UTF-8");
    return tb_apart(&job, err);
}

tb_rc tb_names_read(struct tb_names *out, const char *market, const char *lang, const char *path,
                    struct tb_arena *mem, struct tb_err *err)
{
    struct reading r = { 0 };
    tb_rc rc;

    *out = (struct tb_names){ .market = market, .lang = lang };
    rc = read_copy(&r, out, path, err);
    if (rc == TB_OK)
        rc = tb_law_copy_words(&out->word, &out->words, &r.copy, market, lang, mem, err);
    tb_text_free(&r.bytes);
    tb_law_copy_free(&r.copy);
    return rc;
}

/* --- keeping ----------------------------------------------------------------------------------------------------- */

struct keeping {
    char *prefix;           /* "name:eu:pl:" */
    const char **name;      /* of the setting; NULL: not taken over */
    struct tb_setting *old; /* what was kept before */
    size_t olds;
};

static bool left_out(const struct tb_names_request *r, const struct tb_law_word *word)
{
    for (size_t i = 0; i < r->withouts; i++)
        if (!word->phrase && r->without[i] == word->number)
            return true;
    return false;
}

/* A row that the copy has not cannot be left out: the number is mistyped. */
static tb_rc check_withouts(const struct tb_names_request *r, struct tb_err *err)
{
    for (size_t i = 0; i < r->withouts; i++) {
        size_t at = 0;

        while (at < r->names->words &&
               (r->names->word[at].phrase || r->names->word[at].number != r->without[i]))
            at++;
        if (at == r->names->words)
            return tb_about(err, tb_fail(err, TB_EINVAL, "the copy gives no name in row %d", r->without[i]),
                            "without");
    }
    return TB_OK;
}

/* A second word for the same fibre or phrase has a number behind its key: "name:eu:pl:nylon:2". */
static void name_settings(struct keeping *k, const struct tb_names_request *r, struct tb_arena *mem)
{
    const struct tb_names *names = r->names;

    k->name = tb_arena_alloc(mem, (names->words + 1) * sizeof *k->name);
    for (size_t i = 0; i < names->words; i++) {
        size_t before = 1;

        for (size_t n = 0; n < i; n++)
            before += strcmp(names->word[n].key, names->word[i].key) == 0;
        k->name[i] = left_out(r, &names->word[i]) ? NULL
                     : before == 1 ? tb_arena_printf(mem, "%s%s", k->prefix, names->word[i].key)
                                   : tb_arena_printf(mem, "%s%s:%zu", k->prefix, names->word[i].key, before);
    }
}

static const char *fibre(const struct tb_law_word *word)
{
    return tb_fibre_at(tb_fibre_by_key(word->key))->name;
}

/* The other fibre has the word too, and not only from memory: one of the two rows is not what it should be. */
static bool clashes(const struct keeping *k, const struct tb_names *names, size_t i)
{
    const struct tb_law_word *word = &names->word[i];

    if (!k->name[i] || !word->other)
        return false;
    if (word->other_seen)
        return true;
    for (size_t n = 0; n < names->words; n++)
        if (k->name[n] && !names->word[n].phrase && strcmp(names->word[n].key, word->other) == 0 &&
            tb_fold_same(names->word[n].text, word->text))
            return true;
    return false;
}

static tb_rc check_others(const struct keeping *k, const struct tb_names *names, struct tb_err *err)
{
    for (size_t i = 0; i < names->words; i++) {
        const struct tb_law_word *word = &names->word[i];

        if (clashes(k, names, i))
            return tb_about(
                err,
                tb_fail(err, TB_EINVAL,
                        "row %d calls %s '%s', which is the word for %s: the rows are out of step, or one is "
                        "wrong; leave that row out",
                        word->number, fibre(word), word->text,
                        tb_fibre_at(tb_fibre_by_key(word->other))->name),
                "without");
    }
    return TB_OK;
}

static tb_rc plan(struct tb_job *j)
{
    const struct tb_names_request *r = j->request;
    struct tb_names_outcome *out = j->out;
    struct keeping *k = j->own;
    tb_rc rc;

    *out = (struct tb_names_outcome){ 0 };
    if ((rc = check_withouts(r, j->err)) != TB_OK)
        return rc;
    k->prefix = tb_arena_printf(j->mem, "%s%s:%s:", TB_NAMES_FAMILY, r->names->market, r->names->lang);
    name_settings(k, r, j->mem);
    for (size_t i = 0; i < r->names->words; i++)
        out->kept += k->name[i] != NULL;
    if (!out->kept)
        return tb_fail(j->err, TB_EINVAL, "nothing is left to keep");
    if ((rc = check_others(k, r->names, j->err)) != TB_OK)
        return rc;
    j->subject = tb_arena_printf(j->mem, "%s%s:%s sha256:%s", TB_NAMES_FAMILY, r->names->market,
                                 r->names->lang, r->names->digest);
    return tb_setting_list(&k->old, &k->olds, j->b, k->prefix, j->mem, j->err);
}

static bool named_again(const struct keeping *k, const struct tb_names *names, const char *name)
{
    for (size_t i = 0; i < names->words; i++)
        if (k->name[i] && strcmp(k->name[i], name) == 0)
            return true;
    return false;
}

static tb_rc write(struct tb_job *j)
{
    const struct tb_names_request *r = j->request;
    const struct keeping *k = j->own;
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < r->names->words && rc == TB_OK; i++)
        if (k->name[i])
            rc = tb_setting_set(j->b, k->name[i], r->names->word[i].text, j->err);
    for (size_t i = 0; i < k->olds && rc == TB_OK; i++)
        if (*k->old[i].value && !named_again(k, r->names, k->old[i].name))
            rc = tb_setting_set(j->b, k->old[i].name, "", j->err);
    return rc;
}

static const struct tb_said said[] = { TB_SAYS_NO_MORE };

tb_rc tb_act_names(struct tb_names_outcome *out, const struct tb_actor *actor,
                   const struct tb_names_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { .verb = TB_VERB_SET,
                                       .plan = plan,
                                       .write = write,
                                       .size = sizeof(struct tb_names_request),
                                       .said = said };
    struct keeping k = { 0 };

    return tb_act_do(&act, &(struct tb_job){ .request = request, .out = out, .mem = mem, .own = &k }, actor,
                     err);
}

/* --- kept -------------------------------------------------------------------------------------------------------- */

/* "name:eu:pl:cotton", "name:eu:pl:nylon:2"; false: it has not these parts. */
static bool taken_apart(struct tb_law_kept *out, const struct tb_setting *s, struct tb_arena *mem)
{
    char *at = tb_arena_strdup(mem, s->name + strlen(TB_NAMES_FAMILY)), *lang = strchr(at, ':'),
         *key = lang ? strchr(lang + 1, ':') : NULL, *number = key ? strchr(key + 1, ':') : NULL;

    if (!key || !*s->value)
        return false;
    *lang = *key = '\0';
    if (number)
        *number = '\0';
    *out = (struct tb_law_kept){ at, lang + 1, key + 1, s->value };
    return true;
}

tb_rc tb_names_law(struct tb_law **out, struct tb_book *b, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_setting *set = NULL;
    struct tb_law_kept *kept;
    size_t settings = 0, n = 0;
    tb_rc rc = b ? tb_setting_list(&set, &settings, b, TB_NAMES_FAMILY, &mem, err) : TB_OK;

    if (rc == TB_OK) {
        kept = tb_arena_alloc(&mem, (settings + 1) * sizeof *kept);
        for (size_t i = 0; i < settings; i++)
            n += taken_apart(&kept[n], &set[i], &mem);
        *out = tb_law_new_with(kept, n);
    }
    tb_arena_free(&mem);
    return rc;
}
