/* Time stamps that an extract brings: of which of its rows they are, what they cover, and who signed them (extract_impl.h). */
#include "book/extract_impl.h"
#include "book/stamp.h"

#include "base/say.h"

#include <stdlib.h>
#include <string.h>

/* What the file says of a stamp beside what the reply in it shows. */
static bool fits(const json_t *stamp, const struct tb_stamp_seen *seen, const struct tb_told_row *row)
{
    unsigned char imprint[TB_HASH];
    char hex[TB_DIGEST_HEX];

    tb_hash_hex(hex, row->digest);
    return tb_stamp_imprint(imprint, row->number, hex) && memcmp(imprint, seen->imprint, TB_HASH) == 0 &&
           strcmp(tb_row_text(stamp, "at"), seen->shown.at) == 0 &&
           strcmp(tb_row_text(stamp, "by"), seen->shown.by) == 0 &&
           strcmp(tb_row_text(stamp, "serial"), seen->shown.serial) == 0;
}

/* Rows told in full say when they were written. */
static void look_ahead(struct tb_extract_stamp *s, const struct tb_told *told, int64_t from)
{
    for (size_t i = 0; i < told->n && told->row[i].number <= s->shown.number && !s->ahead; i++) {
        const char *at =
            told->row[i].full && told->row[i].number >= from ? tb_row_text(told->row[i].full, "at") : "";

        if (tb_moment_valid(at) && strcmp(at, s->shown.at) > 0) {
            s->ahead = told->row[i].number;
            (void)snprintf(s->ahead_said, sizeof s->ahead_said, "%s", at);
        }
    }
}

static int64_t facts_within(const struct tb_extract_proof *p, int64_t from, int64_t number)
{
    int64_t n = 0;

    for (size_t i = 0; i < p->coverings; i++)
        n += p->covered[i].entry >= from && p->covered[i].entry <= number ? p->covered[i].facts : 0;
    return n;
}

static void check_one(struct tb_extract_proof *p, const json_t *stamp, const struct tb_stamp_seen *seen,
                      const struct tb_told *told, bool trusted)
{
    int64_t number = tb_row_whole(stamp, "number");
    const struct tb_told_row *row = tb_told_at(told, number);
    struct tb_extract_stamp *s;

    if (seen->rc == TB_EFORMAT) {
        tb_extract_wrong(p, "the time stamp of journal row %lld cannot be read: %s", (long long)number,
                         seen->why);
    } else if (!row) {
        tb_extract_wrong(p, "the file holds a time stamp of journal row %lld and does not tell that row",
                         (long long)number);
    } else if (!fits(stamp, seen, row)) {
        tb_extract_wrong(
            p,
            "the time stamp of journal row %lld does not fit: it is of another row or of another "
            "book, or shows something else than the file says",
            (long long)number);
    } else if (seen->rc != TB_OK) {
        tb_extract_wrong(p, "the time stamp of journal row %lld is not trusted: %s", (long long)number,
                         seen->why);
    } else {
        int64_t from = p->beside_book ? 1 : tb_told_reach(told, number);

        s = &p->stamp[p->stamps++];
        *s = (struct tb_extract_stamp){ .shown = seen->shown,
                                        .facts = facts_within(p, from, number),
                                        .trusted = trusted };
        s->shown.number = number;
        look_ahead(s, told, from);
    }
}

/* One authority gives each stamp a serial number of its own: the same one of the same row is the same stamp. */
static void check_twice(struct tb_extract_proof *p, const json_t *list)
{
    json_t *met = json_object();
    struct tb_text key = { 0 };
    const json_t *stamp;
    size_t i;

    json_array_foreach(list, i, stamp)
    {
        int64_t number = tb_row_whole(stamp, "number");

        tb_text_clear(&key);
        tb_text_addf(&key, "%lld %s %s", (long long)number, tb_row_text(stamp, "serial"),
                     tb_row_text(stamp, "by"));
        if (json_object_get(met, key.s))
            tb_extract_wrong(p, "the file holds a time stamp of journal row %lld twice", (long long)number);
        (void)json_object_set_new(met, key.s, json_true());
    }
    tb_text_free(&key);
    json_decref(met);
}

/* The replies as bytes; what is no base64 is no reply, and is told as such. */
static struct tb_text *unpack(struct tb_stamp_reply *reply, const json_t *list)
{
    struct tb_text *bytes = tb_alloc(json_array_size(list) + 1, sizeof *bytes);
    const json_t *stamp;
    size_t i;

    json_array_foreach(list, i, stamp)
    {
        (void)tb_base64_of_json(&bytes[i], json_object_get(stamp, "reply"));
        reply[i] = (struct tb_stamp_reply){ tb_text_str(&bytes[i]), bytes[i].n };
    }
    return bytes;
}

tb_rc tb_extract_stamped(struct tb_extract_proof *p, const json_t *extract, const struct tb_told *told,
                         const char *authority, struct tb_err *err)
{
    const json_t *list = json_object_get(json_object_get(extract, "head"), "stamps"), *stamp;
    size_t n = json_array_size(list), i;
    struct tb_stamp_reply *reply = tb_alloc(n + 1, sizeof *reply);
    struct tb_stamp_seen *seen = tb_alloc(n + 1, sizeof *seen);
    struct tb_text *bytes = unpack(reply, list);
    struct tb_stamp_file trust = { 0 };
    const struct tb_stamp_look how = { .trust = authority ? &trust : NULL,
                                       .of = _("the time stamps of the file") };
    tb_rc rc = TB_OK;

    check_twice(p, list);
    p->stamp = tb_alloc(n + 1, sizeof *p->stamp);
    if (authority)
        rc = tb_stamp_file_read(&trust, authority, TB_STAMP_CERTIFICATES_MOST, err);
    if (rc == TB_OK && (n || authority) && (rc = tb_stamps_see(seen, reply, n, &how, err)) == TB_OK)
        json_array_foreach(list, i, stamp)
        {
            check_one(p, stamp, &seen[i], told, authority != NULL);
        }
    for (i = 0; i < n; i++)
        tb_text_free(&bytes[i]);
    tb_text_free(&trust.bytes);
    free(bytes);
    free(seen);
    free(reply);
    return rc;
}
