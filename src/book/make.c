/* Making a new book: its site, and the first row of its journal. */
#include "book/key.h"
#include "tenterbook/journal_words.h"
#include "tenterbook/limits.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static bool capitals_and_digits(const char *s)
{
    for (; *s; s++)
        if (!isupper((unsigned char)*s) && !isdigit((unsigned char)*s))
            return false;
    return true;
}

static tb_rc check_site(const char *code, const char *name, const char *country, struct tb_err *err)
{
    size_t n = strlen(code);

    if (n < 1 || n > 4 || !capitals_and_digits(code))
        return tb_fail(err, TB_EINVAL, "the site code is '%s'; it takes 1 to 4 capital letters or digits",
                       code);
    if (*country && !tb_country_valid(country))
        return tb_fail(err, TB_EINVAL,
                       "the country is '%s'; it takes the two capital letters of one, like GB (ISO 3166-1)",
                       country);
    if (strlen(name) > TB_NAME_MOST)
        return tb_fail(err, TB_EINVAL, "the name of the warehouse has %zu bytes; it takes at most %d",
                       strlen(name), TB_NAME_MOST);
    return TB_OK;
}

static tb_rc fill(struct tb_book *b, const char *code, const char *name, const char *country, const char *who,
                  struct tb_err *err)
{
    struct tb_site site = { .id = tb_new_key(&b->mem), .code = code, .name = name, .country = country };
    tb_rc rc = tb_book_begin(b, who, tb_word(&tb_verb_words, TB_VERB_NEW), err);

    if (rc != TB_OK)
        return rc;
    tb_book_subject(b, code);
    if ((rc = tb_put_site(&site, b, err)) == TB_OK)
        rc = tb_book_commit(b, err);
    return rc;
}

/* The key of a book that was not made signs nothing. */
static void remove_key(const struct tb_book *b)
{
    if (b->key_made)
        (void)unlink(b->key_made);
}

tb_rc tb_book_make(const char *path, const char *code, const char *name, const char *country, const char *who,
                   struct tb_err *err)
{
    struct tb_db *db = NULL;
    struct tb_book *b;
    tb_rc rc;

    if ((rc = check_site(code, name, country, err)) != TB_OK || (rc = tb_db_new(&db, path, err)) != TB_OK)
        return rc;
    b = tb_book_of(db, path);
    /* without a site and a first journal row it is no book: only then does it get its name */
    if ((rc = fill(b, code, name, country, who, err)) == TB_OK)
        rc = tb_db_finish(&b->db, err);
    if (rc != TB_OK)
        remove_key(b);
    tb_book_close(b);
    return rc;
}
