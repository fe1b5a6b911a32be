/* Transactions: one journal row covers all that is written between begin and commit. */
#include "book/key.h"
#include "book/named.h"
#include "tenterbook/journal_words.h"
#include "tenterbook/limits.h"
#include "tenterbook/said.h"

#include <jansson.h>
#include <stdlib.h>
#include <string.h>

/* The row that the new one follows. */
static tb_rc read_end(struct tb_book *b, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_journal_head end = { 0 };
    tb_rc rc = tb_book_end(&end, b, &mem, err);

    if (rc == TB_OK) {
        b->entry = end.number;
        (void)snprintf(b->before, sizeof b->before, "%s", end.digest);
        (void)snprintf(b->before_at, sizeof b->before_at, "%s", end.at);
    }
    tb_arena_free(&mem);
    return rc;
}

/*
 * The journal row goes in first, without what it will say: a fact whose journal row is not there yet is an open promise to
 * the database, and to close the promises it would read every table from end to end when the row comes.
 */
static tb_rc open_journal(struct tb_book *b, struct tb_err *err)
{
    char salt[TB_DIGEST_HEX];
    struct tb_journal_row row = { .at = b->now,
                                  .person = b->who,
                                  .verb = b->verb,
                                  .subject = "",
                                  .content = "",
                                  .before = b->before,
                                  .digest = "",
                                  .rule = TB_RULE_SHARES,
                                  .salt = salt,
                                  .about = "",
                                  .aside = "" };
    tb_rc rc = read_end(b, err);

    if (rc != TB_OK)
        return rc;
    row.number = ++b->entry;
    randombytes_buf(b->salt, sizeof b->salt);
    tb_hash_hex(salt, b->salt);
    return tb_run(tb_sql_journal_add(b, &row), err);
}

/* Who writes, by the name that the book has already: "ann" is no second pair of eyes beside "Ann". */
static tb_rc take_person(struct tb_book *b, const char *who, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_person known;
    tb_rc rc = tb_person_known(&known, b, who, &mem, err);

    if (rc == TB_OK) {
        b->who = tb_strdup(known.name);
        (void)snprintf(b->person, sizeof b->person, "%s", known.id);
    }
    tb_arena_free(&mem);
    return rc;
}

/* People are recorded by the first thing they write: nobody has to be registered before a swatch can be burned. */
static tb_rc ensure_person(struct tb_book *b, struct tb_err *err)
{
    if (b->person[0])
        return TB_OK;
    tb_id_make(b->person);
    return tb_put_person(&(struct tb_person_fact){ .id = b->person, .name = b->who }, b, err);
}

/* What belongs to one transaction ends with it, however it ended. */
static void forget(struct tb_book *b)
{
    free(b->who);
    free(b->verb);
    free(b->subject);
    b->who = b->verb = b->subject = NULL;
    b->writing = b->index_dropped = false;
    tb_shares_clear(&b->shares);
    json_decref(b->aside);
    b->aside = NULL;
    b->owned[0] = '\0';
    for (size_t i = 0; i < b->tables; i++) {
        b->table[i].tree.n = 0;
        b->table[i].last_id[0] = '\0';
    }
}

void tb_book_rollback(struct tb_book *b)
{
    if (!b || !b->writing)
        return;
    tb_db_undo(b->db);
    forget(b);
}

/* A day beyond the limits is a battery that is empty or a slip: every term of a claim would count from it. */
static tb_rc read_clock(struct tb_book *b, struct tb_err *err)
{
    if (!tb_clock_sensible())
        return tb_fail(err, TB_EINVAL, "TENTERBOOK_CLOCK is '%s'; it takes seconds since 1970, in digits",
                       getenv("TENTERBOOK_CLOCK"));
    tb_now(b->now);
    if (strncmp(b->now, TB_DAY_FIRST, TB_DAY_LEN) < 0 || strncmp(b->now, TB_DAY_LAST, TB_DAY_LEN) > 0)
        return tb_fail(
            err, TB_EREFUSED,
            "the clock says %.10s, and a record is dated %s to %s: set the clock of this machine, or "
            "TENTERBOOK_CLOCK where that is given; nothing was recorded",
            b->now, TB_DAY_FIRST, TB_DAY_LAST);
    return TB_OK;
}

tb_rc tb_book_begin(struct tb_book *b, const char *who, const char *verb, struct tb_err *err)
{
    tb_rc rc = tb_said_person(who, err);

    if (b->writing)
        return tb_fail(err, TB_EIO, "a record is being written already");
    if (rc != TB_OK || (rc = read_clock(b, err)) != TB_OK || (rc = tb_sign_prepare(b, err)) != TB_OK ||
        (rc = tb_db_write(b->db, err)) != TB_OK)
        return rc;
    b->writing = true;
    b->verb = tb_strdup(verb);
    b->subject = tb_strdup("");
    tb_now(b->now);
    if ((rc = take_person(b, who, err)) == TB_OK && (rc = open_journal(b, err)) == TB_OK)
        rc = ensure_person(b, err);
    if (rc == TB_OK)
        rc = tb_sign_begin(b, err);
    if (rc != TB_OK)
        tb_book_rollback(b);
    return rc;
}

void tb_book_subject(struct tb_book *b, const char *subject)
{
    free(b->subject);
    b->subject = tb_strdup(subject);
}

const char *tb_book_person(const struct tb_book *b)
{
    return b->person;
}

const char *tb_book_now(const struct tb_book *b)
{
    return b->now;
}

const char *tb_next_key(struct tb_book *b)
{
    tb_id_make(b->key);
    return b->key;
}

int64_t tb_entry(const struct tb_book *b)
{
    return b->entry;
}

/* Facts about one another come together: the last answer is mostly the next one too. */
tb_rc tb_lot_of_owner(const char **lot, struct tb_book *b, const struct tb_owner *o, const char *owner,
                      struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    const char *id = "";
    tb_rc rc = TB_OK;

    if (o->direct) {
        *lot = owner;
        return TB_OK;
    }
    if (strlen(owner) != TB_ID_LEN || strcmp(b->owned, owner) != 0) {
        rc = tb_ask_text(&id, tb_sql_owner_of(b, owner), &mem, err);
        (void)snprintf(b->owned, sizeof b->owned, "%s", owner);
        (void)snprintf(b->owner, sizeof b->owner, "%s", id);
        tb_arena_free(&mem);
    }
    *lot = b->owner;
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

tb_rc tb_fact_written(struct tb_book *b, struct tb_fact_table *t, const struct tb_text *record,
                      const char *owner, struct tb_err *err)
{
    unsigned char nonce[TB_HASH], leaf[TB_HASH];
    const struct tb_owner *o = owner ? tb_owner_of(t->name) : NULL;
    const char *lot = "";
    tb_rc rc = o ? tb_lot_of_owner(&lot, b, o, owner, err) : TB_OK;

    tb_fact_nonce(nonce, b->salt, t->name, t->tree.n);
    tb_leaf(leaf, nonce, record->s, record->n);
    tb_tree_add(&t->tree, leaf);
    tb_shares_lot(&b->shares, lot);
    if (o && o->told)
        tb_shares_fact(&b->shares, lot, t->name, leaf);
    return rc;
}

/* What a case leaves out is about a lot all the same, if the subject of its journal row is. */
tb_rc tb_shares_subject(struct tb_shares *s, struct tb_book *b, const char *subject, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    const char *id, *ref = tb_arena_strndup(&mem, subject, tb_subject_lot(subject));
    tb_rc rc = *ref ? tb_ask_text(&id, tb_sql_journal_lot(b, ref), &mem, err) : TB_ENOTFOUND;

    if (rc == TB_OK)
        tb_shares_lot(s, id);
    tb_arena_free(&mem);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

/* How the row came about: what anybody may read, and the digest of what nobody else does. */
static json_t *act_of(struct tb_book *b, const char *aside)
{
    json_t *act = tb_circumstance_now(b->now, b->before_at);
    char digest[TB_DIGEST_HEX];

    tb_aside_digest(digest, b->salt, aside);
    (void)json_object_set_new(act, TB_ACT_ASIDE, json_string(digest));
    return act;
}

/* The content column: JSON of the tables written, by name, and of how it came about. Yours to free. */
static char *content_of(struct tb_book *b, const char *aside)
{
    json_t *all = json_object();
    char *text;

    for (size_t i = 0; i < b->tables; i++) {
        struct tb_fact_table *t = &b->table[i];
        unsigned char root[TB_HASH];
        char hex[TB_DIGEST_HEX];

        if (t->tree.n == 0)
            continue;
        tb_tree_root(root, &t->tree);
        tb_hash_hex(hex, root);
        (void)json_object_set_new(all, t->name,
                                  json_pack("{s:I, s:s}", "rows", (json_int_t)t->tree.n, "root", hex));
    }
    (void)json_object_set_new(all, TB_CONTENT_ACT, act_of(b, aside));
    text = json_dumps(all, JSON_COMPACT | JSON_SORT_KEYS);
    json_decref(all);
    return text;
}

/* Only now is it known what was written: the row that was opened gets its content and its digest. */
static tb_rc close_journal(struct tb_book *b, struct tb_err *err)
{
    char *content, *aside, digest[TB_DIGEST_HEX], salt[TB_DIGEST_HEX];
    char login[TB_LOGIN_MOST + 1];
    struct tb_text about = { 0 };
    struct tb_journal_row row;
    tb_rc rc = tb_shares_subject(&b->shares, b, b->subject, err);

    if (rc != TB_OK)
        return rc;
    tb_login(login);
    tb_book_aside(b, TB_ASIDE_LOGIN, json_string(login));
    aside = tb_aside_text(b);
    content = content_of(b, aside);
    tb_shares_about(&about, &b->shares);
    tb_hash_hex(salt, b->salt);
    row = (struct tb_journal_row){ .number = b->entry,
                                   .at = b->now,
                                   .person = b->who,
                                   .verb = b->verb,
                                   .subject = b->subject,
                                   .content = content,
                                   .before = b->before,
                                   .digest = digest,
                                   .rule = TB_RULE_SHARES,
                                   .salt = salt,
                                   .about = tb_text_str(&about),
                                   .aside = aside };
    tb_journal_digest(digest, &row);
    if ((rc = tb_run(tb_sql_journal_close(b, &row), err)) == TB_OK)
        rc = tb_sign_head(b, digest, err);
    free(content);
    free(aside);
    tb_text_free(&about);
    return rc;
}

/* Takes the words over. From the commit to here no memory is asked for: what is recorded is told as recorded. */
static void note_done(struct tb_book *b, char *verb, char *subject)
{
    free(b->done_verb);
    free(b->done_subject);
    b->done++;
    b->done_entry = b->entry;
    b->done_step = tb_clock_step(b->now, b->before_at);
    b->done_verb = verb;
    b->done_subject = subject;
}

/* For whoever has to say, after a failure, that it is there all the same. */
void tb_book_recorded(struct tb_recorded *out, const struct tb_book *b)
{
    *out = (struct tb_recorded){ b->done,         b->done_entry, b->done_verb,
                                 b->done_subject, b->done_step,  b->committing };
}

tb_rc tb_book_commit(struct tb_book *b, struct tb_err *err)
{
    char *verb, *subject;
    tb_rc rc;

    if (!b->writing)
        return tb_fail(err, TB_EIO, "nothing was begun");
    verb = tb_strdup(b->verb);
    subject = tb_strdup(b->subject);
    if ((rc = close_journal(b, err)) == TB_OK) {
        b->committing = true;
        rc = tb_db_commit(b->db, err);
        b->committing = false;
    }
    if (rc != TB_OK) {
        free(verb);
        free(subject);
        tb_book_rollback(b);
        return rc;
    }
    note_done(b, verb, subject);
    forget(b);
    return rc;
}
