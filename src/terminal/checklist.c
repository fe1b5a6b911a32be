/* checklist.c - keys in, screens out: what was seen, asked page by page. */
#include "terminal/checklist.h"

#include "base/say.h"

#include <ctype.h>

#define DELETE 0x7f

static bool marked(const struct tb_check_page *p)
{
    for (size_t i = 0; i < p->items; i++)
        if (p->item[i].mark != TB_CHECK_UNMARKED)
            return true;
    return false;
}

static bool looked_anywhere(const struct tb_checklist *c)
{
    for (size_t i = 0; i < c->pages; i++)
        if (c->page[i].look == TB_CHECK_LOOKED)
            return true;
    return false;
}

static void go_on(struct tb_checklist *c)
{
    c->page[c->at++].from = 0; /* whoever comes back sees it from its beginning */
    c->absent = false;
}

/* A page left as not looked at, or as what could not be judged, has no marks: they would be evidence. */
static void leave_as(struct tb_checklist *c, enum tb_check_look look)
{
    struct tb_check_page *p = &c->page[c->at];

    for (size_t i = 0; i < p->items; i++)
        p->item[i].mark = TB_CHECK_UNMARKED;
    p->look = look;
    go_on(c);
}

static void mark(struct tb_checklist *c, size_t i)
{
    struct tb_check_page *p = &c->page[c->at];
    int as = c->absent ? TB_CHECK_ABSENT : TB_CHECK_SEEN;

    if (p->from + i >= p->items) {
        c->hint = N_("Nothing here has this figure.");
        return;
    }
    if (c->absent && p->item[p->from + i].by) {
        c->hint = N_("What was marked as seen means that this is there: it cannot be said not to be.");
        c->absent = false;
        return;
    }
    p->item[p->from + i].mark = p->item[p->from + i].mark == as ? TB_CHECK_UNMARKED : as;
    p->look = marked(p) ? TB_CHECK_LOOKED : TB_CHECK_NOT_LOOKED;
    c->absent = false;
}

/* Enter alone would say either, so it says neither. */
static void enter(struct tb_checklist *c)
{
    struct tb_check_page *p = &c->page[c->at];

    if (c->absent)
        p->look = TB_CHECK_LOOKED;
    if (p->look == TB_CHECK_NOT_LOOKED)
        c->hint = N_(
            "Nothing is marked: a space says that nobody looked, ! and Enter that nothing of it was there.");
    else
        go_on(c);
}

/* To the things before on this page, then to the page before. */
static void back(struct tb_checklist *c)
{
    struct tb_check_page *p = c->at < c->pages ? &c->page[c->at] : NULL;

    c->absent = false;
    if (p && p->from > 0)
        p->from -= TB_CHECK_KEYS;
    else if (c->at == 0 || !c->page)
        c->hint = N_("This is the first page.");
    else
        c->page[--c->at].from = 0;
}

static void more(struct tb_check_page *p)
{
    p->from = p->from + TB_CHECK_KEYS < p->items ? p->from + TB_CHECK_KEYS : 0;
}

static void key_of_page(struct tb_checklist *c, int key)
{
    switch (key) {
    case '\r':
    case '\n':
        enter(c);
        break;
    case ' ':
        leave_as(c, TB_CHECK_NOT_LOOKED);
        break;
    case '?':
        leave_as(c, TB_CHECK_COULD_NOT);
        break;
    case '!':
        c->absent = !c->absent;
        break;
    case '+':
        more(&c->page[c->at]);
        break;
    default:
        c->hint = N_("This key does nothing here.");
        break;
    }
}

static void key_of_summary(struct tb_checklist *c, int key)
{
    if (key != '\r' && key != '\n')
        c->hint = N_("This key does nothing here.");
    else if (!looked_anywhere(c))
        c->hint = N_("Nothing was looked at, so there is nothing to record: 0 goes back, q leaves.");
    else
        c->end = TB_CHECK_TAKEN;
}

void tb_checklist_key(struct tb_checklist *c, int key)
{
    c->hint = NULL;
    if (key == TB_KEY_GONE || key == 'q' || key == 'Q' || key == 3 || key == 4)
        c->end = TB_CHECK_LEFT;
    else if (key == TB_KEY_SCANNED)
        c->hint =
            N_("A tag was scanned in the middle of this burn, or figures were typed as fast as one, and "
               "that is passed over: record or leave this burn first.");
    else if (key == '0' || key == TB_KEY_BACKSPACE || key == DELETE)
        back(c);
    else if (c->at == c->pages)
        key_of_summary(c, key);
    else if (key >= '1' && key <= '9')
        mark(c, (size_t)(key - '1'));
    else
        key_of_page(c, key);
}

/* ---- the screen --------------------------------------------------------------------------------------------- */

static const char *sign(int mark)
{
    return mark == TB_CHECK_SEEN ? "[x]" : mark == TB_CHECK_ABSENT ? "[!]" : "[ ]";
}

static void show_item(struct tb_text *out, const struct tb_check_item *i, size_t figure)
{
    if (i->by && i->mark != TB_CHECK_SEEN)
        tb_text_addf(out, _("  %zu %s %s (there by its meaning: %s)\n"), figure, sign(i->mark), i->text,
                     i->by);
    else
        tb_text_addf(out, "  %zu %s %s\n", figure, sign(i->mark), i->text);
}

static void show_page(struct tb_text *out, const struct tb_checklist *c)
{
    const struct tb_check_page *p = &c->page[c->at];
    size_t until = p->from + TB_CHECK_KEYS < p->items ? p->from + TB_CHECK_KEYS : p->items;

    tb_text_addf(out, _("%zu of %zu: %s\n"), c->at + 1, c->pages, p->text);
    for (size_t i = p->from; i < until; i++)
        show_item(out, &p->item[i], i - p->from + 1);
    if (p->look == TB_CHECK_COULD_NOT)
        tb_text_add(out, _("  so far: could not be judged\n"));
    else if (p->look == TB_CHECK_LOOKED && !marked(p))
        tb_text_add(out, _("  so far: looked at, nothing of it there\n"));
    if (p->items > TB_CHECK_KEYS)
        tb_text_addf(out, _("  + shows others (%zu to %zu of %zu are here)\n"), p->from + 1, until, p->items);
    if (c->absent)
        tb_text_add(out, _("  ! looked for and not there: a figure, or Enter for all of it\n"));
    tb_text_add(out, _("figure: seen   ! figure: not there   ! Enter: nothing of it   space: not looked at   "
                       "?: could not be judged   Enter: on   0: back   q: leave\n"));
}

static void sum_page(struct tb_text *out, const struct tb_check_page *p)
{
    size_t n = 0;

    tb_text_addf(out, "  %s: ", p->text);
    for (size_t i = 0; i < p->items; i++)
        if (p->item[i].mark != TB_CHECK_UNMARKED)
            tb_text_addf(out, p->item[i].mark == TB_CHECK_SEEN ? "%s%s" : _("%snot %s"), n++ ? "; " : "",
                         p->item[i].text);
    if (!n)
        tb_text_add(out, p->look == TB_CHECK_LOOKED      ? _("looked at, nothing of it there")
                         : p->look == TB_CHECK_COULD_NOT ? _("could not be judged")
                                                         : _("not looked at"));
    tb_text_addc(out, '\n');
}

void tb_checklist_screen(struct tb_text *out, const struct tb_checklist *c)
{
    tb_text_addf(out, "%s\n", c->head);
    if (c->at < c->pages) {
        show_page(out, c);
    } else {
        for (size_t i = 0; i < c->pages; i++)
            sum_page(out, &c->page[i]);
        tb_text_add(out, _("Enter records it; 0 goes back; q leaves, and nothing is recorded.\n"));
    }
    if (c->hint)
        tb_text_addf(out, "%s\n", _(c->hint));
}
