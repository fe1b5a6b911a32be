/*
 * potgen - write the sentences that stand in tables as C that xgettext reads: potgen > tables.c
 *
 * What commands, options and settings do is looked up when it is printed, with a variable: no tool that reads the
 * source can see which sentences those are. They are taken from the tables of the program itself, so that none can
 * be forgotten, and each comes with a word on where it stands, for the translator.
 */
#include "cli/help/help.h"
#include "tenterbook/setting.h"

static void quoted(const char *s)
{
    (void)fputs("_(\"", stdout);
    for (; *s; s++)
        if (*s == '\n')
            (void)fputs("\\n", stdout);
        else
            (void)printf(*s == '"' || *s == '\\' ? "\\%c" : "%c", *s);
    (void)fputs("\");\n", stdout);
}

static void command(const struct tb_cmd *c)
{
    (void)printf("/* TRANSLATORS: the command %s, in one line */\n", c->name);
    quoted(c->brief);
    (void)printf("/* TRANSLATORS: the command %s, in full */\n", c->name);
    quoted(c->about);
    for (const struct tb_opt *o = c->opts; o && o->name; o++) {
        (void)printf("/* TRANSLATORS: the option --%s of %s */\n", o->name, c->name);
        quoted(o->brief);
    }
}

int main(void)
{
    (void)puts("/* made from the tables of the program */");
    for (size_t i = 0; tb_commands[i]; i++)
        command(tb_commands[i]);
    for (const struct tb_setting_spec *s = tb_setting_specs; s->name; s++) {
        (void)printf("/* TRANSLATORS: the setting %s */\n", s->name);
        quoted(s->brief);
    }
    return fflush(stdout) == 0 && !ferror(stdout) ? 0 : 1;
}
