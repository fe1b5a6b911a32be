/* Receiving: a supplier's packing list is read and checked while others write, then stored under a short lock. */
#include "work/receive.h"

#include "tenterbook/setting.h"
#include "work/act.h"

#include <string.h>

static const char header_prefix[] = "header:";

/* An act that reads a file: what was asked, what comes of it, and what the site says about reading. */
struct receiving {
    const struct tb_receive_request *request;
    struct tb_receive_outcome *out;
    struct tb_arena *mem;
    struct tb_intake_opts opts; /* those of the request, and what the site adds */
    char digest[TB_DIGEST_LEN + 1];
};

/* The site's own words come first: what is said for this file comes after them and counts. */
static tb_rc gather_words(struct receiving *r, struct tb_book *b, struct tb_err *err)
{
    const struct tb_intake_opts *said = &r->request->list;
    struct tb_setting *setting = NULL;
    struct tb_header_word *all;
    size_t settings = 0, n = 0;
    tb_rc rc = b ? tb_setting_list(&setting, &settings, b, header_prefix, r->mem, err) : TB_OK;

    if (rc != TB_OK)
        return rc;
    all = tb_arena_alloc(r->mem, (settings + said->words + 1) * sizeof *all);
    for (size_t i = 0; i < settings; i++) {
        int field = tb_field_by_key(setting[i].value);

        if (!*setting[i].value)
            continue; /* set to nothing: forgotten again */
        if (field < 0)
            return tb_fail(
                err, TB_EINVAL,
                "the setting %s is '%s', which is not a field of a packing list; set it to one of those that "
                "'tenterbook receive --help' lists",
                setting[i].name, setting[i].value);
        all[n++] =
            (struct tb_header_word){ setting[i].name + sizeof header_prefix - 1, (enum tb_field)field };
    }
    for (size_t i = 0; i < said->words; i++)
        all[n++] = said->word[i];
    r->opts.word = all;
    r->opts.words = n;
    return TB_OK;
}

/* Dates the file leaves open are meant as the site says, where it says. */
static tb_rc gather_dates(struct receiving *r, struct tb_book *b, struct tb_err *err)
{
    const char *dates = "ask";
    tb_rc rc = TB_OK;

    if (!r->opts.dates && b)
        rc = tb_setting_text(&dates, b, "dates", TB_BOOK_NOW, r->mem, err);
    if (rc == TB_OK && strcmp(dates, "ask") != 0)
        r->opts.dates = dates[0];
    return rc;
}

/* A digest tells the file: its name may change, and the same list under two names is the same goods. */
static tb_rc check_seen(const struct receiving *r, struct tb_book *b, struct tb_err *err)
{
    struct tb_delivery d = { 0 };
    tb_rc rc = r->request->again || !b ? TB_ENOTFOUND : tb_delivery_by_file(&d, b, r->digest, r->mem, err);

    if (rc == TB_OK)
        return tb_fail(err, TB_EEXISTS,
                       "this very file was taken in before, as %s on %.10s; --again takes it in once more",
                       d.ref, d.received_at);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

/* Silence on a signed receipt may be taken for an examination: the receipt says that there was none. */
static const char *whole_remark(const char *said, struct tb_arena *mem)
{
    struct tb_text t = { 0 };
    const char *out;

    if (said && strcasestr(said, "examined"))
        return said;
    tb_text_addf(&t, "received unexamined%s%s", said && *said ? "; " : "", said ? said : "");
    out = tb_arena_strdup(mem, t.s);
    tb_text_free(&t);
    return out;
}

/* Every term of a claim counts from this day: one that is still to come would move them all. */
static tb_rc settle_day(struct receiving *r, struct tb_err *err)
{
    char today[TB_DAY_LEN + 1];

    tb_today(today);
    r->out->arrived = r->request->arrived ? r->request->arrived : tb_arena_strdup(r->mem, today);
    if (strcmp(r->out->arrived, today) > 0)
        return tb_fail(err, TB_EINVAL,
                       "--on is %s, and today is %s: goods that are still to come are not received",
                       r->out->arrived, today);
    return TB_OK;
}

/* The same file again is noticed before it is read: reading a long one takes time. */
static tb_rc read_list(struct receiving *r, struct tb_book *b, struct tb_err *err)
{
    tb_rc rc = tb_file_digest(r->digest, r->request->path, err);

    if (rc == TB_OK)
        rc = check_seen(r, b, err);
    if (rc != TB_OK)
        return rc;
    r->opts.digest = r->digest;
    return tb_packing_list_read(&r->out->list, r->request->path, &r->opts, err);
}

/* Reading takes the longest by far and needs the book only for a few settings: all of it happens before the lock. */
static tb_rc plan(void *arg, bool *write, struct tb_book *b, struct tb_err *err)
{
    struct receiving *r = arg;
    tb_rc rc;

    tb_receive_outcome_free(r->out);
    *write = !r->request->dry;
    r->opts = r->request->list;
    r->out->remark = whole_remark(r->request->remark, r->mem);
    if ((rc = settle_day(r, err)) != TB_OK || (rc = gather_words(r, b, err)) != TB_OK ||
        (rc = gather_dates(r, b, err)) != TB_OK)
        return rc;
    rc = read_list(r, b, err);
    return rc == TB_OK ? rc : tb_within(err, rc, "%s", r->request->path);
}

/* Only what the site teaches about packing lists changes how one is read; the same file is looked for again below. */
static bool concerns(void *arg, const struct tb_journal_row *row)
{
    (void)arg;
    return strcmp(row->verb, "set") == 0 &&
           (strcmp(row->subject, "dates") == 0 ||
            strncmp(row->subject, header_prefix, strlen(header_prefix)) == 0);
}

/* Under the lock the file is looked for once more: two people may receive the same one at the same moment. */
static tb_rc write(void *arg, struct tb_book *b, struct tb_err *err)
{
    struct receiving *r = arg;
    tb_rc rc = check_seen(r, b, err);

    if (rc == TB_OK)
        rc = tb_receive_store(r->out, b, r->request, r->mem, err);
    return rc == TB_OK ? rc : tb_within(err, rc, "%s", r->request->path);
}

tb_rc tb_act_receive(struct tb_receive_outcome *out, const struct tb_actor *actor,
                     const struct tb_receive_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { "receive", plan, concerns, write };
    struct receiving r = { .request = request, .out = out, .mem = mem };
    bool write_it;
    tb_rc rc;

    *out = (struct tb_receive_outcome){ 0 };
    if (request->dry && !actor->book)
        return plan(&r, &write_it, NULL, err);
    if ((rc = tb_act_do(&act, &r, actor, err)) != TB_OK)
        out->delivery = out->lot = NULL; /* references of what was taken back */
    return rc;
}

void tb_receive_outcome_free(struct tb_receive_outcome *out)
{
    tb_packing_list_free(&out->list);
    *out = (struct tb_receive_outcome){ 0 };
}
