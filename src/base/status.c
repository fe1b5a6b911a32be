/* How far a published figure or word was looked up. */
#include "tenterbook/status.h"

#include <string.h>

bool tb_status_seen(const char *status)
{
    return strcmp(status, "seen") == 0;
}

bool tb_status_memory(const char *status)
{
    return strcmp(status, "memory") == 0;
}
