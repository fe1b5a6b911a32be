/* An open book: opening and closing it, copying it, reading one state of it. */
#include "book/private.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* The fact tables are those that have a statement facts_NAME. */
static void list_tables(struct tb_book *b)
{
    for (int i = 0; i < TB_SQL_COUNT; i++)
        if (strncmp(tb_sql_table[i].name, "facts_", 6) == 0 && b->tables < TB_FACT_TABLES_MOST) {
            b->table[b->tables].name = tb_sql_table[i].name + 6;
            b->table[b->tables++].read = (enum tb_sql)i;
        }
}

/* A handful of tables, looked up once for each statement that is prepared. */
struct tb_fact_table *tb_fact_table(struct tb_book *b, const char *name)
{
    for (size_t i = 0; i < b->tables; i++)
        if (strcmp(b->table[i].name, name) == 0)
            return &b->table[i];
    return NULL;
}

struct tb_book *tb_book_of(struct tb_db *db, const char *path)
{
    struct tb_book *b = tb_new(struct tb_book);

    b->db = db;
    b->path = tb_strdup(path);
    list_tables(b);
    return b;
}

void tb_book_close(struct tb_book *b)
{
    if (!b)
        return;
    tb_book_rollback(b);
    tb_db_close(b->db);
    tb_arena_free(&b->mem);
    tb_shares_free(&b->shares);
    sodium_memzero(&b->signer, sizeof b->signer);
    free(b->key_made);
    free(b->done_verb);
    free(b->done_subject);
    free(b->path);
    free(b);
}

const struct tb_site *tb_book_site(const struct tb_book *b)
{
    return &b->site;
}

tb_rc tb_book_load_site(struct tb_book *b, struct tb_err *err)
{
    tb_rc rc = tb_one_site(&b->site, tb_sql_site_first(b), &b->mem, err);

    return rc == TB_ENOTFOUND ? tb_fail(err, TB_EFORMAT, "%s has no site: it was never finished", b->path)
                              : rc;
}

/* --- opening ---------------------------------------------------------------------------------------------------- */

/*
 * Its copy is as good as the book: it proves, or what does not fit is what does not fit in the book either. A damaged book is
 * brought up to date all the same, since only then this program can read what is whole in it.
 */
static tb_rc see_it_is_as_good(void *arg, const char *half, struct tb_err *err)
{
    const struct tb_book *b = arg;
    struct tb_proof copy, own;
    struct tb_db *image = NULL;
    struct tb_book *now;
    tb_rc rc = tb_prove_file(&copy, half, err);

    if (rc != TB_OK || copy.fits)
        return rc;
    if ((rc = tb_db_image(&image, b->db, err)) != TB_OK)
        return rc;
    now = tb_book_of(image, b->path);
    rc = tb_book_prove(&own, now, err);
    tb_book_close(now);
    if (rc == TB_OK && (own.fits || own.first_bad != copy.first_bad || own.rows != copy.rows))
        rc = tb_fail(err, TB_EFORMAT, "its copy does not prove: %s", copy.why);
    return rc;
}

/* Copy the book beside itself under a name that says which shape it is about to get. */
static tb_rc copy_before(char **name, struct tb_book *b, struct tb_err *err)
{
    struct tb_text t = { 0 };
    tb_rc rc = TB_EEXISTS;

    for (int i = 0; i < 100 && rc == TB_EEXISTS; i++) {
        tb_text_clear(&t);
        tb_text_addf(&t, i ? "%s.before-%zu-%d" : "%s.before-%zu", b->path, tb_migration_n, i);
        rc = tb_db_copy(b->db, tb_text_str(&t), see_it_is_as_good, b, err);
    }
    *name = tb_text_take(&t);
    return rc == TB_OK ? rc : tb_within(err, rc, "the book could not be upgraded and stays as it was");
}

static tb_rc upgrade(struct tb_book *b, char **copy, struct tb_err *err)
{
    char *name = NULL;
    tb_rc rc;

    if (tb_db_only_read(b->db)) {
        (void)tb_db_refuses(b->db, err);
        return tb_within(err, TB_EREFUSED,
                         "it is of an earlier Tenterbook and has to be brought up to date first");
    }
    if ((rc = copy_before(&name, b, err)) == TB_OK && (rc = tb_db_upgrade(b->db, err)) != TB_OK)
        (void)unlink(name); /* the book is what it was: the next try makes its own copy */
    if (rc == TB_OK && copy) {
        *copy = name;
        name = NULL;
    }
    free(name);
    return rc;
}

tb_rc tb_book_open(struct tb_book **out, const char *path, char **upgraded_copy, struct tb_err *err)
{
    struct tb_db *db = NULL;
    struct tb_book *b;
    tb_rc rc;

    if (upgraded_copy)
        *upgraded_copy = NULL;
    if ((rc = tb_db_open(&db, path, err)) != TB_OK)
        return rc;
    b = tb_book_of(db, path);
    /* the copy comes first: an older program can still open it */
    if (tb_db_is_old(db))
        rc = upgrade(b, upgraded_copy, err);
    if (rc == TB_OK)
        rc = tb_book_load_site(b, err);
    if (rc != TB_OK) {
        tb_book_close(b);
        return rc;
    }
    *out = b;
    return TB_OK;
}

tb_rc tb_book_in_memory(struct tb_book **out, struct tb_err *err)
{
    struct tb_db *db = NULL;
    tb_rc rc = tb_db_in_memory(&db, err);

    if (rc == TB_OK)
        *out = tb_book_of(db, "");
    return rc;
}

tb_rc tb_book_still(const struct tb_book *b, struct tb_err *err)
{
    return tb_db_still(b->db, err);
}

/* --- the whole of it -------------------------------------------------------------------------------------------- */

tb_rc tb_prove_file(struct tb_proof *out, const char *path, struct tb_err *err)
{
    struct tb_db *db = NULL, *image = NULL;
    struct tb_book *b;
    tb_rc rc = tb_db_open(&db, path, err);

    if (rc == TB_OK && tb_db_is_old(db)) {
        rc = tb_db_image(&image, db, err);
        tb_db_close(db);
        db = image;
    }
    if (rc != TB_OK)
        return rc;
    b = tb_book_of(db, path);
    rc = tb_book_prove(out, b, err);
    tb_book_close(b);
    return rc;
}

/* What was written is read again and proved: a copy that does not prove would be found out when it is needed. */
static tb_rc see_that_it_proves(void *proof, const char *half, struct tb_err *err)
{
    struct tb_proof *p = proof;
    tb_rc rc = tb_prove_file(p, half, err);

    if (rc == TB_OK && !p->fits)
        rc = tb_fail(err, TB_EFORMAT, "it does not prove: %s", p->why);
    return rc == TB_OK ? rc : tb_within(err, rc, "no copy is made");
}

tb_rc tb_book_keep(struct tb_proof *out, struct tb_book *b, const char *path, struct tb_err *err)
{
    return tb_db_copy(b->db, path, see_that_it_proves, out, err);
}

void tb_book_on_wait(struct tb_book *b, void (*say)(void *arg, int seconds), void *arg)
{
    tb_db_on_wait(b->db, say, arg);
}

tb_rc tb_book_look(struct tb_book *b, struct tb_err *err)
{
    return tb_db_is_busy(b->db) ? TB_OK : tb_db_read(b->db, err); /* a transaction is one state already */
}

void tb_book_look_away(struct tb_book *b)
{
    if (!b->writing && tb_db_is_busy(b->db))
        tb_db_undo(b->db); /* nothing was written */
}
