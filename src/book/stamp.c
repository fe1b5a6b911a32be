/* Time stamps of a book: asked for, taken in as facts, checked with everything else. */
#include "book/stamp.h"
#include "base/infile.h"
#include "book/prove_impl.h"

#include <string.h>

#define REQUEST_MOST (16u << 10) /* bytes; real ones have some 70 */
#define REPLY_MOST (256u << 10)  /* bytes; real ones have some 6,000 */

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

static tb_rc is_new(struct tb_book *b, int64_t number, const struct tb_text *reply, struct tb_err *err)
{
    struct tb_stmt *q = tb_sql_time_stamp_all(b);
    struct tb_arena mem = { 0 };
    struct tb_time_stamp s;
    tb_rc rc;

    while ((rc = tb_next_time_stamp(&s, q, &mem, err)) == TB_OK) {
        if (s.number == number && s.size == reply->n && memcmp(s.reply, reply->s, reply->n) == 0)
            break;
        tb_arena_free(&mem);
    }
    tb_done(q);
    tb_arena_free(&mem);
    if (rc == TB_OK)
        return tb_fail(err, TB_EREFUSED, "the book has this time stamp of journal row %lld already",
                       (long long)number);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
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
static tb_rc look_at(struct tb_stamped *out, struct tb_stamp_shown *shown, struct tb_book *b,
                     const struct tb_text *reply, const struct tb_text *request,
                     const struct tb_stamp_trust *trust, struct tb_err *err)
{
    tb_rc rc = tb_stamp_show(shown, reply->s, reply->n, err);

    if (rc != TB_OK ||
        (rc = tb_stamp_check(reply->s, reply->n, shown->imprint, request, trust, err)) != TB_OK ||
        (rc = row_of(&out->number, b, shown->imprint, err)) != TB_OK)
        return rc;
    (void)snprintf(out->at, sizeof out->at, "%s", shown->at);
    (void)snprintf(out->by, sizeof out->by, "%s", shown->by);
    rc = is_later(b, out, err);
    return rc == TB_OK ? is_new(b, out->number, reply, err) : rc;
}

tb_rc tb_anchor_stamp(struct tb_stamped *out, struct tb_book *b, const char *who,
                      const struct tb_stamp_files *files, struct tb_err *err)
{
    struct tb_text reply = { 0 }, request = { 0 };
    struct tb_stamp_trust *trust = NULL;
    struct tb_stamp_shown shown;
    tb_rc rc;

    *out = (struct tb_stamped){ 0 };
    if ((rc = tb_in_whole(&reply, files->reply, REPLY_MOST, err)) != TB_OK)
        rc = tb_within(err, rc, "%s", files->reply);
    else if ((rc = tb_in_whole(&request, files->request, REQUEST_MOST, err)) != TB_OK)
        rc = tb_within(err, rc, "%s", files->request);
    else if ((rc = tb_stamp_trust_read(&trust, files->authority, err)) == TB_OK &&
             (rc = look_at(out, &shown, b, &reply, &request, trust, err)) != TB_OK)
        rc = tb_within(err, rc, "%s", files->reply);
    if (rc == TB_OK)
        rc = record(b, who, out->number, out->at, &reply, err);
    tb_stamp_trust_free(trust);
    tb_text_free(&reply);
    tb_text_free(&request);
    return rc;
}

/* --- checking all of them -------------------------------------------------------------------------------------------- */

/* A stamp that was taken in shows its own row, at the moment the fact says, signed by somebody who is trusted. */
static void check_one(struct tb_proof *p, const struct tb_time_stamp *s, const struct tb_stamp_trust *trust)
{
    struct tb_err why = { 0 };
    struct tb_stamp_shown shown;
    unsigned char imprint[TB_HASH];
    bool good = tb_stamp_show(&shown, s->reply, s->size, &why) == TB_OK &&
                tb_stamp_imprint(imprint, s->number, s->digest) &&
                memcmp(imprint, shown.imprint, TB_HASH) == 0 && strcmp(shown.at, s->at) == 0 &&
                s->entry > s->number;

    if (!good) {
        tb_misfit(
            p, s->number,
            "the time stamp of journal row %lld does not fit: it is of another row or shows another moment",
            (long long)s->number);
    } else if (trust && tb_stamp_check(s->reply, s->size, imprint, NULL, trust, &why) != TB_OK) {
        p->elsewhere = true;
        tb_misfit(p, s->number, "the time stamp of journal row %lld is not trusted: %s", (long long)s->number,
                  why.msg);
    }
    p->last_stamp.number = s->number;
    (void)snprintf(p->last_stamp.at, sizeof p->last_stamp.at, "%s", s->at);
    (void)snprintf(p->last_stamp.by, sizeof p->last_stamp.by, "%s", good ? shown.by : "");
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

static tb_rc check_each(struct tb_proof *p, struct tb_book *b, const struct tb_stamp_trust *trust,
                        struct tb_err *err)
{
    struct tb_stmt *q = tb_sql_time_stamp_all(b);
    struct tb_arena mem = { 0 };
    struct tb_time_stamp s;
    tb_rc rc;

    while ((rc = tb_next_time_stamp(&s, q, &mem, err)) == TB_OK) {
        check_one(p, &s, trust);
        if ((rc = check_order(p, b, &s, err)) != TB_OK)
            break;
        tb_arena_free(&mem);
    }
    tb_done(q);
    tb_arena_free(&mem);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

tb_rc tb_prove_stamps(struct tb_proof *p, struct tb_book *b, const struct tb_held *held, struct tb_err *err)
{
    struct tb_stamp_trust *trust = NULL;
    tb_rc rc = held->authority ? tb_stamp_trust_read(&trust, held->authority, err) : TB_OK;

    if (rc == TB_OK)
        rc = check_each(p, b, trust, err);
    tb_stamp_trust_free(trust);
    return rc;
}
