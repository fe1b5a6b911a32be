/* What came of an act at the bench, as JSON, and the cautions that go before it. */
#include "base/say.h"
#include "tenterbook/tell.h"

/* Before anything is lit, not after: the list stands above what is to be done. */
void tb_cautions_words(struct tb_text *out, const struct tb_composition *c, const char *test)
{
    const struct tb_caution *list;
    struct tb_arena mem = { 0 };
    size_t n;

    tb_bench_cautions(&list, &n, c, test, &mem);
    if (n)
        tb_text_say(out, "Cautions:\n");
    for (size_t i = 0; i < n; i++)
        tb_text_addf(out, "  - %s\n", list[i].say);
    tb_arena_free(&mem);
}

#define CUT(member, key) TB_JSON_AS(struct tb_cut_outcome, member, key)
TB_JSON_MEMBERS(cut_members, CUT(swatch.tag, "swatch"),
                TB_JSON_WORD_AS(struct tb_cut_outcome, swatch.part, "part", &tb_part_words),
                CUT(lot.ref, "lot"), CUT(swatch.known, "known"), CUT(swatch.cut_at, "cut_at"));

json_t *tb_json_cut(const struct tb_cut_outcome *cut, const struct tb_composition *c)
{
    json_t *j = tb_json_of(cut_members, cut), *cautions = json_array();
    const struct tb_caution *list;
    struct tb_arena mem = { 0 };
    size_t n;

    tb_json_put_early(j, cut->swatch.cut_at, &cut->lot);
    tb_bench_cautions(&list, &n, c, "burn", &mem);
    for (size_t i = 0; i < n; i++)
        tb_json_push(cautions, tb_json_text(list[i].say));
    tb_json_put(j, "cautions", cautions);
    tb_arena_free(&mem);
    return j;
}

json_t *tb_json_use(const struct tb_use_request *request, const struct tb_use_outcome *done,
                    const char *warning)
{
    json_t *bolts = json_array(), *before = json_array(), *j;

    for (size_t i = 0; i < request->bolts; i++)
        tb_json_push(bolts, tb_json_text(request->bolt[i]));
    for (size_t i = 0; i < done->befores; i++)
        tb_json_push(before, tb_json_text(done->before[i].bolt_number));
    j = json_pack("{s:s, s:o, s:b, s:b, s:o, s:o}", "lot", done->lot.ref, "bolts", bolts, "used",
                  !request->back, "anyway", done->warning == TB_USE_ANYWAY, "cut_into_before", before,
                  "warning", tb_json_text(warning));
    tb_json_put_early(j, request->used_at, &done->lot);
    return j;
}
