/*
 * potgen - write the sentences that stand in tables as C that xgettext reads: potgen > tables.c; those of papers: potgen papers
 *
 * What commands, options and settings do is looked up when it is printed, with a variable: no tool that reads the
 * source can see which sentences those are. They are taken from the tables of the program itself, so that none can
 * be forgotten, and each comes with a word on where it stands, for the translator.
 */
#include "cli/help/help.h"
#include "gen/ref_caution.h"
#include "gen/ref_channel.h"
#include "gen/ref_finish.h"
#include "gen/ref_offer.h"
#include "tenterbook/evidence.h"
#include "tenterbook/fibre.h"
#include "tenterbook/setting.h"

#include <string.h>

static void quoted(const char *keyword, const char *s)
{
    (void)printf("%s(\"", keyword);
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
    quoted("_", c->brief);
    (void)printf("/* TRANSLATORS: the command %s, in full */\n", c->name);
    quoted("_", c->about);
    for (const struct tb_opt *o = c->opts; o && o->name; o++) {
        (void)printf("/* TRANSLATORS: the option --%s of %s */\n", o->name, c->name);
        quoted("_", o->brief);
    }
}

/* The tests that a verdict proposes, finishes and what burning them may free, which its notes name. */
static void papers_of_verdicts(void)
{
    for (size_t i = 0; i < tb_ref_channel_n; i++) {
        (void)printf("/* TRANSLATORS: a test that is proposed: %s */\n", tb_ref_channel[i].key);
        quoted("TR_", tb_ref_channel[i].proposal);
        if (*tb_ref_channel[i].again)
            quoted("TR_", tb_ref_channel[i].again);
    }
    for (size_t i = 0; i < tb_ref_offer_n; i++) {
        (void)printf("/* TRANSLATORS: what is proposed: %s */\n", tb_ref_offer[i].key);
        quoted("TR_", tb_ref_offer[i].proposal);
    }
    for (size_t i = 0; i < tb_ref_finish_n; i++) {
        (void)printf("/* TRANSLATORS: a finish, in a list: %s */\n", tb_ref_finish[i].key);
        quoted("TR_", tb_ref_finish[i].name);
    }
    for (size_t i = 0; i < tb_ref_caution_n; i++)
        if (strncmp(tb_ref_caution[i].fibres, "finish:", 7) == 0)
            quoted("TR_", tb_ref_caution[i].say);
}

/* What is seen at the bench, and the tests that it is seen at, stand in letters and cases. */
static void papers(void)
{
    for (size_t i = 0; i < tb_cue_count(); i++) {
        struct tb_cue cue;

        tb_cue_at(&cue, (int)i);
        (void)printf("/* TRANSLATORS: what is seen at a burn or a test: %s */\n", cue.key);
        quoted("TR_", cue.meaning);
    }
    for (size_t i = 0; i < tb_channel_count(); i++) {
        struct tb_channel test;

        tb_channel_at(&test, (int)i);
        (void)printf("/* TRANSLATORS: what is looked at, or a test: %s */\n", test.key);
        quoted("TR_", test.name);
    }
    for (size_t i = 0; i < tb_fibre_count(); i++) {
        (void)printf("/* TRANSLATORS: a fibre: %s */\n", tb_fibre_at((int)i)->key);
        quoted("TR_", tb_fibre_at((int)i)->name);
    }
}

int main(int argc, char **argv)
{
    (void)puts("/* made from the tables of the program */");
    if (argc > 1 && strcmp(argv[1], "papers") == 0) {
        papers();
        papers_of_verdicts();
        return fflush(stdout) == 0 && !ferror(stdout) ? 0 : 1;
    }
    for (size_t i = 0; tb_commands[i]; i++)
        command(tb_commands[i]);
    for (const struct tb_setting_spec *s = tb_setting_specs; s->name; s++) {
        (void)printf("/* TRANSLATORS: the setting %s */\n", s->name);
        quoted("_", s->brief);
    }
    return fflush(stdout) == 0 && !ferror(stdout) ? 0 : 1;
}
