/* person.c - who wrote in the book, by whatever spelling of the name. */
#include "book/named.h"
#include "book/stmt.h"
#include "tenterbook/utf8.h"

/* The names are few, and they are read only where none is written just so. */
static tb_rc in_other_letters(struct tb_person *out, struct tb_book *b, const char *name,
                              struct tb_arena *mem, struct tb_err *err)
{
    struct tb_person *all;
    size_t n;
    tb_rc rc = tb_all_person(&all, &n, tb_sql_people(b), mem, err);

    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if (tb_name_same(all[i].name, name)) {
            *out = all[i];
            return TB_OK;
        }
    return rc == TB_OK ? TB_ENOTFOUND : rc;
}

static tb_rc called(struct tb_person *out, struct tb_book *b, const char *name, struct tb_arena *mem,
                    struct tb_err *err)
{
    tb_rc rc = tb_one_person(out, tb_sql_person_by_name(b, name), mem, err);

    return rc == TB_ENOTFOUND ? in_other_letters(out, b, name, mem, err) : rc;
}

tb_rc tb_person_known(struct tb_person *out, struct tb_book *b, const char *name, struct tb_arena *mem,
                      struct tb_err *err)
{
    tb_rc rc = called(out, b, name, mem, err);

    if (rc == TB_ENOTFOUND)
        *out = (struct tb_person){ .id = "", .name = name };
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

tb_rc tb_person_written(const char **out, struct tb_book *b, const char *name, struct tb_arena *mem,
                        struct tb_err *err)
{
    struct tb_person known;
    tb_rc rc = tb_person_known(&known, b, name, mem, err);

    *out = rc == TB_OK ? known.name : name;
    return rc;
}

tb_rc tb_person_find(struct tb_person *out, struct tb_book *b, const char *name, struct tb_arena *mem,
                     struct tb_err *err)
{
    tb_rc rc = called(out, b, name, mem, err);

    if (rc == TB_ENOTFOUND)
        rc = tb_fail(err, rc, "nobody called %s wrote in this book", name);
    return tb_nearest_offer(b, "person", NULL, name, rc, err);
}
