/*
 * mogen - make the tables of sentences out of compiled catalogues: mogen OUT.c de=DE.mo es=ES.mo ...
 *
 * msgfmt has checked and compiled them; what it leaves out (untranslated, fuzzy) is in no table. The format of such a file: gettext
 * manual, "The Format of GNU MO Files": a head of numbers, two lists of lengths and places, texts ended by zero bytes. The
 * texts of a plural stand one behind the other, a zero byte between them.
 */
#include "gen/gen.h"
#include "text/catalogue.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#define MAGIC 0x950412deu

struct mo {
    struct place at;
    unsigned char *bytes;
    size_t n;
};

static uint32_t number(const struct mo *m, size_t at)
{
    uint32_t v;

    if (at + sizeof v > m->n)
        stop(m->at, "ends within a number");
    memcpy(&v, m->bytes + at, sizeof v); /* msgfmt wrote it on this machine */
    return v;
}

/* A text and how long it is, from row i of a list. */
static const char *text(size_t *n, const struct mo *m, size_t list, size_t i)
{
    size_t at = number(m, list + i * 8 + 4);

    *n = number(m, list + i * 8);
    if (at > m->n || *n >= m->n - at || m->bytes[at + *n])
        stop(m->at, "a text is not within the file");
    return (const char *)m->bytes + at;
}

static struct mo read_whole(const char *path)
{
    struct mo m = { .at = { path, 0, 0 } };
    FILE *f = fopen(path, "rb");
    int c;

    if (!f)
        stop(m.at, "cannot be read");
    /* cppcheck-suppress nullPointerRedundantCheck ; stop does not return */
    while ((c = fgetc(f)) != EOF) {
        m.bytes = grown(m.bytes, m.n + 1, 1);
        m.bytes[m.n++] = (unsigned char)c;
    }
    (void)fclose(f);
    if (number(&m, 0) != MAGIC)
        stop(m.at, "is not a compiled catalogue");
    return m;
}

static void write_row(FILE *out, const struct mo *m, const char *sentence, const char *form, size_t n)
{
    size_t forms = 0;

    (void)fputs("    { ", out);
    write_string(out, sentence);
    (void)fputs(", { ", out);
    for (const char *p = form; p <= form + n; p += strlen(p) + 1) {
        if (++forms > CATALOGUE_FORMS)
            stop(m->at, "has a plural of more forms than the program knows");
        write_string(out, p);
        (void)fputs(", ", out);
    }
    (void)fputs("} },\n", out);
}

static void write_catalogue(FILE *out, const char *language, size_t len, const struct mo *m)
{
    size_t rows = number(m, 8), from = number(m, 12), to = number(m, 16), n;
    const char *before = "";

    (void)fprintf(out, "static const struct catalogue_row %.*s[] = {\n", (int)len, language);
    for (size_t i = 0; i < rows; i++) {
        const char *sentence = text(&n, m, from, i);

        if (!*sentence)
            continue; /* the head of the catalogue */
        if (strcmp(before, sentence) >= 0)
            stop(m->at, "is not in order at '%s'", sentence);
        before = sentence;
        sentence = text(&n, m, to, i);
        write_row(out, m, before, sentence, n);
    }
    (void)fprintf(out,
                  "};\nconst struct catalogue tb_catalogue_%.*s = { %.*s, sizeof %.*s / sizeof *%.*s };\n",
                  (int)len, language, (int)len, language, (int)len, language, (int)len, language);
}

int main(int argc, char **argv)
{
    FILE *out;

    if (argc < 3) {
        (void)fputs("usage: mogen OUT.c LANGUAGE=FILE.mo ...\n", stderr);
        return 2;
    }
    out = made(argv[1]);
    (void)fputs("/* made from src/text/po */\n#include \"text/catalogue.h\"\n", out);
    for (int i = 2; i < argc; i++) {
        const char *is = strchr(argv[i], '=');
        struct mo m;

        if (!is)
            stop((struct place){ argv[i], 0, 0 }, "is not LANGUAGE=FILE.mo");
        /* cppcheck-suppress nullPointerArithmeticRedundantCheck ; as above */
        m = read_whole(is + 1);
        /* cppcheck-suppress nullPointerArithmeticRedundantCheck ; as above */
        write_catalogue(out, argv[i], (size_t)(is - argv[i]), &m);
    }
    return fclose(out) ? 1 : 0;
}
