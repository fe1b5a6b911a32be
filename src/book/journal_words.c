/* The words of a journal row: the set of verbs, and the lot that a subject names. */
#include "tenterbook/journal_words.h"

#include <ctype.h>
#include <string.h>

static const char *const verb_word[TB_VERBS] = {
    [TB_VERB_NONE] = "",           [TB_VERB_ASSAY] = "assay",     [TB_VERB_BURN] = "burn",
    [TB_VERB_CUT] = "cut",         [TB_VERB_DECLARE] = "declare", [TB_VERB_DISPUTE] = "dispute",
    [TB_VERB_DRAW] = "draw",       [TB_VERB_DRILL] = "drill",     [TB_VERB_JUDGE] = "judge",
    [TB_VERB_NEW] = "new",         [TB_VERB_RECEIVE] = "receive", [TB_VERB_RECORD] = "record",
    [TB_VERB_SET] = "set",         [TB_VERB_SETTLE] = "settle",   [TB_VERB_SHARE] = "share",
    [TB_VERB_TERMS] = "terms",     [TB_VERB_TRY] = "try",         [TB_VERB_USE] = "use",
    [TB_VERB_AMEND] = "amend",     [TB_VERB_MOVE] = "move",       [TB_VERB_VOID] = "void",
    [TB_VERB_ADDRESS] = "address", [TB_VERB_SEND] = "send",
};
const struct tb_words tb_verb_words = { verb_word, TB_VERBS, "'%s' is not something people do with a book" };

enum tb_verb tb_verb_of(const char *word)
{
    int verb = TB_VERB_NONE;

    (void)tb_word_find(&verb, &tb_verb_words, word);
    return (enum tb_verb)verb;
}

size_t tb_subject_lot(const char *subject)
{
    static const char digits[] = "0123456789";
    size_t n = 0, run;

    while (isalnum((unsigned char)subject[n]))
        n++;
    if (n < 3 || n > 6 || subject[n] != '-') /* a site's code of 1 to 4 signs, two digits of the year */
        return 0;
    for (int dots = 0; dots < 2; dots++) { /* the delivery and its lot */
        run = strspn(subject + n + 1, digits);
        n += 1 + run;
        if (run == 0 || (dots == 0 && subject[n] != '.'))
            return 0;
    }
    if (subject[n] == '\0')
        return n;
    run = subject[n] == '.' ? strspn(subject + n + 1, digits) : 0; /* a swatch of it */
    return run > 0 && subject[n + 1 + run] == '\0' ? n : 0;
}

bool tb_subject_is_lot(const char *subject, const char *lot_ref)
{
    size_t n = tb_subject_lot(subject);

    return n > 0 && n == strlen(lot_ref) && strncmp(subject, lot_ref, n) == 0;
}
