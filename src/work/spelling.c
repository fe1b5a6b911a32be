/* The name of a supplier as a person or a list says it, beside those in the book: whose it is, whose it only looks like, whose it nearly is. */
#include "work/supplier_name.h"

#include "tenterbook/utf8.h"
#include "tenterbook/words.h"

#include <stdlib.h>
#include <string.h>

#define NAME_LEAST 5 /* letters: of shorter names many differ by one */
#define NAME_LONG 12 /* from here on two may differ */

/* What companies are called by law, folded: it says nothing of who they are. Source: memory. */
static bool is_form(const char *word)
{
    return tb_word_listed(
        "ltd limited llc llp lp inc incorporated corp corporation co company plc gmbh mbh ag kg kgaa ohg "
        "ug sa sas sarl sl slu srl spa snc bv nv oy ab as aps kft zrt doo sro pty pvt private",
        word, strlen(word), " ");
}

/* The words that name somebody, run together; "S.p.A." is a form too. Yours to free. */
static char *core(const char *name)
{
    struct tb_text plain = { 0 }, out = { 0 };

    for (const char *p = name; *p; p++)
        if (*p != '.')
            tb_text_addc(&plain, strchr(",&()/-", *p) ? ' ' : *p);
    for (const char *p = tb_text_str(&plain); *p; p += *p == ' ') {
        size_t n = strcspn(p, " ");
        char *word = tb_fold(p, n);

        if (!is_form(word))
            tb_text_add(&out, word);
        free(word);
        p += n;
    }
    tb_text_free(&plain);
    return tb_text_take(&out);
}

/* Mill 3 is not Mill 4. */
static bool same_digits(const char *a, const char *b)
{
    for (;; a++, b++) {
        a += strcspn(a, "0123456789");
        b += strcspn(b, "0123456789");
        if (*a != *b || !*a)
            return *a == *b;
    }
}

static bool nearly(const char *a, const char *b)
{
    size_t n = strlen(a) < strlen(b) ? strlen(a) : strlen(b), most = n >= NAME_LONG ? 2 : 1;

    if (n < NAME_LEAST)
        return n > 0 && strcmp(a, b) == 0;
    return same_digits(a, b) && tb_edit_distance(a, b, most) <= most;
}

static void note_near(struct tb_name_noticed *seen, const struct tb_supplier *all, size_t n, const char *name)
{
    char *here = core(name);

    for (size_t i = 0; i < n && !seen->near; i++) {
        char *there = core(all[i].name);

        if (nearly(here, there)) {
            seen->near = all[i].name;
            seen->near_to = name;
        }
        free(there);
    }
    free(here);
}

static bool look_alike(const char *a, const char *b)
{
    bool alike = false;

    for (int capitals = 0; capitals < 2 && !alike; capitals++) {
        char *x = tb_looks(a, capitals), *y = tb_looks(b, capitals);

        alike = strcmp(x, y) == 0;
        free(x);
        free(y);
    }
    return alike;
}

/* A name that is not in the book, beside all that are. */
static tb_rc check_new(struct tb_name_noticed *seen, struct tb_book *b, const char *name,
                       struct tb_arena *mem, struct tb_err *err)
{
    struct tb_supplier *all;
    size_t n;
    tb_rc rc = tb_supplier_list(&all, &n, b, mem, err);

    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if (look_alike(all[i].name, name))
            return tb_about(
                err,
                tb_fail(err, TB_EEXISTS,
                        "the supplier's name looks like '%s', who is in the book, and is written in "
                        "other letters; name that one, or say that this is another supplier",
                        all[i].name),
                "supplier another-supplier");
    if (rc == TB_OK)
        note_near(seen, all, n, name);
    return rc;
}

/* Somebody in the book has the name, but for what never tells suppliers apart unless a person says so. */
static tb_rc known(struct tb_supplier *out, struct tb_name_noticed *seen, struct tb_book *b, const char *name,
                   bool another, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_supplier written;
    tb_rc rc = tb_supplier_as_written(&written, b, name, mem, err);

    if (rc != TB_OK)
        return rc;
    if (another && tb_supplier_spelled(written.name, name))
        return tb_about(
            err,
            tb_fail(err, TB_EREFUSED,
                    "%s is in the book by this very name: two suppliers cannot be told apart by "
                    "it; a spelling that was joined to another name is parted first (tenterbook supplier)",
                    written.name),
            "another-supplier");
    if (another)
        *out = (struct tb_supplier){ 0 };
    else if (strcmp(written.name, name) != 0) {
        seen->taken = tb_arena_strdup(mem, name);
        seen->taken_as = written.name;
    }
    return TB_OK;
}

tb_rc tb_supplier_named(struct tb_supplier *out, struct tb_name_noticed *seen, struct tb_book *b,
                        const char *name, bool another, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_supplier_find(out, b, name, mem, err);

    *seen = (struct tb_name_noticed){ 0 };
    if (rc == TB_OK)
        return known(out, seen, b, name, another, mem, err);
    if (rc != TB_ENOTFOUND)
        return rc;
    *out = (struct tb_supplier){ 0 };
    return another ? TB_OK : check_new(seen, b, name, mem, err);
}

tb_rc tb_supplier_store(struct tb_supplier *out, struct tb_book *b, const char *name, bool another,
                        struct tb_arena *mem, struct tb_err *err)
{
    return another ? tb_supplier_apart(out, b, name, mem, err) : tb_supplier_ensure(out, b, name, mem, err);
}
