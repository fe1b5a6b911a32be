/* Photographs: of a burn, and of the unburnt cloth of a swatch; those that come later are kept with it, and judged by nobody. */
#include "base/say.h"
#include "tenterbook/attachment.h"
#include "work/act.h"
#include "work/burn.h"
#include "work/void.h"

#include <sodium.h>
#include <string.h>

/* The digest of the bytes, as the book has it of those it keeps. */
static const char *digest_of(const struct tb_attachment *a, struct tb_arena *mem)
{
    unsigned char hash[crypto_hash_sha256_BYTES];
    char *hex = tb_arena_alloc(mem, 2 * sizeof hash + 1);

    (void)crypto_hash_sha256(hash, a->bytes, a->size);
    return sodium_bin2hex(hex, 2 * sizeof hash + 1, hash, sizeof hash);
}

static tb_rc check_new(const struct tb_photos *p, const struct tb_attachment *there, size_t theres,
                       bool swatch, struct tb_job *j)
{
    const char **digest = tb_arena_alloc(j->mem, (p->n + 1) * sizeof *digest);

    for (size_t i = 0; i < p->n; i++) {
        digest[i] = digest_of(&p->photo[i], j->mem);
        for (size_t k = 0; k < theres; k++)
            if (strcmp(digest[i], there[k].sha256) == 0)
                return tb_fail(j->err, TB_EEXISTS,
                               swatch ? N_("photograph %s is kept with this swatch already, as %s")
                                      : N_("photograph %s is kept with this burn already, as %s"),
                               p->photo[i].name, there[k].name);
        for (size_t k = 0; k < i; k++)
            if (strcmp(digest[i], digest[k]) == 0)
                return tb_fail(j->err, TB_EINVAL, "%s and %s are the same photograph", p->photo[k].name,
                               p->photo[i].name);
    }
    return TB_OK;
}

tb_rc tb_photos_check(const struct tb_photos *p, struct tb_job *j, const char *subject)
{
    bool swatch = strcmp(p->about, "swatch") == 0;
    struct tb_attachment *there = NULL;
    size_t n = 0;
    tb_rc rc = subject ? tb_attachment_list(&there, &n, j->b, subject, j->mem, j->err) : TB_OK;

    if (rc == TB_OK && n + p->n > TB_PHOTOS_MOST)
        return tb_fail(j->err, TB_EINVAL,
                       swatch ? N_("one swatch takes at most %d photographs")
                              : N_("one burn takes at most %d photographs"),
                       TB_PHOTOS_MOST);
    for (size_t i = 0; i < p->n && rc == TB_OK; i++)
        rc = tb_attachment_check(&p->photo[i], j->err);
    return rc == TB_OK ? check_new(p, there, n, swatch, j) : rc;
}

tb_rc tb_photos_add(const struct tb_photos *p, struct tb_job *j, const char *subject)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < p->n && rc == TB_OK; i++) {
        struct tb_attachment photo = p->photo[i];

        photo.about = p->about;
        photo.subject = subject;
        rc = tb_attachment_add(&photo, j->b, j->mem, j->err);
    }
    return rc;
}

tb_rc tb_photos_copy(struct tb_job *j, const char *from, const char *to)
{
    struct tb_attachment *photo, one;
    size_t n;
    tb_rc rc = tb_attachment_list(&photo, &n, j->b, from, j->mem, j->err);

    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if ((rc = tb_attachment_load(&one, j->b, photo[i].id, j->mem, j->err)) == TB_OK) {
            one.subject = to;
            rc = tb_attachment_add(&one, j->b, j->mem, j->err);
        }
    return rc;
}

/* Photographs that come alone; without one there is nothing to do. */
static tb_rc check(const struct tb_photos *p, struct tb_job *j, const char *subject)
{
    if (!p->n)
        return tb_fail(j->err, TB_EINVAL, "there is no photograph to keep");
    return tb_photos_check(p, j, subject);
}

static tb_rc plan(struct tb_job *j)
{
    const struct tb_photograph_request *r = j->request;
    struct tb_burn *out = j->out;
    struct tb_void_subject s;
    tb_rc rc = tb_void_find(&s, j->b, r->burn, NULL, j->mem, j->err);

    if (rc != TB_OK)
        return rc;
    if (strcmp(s.about, "burn") != 0)
        return tb_fail(j->err, TB_EINVAL, "%s is not a burn: photographs are kept with a burn", r->burn);
    if ((rc = tb_burn_find(out, j->b, r->burn, j->mem, j->err)) != TB_OK)
        return rc;
    j->subject = out->tag;
    return check(&(struct tb_photos){ "burn", r->photo, r->photos }, j, r->burn);
}

static tb_rc write(struct tb_job *j)
{
    const struct tb_photograph_request *r = j->request;

    return tb_photos_add(&(struct tb_photos){ "burn", r->photo, r->photos }, j, r->burn);
}

static const struct tb_said said[] = {
    TB_SAYS(tb_photograph_request, burn, N_("the burn")),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_photograph(struct tb_burn *out, const struct tb_actor *actor,
                        const struct tb_photograph_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { .verb = TB_VERB_BURN,
                                       .plan = plan,
                                       .write = write,
                                       .size = sizeof(struct tb_photograph_request),
                                       .said = said };

    *out = (struct tb_burn){ 0 };
    return tb_act_do(&act, &(struct tb_job){ .request = request, .out = out, .mem = mem }, actor, err);
}

/* --- of unburnt cloth --------------------------------------------------------------------------------------------- */

static tb_rc plan_unburnt(struct tb_job *j)
{
    const struct tb_unburnt_request *r = j->request;
    struct tb_swatch *out = j->out;
    tb_rc rc = tb_swatch_find(out, j->b, r->swatch, j->mem, j->err);

    if (rc != TB_OK)
        return rc;
    j->subject = out->tag;
    return check(&(struct tb_photos){ "swatch", r->photo, r->photos }, j, out->id);
}

static tb_rc write_unburnt(struct tb_job *j)
{
    const struct tb_unburnt_request *r = j->request;
    const struct tb_swatch *out = j->out;

    return tb_photos_add(&(struct tb_photos){ "swatch", r->photo, r->photos }, j, out->id);
}

static const struct tb_said said_unburnt[] = {
    TB_SAYS(tb_unburnt_request, swatch, N_("the swatch")),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_unburnt(struct tb_swatch *out, const struct tb_actor *actor,
                     const struct tb_unburnt_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { .verb = TB_VERB_CUT,
                                       .plan = plan_unburnt,
                                       .write = write_unburnt,
                                       .size = sizeof(struct tb_unburnt_request),
                                       .said = said_unburnt };

    *out = (struct tb_swatch){ 0 };
    return tb_act_do(&act, &(struct tb_job){ .request = request, .out = out, .mem = mem }, actor, err);
}
