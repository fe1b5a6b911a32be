/* The table of commands is sorted and every record is whole: help and manual are drawn from it. */
#include "cli/cmd.h"

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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_table_of_commands_is_sorted_and_each_line_has_its_file),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
