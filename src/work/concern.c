/* Which journal rows bear on a lot, and which on the verdict on it. */
#include "work/concern.h"

#include "tenterbook/journal_words.h"
#include "tenterbook/setting.h"

/* Whether verdicts rest on a setting. A name that is not known here, or none at all, may be one of a later program. */
static bool weighs(const char *setting)
{
    struct tb_err ignored;
    const struct tb_setting_spec *spec;

    return tb_setting_spec(&spec, setting, &ignored) != TB_OK || spec->weighs;
}

/* Whether something of the kind can change a verdict, or a decision about a lot. */
static bool bears_on_judging(const struct tb_journal_row *row)
{
    switch (tb_verb_of(row->verb)) {
    case TB_VERB_BURN:
    case TB_VERB_TRY:
    case TB_VERB_DECLARE:
    case TB_VERB_SETTLE:
    case TB_VERB_DISPUTE: /* goods in dispute are held */
    case TB_VERB_JUDGE:
    case TB_VERB_MOVE:
    case TB_VERB_VOID:
    case TB_VERB_DRILL: /* an answer is a burn of known cloth */
    case TB_VERB_ASSAY:
    case TB_VERB_NONE:
        return true;
    case TB_VERB_SET:
        return weighs(row->subject);
    case TB_VERB_ADDRESS:
    case TB_VERB_AMEND:
    case TB_VERB_CUT:
    case TB_VERB_DRAW:
    case TB_VERB_NEW:
    case TB_VERB_RECEIVE:
    case TB_VERB_RECORD:
    case TB_VERB_SEND:
    case TB_VERB_SHARE:
    case TB_VERB_TERMS:
    case TB_VERB_USE:
    case TB_VERBS:
        break;
    }
    return false;
}

/*
 * What a laboratory found in one lot moves the bounds of every other (docs/method.md, section 7), and so does taking back
 * burns of a lot that it settled.
 */
static bool bears_on_all(const struct tb_journal_row *row)
{
    enum tb_verb verb = tb_verb_of(row->verb);

    return tb_subject_lot(row->subject) == 0 || verb == TB_VERB_ASSAY || verb == TB_VERB_VOID ||
           verb == TB_VERB_MOVE;
}

bool tb_row_concerns_lot(const struct tb_journal_row *row, const char *lot_ref)
{
    if (tb_verb_of(row->verb) == TB_VERB_RECEIVE)
        return false;
    return tb_subject_lot(row->subject) == 0 || tb_subject_is_lot(row->subject, lot_ref);
}

bool tb_row_concerns_judging(const struct tb_journal_row *row, const char *lot_ref)
{
    return bears_on_judging(row) && (bears_on_all(row) || tb_row_concerns_lot(row, lot_ref));
}

bool tb_row_concerns_all_judging(const struct tb_journal_row *row)
{
    return bears_on_judging(row) && bears_on_all(row);
}
