/* What is remarkable of a delivery without being wrong, in words: the name of its supplier, the date of its note. */
#include "base/say.h"
#include "tenterbook/tell.h"

#include <string.h>

void tb_name_noticed_words(struct tb_text *out, const struct tb_name_noticed *seen, const char *lead)
{
    if (seen->near)
        tb_text_say(out,
                    "%sthe supplier %s is new, and %s is in the book already; if they are one, tenterbook "
                    "supplier joins the two spellings (tenterbook help supplier)\n",
                    lead, seen->near_to, seen->near);
    if (seen->taken)
        tb_text_say(out,
                    "%sthe supplier %s is taken for %s, who is written so in the book; if they are two, "
                    "tenterbook amend gives the delivery its own (tenterbook help amend)\n",
                    lead, seen->taken, seen->taken_as);
}

/* The arrival counts for every term, so a wrong one should be seen at once. */
bool tb_note_late(const char *note_day, const char *arrived)
{
    return note_day && *note_day && strcmp(note_day, arrived) > 0;
}

void tb_note_late_words(struct tb_text *out, const char *note, const char *note_day, const char *arrived,
                        const char *lead)
{
    if (tb_note_late(note_day, arrived))
        tb_text_say(out, "%snote %s is dated %s, after the arrival on %s: one of the two days is wrong\n",
                    lead, note, note_day, arrived);
}
