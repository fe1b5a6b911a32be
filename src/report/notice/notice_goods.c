/* notice_goods.c - before and after what was seen: which goods, how they stand now, what is asked. */
#include "report/notice/notice_impl.h"
#include "tenterbook/tell.h"

#include "tenterbook/tell.h"

#define CUTS_NAMED 5

static void before(struct tb_notice *n, enum notice_kind kind, const char *label, const char *text)
{
    TB_PUSH_ROOM(n->head, n->heads, n->head_cap);
    n->head[n->heads++] = (struct notice_block){ kind, label, text };
}

static void after(struct tb_notice *n, enum notice_kind kind, const char *label, const char *text)
{
    TB_PUSH_ROOM(n->tail, n->tails, n->tail_cap);
    n->tail[n->tails++] = (struct notice_block){ kind, label, text };
}

/* The lot by its number and by what the packing list says of it; what the list does not say is not mentioned. */
static const char *lot_words(struct tb_notice *n, const struct tb_lot *l)
{
    const char *const said[] = { l->article, l->colour, l->dye_lot };
    const char *const as[] = { _("article %s"), _("colour %s"), _("dye lot %s") };
    struct tb_text t = { 0 };
    const char *all;

    for (size_t i = 0; i < TB_COUNT(said); i++)
        if (*said[i]) {
            tb_text_add(&t, t.n ? ", " : "");
            tb_text_addf(&t, as[i], said[i]);
        }
    all = t.n ? tb_notice_put(n, "%s: %s", l->ref, t.s) : l->ref;
    tb_text_free(&t);
    return all;
}

/* The title claims a fault only where one was found. */
static bool fault_shown(const struct notice_facts *f)
{
    return f->of.concluded.kind == TB_DOES_NOT;
}

/* A delivery without a note keeps its line, so that the reader sees that no number was given. */
static const char *note_words(struct tb_notice *n, const struct tb_delivery *d)
{
    const char *note = *d->note ? d->note : "-";

    return d->note_day ? tb_notice_put(n, _("%s of %s"), note, d->note_day) : note;
}

/* Numbers of the supplier first: it finds the goods by its own note, not by ours. */
void tb_notice_goods(struct tb_notice *n, const struct notice_facts *f, const struct tb_notice_plan *plan,
                     const struct tb_site *site)
{
    const struct tb_delivery *d = &f->delivery;
    const struct tb_lot *l = &f->of.lot;
    struct tb_lengths lengths = tb_lengths_of(l);
    struct tb_text length = { 0 };

    tb_length_words(&length, &lengths);
    before(n, NOTICE_TITLE, NULL,
           fault_shown(f) ? _("Notice: goods not as declared")
                          : _("Notice: doubt whether goods are as declared"));
    before(n, NOTICE_PAIR, _("To"), l->supplier_name);
    before(n, NOTICE_PAIR, _("From"),
           *site->country ? tb_notice_put(n, "%s, %s", site->name, site->country) : site->name);
    before(n, NOTICE_PAIR, _("Given by, on"),
           tb_notice_put(n, "%s, %s", plan->by ? plan->by : "-", plan->day));
    before(n, NOTICE_PAIR, _("Your delivery note"), note_words(n, d));
    before(n, NOTICE_PAIR, _("Our order"), d->order_no);
    before(n, NOTICE_PAIR, _("Arrived"),
           tb_notice_put(n, _("%s, our delivery %s; %s"), d->arrived, d->ref, d->remark));
    before(n, NOTICE_PAIR, _("Lot"), lot_words(n, l));
    before(n, NOTICE_PAIR, _("Quantity"),
           tb_notice_put(n, _n("%lld bolt, %s", "%lld bolts, %s", l->bolts), (long long)l->bolts, length.s));
    tb_text_free(&length);
    before(n, NOTICE_HEADING, NULL, _("Declared, in your words"));
    before(n, NOTICE_QUOTE, NULL, tb_notice_their_words(f));
}

/* Whole sentences one after the other. */
static const char *state_of_goods(struct tb_notice *n, const struct notice_facts *f)
{
    const struct tb_bolt_use *use = f->of.claim.use;
    size_t uses = f->of.claim.uses;
    const char *all;
    char standing[TB_COUNTED];
    struct tb_text t = { 0 };

    tb_text_say(&t, N_("Standing of the lot: %s."), tb_lot_standing_words(standing, &f->of.lot));
    if (!uses)
        tb_text_addf(&t, " %s", _("No bolt is recorded as cut into."));
    for (size_t i = 0; i < uses && i < CUTS_NAMED; i++) {
        tb_text_addc(&t, ' ');
        tb_text_say(&t, N_("Bolt %s was cut into on %.10s."), use[i].bolt_number, use[i].used_at);
    }
    if (uses > CUTS_NAMED) {
        tb_text_addc(&t, ' ');
        tb_text_say(&t, N_("So were others, %zu cuts in all."), uses);
    }
    if (f->of.claim.found_on) {
        tb_text_addc(&t, ' ');
        tb_text_say(&t, N_("The difference was found on %s."), f->of.claim.found_on);
    }
    all = tb_notice_put(n, "%s", t.s);
    tb_text_free(&t);
    return all;
}

/* How the goods stand decides what can still be asked: cut cloth is not returned. */
void tb_notice_asked(struct tb_notice *n, const struct notice_facts *f, const struct tb_notice_plan *plan)
{
    after(n, NOTICE_HEADING, NULL, _("The goods"));
    after(n, NOTICE_TEXT, NULL, state_of_goods(n, f));
    after(n, NOTICE_HEADING, NULL, _("What is asked"));
    after(n, NOTICE_TEXT, NULL,
          plan->asked && *plan->asked ? plan->asked
                                      : _("Please send your records of this lot (composition, yarn and dye "
                                          "lots, test reports), and take part in a joint sample: retained "
                                          "swatches are dealt at random to you, to a laboratory both sides "
                                          "name, and to our shelf."));
    after(n, NOTICE_PAIR, _("Please answer by"), plan->answer_by ? plan->answer_by : "");
    if (f->of.joints) {
        const struct tb_joint_sample *j = &f->of.joint[f->of.joints - 1];

        after(n, NOTICE_PAIR, _("Joint sample"),
              tb_notice_put(n, _("%lld for you, dealt %.10s by seed %s"), (long long)j->each_one, j->dealt_at,
                            j->seed));
    }
    after(n, NOTICE_SMALL, NULL,
          _("A burn shows kinds of fibre, not percentages, and some fibres burn alike; a laboratory decides "
            "shares. What is said here is true of the swatches named. The case file with every record can be "
            "checked by you."));
}
