/* The table of commands is sorted and every record is whole: help and manual are drawn from it. */
#include "line/cmd.h"

#include <glob.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

/* The test is linked with the library only: it reads the sources of the table as a contributor would. */
static void the_table_of_commands_is_sorted_and_each_line_has_its_file(void **state)
{
    char line[128], last[64] = "", name[64], path[256];
    size_t n = 0;
    FILE *f = fopen(TB_SOURCE_DIR "/src/cli/commands.h", "r");

    (void)state;
    assert_non_null(f);
    while (fgets(line, sizeof line, f)) {
        glob_t found;

        if (sscanf(line, "TB_CMD(%63[a-z_])", name) != 1)
            continue;
        if (strcmp(last, name) >= 0)
            fail_msg("%s stands after %s", name, last);
        (void)snprintf(path, sizeof path, TB_SOURCE_DIR "/src/cli/*/%s.c", name);
        if (glob(path, 0, NULL, &found) != 0 || found.gl_pathc != 1)
            fail_msg("command %s has not exactly one file src/cli/FAMILY/%s.c", name, name);
        globfree(&found);
        (void)snprintf(last, sizeof last, "%s", name);
        n++;
    }
    (void)fclose(f);
    assert_true(n >= 10);
}

static bool table_names(const char *name)
{
    char line[128], there[64];
    bool found = false;
    FILE *f = fopen(TB_SOURCE_DIR "/src/cli/commands.h", "r");

    assert_non_null(f);
    while (!found && fgets(line, sizeof line, f))
        found = sscanf(line, "TB_CMD(%63[a-z_])", there) == 1 && strcmp(there, name) == 0;
    (void)fclose(f);
    return found;
}

/* The record of a command in one source, if it has one: in the table, and with every member that help prints. */
static bool check_record(const char *path)
{
    static const char *const member[] = { "name", "args", "brief", "about", "example", "run" };
    bool has[TB_COUNT(member)] = { false }, inside = false;
    char line[512], name[64] = "", word[64];
    FILE *f = fopen(path, "r");

    assert_non_null(f);
    while (fgets(line, sizeof line, f)) {
        inside = inside || sscanf(line, "const struct tb_cmd tb_cmd_%63[a-z_] = {", name) == 1;
        for (size_t i = 0; inside && i < TB_COUNT(member); i++)
            has[i] = has[i] || (sscanf(line, " .%63[a-z] =", word) == 1 && strcmp(word, member[i]) == 0);
    }
    (void)fclose(f);
    for (size_t i = 0; inside && i < TB_COUNT(member); i++)
        if (!has[i])
            fail_msg("%s: the record of the command has no .%s", path, member[i]);
    if (inside && !table_names(name))
        fail_msg("%s: the command is not in the table: src/cli/commands.h lacks TB_CMD(%s)", path, name);
    return inside;
}

static void each_record_is_whole_and_in_the_table(void **state)
{
    size_t n = 0;
    glob_t found;

    (void)state;
    assert_int_equal(glob(TB_SOURCE_DIR "/src/cli/*/*.c", 0, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc; i++)
        n += check_record(found.gl_pathv[i]);
    globfree(&found);
    assert_true(n >= 10);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_table_of_commands_is_sorted_and_each_line_has_its_file),
        cmocka_unit_test(each_record_is_whole_and_in_the_table),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
