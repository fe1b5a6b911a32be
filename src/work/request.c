/* What every request of an act goes through: its texts may be recorded, or the act does not begin. */
#include "work/act.h"

#include "base/say.h"
#include "tenterbook/said.h"

#include <string.h>

/* A text that is all blanks says nothing. */
static tb_rc read_text(char *request, const struct tb_said *s, struct tb_err *err)
{
    const char *text, *const nothing = "";
    tb_rc rc;

    memcpy(&text, request + s->at, sizeof text);
    if (!text)
        return TB_OK;
    if ((rc = tb_said_check(_(s->what), text, err)) == TB_OK && tb_said_blank(text))
        memcpy(request + s->at, &nothing, sizeof nothing);
    return rc == TB_OK && s->count == TB_SAID_WHY ? tb_reason_check(text, err) : rc;
}

static tb_rc read_list(const char *request, const struct tb_said *s, struct tb_err *err)
{
    const char *const *text;
    tb_rc rc = TB_OK;
    size_t n;

    memcpy(&text, request + s->at, sizeof text);
    memcpy(&n, request + s->count, sizeof n);
    for (size_t i = 0; i < n && rc == TB_OK; i++)
        rc = tb_said_check(_(s->what), text[i], err);
    return rc;
}

tb_rc tb_request_read(const void **out, const struct tb_act *act, const void *request, struct tb_arena *mem,
                      struct tb_err *err)
{
    char *mine;
    tb_rc rc = TB_OK;

    *out = request;
    if (!act->size)
        return TB_OK;
    mine = tb_arena_alloc(mem, act->size);
    memcpy(mine, request, act->size);
    for (const struct tb_said *s = act->said; s && s->what && rc == TB_OK; s++)
        rc = s->count < TB_SAID_WHY ? read_list(mine, s, err) : read_text(mine, s, err);
    *out = mine;
    return rc;
}
