/* Replies looked at in a process apart: what goes over, and what of the answer is believed (stamp.h). */
#include "base/apart.h"
#include "base/infile.h"
#include "book/stamp.h"
#include "tenterbook/utf8.h"

#include "gen/late_crypto.h"
#include <string.h>

#define SECONDS 60
#define MEMORY_MB 512

/* How far the child came: what it reads now is what a failure is about. */
enum stage { AT_CERTIFICATES, AT_REQUEST, AT_REPLIES };

struct seeing {
    const struct tb_stamp_reply *reply;
    const struct tb_stamp_look *how;
    struct tb_stamp_seen *out;
    size_t n, came;
    enum stage stage;
};

/* A byte where a stage is passed, and then each reply in turn. */
static tb_rc look(struct tb_apart *to, void *arg, struct tb_err *err)
{
    const struct seeing *s = arg;
    struct tb_stamp_reader reader = { 0 };
    struct tb_stamp_seen seen;
    tb_rc rc = tb_stamp_read_certificates(&reader, s->how->trust, err);

    if (rc == TB_OK) {
        tb_apart_send(to, "", 1);
        rc = tb_stamp_read_request(&reader, s->how->request, err);
    }
    if (rc == TB_OK)
        tb_apart_send(to, "", 1);
    for (size_t i = 0; i < s->n && rc == TB_OK; i++) {
        tb_stamp_reader_see(&seen, &reader, &s->reply[i]);
        tb_apart_send(to, &seen, sizeof seen);
    }
    tb_stamp_reader_free(&reader);
    return rc;
}

static bool is_text(const char *s, size_t room)
{
    return memchr(s, '\0', room) && tb_utf8_valid(s, strlen(s));
}

/* A moment that is none, or words that are no text, do not come from our own reader. */
static bool is_sound(const struct tb_stamp_seen *s)
{
    const struct tb_stamped *t = &s->shown;

    if (!is_text(s->why, sizeof s->why) || !is_text(t->at, sizeof t->at) || !is_text(t->by, sizeof t->by) ||
        !is_text(t->serial, sizeof t->serial) || t->number != 0)
        return false;
    if (s->rc != TB_OK)
        return (s->rc == TB_EFORMAT || s->rc == TB_EREFUSED) && s->why[0];
    return tb_moment_valid(t->at) && t->serial[0] &&
           strspn(t->serial, "0123456789ABCDEF") == strlen(t->serial);
}

static tb_rc take(void *arg, const unsigned char *part, size_t n, bool *yes, struct tb_err *err)
{
    struct seeing *s = arg;

    (void)yes;
    if (s->stage < AT_REPLIES && n == 1) {
        s->stage++;
        return TB_OK;
    }
    if (s->stage == AT_REPLIES && s->came < s->n && n == sizeof *s->out) {
        memcpy(&s->out[s->came], part, n);
        if (is_sound(&s->out[s->came++]))
            return TB_OK;
    }
    return tb_fail(err, TB_EFORMAT, "what was read of it is no time stamp");
}

static const char *file_of(const struct seeing *s)
{
    return s->stage == AT_CERTIFICATES && s->how->trust ? s->how->trust->path
           : s->stage == AT_REQUEST && s->how->request  ? s->how->request->path
                                                        : s->how->of;
}

tb_rc tb_stamps_see(struct tb_stamp_seen *out, const struct tb_stamp_reply *reply, size_t n,
                    const struct tb_stamp_look *how, struct tb_err *err)
{
    struct seeing s = { .reply = reply, .how = how, .out = out, .n = n };
    const struct tb_apart_job job = { .read = look,
                                      .take = take,
                                      .arg = &s,
                                      .before = tb_late_crypto_before,
                                      .file = -1,
                                      .seconds = SECONDS,
                                      .memory_mb = MEMORY_MB };
    tb_rc rc;

    /* before there is a child, which may not read the library's settings; they are not wanted anyway */
    (void)OPENSSL_init_crypto(OPENSSL_INIT_NO_LOAD_CONFIG | OPENSSL_INIT_LOAD_CRYPTO_STRINGS, NULL);
    rc = tb_apart(&job, err);
    if (rc == TB_OK && s.came < n)
        rc = tb_fail(err, TB_EFORMAT, "what was read of it is no time stamp");
    return rc == TB_OK ? rc : tb_within(err, rc, "%s", file_of(&s));
}

tb_rc tb_stamp_file_read(struct tb_stamp_file *out, const char *path, size_t most, struct tb_err *err)
{
    tb_rc rc;

    *out = (struct tb_stamp_file){ .path = path };
    rc = tb_in_whole(&out->bytes, path, most, err);
    return rc == TB_OK ? rc : tb_within(err, rc, "%s", path);
}
