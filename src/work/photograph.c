/* Photographs that come after their burn: kept with it, and judged by nobody. */
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

tb_rc tb_photos_check_new(const struct tb_attachment *photo, size_t n, const struct tb_attachment *there,
                          size_t theres, struct tb_arena *mem, struct tb_err *err)
{
    const char **digest = tb_arena_alloc(mem, (n + 1) * sizeof *digest);

    for (size_t i = 0; i < n; i++) {
        digest[i] = digest_of(&photo[i], mem);
        for (size_t k = 0; k < theres; k++)
            if (strcmp(digest[i], there[k].sha256) == 0)
                return tb_fail(err, TB_EEXISTS, "photograph %s is kept with this burn already, as %s",
                               photo[i].name, there[k].name);
        for (size_t k = 0; k < i; k++)
            if (strcmp(digest[i], digest[k]) == 0)
                return tb_fail(err, TB_EINVAL, "%s and %s are the same photograph", photo[k].name,
                               photo[i].name);
    }
    return TB_OK;
}

static tb_rc check(struct tb_job *j)
{
    const struct tb_photograph_request *r = j->request;
    struct tb_attachment *there;
    size_t n;
    tb_rc rc = tb_attachment_list(&there, &n, j->b, r->burn, j->mem, j->err);

    if (rc != TB_OK)
        return rc;
    if (!r->photos)
        return tb_fail(j->err, TB_EINVAL, "there is no photograph to keep");
    if (n + r->photos > TB_PHOTOS_MOST)
        return tb_fail(j->err, TB_EINVAL, "one burn takes at most %d photographs", TB_PHOTOS_MOST);
    for (size_t i = 0; i < r->photos && rc == TB_OK; i++)
        rc = tb_attachment_check(&r->photo[i], j->err);
    return rc == TB_OK ? tb_photos_check_new(r->photo, r->photos, there, n, j->mem, j->err) : rc;
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
    return check(j);
}

static tb_rc write(struct tb_job *j)
{
    const struct tb_photograph_request *r = j->request;
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < r->photos && rc == TB_OK; i++) {
        struct tb_attachment photo = r->photo[i];

        photo.about = "burn";
        photo.subject = r->burn;
        rc = tb_attachment_add(&photo, j->b, j->mem, j->err);
    }
    return rc;
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
