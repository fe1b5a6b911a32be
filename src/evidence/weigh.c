#include "evidence/judge.h"
void tb_weigh_cues(struct tb_verdict *v, const struct tb_question *q)
{
    (void)v;
    (void)q;
}
void tb_next_tests(struct tb_verdict *v, const struct tb_question *q)
{
    (void)v;
    (void)q;
}
void tb_power_table(struct tb_verdict *v, const struct tb_question *q)
{
    (void)v;
    (void)q;
}
