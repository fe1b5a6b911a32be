/*
 * stored_verdict.c - the one place where a stored verdict is taken apart.
 *
 * It mirrors tb_lot_verdict_json and tb_verdict_json, member by member. What an older program did not write reads as
 * absent, so that old books stay readable; what is there and makes no sense is refused, so that nobody reports it.
 */
#include "tenterbook/stored_verdict.h"

#include "tenterbook/fibre_words.h"

#include "base/members.h"
#include "base/say.h"

#include <math.h>
#include <string.h>

/* Absent texts are "": whoever prints them need not ask. */
static const char *text(struct tb_members *m, const json_t *o, const char *key)
{
    const char *s = tb_member_text(m, o, key);

    return s ? s : "";
}

/* Older verdicts on whole cloth do not say so. */
static enum tb_part_kind part(struct tb_members *m, const json_t *o)
{
    const char *key = tb_member_text(m, o, "part");
    int kind = key ? tb_part_by_key(key) : TB_PART_WHOLE;

    if (kind < 0)
        tb_member_bad(m, "part", key);
    return kind < 0 ? TB_PART_WHOLE : (enum tb_part_kind)kind;
}

/* A figure without bounds; older verdicts have it under the name that is now that of the figure within them. */
static double exact(struct tb_members *m, const json_t *o, const char *key, const char *older)
{
    return tb_member_number(m, o, json_object_get(o, key) ? key : older);
}

/* A stored verdict is one of three words; that there is no verdict is never stored. */
static enum tb_verdict_kind verdict(struct tb_members *m, const json_t *o)
{
    const char *key = text(m, o, "verdict");
    int kind = TB_UNJUDGED;

    (void)tb_word_find(&kind, &tb_verdict_words, key);
    if (kind == TB_UNJUDGED)
        tb_member_bad(m, "verdict", key);
    return (enum tb_verdict_kind)kind;
}

/* Verdicts that were stored before there were grades have none. */
static enum tb_grade grade(struct tb_members *m, const json_t *o)
{
    const char *key = text(m, o, "grade");
    int found = TB_UNGRADED;

    if (!tb_word_find(&found, &tb_grade_words, key))
        tb_member_bad(m, "grade", key);
    return (enum tb_grade)found;
}

/* Those that were stored before this was kept say it in a note, and what was stopped stays stopped. */
static enum tb_handling handling(struct tb_members *m, const json_t *o, const struct tb_stored_verdict *v)
{
    const char *key = tb_member_text(m, o, "handling");
    int found = TB_HANDLING_ANY;

    if (key && !tb_word_find(&found, &tb_handling_keys, key))
        tb_member_bad(m, "handling", key);
    for (size_t i = 0; !key && i < v->n_note; i++)
        if (strncmp(v->note[i], "Stop: ", 6) == 0)
            found = TB_HANDLING_LABORATORY;
    return (enum tb_handling)found;
}

/* Of a verdict or of a bolt. */
static struct tb_stored_likely *read_likely(size_t *n, struct tb_members *m, const json_t *o)
{
    const json_t *each, *fibres;
    struct tb_stored_likely *all = tb_member_list(m, o, "likeliest", sizeof *all, n, &each);

    for (size_t i = 0; i < *n; i++) {
        struct tb_stored_likely *l = &all[i];
        const json_t *one = json_array_get(each, i);

        l->part = part(m, one);
        l->probability = tb_member_number(m, one, "probability");
        l->fibre = tb_member_list(m, one, "fibres", sizeof *l->fibre, &l->n, &fibres);
        for (size_t k = 0; k < l->n; k++)
            l->fibre[k] =
                (struct tb_stored_share){ text(m, json_array_get(fibres, k), "fibre"),
                                          tb_member_number(m, json_array_get(fibres, k), "percent") };
    }
    return all;
}

static void read_present(struct tb_stored_verdict *v, struct tb_members *m, const json_t *o)
{
    const json_t *each;

    v->present = tb_member_list(m, o, "present", sizeof *v->present, &v->n_present, &each);
    for (size_t i = 0; i < v->n_present; i++) {
        const json_t *one = json_array_get(each, i);

        v->present[i] = (struct tb_stored_present){ part(m, one), text(m, one, "fibre"),
                                                    tb_member_number(m, one, "probability") };
    }
}

static void read_twins(struct tb_stored_verdict *v, struct tb_members *m, const json_t *o)
{
    const json_t *each;

    v->twins = tb_member_list(m, o, "twins", sizeof *v->twins, &v->n_twins, &each);
    for (size_t i = 0; i < v->n_twins; i++)
        v->twins[i].fibre = tb_member_words(m, json_array_get(each, i), "twins", &v->twins[i].n);
}

/* Each line of a cue that another line has as seen. */
static void mark_elsewhere(struct tb_stored_cue *cue, size_t n)
{
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < n && cue[i].sight != TB_SIGHT_SEEN; k++)
            cue[i].elsewhere |= cue[k].sight == TB_SIGHT_SEEN && cue[k].part == cue[i].part &&
                                strcmp(cue[k].cue, cue[i].cue) == 0;
}

/* Seen and denied are two flags in JSON and one sight in the program. */
static void read_cues(struct tb_stored_verdict *v, struct tb_members *m, const json_t *o)
{
    const json_t *each;

    v->cue = tb_member_list(m, o, "cues", sizeof *v->cue, &v->n_cue, &each);
    for (size_t i = 0; i < v->n_cue; i++) {
        const json_t *one = json_array_get(each, i);
        bool seen = tb_member_flag(m, one, "seen"), denied = tb_member_flag(m, one, "denied");

        v->cue[i] = (struct tb_stored_cue){ .part = part(m, one),
                                            .cue = text(m, one, "cue"),
                                            .sight = seen     ? TB_SIGHT_SEEN
                                                     : denied ? TB_SIGHT_DENIED
                                                              : TB_SIGHT_NONE,
                                            .weight_db = tb_member_number(m, one, "weight_db"),
                                            .alone_db = tb_member_number(m, one, "alone_db"),
                                            .memory = tb_member_flag(m, one, "memory") };
    }
    mark_elsewhere(v->cue, v->n_cue);
}

static struct tb_stored_next one_next(struct tb_members *m, const json_t *one)
{
    struct tb_stored_next x = { .part = part(m, one),
                                .test = text(m, one, "test"),
                                .name = text(m, one, "name"),
                                .effort = text(m, one, "effort"),
                                .caution = text(m, one, "hazard"),
                                .gain_bits = tb_member_number(m, one, "gain_bits"),
                                .settles = tb_member_number(m, one, "settles"),
                                .cost = tb_member_number(m, one, "cost"),
                                .minutes = tb_member_number(m, one, "minutes"),
                                .memory = tb_member_flag(m, one, "memory") };

    x.hazard = tb_member_words(m, json_object_get(one, "hazards"), "hazards", &x.hazards);
    return x;
}

static void read_next(struct tb_stored_verdict *v, struct tb_members *m, const json_t *o)
{
    const json_t *each, *confirm = tb_member_object(m, o, "confirm");

    v->next = tb_member_list(m, o, "next", sizeof *v->next, &v->n_next, &each);
    for (size_t i = 0; i < v->n_next; i++)
        v->next[i] = one_next(m, json_array_get(each, i));
    v->confirm = one_next(m, confirm);
    if (tb_member_whole(m, confirm, "bolts") > 0)
        v->confirm.bolts = (size_t)tb_member_whole(m, confirm, "bolts");
    v->supposed = text(m, confirm, "supposed");
    v->outcome = tb_member_list(m, confirm, "outcomes", sizeof *v->outcome, &v->n_outcome, &each);
    for (size_t i = 0; i < v->n_outcome; i++) {
        const json_t *one = json_array_get(each, i);

        v->outcome[i] =
            (struct tb_stored_outcome){ text(m, one, "result"), text(m, one, "meaning"), verdict(m, one),
                                        grade(m, one), tb_member_number(m, one, "log_ratio") };
    }
}

static void read_power(struct tb_stored_verdict *v, struct tb_members *m, const json_t *o)
{
    const json_t *each;

    v->power = tb_member_list(m, o, "power", sizeof *v->power, &v->n_power, &each);
    for (size_t i = 0; i < v->n_power; i++) {
        const json_t *one = json_array_get(each, i);

        v->power[i] = (struct tb_stored_power){ .part = part(m, one),
                                                .instead = text(m, one, "instead"),
                                                .blind = tb_member_flag(m, one, "blind"),
                                                .one = tb_member_number(m, one, "one_burn"),
                                                .two = tb_member_number(m, one, "two_burns"),
                                                .with_test = tb_member_number(m, one, "with_test"),
                                                .test = text(m, one, "test"),
                                                .draws = tb_member_whole(m, one, "draws") };
    }
}

static void read_bolts(struct tb_stored_verdict *v, struct tb_members *m, const json_t *o)
{
    const json_t *each;

    v->bolt = tb_member_list(m, o, "by_bolt", sizeof *v->bolt, &v->n_bolt, &each);
    for (size_t i = 0; i < v->n_bolt; i++) {
        const json_t *one = json_array_get(each, i);

        v->bolt[i] = (struct tb_stored_bolt){ .number = text(m, one, "bolt"),
                                              .kind = verdict(m, one),
                                              .grade = grade(m, one),
                                              .log_ratio = exact(m, one, "sort_log_ratio", "log_ratio"),
                                              .burns = tb_member_whole(m, one, "burns"),
                                              .observations = tb_member_whole(m, one, "observations") };
        v->bolt[i].likely = read_likely(&v->bolt[i].n_likely, m, one);
    }
    v->bolts_burnt = tb_member_whole(m, o, "bolts_burnt");
    v->bolts_tested = tb_member_whole(m, o, "bolts_tested");
    v->bolts = tb_member_whole(m, o, "bolts");
}

/* In the verdicts of older programs there are none. */
static void read_limits(struct tb_stored_verdict *v, struct tb_members *m, const json_t *o)
{
    const json_t *limits = tb_member_object(m, o, "limits"),
                 *full = tb_member_object(m, limits, "of_many_looks");
    const json_t *error = tb_member_object(m, o, "bench_error");
    double low = tb_member_number(m, limits, "lowest"), high = tb_member_number(m, limits, "highest");
    const char **untested;
    size_t n = 0;

    tb_bounds_published(&v->bounds);
    if (low > 0 && high > 0)
        v->bounds = (struct tb_bounds){ .low = log(low), .high = log(high) };
    v->full_bounds = v->bounds;
    low = tb_member_number(m, full, "lowest");
    high = tb_member_number(m, full, "highest");
    if (low > 0 && high > 0)
        v->full_bounds = (struct tb_bounds){ .low = log(low), .high = log(high) };
    v->looks = tb_member_whole(m, limits, "looks");
    v->settled_lots = tb_member_whole(m, limits, "settled_lots");
    v->settled_cases = tb_member_number(m, limits, "settled_cases");
    untested = tb_member_words(m, json_object_get(limits, "untested"), "untested", &n);
    for (size_t i = 0; i < n; i++)
        v->untested_finish |= strcmp(untested[i], "finish") == 0;
    v->bounds.untested = v->full_bounds.untested = n > 0;
    v->bench_error = tb_member_number(m, error, "chance");
    v->drilled.burns = (long)tb_member_whole(m, error, "drilled");
    v->drilled.mistakes = (long)tb_member_whole(m, error, "mistakes");
    v->drilled.lower = tb_member_number(m, error, "lower");
    v->drilled.upper = tb_member_number(m, error, "upper");
}

static void read_base_rate(struct tb_stored_verdict *v, struct tb_members *m, const json_t *o)
{
    const json_t *base = tb_member_object(m, o, "base_rate");
    double rate = tb_member_number(m, base, "rate");
    int from = TB_BASE_UNSAID;

    if (!tb_word_find(&from, &tb_base_words, text(m, base, "from")))
        tb_member_bad(m, "from", text(m, base, "from"));
    v->base_rate = rate > 0 && rate < 1 ? rate : 0;
    v->base_from = (enum tb_base_from)from;
    v->not_as_declared = tb_member_number(m, base, "not_as_declared");
}

/* All members are read before the first failure is looked at: after it every read answers as absent (members.h). */
tb_rc tb_stored_verdict_read(struct tb_stored_verdict *out, const json_t *o, struct tb_arena *mem,
                             struct tb_err *err)
{
    struct tb_members m = { mem, err, TB_OK };
    struct tb_stored_verdict v = { 0 };

    if (!json_is_object(o))
        m.rc = tb_fail(err, TB_EFORMAT, "a JSON object is missing");
    v.lot = text(&m, o, "id");
    v.declared = text(&m, tb_member_object(&m, o, "declared"), "text");
    v.kind = verdict(&m, o);
    v.grade = grade(&m, o);
    v.reason = text(&m, o, "reason");
    v.log_ratio = exact(&m, o, "sort_log_ratio", "log_ratio");
    v.log_declared = exact(&m, o, "sort_log_declared", "log_declared");
    v.log_else = exact(&m, o, "sort_log_else", "log_else");
    v.one_look = tb_member_flag(&m, o, "one_look");
    v.none_alone = tb_member_flag(&m, o, "none_alone");
    v.few_tell = tb_member_flag(&m, o, "few_tell");
    v.excused = text(&m, o, "excused");
    v.at_odds = tb_member_flag(&m, o, "at_odds");
    v.outdone = tb_member_flag(&m, o, "outdone");
    v.imitated = tb_member_flag(&m, o, "imitated");
    v.burns = tb_member_whole(&m, o, "burns");
    v.observations = tb_member_whole(&m, o, "observations");
    v.rule = text(&m, o, "rule");
    v.reference = text(&m, o, "reference");
    v.note = tb_member_words(&m, json_object_get(o, "notes"), "notes", &v.n_note);
    v.handling = handling(&m, o, &v);
    read_limits(&v, &m, o);
    read_base_rate(&v, &m, o);
    v.likely = read_likely(&v.n_likely, &m, o);
    read_present(&v, &m, o);
    read_twins(&v, &m, o);
    read_cues(&v, &m, o);
    read_next(&v, &m, o);
    read_power(&v, &m, o);
    read_bolts(&v, &m, o);
    *out = m.rc == TB_OK ? v : (struct tb_stored_verdict){ 0 };
    return m.rc == TB_OK ? TB_OK : tb_within(err, m.rc, "the stored verdict is damaged");
}

/* An empty object was stored by programs that could not write the details. */
tb_rc tb_stored_verdict_parse(struct tb_stored_verdict *out, const char *stored, struct tb_arena *mem,
                              struct tb_err *err)
{
    json_error_t why;
    json_t *o;
    tb_rc rc = TB_ENOTFOUND;

    *out = (struct tb_stored_verdict){ 0 };
    if (!*stored)
        return TB_ENOTFOUND;
    o = json_loads(stored, JSON_REJECT_DUPLICATES, &why);
    if (!o) {
        (void)tb_fail(err, TB_EFORMAT, "the stored verdict is damaged: it is not JSON");
        tb_detail(err, "at byte %d: %s", why.position, why.text);
        return TB_EFORMAT;
    }
    if (!json_is_object(o) || json_object_size(o) > 0)
        rc = tb_stored_verdict_read(out, o, mem, err);
    json_decref(o);
    return rc;
}

/* By the names people read, its part before them; a key that this program does not know stays as it is. */
static void fibres(struct tb_text *out, enum tb_tongue to, const struct tb_stored_likely *l)
{
    if (l->part != TB_PART_WHOLE)
        tb_text_addf(out, "%s: ", tb_part_in(to, l->part));
    for (size_t k = 0; k < l->n; k++) {
        tb_text_addf(out, "%s%s", k ? tb_tr(to, ", ") : "", tb_fibre_key_in(to, l->fibre[k].fibre));
    }
}

void tb_stored_likeliest(struct tb_text *out, enum tb_tongue to, const struct tb_stored_verdict *v)
{
    for (size_t i = 0; v->reason && *v->reason && i < v->n_likely; i++) {
        const struct tb_stored_likely *l = &v->likely[i];
        struct tb_text cloth = { 0 };

        if (i && v->likely[i - 1].part == l->part)
            continue; /* the first of a part is its likeliest */
        if (i)
            tb_text_add(out, tb_tr(to, "; "));
        fibres(&cloth, to, l);
        tb_text_addf(out, tb_tr(to, "%s (%.0f in 100)"), tb_text_str(&cloth), 100 * l->probability);
        tb_text_free(&cloth);
    }
}

size_t tb_stored_verdict_against(const struct tb_stored_verdict *v)
{
    size_t n = 0;

    for (size_t i = 0; i < v->n_bolt; i++)
        n += v->bolt[i].kind == TB_CONTRADICTS;
    return n;
}
