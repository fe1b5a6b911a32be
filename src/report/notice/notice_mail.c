/*
 * notice_mail.c - a notice as a mail that is not sent yet: RFC 5322 (head), 2045 and 2046 (parts), 2047 (words that are not ASCII in the
 * head), 2231 (names of files). Lines end with CR LF and have at most 78 bytes.
 */
#include "report/notice/notice_impl.h"

#include "tenterbook/utf8.h"

#include <sodium.h>
#include <stdlib.h>
#include <string.h>

#define ENCODED_MOST                                                                                         \
    42 /* bytes in one encoded word: with what stands around them less than the 75 that RFC 2047 allows */
#define QUOTED_MOST 75 /* of a line of quoted-printable, before the "=" that breaks it */
#define BASE64_LINE 57 /* bytes that become 76 */

static bool is_ascii(const char *s)
{
    while (*s && (unsigned char)*s < 0x80)
        s++;
    return *s == '\0';
}

static void base64(struct tb_text *out, const void *bytes, size_t n)
{
    char line[128];

    (void)sodium_bin2base64(line, sizeof line, bytes, n, sodium_base64_VARIANT_ORIGINAL);
    tb_text_add(out, line);
}

/* Encoded words, each whole characters; a line each, so that no line grows too long. */
static void encoded(struct tb_text *out, const char *s)
{
    size_t n = strlen(s);

    for (size_t at = 0; at < n;) {
        size_t take = 0;
        unsigned cp;

        while (at + take < n) {
            size_t more = tb_utf8_next(s + at + take, n - at - take, &cp);

            if (take + more > ENCODED_MOST)
                break;
            take += more;
        }
        tb_text_add(out, at ? "\r\n =?UTF-8?B?" : "=?UTF-8?B?");
        base64(out, s + at, take);
        tb_text_add(out, "?=");
        at += take;
    }
}

/* Words of a head that stand by themselves, such as a subject: folded where a blank is. */
static void unstructured(struct tb_text *out, const char *name, const char *s)
{
    size_t column = strlen(name) + 2;

    tb_text_addf(out, "%s: ", name);
    if (!is_ascii(s)) {
        encoded(out, s);
    } else {
        while (*s) {
            size_t n = strcspn(s, " ");

            if (column > strlen(name) + 2 && column + n > 76) {
                tb_text_add(out, "\r\n");
                column = 0;
            }
            if (column != strlen(name) + 2)
                tb_text_addc(out, ' ');
            tb_text_addn(out, s, n);
            column += n + 1;
            s += n + (s[n] == ' ');
        }
    }
    tb_text_add(out, "\r\n");
}

/* A name with signs that mean something in a head stands in quotation marks. */
static void mailbox(struct tb_text *out, const char *field, const char *name, const char *mail)
{
    tb_text_addf(out, "%s: ", field);
    if (!is_ascii(name)) {
        encoded(out, name);
    } else {
        tb_text_addc(out, '"');
        for (; *name; name++) {
            if (*name == '"' || *name == '\\')
                tb_text_addc(out, '\\');
            tb_text_addc(out, *name);
        }
        tb_text_addc(out, '"');
    }
    tb_text_addf(out, "\r\n <%s>\r\n", mail);
}

/* Quoted-printable of lines that all end: readable where it is ASCII. A blank before the end of a line is written out, since mail servers cut it. */
static void quoted(struct tb_text *out, const char *s)
{
    size_t column = 0;

    for (; *s; s++) {
        unsigned char b = (unsigned char)*s;
        bool plain = b > 32 && b < 127 && b != '=';

        plain = plain || (b == ' ' && s[1] != '\n' && s[1] != '\0');
        if (b == '\n') {
            tb_text_add(out, "\r\n");
            column = 0;
            continue;
        }
        if (column + (plain ? 1 : 3) > QUOTED_MOST) {
            tb_text_add(out, "=\r\n");
            column = 0;
        }
        tb_text_addf(out, plain ? "%c" : "=%02X", b);
        column += plain ? 1 : 3;
    }
}

static void file_name(struct tb_text *out, const char *name)
{
    static const char safe[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789.-_";

    if (strspn(name, safe) == strlen(name)) {
        tb_text_addf(out, "Content-Disposition: attachment;\r\n filename=\"%s\"\r\n", name);
        return;
    }
    tb_text_add(out, "Content-Disposition: attachment;\r\n filename*=UTF-8''");
    for (; *name; name++)
        tb_text_addf(out, strchr(safe, *name) ? "%c" : "%%%02X", (unsigned char)*name);
    tb_text_add(out, "\r\n");
}

/* The clock is not read: the day is that of the letter, and "-0000" says that no time zone is meant. */
static void date(struct tb_text *out, const char *day)
{
    static const char *const of_week[] = { "Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat" };
    static const char *const of_year[] = { "Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                           "Jul", "Aug", "Sep", "Oct", "Nov", "Dec" };
    int month = (day[5] - '0') * 10 + day[6] - '0';

    tb_text_addf(out, "Date: %s, %.2s %s %.4s 00:00:00 -0000\r\n", of_week[tb_day_of_week(day)], day + 8,
                 of_year[month - 1], day);
}

static void head(struct tb_text *out, const struct tb_notice *n, const char *boundary)
{
    mailbox(out, "From", n->from_name, n->from_mail);
    if (*n->to_mail)
        mailbox(out, "To", n->to_name, n->to_mail);
    unstructured(out, "Subject", n->subject);
    date(out, n->day);
    tb_text_addf(out, "Message-ID: <notice-%s-%.16s%s>\r\n", n->now.lot.ref, n->digest,
                 strchr(n->from_mail, '@'));
    tb_text_addf(
        out,
        "X-Unsent: 1\r\nMIME-Version: 1.0\r\nContent-Language: %s\r\nContent-Type: multipart/mixed;\r\n "
        "boundary=\"%s\"\r\n\r\n",
        tb_notice_language(n), boundary);
}

void tb_notice_mail(struct tb_text *out, const struct tb_notice *n, const struct tb_text *pdf,
                    const char *name)
{
    struct tb_text words = { 0 }, boundary = { 0 };

    if (n->lacks.mail)
        return;
    tb_text_addf(&boundary, "=_%.32s", n->digest); /* neither encoding can make "=_" */
    head(out, n, boundary.s);
    tb_notice_text(&words, n);
    tb_text_addf(out,
                 "--%s\r\nContent-Type: text/plain; charset=utf-8\r\nContent-Transfer-Encoding: "
                 "quoted-printable\r\n\r\n",
                 boundary.s);
    quoted(out, words.s);
    /* the line break before a boundary is the boundary's */
    tb_text_addf(out, "\r\n--%s\r\nContent-Type: application/pdf\r\nContent-Transfer-Encoding: base64\r\n",
                 boundary.s);
    file_name(out, name);
    tb_text_add(out, "\r\n");
    for (size_t at = 0; at < pdf->n; at += BASE64_LINE) {
        base64(out, pdf->s + at, pdf->n - at < BASE64_LINE ? pdf->n - at : BASE64_LINE);
        tb_text_add(out, "\r\n");
    }
    tb_text_addf(out, "--%s--\r\n", boundary.s);
    tb_text_free(&words);
    tb_text_free(&boundary);
}
