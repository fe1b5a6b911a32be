/*
 * sent.c - lots go to a laboratory because of what their burns said, so those that it settled are no sample of all lots.
 *
 * Each counts by the share of the lots of its grade that were sent. Source: Begg and Greenes, Biometrics 39 (1983) 207-215;
 * docs/method.md, section 7.
 */
#include "evidence/sent.h"

#include <math.h>
#include <string.h>

static bool one_unit(const struct tb_settled_ratio *a, const struct tb_settled_ratio *b)
{
    return a == b || (a->unit && b->unit && strcmp(a->unit, b->unit) == 0);
}

/* Of a grade of which none was sent, one more lot might have been the first. */
static double share(double sent, double judged)
{
    return sent > 0 ? sent / fmax(sent, judged) : 1 / (judged + 1);
}

/* What a lot of each grade counts: as much as one of the grade of which the least part was sent, or less. */
static void of_grades(double weight[TB_GRADES], const struct tb_site_lots *s)
{
    double sent[TB_GRADES] = { 0 }, least = 1;

    for (size_t i = 0; i < s->n; i++)
        sent[s->lot[i].grade]++;
    for (int g = 0; g < TB_GRADES; g++)
        if (sent[g] > 0 || s->judged[g] > 0)
            least = fmin(least, share(sent[g], s->judged[g]));
    for (int g = 0; g < TB_GRADES; g++)
        weight[g] = least / share(sent[g], s->judged[g]);
}

/*
 * Lots of one unit on one side are one case together, as a family's judgements are. Those that were not sent are taken to be on
 * the side of each that was: the same cloth from the same hand, as often as not.
 */
static double together(const struct tb_site_lots *s, size_t at)
{
    double same = 0, other = 0, all = 0;

    for (size_t i = 0; i < s->n; i++)
        if (one_unit(&s->lot[at], &s->lot[i])) {
            same += s->lot[i].as_declared == s->lot[at].as_declared;
            other += s->lot[i].as_declared != s->lot[at].as_declared;
        }
    for (int g = 0; g < TB_GRADES; g++)
        all += s->lot[at].judged[g];
    return fmax(same, all - other);
}

double tb_sent_weigh(double *weight, const struct tb_site_lots *s)
{
    double of[TB_GRADES], cases = 0;

    of_grades(of, s);
    for (size_t i = 0; i < s->n; i++) {
        weight[i] = of[s->lot[i].grade] / together(s, i);
        cases += weight[i];
    }
    return cases;
}
