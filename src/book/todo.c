/* What is left to do, a statement for each kind. */
#include "tenterbook/todo.h"
#include "book/stmt.h"

static struct tb_stmt *ask(struct tb_book *b, enum tb_todo_kind kind, const char *today)
{
    switch (kind) {
    case TB_TODO_HELD:
        return tb_sql_todo_held(b);
    case TB_TODO_HELD_BOLT:
        return tb_sql_todo_held_bolts(b);
    case TB_TODO_DECIDE:
        return tb_sql_todo_decide(b);
    case TB_TODO_GROUND:
        return tb_sql_todo_ground(b, NULL);
    case TB_TODO_SPEAKS: /* its grade stands in the details of the verdict */
    case TB_TODO_UNDECIDED:
        return tb_sql_todo_undecided(b);
    case TB_TODO_WORDS:
        return tb_sql_todo_words(b);
    case TB_TODO_UNSETTLED:
        return tb_sql_todo_unsettled(b);
    case TB_TODO_UNBURNT:
        return tb_sql_todo_unburnt(b);
    case TB_TODO_UNCUT:
        return tb_sql_todo_drawn(b);
    case TB_TODO_UNDRAWN:
        return tb_sql_todo_undrawn(b);
    case TB_TODO_LABORATORY:
        return tb_sql_todo_laboratory(b);
    default:
        return tb_sql_todo_joint(b, today);
    }
}

tb_rc tb_todo_each(struct tb_book *b, enum tb_todo_kind kind, const char *today, tb_todo_row_fn *fn,
                   void *arg, struct tb_err *err)
{
    return kind == TB_TODO_CLAIM ? TB_OK : tb_each_todo_row(ask(b, kind, today), fn, arg, err);
}
