/* quiet.c - the settings of a terminal while somebody is asked, and back again whatever happens. */
#include "terminal/quiet.h"

#include <errno.h>
#include <signal.h>
#include <termios.h>

static const int ends_asking[] = { SIGINT, SIGTERM, SIGHUP, SIGQUIT, SIGTSTP };

/* What a signal that comes while somebody types has to put right. */
static struct {
    int fd, when; /* when: what was typed before is dropped, or kept */
    struct termios shown, hidden;
    struct sigaction before[TB_COUNT(ends_asking)];
} asking;

static void show_again(int number);

/* Who started the program may have told it to ignore one of them: that stays so. */
static void watch(void)
{
    struct sigaction act = { .sa_handler = show_again, .sa_flags = SA_NODEFER | SA_RESTART };

    (void)sigemptyset(&act.sa_mask);
    for (size_t i = 0; i < TB_COUNT(ends_asking); i++)
        if (sigaction(ends_asking[i], NULL, &asking.before[i]) == 0 && asking.before[i].sa_handler != SIG_IGN)
            (void)sigaction(ends_asking[i], &act, NULL);
    (void)tcsetattr(asking.fd, asking.when, &asking.hidden);
}

static void unwatch(void)
{
    (void)tcsetattr(asking.fd, asking.when, &asking.shown);
    for (size_t i = 0; i < TB_COUNT(ends_asking); i++)
        (void)sigaction(ends_asking[i], &asking.before[i], NULL);
}

/* The terminal shows what is typed, then the signal does what it does. Who was only stopped goes on asking. */
static void show_again(int number)
{
    int why = errno;

    unwatch();
    (void)raise(number);
    watch();
    errno = why;
}

bool tb_quiet_begin(int fd, enum tb_quiet_how how)
{
    if (tcgetattr(fd, &asking.shown) != 0)
        return false;
    asking.fd = fd;
    asking.hidden = asking.shown;
    asking.when = how == TB_QUIET_KEYS ? TCSADRAIN : TCSAFLUSH;
    asking.hidden.c_lflag &= (tcflag_t)(how == TB_QUIET_KEYS ? ~(ECHO | ICANON) : ~ECHO);
    if (how == TB_QUIET_KEYS) {
        asking.hidden.c_cc[VMIN] = 1;
        asking.hidden.c_cc[VTIME] = 0;
    }
    watch();
    return true;
}

void tb_quiet_end(void)
{
    unwatch();
}
