/* What is said of published standards: by number and edition, and how far that was looked up. */
#include "base/say.h"
#include "tenterbook/status.h"
#include "tenterbook/tell.h"

void tb_standard_words(struct tb_text *out, const struct tb_lab_standard *standard)
{
    bool seen = tb_status_seen(standard->status);

    if (tb_status_memory(standard->status))
        tb_text_say(out, "a part of %s (number from memory: %s)", standard->series, standard->number);
    else if (standard->year)
        tb_text_say(out, seen ? "%s:%d" : "%s:%d (number read second-hand)", standard->number,
                    standard->year);
    else
        tb_text_say(out, seen ? "%s" : "%s (number read second-hand)", standard->number);
}

json_t *tb_json_standard(const struct tb_lab_standard *standard)
{
    bool memory = tb_status_memory(standard->status);

    return json_pack("{s:s?, s:s?, s:o, s:s, s:s, s:s, s:s, s:s, s:s, s:s, s:s, s:s, s:s}", "number",
                     memory ? NULL : standard->number, "number_from_memory", memory ? standard->number : NULL,
                     "year", standard->year ? json_integer(standard->year) : json_null(), "series",
                     standard->series, "means", tb_word(&tb_lab_means_words, (int)standard->means), "covers",
                     standard->covers, "reagent", standard->reagent, "hazard", standard->hazard, "effort",
                     standard->effort, "tells", standard->tells, "note", standard->note, "source",
                     standard->source, "status", standard->status);
}
