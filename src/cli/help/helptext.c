/* Help and manual page, drawn from the table of commands. */
#include "cli/help/help.h"

#include <ctype.h>
#include <string.h>

#define WIDTH 80
#define OPTION_WIDTH 24

/*
 * Print text in lines of at most WIDTH columns, set in by `hang` where the text does not begin at the start of a line;
 * \n starts a new line, \n\n a paragraph. No line ends in a blank.
 */
static void wrapped(FILE *out, const char *text, size_t hang)
{
    size_t column = 0;

    while (*text) {
        size_t word = strcspn(text, " \n");

        if (column && hang + column + 1 + word > WIDTH) {
            (void)fprintf(out, "\n%*s", (int)hang, "");
            column = 0;
        }
        if (word) {
            (void)fprintf(out, "%s%.*s", column ? " " : "", (int)word, text);
            column += word + (column > 0);
        }
        text += word;
        if (*text == '\n') {
            (void)fputc('\n', out);
            column = 0;
        }
        text += *text != '\0';
    }
    (void)fputc('\n', out);
}

/* A command that somebody copies stays on one line, however long. */
static void example_lines(FILE *out, const char *text)
{
    for (size_t n; *text; text += n + (text[n] == '\n')) {
        n = strcspn(text, "\n");
        (void)fprintf(out, "  %.*s\n", (int)n, text);
    }
}

static void option_lines(FILE *out, const struct tb_opt *o)
{
    for (; o && o->name; o++) {
        char left[64];
        struct tb_text right = { 0 };

        (void)snprintf(left, sizeof left, "--%s%s%s", o->name, o->arg ? " " : "", o->arg ? o->arg : "");
        tb_text_addf(&right, "%s%s", _(o->brief), o->repeats ? _(" (may be repeated)") : "");
        (void)fprintf(out, "  %-*s ", OPTION_WIDTH, left);
        wrapped(out, tb_text_str(&right), OPTION_WIDTH + 3);
        tb_text_free(&right);
    }
}

void tb_help_command(FILE *out, const struct tb_cmd *cmd)
{
    (void)fprintf(out, _("usage: tenterbook [--book FILE] %s %s\n\n"), cmd->name, cmd->args);
    wrapped(out, _(cmd->about), 0);
    if (cmd->also) {
        struct tb_text also = { 0 };

        cmd->also(&also);
        (void)fputc('\n', out);
        wrapped(out, tb_text_str(&also), 0);
        tb_text_free(&also);
    }
    if (cmd->opts) {
        (void)fputs(_("\noptions:\n"), out);
        option_lines(out, cmd->opts);
    }
    if (cmd->example) {
        (void)fputs(_("\nexamples:\n"), out);
        example_lines(out, cmd->example);
    }
}

void tb_help_all(FILE *out)
{
    (void)fputs(_("usage: tenterbook [--book FILE] [--as-person NAME] COMMAND ...\n\n"
                  "Take cloth in, burn swatches, weigh what was seen against what the supplier declares.\n\n"
                  "commands:\n"),
                out);
    for (size_t i = 0; tb_commands[i]; i++)
        (void)fprintf(out, "  %-10s %s\n", tb_commands[i]->name, _(tb_commands[i]->brief));
    (void)fputs(
        _("\nEvery command takes --help (-h), and every one but help takes --json, as help cues does too.\n"
          "--book, --as-person and --json may stand before or behind it.\nThe book is FILE, or "
          "$TENTERBOOK_BOOK, or tenterbook.db. Figures may have a "
          "decimal "
          "comma, days the order of lists.\nA day that is years from today is taken with --far-off.\n"
          "Local fire rules, the employer's rules and licensed practice come before anything printed "
          "here.\n"),
        out);
}

/* mdoc: a line must not begin with a dot or quote, and a backslash is written \e. */
static void man_text(FILE *out, const char *s)
{
    bool start = true;

    for (; *s; s++) {
        if (start && (*s == '.' || *s == '\''))
            (void)fputs("\\&", out);
        if (*s == '\\')
            (void)fputs("\\e", out);
        else if (*s == '-')
            (void)fputs("\\-", out);
        else if (s[0] == '\n' && s[1] == '\n') {
            (void)fputs("\n.Pp", out);
            continue;
        } else if (s[0] == '.' && s[1] == ' ') { /* a new sentence begins a new line */
            (void)fputs(".\n", out);
            start = true;
            s++;
            continue;
        } else
            (void)fputc(*s, out);
        start = *s == '\n';
    }
    (void)fputc('\n', out);
}

static void man_command(FILE *out, const struct tb_cmd *cmd)
{
    (void)fprintf(out, ".It Nm tenterbook Cm %s\n", cmd->name);
    (void)fputs("usage: ", out);
    man_text(out, cmd->args);
    (void)fputs(".Pp\n", out);
    man_text(out, cmd->about);
    if (cmd->also) {
        struct tb_text also = { 0 };

        cmd->also(&also);
        (void)fputs(".Pp\n", out);
        man_text(out, tb_text_str(&also));
        tb_text_free(&also);
    }
    if (cmd->opts) {
        (void)fputs(".Bl -tag -width 24n -compact\n", out);
        for (const struct tb_opt *o = cmd->opts; o->name; o++) {
            (void)fprintf(out, ".It Fl Fl %s%s", o->name, o->arg ? " Ar " : "\n");
            if (o->arg)
                man_text(out, o->arg);
            man_text(out, o->brief);
        }
        (void)fputs(".El\n", out);
    }
    if (cmd->example) {
        (void)fputs(".Bd -literal -offset indent\n", out);
        man_text(out, cmd->example);
        (void)fputs(".Ed\n", out);
    }
}

void tb_help_man(FILE *out)
{
    (void)fputs(
        ".\\\" Made from the table of commands: tenterbook help --man\n"
        ".Dd $Mdocdate$\n.Dt TENTERBOOK 1\n.Os\n.Sh NAME\n.Nm tenterbook\n"
        ".Nd record what a fabric warehouse takes in, burns and finds\n"
        ".Sh SYNOPSIS\n.Nm tenterbook\n.Op Fl Fl book Ar FILE\n.Op Fl Fl as-person Ar NAME\n"
        ".Ar COMMAND\n.Op Ar ...\n.Sh DESCRIPTION\n"
        ".Nm\nkeeps one book (an SQLite file) of deliveries, lots, bolts, swatches, burns and verdicts.\n"
        "Each command takes\n.Fl Fl help\n(or\n.Fl h ) ,\n.Fl Fl json\nand\n.Fl Fl far-off ,\nwithout which "
        "a day that is years from today is refused.\n.Sh COMMANDS\n.Bl -tag -width Ds\n",
        out);
    for (size_t i = 0; tb_commands[i]; i++)
        man_command(out, tb_commands[i]);
    (void)fputs(".El\n.Sh ENVIRONMENT\n.Bl -tag -width TENTERBOOK_BOOK -compact\n"
                ".It Ev TENTERBOOK_BOOK\nthe book, where\n.Fl Fl book\nis not given\n"
                ".It Ev TENTERBOOK_WHO\nthe person who acts, where\n.Fl Fl as-person\nis not given\n"
                ".It Ev TENTERBOOK_KEY\nthe file of the signing key, where it is neither beside the book nor "
                "where the setting key_file says\n"
                ".It Ev TENTERBOOK_PASS_FD\nthe file descriptor that gives its pass phrase, a line\n"
                ".It Ev SOURCE_DATE_EPOCH\nthe moment that papers bear, in seconds, for reproducible files; "
                "no record takes it\n"
                ".It Ev TENTERBOOK_CLOCK\na clock given by hand, in seconds, for demonstrations; records say "
                "so\n.El\n"
                ".Sh EXIT STATUS\n0 done; 1 refused, with one sentence on standard error; 2 misuse;\n"
                "3 done and recorded, but what came after it failed, such as printing the answer.\n"
                ".Sh SECURITY CONSIDERATIONS\nFlame, fumes and solvents hurt people.\n"
                "The local fire code, the employer's rules and licensed practice come first.\n"
                "Nothing printed here is legal advice.\n",
                out);
}
