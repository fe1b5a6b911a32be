/* Receiving: a supplier's packing list is read and checked while others write, then stored under a short lock. */
#include "work/receive.h"

#include "base/say.h"
#include "tenterbook/setting.h"
#include "work/act.h"
#include "work/moment.h"

#include <string.h>

static const char header_prefix[] = "header:", columns_prefix[] = "columns:";

struct receiving {
    struct tb_intake_opts opts; /* those of the request, and what the site adds */
    char digest[TB_DIGEST_LEN + 1];
    struct tb_sent_file sent; /* where the file was sent as bytes */
    const char *from;         /* where it is read */
};

/* The site's own words come first: what is said for this file comes after them and counts. */
static tb_rc gather_words(struct tb_job *j, struct tb_intake_opts *opts)
{
    const struct tb_receive_request *said = j->request;
    struct tb_setting *setting = NULL;
    struct tb_header_word *all;
    size_t settings = 0, n = 0;
    tb_rc rc = j->b ? tb_setting_list(&setting, &settings, j->b, header_prefix, j->mem, j->err) : TB_OK;

    if (rc != TB_OK)
        return rc;
    all = tb_arena_alloc(j->mem, (settings + said->list.words + 1) * sizeof *all);
    for (size_t i = 0; i < settings; i++) {
        int field = tb_field_by_key(setting[i].value);

        if (!*setting[i].value)
            continue; /* set to nothing: forgotten again */
        if (field < 0)
            return tb_fail(
                j->err, TB_EINVAL,
                "the setting %s is '%s', which is not a field of a packing list; set it to one of those that "
                "'tenterbook help receive' lists",
                setting[i].name, setting[i].value);
        all[n++] =
            (struct tb_header_word){ setting[i].name + sizeof header_prefix - 1, (enum tb_field)field };
    }
    for (size_t i = 0; i < said->list.words; i++)
        all[n++] = said->list.word[i];
    opts->word = all;
    opts->words = n;
    return TB_OK;
}

/* Suppliers whose lists have no header: what their columns hold. */
static tb_rc gather_columns(struct tb_job *j, struct tb_intake_opts *opts)
{
    struct tb_setting *setting = NULL;
    struct tb_columns_of *kept;
    size_t n = 0;
    tb_rc rc = j->b ? tb_setting_list(&setting, &n, j->b, columns_prefix, j->mem, j->err) : TB_OK;

    if (rc != TB_OK)
        return rc;
    kept = tb_arena_alloc(j->mem, (n + 1) * sizeof *kept);
    for (size_t i = 0; i < n; i++)
        if (*setting[i].value) /* set to nothing: forgotten again */
            kept[opts->kepts++] =
                (struct tb_columns_of){ setting[i].name + sizeof columns_prefix - 1, setting[i].value };
    opts->kept = kept;
    return TB_OK;
}

/* Dates the file leaves open are meant as the site says, where it says. */
static tb_rc gather_dates(struct tb_job *j, struct tb_intake_opts *opts)
{
    const char *dates = "ask";
    tb_rc rc = TB_OK;

    if (!opts->dates && j->b)
        rc = tb_setting_text(&dates, j->b, "dates", TB_BOOK_NOW, j->mem, j->err);
    if (rc == TB_OK && strcmp(dates, "ask") != 0)
        opts->dates = dates[0];
    return rc;
}

/* A digest tells the file: its name may change, and the same list under two names is the same goods. */
static tb_rc check_seen(struct tb_job *j)
{
    const struct tb_receive_request *r = j->request;
    const struct receiving *w = j->own;
    struct tb_delivery d = { 0 };
    struct tb_receive_outcome *out = j->out;
    tb_rc rc = tb_receive_explained(r) || !j->b ? TB_ENOTFOUND
                                                : tb_delivery_by_file(&d, j->b, w->digest, j->mem, j->err);

    if (rc == TB_OK && (rc = tb_receive_beside(&out->twin, j->b, d.ref, j->mem, j->err)) == TB_OK) {
        (void)memcpy(out->list.digest, w->digest, sizeof w->digest);
        return tb_about(j->err,
                        tb_fail(j->err, TB_EEXISTS,
                                "this very file was taken in before, as %s on %.10s; say why it comes again, "
                                "if it is another delivery",
                                d.ref, d.received_at),
                        "again why");
    }
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

/* What it would come to, with the book beside it. */
static tb_rc try_out(const struct tb_act *act, struct tb_job *j, const struct tb_actor *actor,
                     struct tb_err *err)
{
    const struct tb_receive_request *r = j->request;
    tb_rc rc = tb_act_try_out(act, j, actor->book, err);

    if (rc != TB_OK || !actor->book || (rc = tb_book_look(actor->book, err)) != TB_OK)
        return rc;
    rc = tb_receive_twice(j->out, actor->book, r, j->mem, err);
    tb_book_look_away(actor->book);
    return rc == TB_OK ? rc : tb_within(err, rc, "%s", tb_receive_name(r));
}

/* Silence on a signed receipt may be taken for an examination: the receipt says that there was none. */
static const char *whole_remark(const struct tb_receive_request *r, struct tb_arena *mem)
{
    const char *said = r->remark;

    if (r->why && *r->why) /* what it is like, and why it is another one, is asked later */
        said = tb_arena_printf(mem, "%s%staken in again: %s", said ? said : "", said && *said ? "; " : "",
                               r->why);
    if (said && strcasestr(said, "examined"))
        return said;
    return tb_arena_printf(mem, TB_UNEXAMINED "%s%s", said && *said ? "; " : "", said ? said : "");
}

/* What the book says of such files. The same file again is noticed before it is read: reading a long one takes time. */
static tb_rc plan(struct tb_job *j)
{
    const struct tb_receive_request *r = j->request;
    struct tb_receive_outcome *out = j->out;
    struct receiving *w = j->own;
    tb_rc rc;

    tb_receive_outcome_free(out);
    j->idle = r->dry;
    w->opts = r->list;
    w->opts.digest = w->digest;
    w->opts.name = tb_receive_name(r);
    out->remark = whole_remark(r, j->mem);
    /* every term of a claim counts from this day: one that is still to come would move them all */
    if ((rc = tb_past_day(&out->arrived, r->arrived, j->mem, j->err)) != TB_OK)
        return tb_within(j->err, rc, "goods that are still to come are not received");
    w->opts.arrived = out->arrived;
    if ((rc = gather_words(j, &w->opts)) != TB_OK || (rc = gather_columns(j, &w->opts)) != TB_OK ||
        (rc = gather_dates(j, &w->opts)) != TB_OK)
        return rc;
    rc = check_seen(j);
    return rc == TB_OK ? rc : tb_within(j->err, rc, "%s", tb_receive_name(r));
}

static tb_rc compute(struct tb_job *j)
{
    const struct tb_receive_request *r = j->request;
    struct tb_receive_outcome *out = j->out;
    const struct receiving *w = j->own;
    tb_rc rc = tb_packing_list_read(&out->list, w->from, &w->opts, j->err);

    return rc == TB_OK ? rc : tb_within(j->err, rc, "%s", tb_receive_name(r));
}

/* Only what the site teaches about packing lists changes how one is read; the same file is looked for again below. */
static bool concerns(struct tb_job *j, const struct tb_journal_row *row)
{
    (void)j;
    return tb_verb_of(row->verb) == TB_VERB_SET &&
           (strcmp(row->subject, "dates") == 0 ||
            strncmp(row->subject, columns_prefix, strlen(columns_prefix)) == 0 ||
            strncmp(row->subject, header_prefix, strlen(header_prefix)) == 0);
}

/* Under the lock the file is looked for once more: two people may receive the same one at the same moment. */
static tb_rc write(struct tb_job *j)
{
    const struct tb_receive_request *r = j->request;
    tb_rc rc = check_seen(j);

    if (rc == TB_OK)
        rc = tb_receive_twice(j->out, j->b, r, j->mem, j->err);
    if (rc == TB_OK)
        rc = tb_receive_store(j->out, j->b, r, j->mem, j->err);
    return rc == TB_OK ? rc : tb_within(j->err, rc, "%s", tb_receive_name(r));
}

const char *tb_receive_name(const struct tb_receive_request *r)
{
    return r->sent ? r->sent->name : r->path;
}

/* A digest of its bytes tells the file, however it came. */
static tb_rc open_file(struct receiving *w, const struct tb_receive_request *r, struct tb_err *err)
{
    tb_rc rc = r->sent ? tb_sent_file_open(&w->sent, r->sent, err) : TB_OK;

    w->from = r->sent ? w->sent.path : r->path;
    return rc == TB_OK ? tb_file_digest(w->digest, w->from, err) : rc;
}

static const struct tb_said said[] = {
    TB_SAYS(tb_receive_request, list.supplier, N_("the supplier")),
    TB_SAYS(tb_receive_request, list.note, N_("the number of the note")),
    TB_SAYS(tb_receive_request, list.order, N_("the number of the order")),
    TB_SAYS(tb_receive_request, list.article, N_("the article")),
    TB_SAYS(tb_receive_request, list.declared, N_("the declaration")),
    TB_SAYS(tb_receive_request, list.currency, N_("the currency")),
    TB_SAYS_ALL(tb_receive_request, list.sheet, list.sheets, N_("the name of a sheet")),
    TB_SAYS(tb_receive_request, arrived, N_("the day of arrival")),
    TB_SAYS(tb_receive_request, remark, N_("the remark")),
    TB_SAYS_WHY(tb_receive_request),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_receive(struct tb_receive_outcome *out, const struct tb_actor *actor,
                     const struct tb_receive_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { .verb = TB_VERB_RECEIVE,
                                       .plan = plan,
                                       .write = write,
                                       .concerns = concerns,
                                       .compute = compute,
                                       .again = 2,
                                       .size = sizeof(struct tb_receive_request),
                                       .said = said };
    struct receiving own = { 0 };
    struct tb_job job = { .request = request, .out = out, .mem = mem, .own = &own };
    tb_rc rc;

    *out = (struct tb_receive_outcome){ 0 };
    if ((rc = open_file(&own, request, err)) != TB_OK)
        rc = tb_within(err, rc, "%s", tb_receive_name(request));
    else if (request->dry)
        rc = try_out(&act, &job, actor, err);
    else if ((rc = tb_act_do(&act, &job, actor, err)) != TB_OK)
        out->delivery = out->lot = NULL; /* references of what was taken back */
    tb_sent_file_close(&own.sent);
    return rc;
}

void tb_receive_outcome_free(struct tb_receive_outcome *out)
{
    tb_packing_list_free(&out->list);
    *out = (struct tb_receive_outcome){ 0 };
}
