/* The day a fault of a lot was found: the day it was seen, however much later that was typed up. */
#include "book/stmt.h"
#include "tenterbook/dispute.h"

#include <string.h>

/* Whether a number stands among the lines of a list. */
static bool listed(const char *lines, const char *number)
{
    size_t n = strlen(number);

    for (const char *p = lines; *p; p += strcspn(p, "\n"), p += *p == '\n')
        if (strncmp(p, number, n) == 0 && (p[n] == '\n' || p[n] == '\0'))
            return n > 0;
    return false;
}

static void earlier(struct tb_discovery *out, const char *day, const char *typed)
{
    if (out->day && strcmp(out->day, day) <= 0)
        return;
    *out = (struct tb_discovery){ .day = day, .typed = strcmp(typed, day) > 0 ? typed : NULL };
}

/* What the journal row of a verdict brought: the earliest, of those alone whose bolt contradicts by itself where `alone` asks that. */
static bool brought(struct tb_discovery *out, const struct tb_verdict_against *f,
                    const struct tb_looked_at *seen, size_t n, bool alone)
{
    bool any = false;

    for (size_t i = 0; i < n; i++) {
        if (seen[i].entry != f->entry || (alone ? !listed(f->against, seen[i].number) : seen[i].corrects))
            continue;
        earlier(out, seen[i].day, seen[i].typed);
        any = true;
    }
    return any;
}

/* Something was taken out: what was left was all seen by then. */
static bool left(struct tb_discovery *out, const struct tb_verdict_against *f,
                 const struct tb_looked_at *seen, size_t n)
{
    const struct tb_looked_at *last = NULL;
    bool taken = strcmp(f->verb, "void") == 0 || strcmp(f->verb, "move") == 0;

    for (size_t i = 0; i < n; i++) {
        taken = taken || (seen[i].entry == f->entry && seen[i].corrects);
        if (seen[i].counts && seen[i].entry <= f->entry && (!last || strcmp(seen[i].day, last->day) > 0))
            last = &seen[i];
    }
    if (taken && last)
        earlier(out, last->day, last->typed);
    return taken && last;
}

void tb_discovery_of(struct tb_discovery *out, const struct tb_verdict_against *f, size_t n,
                     const struct tb_looked_at *seen, size_t seens)
{
    *out = (struct tb_discovery){ .by = "" };
    for (size_t i = 0; i < n; i++)
        if (!brought(out, &f[i], seen, seens, true) && i == 0 && !brought(out, &f[i], seen, seens, false) &&
            !left(out, &f[i], seen, seens))
            earlier(out, f[i].day, f[i].day);
    if (out->day)
        out->by = "verdict";
}

tb_rc tb_lot_discovered(struct tb_discovery *out, struct tb_book *b, const char *lot_id, struct tb_arena *mem,
                        struct tb_err *err)
{
    struct tb_looked_at *seen = NULL;
    struct tb_verdict_against *f = NULL;
    const char *analysed = NULL;
    size_t n = 0, seens = 0;
    tb_rc rc;

    *out = (struct tb_discovery){ .by = "" };
    if ((rc = tb_verdict_against_list(&f, &n, b, lot_id, mem, err)) != TB_OK ||
        (n && (rc = tb_looked_at_list(&seen, &seens, b, lot_id, mem, err)) != TB_OK) ||
        ((rc = tb_ask_text(&analysed, tb_sql_not_conforming(b, lot_id), mem, err)) != TB_OK &&
         rc != TB_ENOTFOUND))
        return rc;
    tb_discovery_of(out, f, n, seen, seens);
    if (analysed && (!out->day || strcmp(analysed, out->day) < 0))
        *out = (struct tb_discovery){ .day = analysed, .by = "analysis" };
    return TB_OK;
}
