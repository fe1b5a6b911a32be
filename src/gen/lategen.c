/*
 * lategen - make the table of the functions of libraries that are loaded late: lategen NAME OUT.h OUT.c LIST LIBRARIES
 *
 * LIST: a line `include <header>` for each header, and the name of each function; a line that begins with # is a remark. LIBRARIES: the
 * names of their files, a line each, as the linker found them. Whoever includes OUT.h calls the functions as if they were
 * linked; the first call loads the libraries.
 */
#include "gen/gen.h"

#include <ctype.h>
#include <string.h>

#define INCLUDE "include "

struct lines {
    char **line;
    size_t n;
};

/* The lines of a file but for remarks; one at least. */
static struct lines read_lines(const char *path)
{
    struct place at = { path, 0, 0 };
    struct lines l = { NULL, 0 };
    FILE *f = fopen(path, "r");
    char line[200];

    if (!f)
        stop(at, "cannot be read");
    /* cppcheck-suppress nullPointerRedundantCheck ; stop does not return */
    while (fgets(line, sizeof line, f)) {
        at.line++;
        if (!strchr(line, '\n'))
            stop(at, "has no end, or is longer than any name");
        line[strcspn(line, "\n")] = '\0';
        if (*line == '#')
            continue;
        if (!*line)
            stop(at, "is empty");
        l.line = grown(l.line, l.n + 1, sizeof *l.line);
        l.line[l.n++] = joined(NULL, line);
    }
    (void)fclose(f);
    if (!l.n)
        stop(at, "names nothing");
    return l;
}

static int is_include(const char *line)
{
    return strncmp(line, INCLUDE, strlen(INCLUDE)) == 0;
}

static void check_name(const char *file, const char *name)
{
    for (const char *p = name; *p; p++)
        if (!isalnum((unsigned char)*p) && *p != '_')
            stop((struct place){ file, 0, 0 }, "'%s' is no name of a function", name);
}

static void write_header(FILE *out, const char *name, const char *file, const struct lines *l)
{
    (void)fprintf(out, "#ifndef LATE_%s\n#define LATE_%s\n#include \"tenterbook/base.h\"\n", name, name);
    for (size_t i = 0; i < l->n; i++)
        if (is_include(l->line[i]))
            (void)fprintf(out, "#%s\n", l->line[i]);
    (void)fprintf(out, "struct tb_late_%s {\n", name);
    for (size_t i = 0; i < l->n; i++)
        if (!is_include(l->line[i])) {
            check_name(file, l->line[i]);
            (void)fprintf(out, "    __typeof__(%s) *late_%s;\n", l->line[i], l->line[i]);
        }
    (void)fprintf(out,
                  "};\ntb_rc tb_late_%s_load(struct tb_err *err);\nvoid tb_late_%s_before(void);\n"
                  "const struct tb_late_%s *tb_late_%s(void);\n#ifndef LATE_ITSELF\n",
                  name, name, name, name);
    for (size_t i = 0; i < l->n; i++)
        if (!is_include(l->line[i]))
            (void)fprintf(out, "#undef %s\n#define %s tb_late_%s()->late_%s\n", l->line[i], l->line[i], name,
                          l->line[i]);
    (void)fputs("#endif\n#endif\n", out);
}

/* Some headers give their functions other names, so that a name is what the compiler makes of it. */
static void write_tables(FILE *out, const char *name, const struct lines *l, const struct lines *libraries)
{
    (void)fprintf(out,
                  "#define LATE_ITSELF\n#include \"gen/late_%s.h\"\n#include \"base/late.h\"\n"
                  "#define WORD(x) #x\n#define NAME(x) WORD(x)\nstatic const char *const library[] = {\n",
                  name);
    for (size_t i = 0; i < libraries->n; i++) {
        write_string(out, libraries->line[i]);
        (void)fputs(",\n", out);
    }
    (void)fputs("};\nstatic const char *const function[] = {\n", out);
    for (size_t i = 0; i < l->n; i++)
        if (!is_include(l->line[i]))
            (void)fprintf(out, "NAME(%s),\n", l->line[i]);
    (void)fprintf(out,
                  "};\nstatic struct tb_late_%s table;\nstatic struct tb_late late = { library, "
                  "TB_COUNT(library), function, TB_COUNT(function), &table, PTHREAD_MUTEX_INITIALIZER, false "
                  "};\n",
                  name);
    (void)fprintf(out,
                  "tb_rc tb_late_%s_load(struct tb_err *err)\n{\n    return tb_late_load(&late, err);\n}\n"
                  "void tb_late_%s_before(void)\n{\n    tb_late_need(&late);\n}\n"
                  "const struct tb_late_%s *tb_late_%s(void)\n{\n    tb_late_need(&late);\n"
                  "    return &table;\n}\n",
                  name, name, name, name);
}

int main(int argc, char **argv)
{
    struct lines list, libraries;
    FILE *header, *code;

    if (argc != 6) {
        (void)fputs("usage: lategen NAME OUT.h OUT.c LIST LIBRARIES\n", stderr);
        return 2;
    }
    list = read_lines(argv[4]);
    libraries = read_lines(argv[5]);
    header = made(argv[2]);
    write_header(header, argv[1], argv[4], &list);
    code = made(argv[3]);
    write_tables(code, argv[1], &list, &libraries);
    return fclose(header) == 0 && fclose(code) == 0 ? 0 : 1;
}
