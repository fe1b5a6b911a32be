/* The dialog of a burn: channels become pages, cues the things on them, and what was marked an observation. */
#include "cli/bench/burn_ask.h"

#include "tenterbook/act_bench.h"
#include "terminal/checklist.h"
#include "terminal/quiet.h"
#include "terminal/typed.h"

#include <string.h>
#include <unistd.h>

/* The guide has the cues of a channel one after the other. */
static void make_pages(struct tb_checklist *c, const struct tb_burn_guide *g, struct tb_arena *mem)
{
    struct tb_check_item *item = tb_arena_alloc(mem, (g->cues + 1) * sizeof *item);
    int last = -1;

    c->page = tb_arena_alloc(mem, TB_CHANNELS_MOST * sizeof *c->page);
    for (size_t i = 0; i < g->cues; i++) {
        int sight = g->seen.sight[g->cue[i]];
        struct tb_channel ch;
        struct tb_cue cue;

        tb_cue_at(&cue, g->cue[i]);
        tb_channel_at(&ch, cue.channel);
        if (cue.channel != last)
            c->page[c->pages++] =
                (struct tb_check_page){ .name = ch.key,
                                        .text = ch.name,
                                        .item = &item[i],
                                        .look = g->seen.looked[cue.channel]      ? TB_CHECK_LOOKED
                                                : g->seen.could_not[cue.channel] ? TB_CHECK_COULD_NOT
                                                                                 : TB_CHECK_NOT_LOOKED };
        last = cue.channel;
        item[i] = (struct tb_check_item){ cue.key, cue.meaning,
                                          sight == TB_SIGHT_SEEN     ? TB_CHECK_SEEN
                                          : sight == TB_SIGHT_DENIED ? TB_CHECK_ABSENT
                                                                     : TB_CHECK_UNMARKED,
                                          NULL };
        c->page[c->pages - 1].items++;
    }
}

static void add_name(struct tb_text *list, const char *name)
{
    tb_text_addf(list, "%s%s", list->n ? "," : "", name);
}

/* By the reader of options, so that what cannot be seen together is refused here as well. */
static tb_rc read_marks(struct tb_observation *seen, const struct tb_checklist *c, struct tb_err *err)
{
    struct tb_text list[TB_CHECK_ABSENT + 1] = { { 0 } }, looked = { 0 }, could_not = { 0 };
    tb_rc rc;

    for (size_t p = 0; p < c->pages; p++) {
        const struct tb_check_page *page = &c->page[p];

        if (page->look != TB_CHECK_NOT_LOOKED)
            add_name(page->look == TB_CHECK_LOOKED ? &looked : &could_not, page->name);
        for (size_t i = 0; i < page->items; i++)
            if (page->item[i].mark != TB_CHECK_UNMARKED)
                add_name(&list[page->item[i].mark], page->item[i].name);
    }
    rc = tb_observation_read(seen, list[TB_CHECK_SEEN].s, list[TB_CHECK_ABSENT].s, looked.s, err);
    if (rc == TB_OK)
        rc = tb_observation_could_not(seen, could_not.s, err);
    tb_text_free(&list[TB_CHECK_SEEN]);
    tb_text_free(&list[TB_CHECK_ABSENT]);
    tb_text_free(&looked);
    tb_text_free(&could_not);
    return rc;
}

static void show(struct tb_ctx *ctx, const struct tb_checklist *c, const char *wrong)
{
    struct tb_text t = { 0 };

    tb_text_add(&t, "\n");
    tb_checklist_screen(&t, c);
    if (wrong)
        tb_text_addf(&t, "%s\n", wrong);
    tb_print_words(ctx, &t);
}

/* What was marked as seen may mean that something else is there, on any page. The items are in the order of the guide. */
static void bind_implied(struct tb_checklist *c, const struct tb_burn_guide *g)
{
    struct tb_check_item *item = c->pages ? c->page[0].item : NULL;

    if (!item)
        return;
    for (size_t i = 0; i < g->cues; i++)
        item[i].by = NULL;
    for (size_t i = 0; i < g->cues; i++)
        for (size_t k = 0; k < g->cues && item[i].mark == TB_CHECK_SEEN; k++)
            if (k != i && tb_cue_implies(g->cue[i], g->cue[k]))
                item[k].by = item[i].text;
}

/* What cannot be is said on the summary, and the person goes back and mends it. */
static tb_rc converse(struct tb_observation *seen, struct tb_ctx *ctx, struct tb_checklist *c,
                      const struct tb_burn_guide *g, struct tb_err *err)
{
    const char *wrong = NULL;
    struct tb_keys keys = { .n = 0 };
    tb_rc rc = TB_EINVAL;

    tb_typed_line_end(&keys);
    while (rc != TB_OK && c->end != TB_CHECK_LEFT) {
        c->end = TB_CHECK_GOES_ON;
        while (c->end == TB_CHECK_GOES_ON) {
            bind_implied(c, g);
            show(ctx, c, wrong);
            tb_checklist_key(c, tb_typed_key(ctx->out, &keys));
            wrong = NULL;
        }
        if (c->end == TB_CHECK_TAKEN && (rc = read_marks(seen, c, err)) != TB_OK)
            wrong = tb_shown(ctx, err->msg);
    }
    return rc == TB_OK ? rc : tb_fail(err, TB_EINVAL, "the burn was left; nothing of it is recorded");
}

/* Once a run for the same kind of cloth: what is read every six minutes is not read any more. */
static void caution(struct tb_ctx *ctx, const struct tb_burn_guide *g)
{
    static struct tb_text told;
    struct tb_declaration d;
    struct tb_text t = { 0 };

    tb_declaration_read(&d, g->declared, strlen(g->declared));
    d.also = g->also; /* what was named once of a cloth is not taken back */
    tb_cautions_words(&t, &d, "burn");
    tb_declaration_free(&d);
    if (t.n && !(told.n && strstr(told.s, t.s)))
        tb_text_add(&told, t.s);
    else
        tb_text_clear(&t);
    tb_print_words(ctx, &t);
}

/* What is recorded of it already, before anything else is asked, and on every page. */
static const char *head_of(struct tb_ctx *ctx, const struct tb_burn_guide *g)
{
    const struct tb_bench_records now = { .burn = g->before, .burns = g->befores }, none = { 0 };
    const char *head = tb_arena_printf(&ctx->mem, _("Swatch %s (%s), declared \"%s\""), g->swatch.tag,
                                       tb_part_key(g->swatch.part), g->declared);
    const struct tb_burn *last = g->befores ? &g->before[g->befores - 1] : NULL;
    struct tb_text t = { 0 };

    if (!last)
        return head;
    tb_text_say(&t, "This swatch is burned already:\n");
    tb_bench_words(&t, &now, &none);
    tb_text_say(
        &t,
        "What is recorded now counts as another burn of it. To put the record right: q, and tenterbook "
        "burn %s --corrects %s\n",
        g->swatch.tag, last->id);
    tb_print_words(ctx, &t);
    return tb_arena_printf(&ctx->mem, _("%s\nBURNED ALREADY, last by %s at %s"), head, last->burned_by,
                           last->burned_at);
}

tb_rc tb_burn_ask(struct tb_observation *seen, struct tb_ctx *ctx, const char *swatch, const char *like,
                  struct tb_err *err)
{
    struct tb_checklist c = { 0 };
    struct tb_burn_guide g;
    tb_rc rc = tb_burn_guide_read(&g, ctx->book, swatch, like, &ctx->mem, err);

    if (rc != TB_OK)
        return rc;
    caution(ctx, &g);
    c.head = head_of(ctx, &g);
    make_pages(&c, &g, &ctx->mem);
    if (!tb_quiet_begin(STDIN_FILENO, TB_QUIET_KEYS))
        return tb_fail(err, TB_EIO, "the terminal does not give single keys");
    rc = converse(seen, ctx, &c, &g, err);
    tb_quiet_end();
    return rc;
}
