/* A supplier that is new, and one in the book whose name is nearly the same: that is said, and neither is taken for the other. */
#include "tenterbook/utf8.h"
#include "tenterbook/words.h"
#include "work/receive.h"

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

tb_rc tb_receive_near(struct tb_receive_outcome *out, struct tb_book *b, const char *name,
                      struct tb_arena *mem, struct tb_err *err)
{
    struct tb_supplier *all;
    char *here = core(name);
    size_t n;
    tb_rc rc = tb_supplier_list(&all, &n, b, mem, err);

    for (size_t i = 0; rc == TB_OK && i < n && !out->near; i++) {
        char *there = core(all[i].name);

        if (nearly(here, there)) {
            out->near = all[i].name;
            out->near_to = name;
        }
        free(there);
    }
    free(here);
    return rc;
}
