/* xls_cfb.c - compound files: a small file system in a file. Every number in it is checked before it is followed. */
#include "base/xls_in.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#define HEAD 512              /* bytes of the head that say something */
#define IN_HEAD 109           /* sectors of the table of chains that the head itself names */
#define CHAIN_END 0xFFFFFFF0u /* this and above: no sector */
#define MINI 64               /* bytes of a small sector */
#define ENTRY 128             /* bytes of an entry of the directory */

static tb_rc damaged(struct tb_err *err)
{
    return tb_fail(
        err, TB_EFORMAT,
        "the .xls workbook is damaged; was it cut short? Open it in a spreadsheet, save it as .xlsx or "
        "CSV and give that");
}

static tb_rc load(struct tb_cfb *c, FILE *f, struct tb_err *err)
{
    struct stat st;

    if (fstat(fileno(f), &st) != 0)
        return tb_fail(err, TB_EIO, "the file cannot be looked at: %s", strerror(errno));
    if ((uint64_t)st.st_size > TB_XLS_FILE_MOST)
        return tb_fail(err, TB_EFORMAT, "the workbook has more than %u MB; split it", TB_XLS_FILE_MOST >> 20);
    c->n = (size_t)st.st_size;
    c->s = tb_alloc(c->n + 1, 1);
    if (fread(c->s, 1, c->n, f) != c->n)
        return tb_fail(err, TB_EIO, "the file cannot be read: %s", strerror(errno));
    return TB_OK;
}

/* The bytes of a sector; NULL: the file ends before it does. */
static const unsigned char *sector(const struct tb_cfb *c, uint32_t i)
{
    uint64_t at = ((uint64_t)i + 1) * c->sector;

    return i < CHAIN_END && at + c->sector <= c->n ? c->s + at : NULL;
}

/* One sector of the table of chains; where the file is cut off there, so are the chains. */
static void add_chains(struct tb_cfb *c, uint32_t at)
{
    const unsigned char *p = sector(c, at);
    size_t entries = c->sector / 4;

    for (size_t i = 0; p && i < entries; i++)
        c->next[c->sectors + i] = tb_u32(p + 4 * i);
    c->sectors += p ? entries : 0;
}

/* The head names the first sectors of the table; further ones stand in a list that has a sector number at each end. */
static void read_chains(struct tb_cfb *c)
{
    size_t most = c->n / c->sector + 1, per = c->sector / 4, seen = 0;
    uint32_t list = tb_u32(c->s + 68), count = tb_u32(c->s + 44);
    const unsigned char *p;

    if (count > most)
        count = (uint32_t)most;
    c->next = tb_alloc((size_t)count * per + 1, sizeof *c->next);
    for (; seen < count && seen < IN_HEAD; seen++)
        add_chains(c, tb_u32(c->s + 76 + 4 * seen));
    while (seen < count && (p = sector(c, list)) != NULL) {
        for (size_t i = 0; i + 1 < per && seen < count; i++, seen++)
            add_chains(c, tb_u32(p + 4 * i));
        list = tb_u32(p + c->sector - 4);
    }
}

tb_rc tb_cfb_open(struct tb_cfb *c, FILE *f, struct tb_err *err)
{
    tb_rc rc = load(c, f, err);
    unsigned shift;

    if (rc != TB_OK)
        return rc;
    if (c->n < HEAD || ((shift = tb_u16(c->s + 30)) != 9 && shift != 12))
        return damaged(err);
    c->sector = (size_t)1 << shift;
    read_chains(c);
    return TB_OK;
}

/* All bytes of a chain, at most `most`. A chain that runs in a ring ends when it has as many sectors as there are. */
static void read_chain(struct tb_text *out, const struct tb_cfb *c, uint32_t at, uint64_t most)
{
    const unsigned char *p;

    for (size_t i = 0; i < c->sectors && at < c->sectors && (p = sector(c, at)) && out->n < most; i++) {
        uint64_t left = most - out->n;

        tb_text_addn(out, (const char *)p, left < c->sector ? (size_t)left : c->sector);
        at = c->next[at];
    }
}

/* Small streams lie in pieces of 64 bytes in one large one, which the first entry names. */
static void read_small(struct tb_text *out, const struct tb_cfb *c, const unsigned char *root, uint32_t at,
                       uint64_t most)
{
    struct tb_text pieces = { 0 }, chains = { 0 };

    read_chain(&pieces, c, tb_u32(root + 116), tb_u32(root + 120));
    read_chain(&chains, c, tb_u32(c->s + 60), UINT64_MAX);
    while (chains.s && out->n < most && ((uint64_t)at + 1) * MINI <= pieces.n &&
           ((uint64_t)at + 1) * 4 <= chains.n) {
        uint64_t left = most - out->n;

        tb_text_addn(out, pieces.s + (size_t)at * MINI, left < MINI ? (size_t)left : MINI);
        at = tb_u32((const unsigned char *)chains.s + (size_t)at * 4);
    }
    tb_text_free(&pieces);
    tb_text_free(&chains);
}

/* A name in the directory: UTF-16, with its length in bytes and its end. */
static bool called(const unsigned char *entry, const char *name)
{
    size_t n = strlen(name);

    if (tb_u16(entry + 64) != 2 * (n + 1))
        return false;
    for (size_t i = 0; i < n; i++)
        if (entry[2 * i] != (unsigned char)name[i] || entry[2 * i + 1])
            return false;
    return true;
}

/* The directory, with the place of the entry of that name in it; SIZE_MAX: there is none. */
static size_t find(struct tb_text *directory, const struct tb_cfb *c, const char *name)
{
    read_chain(directory, c, tb_u32(c->s + 48), UINT64_MAX);
    for (size_t at = 0; at + ENTRY <= directory->n; at += ENTRY)
        if (called((const unsigned char *)directory->s + at, name))
            return at;
    return SIZE_MAX;
}

bool tb_cfb_has(const struct tb_cfb *c, const char *name)
{
    struct tb_text directory = { 0 };
    bool there = find(&directory, c, name) != SIZE_MAX;

    tb_text_free(&directory);
    return there;
}

bool tb_cfb_stream(struct tb_text *out, const struct tb_cfb *c, const char *name)
{
    struct tb_text directory = { 0 };
    size_t at = find(&directory, c, name);
    const unsigned char *entry = at == SIZE_MAX ? NULL : (const unsigned char *)directory.s + at;
    uint32_t n = entry ? tb_u32(entry + 120) : 0;

    tb_text_clear(out);
    if (entry && n < tb_u32(c->s + 56))
        read_small(out, c, (const unsigned char *)directory.s, tb_u32(entry + 116), n);
    else if (entry)
        read_chain(out, c, tb_u32(entry + 116), n);
    if (out->n != n)
        tb_text_clear(out);
    tb_text_free(&directory);
    return entry && out->n == n;
}

void tb_cfb_close(struct tb_cfb *c)
{
    free(c->s);
    free(c->next);
    *c = (struct tb_cfb){ 0 };
}
