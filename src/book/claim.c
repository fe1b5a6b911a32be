/* Terms of suppliers, and goods taken into use. */
#include "book/db.h"
#include "tenterbook/dispute.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char *or_empty(const char *s)
{
    return s ? s : "";
}

/* --- terms ------------------------------------------------------------------------------------------------------ */

static bool country_code(const char *s)
{
    return strlen(s) == 2 && s[0] >= 'A' && s[0] <= 'Z' && s[1] >= 'A' && s[1] <= 'Z';
}

static tb_rc check_laws(const char *laws, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (const char *p = laws + strspn(laws, " "); *p && rc == TB_OK; p += strspn(p, " ")) {
        size_t n = strcspn(p, " ");
        char *key = tb_strndup(p, n);
        struct tb_claim_term t;

        rc = tb_claim_law_find(&t, key, err);
        free(key);
        p += n;
    }
    return rc;
}

static tb_rc check_days(int days, const char *what, struct tb_err *err)
{
    if (days == TB_CLAIM_NO_TERM || (days >= 0 && days <= TB_CLAIM_DAYS_MOST))
        return TB_OK;
    return tb_fail(err, TB_EINVAL, "%s is %d days; a term is 0 to %d", what, days, TB_CLAIM_DAYS_MOST);
}

/* No days is a term of its own: NULL, which is not 0. */
static void bind_days(struct tb_stmt *q, int n, int days)
{
    if (days == TB_CLAIM_NO_TERM)
        tb_bind_text(q, n, NULL);
    else
        tb_bind_whole(q, n, days);
}

tb_rc tb_supplier_term_add(struct tb_supplier_term *t, struct tb_book *b, struct tb_arena *mem,
                           struct tb_err *err)
{
    struct tb_stmt *q;
    char id[TB_ID_LEN + 1];
    tb_rc rc = TB_OK;

    if (*or_empty(t->country) && !country_code(t->country))
        return tb_fail(err, TB_EINVAL, "'%s' is no country code; it takes two letters like IT", t->country);
    if ((rc = check_days(t->open_days, "the term for visible faults", err)) != TB_OK ||
        (rc = check_days(t->hidden_days, "the term for hidden faults", err)) != TB_OK ||
        (rc = check_laws(or_empty(t->laws), err)) != TB_OK)
        return rc;
    tb_id_make(id);
    t->id = tb_arena_strdup(mem, id);
    t->set_at = tb_arena_strdup(mem, tb_book_now(b));
    q = tb_query(b, TB_SQL_SUPPLIER_TERM_ADD);
    tb_bind_text(q, 1, t->id);
    tb_bind_text(q, 2, t->supplier);
    tb_bind_text(q, 3, or_empty(t->country));
    tb_bind_text(q, 4, or_empty(t->laws));
    bind_days(q, 5, t->open_days);
    bind_days(q, 6, t->hidden_days);
    tb_bind_whole(q, 7, t->working);
    tb_bind_whole(q, 8, t->before_cutting);
    tb_bind_text(q, 9, or_empty(t->stands_in));
    tb_bind_text(q, 10, t->set_at);
    tb_bind_text(q, 11, tb_book_person(b));
    tb_bind_whole(q, 12, tb_entry(b));
    return tb_run(q, err);
}

static int days_of(struct tb_stmt *q, int n)
{
    double d = tb_col_number(q, n);

    return isnan(d) ? TB_CLAIM_NO_TERM : (int)d;
}

static void take_term(struct tb_supplier_term *t, struct tb_stmt *q, struct tb_arena *mem)
{
    const char **field[] = { &t->id, &t->supplier, &t->supplier_name, &t->country, &t->laws };

    for (int i = 0; i < (int)TB_COUNT(field); i++)
        *field[i] = tb_col_text(q, i, mem);
    t->open_days = days_of(q, 5);
    t->hidden_days = days_of(q, 6);
    t->working = tb_col_whole(q, 7) != 0;
    t->before_cutting = tb_col_whole(q, 8) != 0;
    t->stands_in = tb_col_text(q, 9, mem);
    t->set_at = tb_col_text(q, 10, mem);
    t->set_by = tb_col_text(q, 11, mem);
}

/* One more of the terms in force, when there is one. */
static tb_rc one_term(struct tb_supplier_term *out, size_t *n, struct tb_book *b, enum tb_sql name,
                      const char *key, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, name);
    tb_rc rc;

    tb_bind_text(q, 1, key);
    if ((rc = tb_row(q, err)) == TB_OK)
        take_term(&out[(*n)++], q, mem);
    tb_done(q);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

tb_rc tb_supplier_terms(struct tb_supplier_term **out, size_t *n, struct tb_book *b, const char *supplier_id,
                        struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc;

    *out = tb_arena_alloc(mem, 3 * sizeof **out);
    *n = 0;
    rc = one_term(*out, n, b, TB_SQL_SUPPLIER_TERM_OF_SUPPLIER, supplier_id, mem, err);
    if (rc == TB_OK && *n && *(*out)[0].country)
        rc = one_term(*out, n, b, TB_SQL_SUPPLIER_TERM_OF_COUNTRY, (*out)[0].country, mem, err);
    if (rc == TB_OK)
        rc = one_term(*out, n, b, TB_SQL_SUPPLIER_TERM_OF_COUNTRY, "", mem, err);
    return rc;
}

tb_rc tb_supplier_term_list(struct tb_supplier_term **out, size_t *n, struct tb_book *b, struct tb_arena *mem,
                            struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_SUPPLIER_TERM_ALL);
    tb_rc rc;

    TB_LIST(rc, out, n, q, struct tb_supplier_term, take_term, mem, err);
    return rc;
}

/* --- taken into use --------------------------------------------------------------------------------------------- */

/* A correction takes back one use of the same bolt, once. */
static tb_rc check_replaced(const struct tb_bolt_use *u, struct tb_book *b, const struct tb_bolt *bolt,
                            struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q;
    const char *of = NULL;
    int64_t corrections = 0;
    tb_rc rc;

    if (u->used == (u->replaces != NULL))
        return tb_fail(err, TB_EINVAL, "a use takes nothing back, and what takes one back names it");
    if (!u->replaces)
        return TB_OK;
    q = tb_query(b, TB_SQL_BOLT_USE_REPLACED);
    tb_bind_text(q, 1, u->replaces);
    if ((rc = tb_row(q, err)) == TB_OK) {
        of = tb_col_text(q, 0, mem);
        corrections = tb_col_whole(q, 1);
    }
    tb_done(q);
    if (rc == TB_ENOTFOUND || (rc == TB_OK && (strcmp(of, bolt->id) != 0 || corrections > 0)))
        return tb_fail(err, TB_EINVAL, "there is no such use of bolt %s to take back", bolt->number);
    return rc;
}

tb_rc tb_bolt_use_add(struct tb_bolt_use *u, struct tb_book *b, const struct tb_bolt *bolt,
                      struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q;
    char id[TB_ID_LEN + 1];
    tb_rc rc = check_replaced(u, b, bolt, mem, err);

    if (rc != TB_OK)
        return rc;
    if (u->used_at && !tb_moment_valid(u->used_at))
        return tb_fail(err, TB_EINVAL, "the moment of cutting '%s' is none (YYYY-MM-DDThh:mm:ssZ)",
                       u->used_at);
    if (!isnan(u->metres) && !(u->metres > 0 && u->metres <= bolt->metres))
        return tb_fail(err, TB_EINVAL, "%g m cannot be cut from bolt %s, which has %.2f m", u->metres,
                       bolt->number, bolt->metres);
    tb_id_make(id);
    u->id = tb_arena_strdup(mem, id);
    u->bolt = bolt->id;
    u->used_at = u->used_at ? u->used_at : tb_arena_strdup(mem, tb_book_now(b));
    q = tb_query(b, TB_SQL_BOLT_USE_ADD);
    tb_bind_text(q, 1, u->id);
    tb_bind_text(q, 2, u->bolt);
    tb_bind_whole(q, 3, u->used);
    tb_bind_number(q, 4, u->metres);
    tb_bind_text(q, 5, or_empty(u->why));
    tb_bind_whole(q, 6, u->anyway);
    tb_bind_text(q, 7, u->used_at);
    tb_bind_text(q, 8, tb_book_person(b));
    tb_bind_text(q, 9, u->replaces);
    tb_bind_whole(q, 10, tb_entry(b));
    return tb_run(q, err);
}

static void take_use(struct tb_bolt_use *u, struct tb_stmt *q, struct tb_arena *mem)
{
    u->id = tb_col_text(q, 0, mem);
    u->bolt = tb_col_text(q, 1, mem);
    u->used = tb_col_whole(q, 2) != 0;
    u->metres = tb_col_number(q, 3);
    u->why = tb_col_text(q, 4, mem);
    u->anyway = tb_col_whole(q, 5) != 0;
    u->used_at = tb_col_text(q, 6, mem);
    u->used_by = tb_col_text(q, 7, mem);
    u->replaces = tb_col_text(q, 8, mem);
    u->bolt_number = tb_col_text(q, 9, mem);
}

tb_rc tb_bolt_use_list(struct tb_bolt_use **out, size_t *n, struct tb_book *b, const char *lot_id,
                       struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_BOLT_USE_OF_LOT);
    tb_rc rc;

    tb_bind_text(q, 1, lot_id);
    TB_LIST(rc, out, n, q, struct tb_bolt_use, take_use, mem, err);
    return rc;
}

/* --- what is to be claimed -------------------------------------------------------------------------------------- */

tb_rc tb_lot_discovered(const char **day, const char **by, struct tb_book *b, const char *lot_id,
                        struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_LOT_DISCOVERY);
    const char *analysed = NULL;
    tb_rc rc;

    *day = NULL;
    *by = "";
    tb_bind_text(q, 1, lot_id);
    if ((rc = tb_row(q, err)) == TB_OK) {
        *day = tb_col_text(q, 0, mem);
        analysed = tb_col_text(q, 1, mem);
    }
    tb_done(q);
    if (*day)
        *by = "verdict";
    if (analysed && (!*day || strcmp(analysed, *day) < 0)) {
        *day = analysed;
        *by = "analysis";
    }
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

static void take_ref(const char **ref, struct tb_stmt *q, struct tb_arena *mem)
{
    *ref = tb_col_text(q, 0, mem);
}

tb_rc tb_claim_lots(const char ***ref, size_t *n, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_LOT_CLAIMS);
    tb_rc rc;

    TB_LIST(rc, ref, n, q, const char *, take_ref, mem, err);
    return rc;
}
