/* case_words.c - the words of the pages explained, and how the file is checked. Cautions of the bench are for the bench. */
#include "report/case/case_page.h"

/*
 * Points: so high are the two sections of the last page, the space above their headings with them; other languages take more words for the
 * same.
 */
#define WORDS(tongue) ((tongue) == TB_ENGLISH ? 220 : 270)
#define CHECK(tongue) ((tongue) == TB_ENGLISH ? 265 : 310)
#define CHECK_LEAST 250 /* in any language */

/*
 * Both stand on one page where they can: the second one alone would leave most of the last page white. They move there together unless the
 * page before would then be emptier than that.
 */
static void keep_together(struct page *p)
{
    double both = WORDS(p->tongue) + CHECK(p->tongue);

    if (p->y - PAGE_TOP >= CHECK_LEAST)
        tb_page_need(p, both);
}

/* A supplier knows cloth, not this program: every word it gives a meaning of its own is explained. */
void tb_case_words(struct case_page *c)
{
    struct page *p = &c->page;

    keep_together(p);
    tb_page_heading(p, tb_tr(p->tongue, "Words"));
    /* the singular of words that are counted elsewhere: a catalogue has each of them once */
    tb_page_pair(p, tb_trn(p->tongue, "lot", "lots", 1),
                 tb_tr(p->tongue, "one article and shade of a delivery, under one declaration"));
    tb_page_pair(
        p, tb_trn(p->tongue, "swatch", "swatches", 1),
        tb_tr(p->tongue, "a piece cut from a bolt, with a number of its own; half of it is kept unburnt"));
    tb_page_pair(p, tb_tr(p->tongue, "cue"),
                 tb_tr(p->tongue, "one thing seen, smelt or felt when a swatch burns"));
    tb_page_pair(p, tb_tr(p->tongue, "evidence ratio"),
                 tb_tr(p->tongue,
                       "how many times likelier the observations are if the declared fibres are there "
                       "than if anything else is that burns differently"));
    tb_page_pair(p, tb_tr(p->tongue, "fits, contradicts, undecided"),
                 tb_tr(p->tongue, "the ratio is above the upper limit, below the lower one, each with more "
                                  "than one thing that says "
                                  "so, or neither"));
    tb_page_pair(
        p, tb_tr(p->tongue, "speaks against"),
        tb_tr(p->tongue,
              "the ratio is low, but not low enough to contradict, or one thing alone says so: a reason to "
              "test, not to hold"));
    tb_page_pair(
        p, tb_tr(p->tongue, "the limit of what was tested"),
        tb_tr(p->tongue,
              "the published descriptions by which the model was tested carry no larger ratio (Vergeer et "
              "al., Science and Justice 56 (2016) 482)"));
    tb_page_pair(
        p, tb_tr(p->tongue, "journal"),
        tb_tr(p->tongue,
              "the record of the warehouse to which rows are only added; each row carries the digest "
              "of the one before"));
    tb_page_text(
        p, tb_tr(p->tongue,
                 "This file informs; it is not legal advice, and the official texts and your own counsel "
                 "decide."));
}

#define STAMPS_SHOWN 4

/* The latest of them cover most of what the file tells; who wants all of them proves the file. */
static void stamps(struct case_page *c)
{
    struct page *p = &c->page;
    const struct story *s = c->story;
    size_t from = s->stamps > STAMPS_SHOWN ? s->stamps - STAMPS_SHOWN : 0;

    for (size_t i = from; i < s->stamps; i++) {
        tb_text_clear(&c->text);
        tb_story_stamp(&c->text, p->tongue, &s->stamp[i]);
        tb_page_pair(p, i == from ? tb_tr(p->tongue, "Time-stamped") : "", tb_text_str(&c->text));
    }
    if (from)
        tb_page_pair(p, "",
                     tb_page_say(&c->text,
                                 tb_trn(p->tongue, "%zu more is in the attached data",
                                        "%zu more are in the attached data", from),
                                 from));
}

/* On the last page, where it is looked for, with the digests that fix what was known when. */
void tb_case_check(struct case_page *c)
{
    struct page *p = &c->page;
    struct tb_text *t = &c->text;
    const struct story *s = c->story;

    tb_page_need(p, CHECK(p->tongue)); /* heading, words, code and digests stand together */
    tb_page_heading(p, tb_tr(p->tongue, "How to check this file"));
    tb_page_text(p,
                 tb_tr(p->tongue,
                       "The data of this file are attached to it: the records as they were written, the rows "
                       "of the journal over them, and digests of every other row. \"tenterbook prove --case "
                       "FILE.pdf\" computes every digest again, draws these pages again from the data and "
                       "compares them; with \"--against BOOK\" it also compares every record with the book "
                       "it came from. Keep the digests below elsewhere: they show any later change."));
    if (s->stamps)
        tb_page_text(p,
                     tb_tr(p->tongue,
                           "Authorities outside stamped rows of the journal: what this file tells of such a "
                           "row, and of every "
                           "row before it, stood there by the moment they name below. \"--authority "
                           "CERTS.pem\" checks who "
                           "signed that."));
    tb_text_clear(t);
    tb_story_anchor(t, s);
    tb_page_anchor(p, tb_text_str(t));
    tb_page_gap(p, 4);
    tb_page_pair(p, tb_tr(p->tongue, "Data, SHA-256"), s->sha256);
    tb_page_pair(p, tb_tr(p->tongue, "Last journal row"),
                 tb_page_say(t, "%lld, %s", (long long)s->last_row, s->last_digest));
    stamps(c);
    if (tb_story_judged(s))
        tb_page_pair(p, tb_tr(p->tongue, "Reference of the verdict"), tb_story_judged(s)->reference);
    tb_page_pair(p, tb_tr(p->tongue, "Made"),
                 tb_page_say(t, tb_tr(p->tongue, "%s by %s, program %s"), s->made, s->by, s->program));
}
