/* login.c - who is logged in, as the operating system knows it. */
#include "tenterbook/circumstance.h"
#include "tenterbook/utf8.h"

#include <pwd.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

/* A number always names the account; its name may be missing in a container, or no text. */
void tb_login(char out[TB_LOGIN_MOST + 1])
{
    char room[4096];
    struct passwd pw, *found = NULL;

    if (getpwuid_r(getuid(), &pw, room, sizeof room, &found) == 0 && found && *found->pw_name &&
        strlen(found->pw_name) <= TB_LOGIN_MOST && tb_utf8_valid(found->pw_name, strlen(found->pw_name)))
        (void)snprintf(out, TB_LOGIN_MOST + 1, "%s", found->pw_name);
    else
        (void)snprintf(out, TB_LOGIN_MOST + 1, "uid %lu", (unsigned long)getuid());
}
