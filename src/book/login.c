/* login.c - who is logged in, as the operating system knows it. */
#include "tenterbook/circumstance.h"
#include "tenterbook/utf8.h"

#include <pwd.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

/* A number always names the account; its name may be missing in a container, or no text. */
static void look_up(char out[TB_LOGIN_MOST + 1], uid_t account)
{
    char room[4096];
    struct passwd pw, *found = NULL;

    if (getpwuid_r(account, &pw, room, sizeof room, &found) == 0 && found && *found->pw_name &&
        strlen(found->pw_name) <= TB_LOGIN_MOST && tb_utf8_valid(found->pw_name, strlen(found->pw_name)))
        (void)snprintf(out, TB_LOGIN_MOST + 1, "%s", found->pw_name);
    else
        (void)snprintf(out, TB_LOGIN_MOST + 1, "uid %lu", (unsigned long)account);
}

/* Each record asks, and the answer stands in a file of the system: it is looked up once for each account. */
void tb_login(char out[TB_LOGIN_MOST + 1])
{
    static _Thread_local char known[TB_LOGIN_MOST + 1];
    static _Thread_local uid_t of;
    uid_t account = getuid();

    if (!known[0] || of != account)
        look_up(known, account);
    of = account;
    memcpy(out, known, sizeof known);
}
