/* Time stamps of a book: asked for, taken in as facts, checked with everything else. */
#include "book/stamp.h"
#include "base/say.h"
#include "book/prove_impl.h"

#include <string.h>

tb_rc tb_anchor_request(struct tb_text *out, struct tb_anchor *a, struct tb_book *b, struct tb_err *err)
{
    tb_rc rc = tb_anchor_now(a, b, err);

    return rc == TB_OK ? tb_stamp_ask(out, a->number, a->digest, err) : rc;
}

/* --- taking one in ------------------------------------------------------------------------------------------------- */

/* The row whose head has this imprint. Stamps are of late rows: the journal is walked from its end. */
static tb_rc row_of(int64_t *number, struct tb_book *b, const unsigned char imprint[TB_HASH],
                    struct tb_err *err)
{
    struct tb_stmt *q = tb_sql_journal_digests(b);
    struct tb_arena mem = { 0 };
    struct tb_journal_head row;
    unsigned char hash[TB_HASH];
    tb_rc rc;

    while ((rc = tb_next_journal_head(&row, q, &mem, err)) == TB_OK) {
        if (tb_stamp_imprint(hash, row.number, row.digest) && memcmp(hash, imprint, TB_HASH) == 0) {
            *number = row.number;
            break;
        }
        tb_arena_free(&mem);
    }
    tb_done(q);
    tb_arena_free(&mem);
    return rc == TB_ENOTFOUND ? tb_fail(err, TB_EREFUSED,
                                        "the time stamp is of no journal row of this book: it is of another "
                                        "book, or of rows that are "
                                        "gone")
                              : rc;
}

/* The latest moment that a row holds as a fact, "" where it holds none: digests cover it, so the row came after it. */
static tb_rc held_by(char out[TB_MOMENT_LEN + 1], struct tb_book *b, int64_t number, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    const char *at = "";
    tb_rc rc = tb_ask_text(&at, tb_sql_time_stamp_held_by(b, number), &mem, err);

    (void)snprintf(out, TB_MOMENT_LEN + 1, "%s", at);
    tb_arena_free(&mem);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

static tb_rc is_later(struct tb_book *b, const struct tb_stamped *s, struct tb_err *err)
{
    char held[TB_MOMENT_LEN + 1];
    tb_rc rc = held_by(held, b, s->number, err);

    return rc == TB_OK && strcmp(s->at, held) < 0 ? tb_fail(err, TB_EREFUSED,
                                                            "it shows %s, and journal row %lld holds a time "
                                                            "stamp that shows %s: one of the two clocks "
                                                            "was wrong",
                                                            s->at, (long long)s->number, held)
                                                  : rc;
}

/* By what is signed: bytes of a reply that nobody signed can be changed, and make no other stamp of it. */
static bool is_same(const struct tb_stamps *all, size_t i, const struct tb_stamped *s)
{
    const struct tb_stamped *shown = &all->seen[i].shown;

    return all->stored[i].number == s->number && strcmp(shown->serial, s->serial) == 0 &&
           strcmp(shown->at, s->at) == 0 && strcmp(shown->by, s->by) == 0;
}

static tb_rc is_new(struct tb_book *b, const struct tb_stamped *s, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_stamps all;
    tb_rc rc = tb_stamps_read(&all, b, NULL, &mem, err);

    for (size_t i = 0; i < all.n && rc == TB_OK; i++)
        if (is_same(&all, i, s))
            rc = tb_fail(err, TB_EREFUSED, "the book has this time stamp of journal row %lld already",
                         (long long)s->number);
    tb_arena_free(&mem);
    return rc;
}

static tb_rc record(struct tb_book *b, const char *who, int64_t number, const char *at,
                    const struct tb_text *reply, struct tb_err *err)
{
    char subject[32];
    tb_rc rc = tb_book_begin(b, who, "anchor", err);

    if (rc != TB_OK)
        return rc;
    (void)snprintf(subject, sizeof subject, "row %lld", (long long)number);
    tb_book_subject(b, subject);
    rc = tb_put_time_stamp(
        &(struct tb_time_stamp_fact){ .number = number, .at = at, .reply = reply->s, .size = reply->n }, b,
        err);
    if (rc == TB_OK)
        rc = tb_book_commit(b, err);
    if (rc != TB_OK)
        tb_book_rollback(b);
    return rc;
}

/* Everything is looked at before the book is locked for others. */
static tb_rc look_at(struct tb_stamped *out, struct tb_book *b, const struct tb_stamp_file *reply,
                     const struct tb_stamp_look *how, struct tb_err *err)
{
    const struct tb_stamp_reply one = { tb_text_str(&reply->bytes), reply->bytes.n };
    struct tb_stamp_seen seen;
    tb_rc rc = tb_stamps_see(&seen, &one, 1, how, err);

    if (rc != TB_OK)
        return rc;
    if (seen.rc != TB_OK) {
        rc = tb_fail(err, (tb_rc)seen.rc, "%s", seen.why);
    } else {
        *out = seen.shown;
        if ((rc = row_of(&out->number, b, seen.imprint, err)) == TB_OK &&
            (rc = is_later(b, out, err)) == TB_OK)
            rc = is_new(b, out, err);
    }
    return rc == TB_OK ? rc : tb_within(err, rc, "%s", reply->path);
}

tb_rc tb_anchor_stamp(struct tb_stamped *out, struct tb_book *b, const char *who,
                      const struct tb_stamp_files *files, struct tb_err *err)
{
    struct tb_stamp_file reply = { 0 }, request = { 0 }, trust = { 0 };
    const struct tb_stamp_look how = { &trust, &request, files->reply };
    tb_rc rc;

    *out = (struct tb_stamped){ 0 };
    if ((rc = tb_stamp_file_read(&reply, files->reply, TB_STAMP_REPLY_MOST, err)) == TB_OK &&
        (rc = tb_stamp_file_read(&request, files->request, TB_STAMP_REQUEST_MOST, err)) == TB_OK &&
        (rc = tb_stamp_file_read(&trust, files->authority, TB_STAMP_CERTIFICATES_MOST, err)) == TB_OK &&
        (rc = look_at(out, b, &reply, &how, err)) == TB_OK)
        rc = record(b, who, out->number, out->at, &reply.bytes, err);
    tb_text_free(&reply.bytes);
    tb_text_free(&request.bytes);
    tb_text_free(&trust.bytes);
    return rc;
}

/* --- checking all of them -------------------------------------------------------------------------------------------- */

bool tb_stamp_fits(const struct tb_time_stamp *s, const struct tb_stamp_seen *seen)
{
    unsigned char imprint[TB_HASH];

    return seen->rc != TB_EFORMAT && tb_stamp_imprint(imprint, s->number, s->digest) &&
           memcmp(imprint, seen->imprint, TB_HASH) == 0 && strcmp(seen->shown.at, s->at) == 0 &&
           s->entry > s->number;
}

/* A stamp that was taken in shows its own row, at the moment the fact says, signed by somebody who is trusted. */
static void check_one(struct tb_proof *p, const struct tb_time_stamp *s, const struct tb_stamp_seen *seen)
{
    if (!tb_stamp_fits(s, seen)) {
        tb_misfit(
            p, s->number,
            "the time stamp of journal row %lld does not fit: it is of another row or shows another moment",
            (long long)s->number);
    } else if (seen->rc != TB_OK) {
        p->elsewhere = true;
        tb_misfit(p, s->number, "the time stamp of journal row %lld is not trusted: %s", (long long)s->number,
                  seen->why);
    }
    p->last_stamp = seen->shown;
    p->last_stamp.number = s->number;
    if (!p->stamps++)
        p->first_stamp = p->last_stamp;
    if (strcmp(s->said, s->at) > 0 && !p->ahead.number) {
        p->ahead = p->last_stamp;
        (void)snprintf(p->ahead_said, sizeof p->ahead_said, "%s", s->said);
    }
}

/* Nothing forbids that a row is stamped after a later one; but none was there before a stamp that it holds. */
static tb_rc check_order(struct tb_proof *p, struct tb_book *b, const struct tb_time_stamp *s,
                         struct tb_err *err)
{
    char held[TB_MOMENT_LEN + 1];
    tb_rc rc = held_by(held, b, s->number, err);

    if (rc == TB_OK && strcmp(s->at, held) < 0)
        tb_misfit(p, s->number,
                  "the time stamp of journal row %lld shows %s, and the row holds one that shows %s",
                  (long long)s->number, s->at, held);
    return rc;
}

tb_rc tb_stamps_read(struct tb_stamps *out, struct tb_book *b, const struct tb_stamp_file *trust,
                     struct tb_arena *mem, struct tb_err *err)
{
    const struct tb_stamp_look how = { .trust = trust, .of = _("the time stamps of the book") };
    struct tb_stamp_reply *reply;
    tb_rc rc;

    *out = (struct tb_stamps){ 0 };
    if ((rc = tb_all_time_stamp(&out->stored, &out->n, tb_sql_time_stamp_all(b), mem, err)) != TB_OK ||
        (!out->n && !trust))
        return rc;
    reply = tb_arena_alloc(mem, (out->n + 1) * sizeof *reply);
    out->seen = tb_arena_alloc(mem, (out->n + 1) * sizeof *out->seen);
    for (size_t i = 0; i < out->n; i++)
        reply[i] = (struct tb_stamp_reply){ out->stored[i].reply, out->stored[i].size };
    return tb_stamps_see(out->seen, reply, out->n, &how, err);
}

static tb_rc check_each(struct tb_proof *p, struct tb_book *b, const struct tb_stamp_file *trust,
                        struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_stamps all;
    tb_rc rc = tb_stamps_read(&all, b, trust, &mem, err);

    for (size_t i = 0; i < all.n && rc == TB_OK; i++) {
        check_one(p, &all.stored[i], &all.seen[i]);
        rc = check_order(p, b, &all.stored[i], err);
    }
    tb_arena_free(&mem);
    return rc;
}

tb_rc tb_prove_stamps(struct tb_proof *p, struct tb_book *b, const struct tb_held *held, struct tb_err *err)
{
    struct tb_stamp_file trust = { 0 };
    tb_rc rc = TB_OK;

    if (held->authority)
        rc = tb_stamp_file_read(&trust, held->authority, TB_STAMP_CERTIFICATES_MOST, err);
    if (rc == TB_OK)
        rc = check_each(p, b, held->authority ? &trust : NULL, err);
    tb_text_free(&trust.bytes);
    return rc;
}
