/*
 * Any bytes as a label: the first three choose market, facts and language, the rest up to a zero is the text, what
 * follows the zero is what was found. Reading, checking, wording and both renderers run; what a label may say is
 * read again.
 */
#include "tenterbook/tell.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void facts_from(struct tb_law_facts *f, uint8_t bits, uint8_t more)
{
    static const double figure[] = { NAN, 0, 2.9, 15, 40, 100 };

    tb_law_facts_none(f);
    f->carded = bits & 1;
    f->virgin = bits & 2;
    f->bast = bits & 4;
    f->one_language = bits & 8;
    f->unchecked = bits & 16;
    f->origin = bits & 32 ? "Portugal" : NULL;
    f->micron = f->coarse = f->cv = figure[more % 6];
    f->area_share = f->left_out = figure[more / 6 % 6];
    f->part_share[TB_PART_WARP] = f->part_share[TB_PART_PILE] = figure[more / 36 % 6];
    f->part_share[TB_PART_WEFT] = f->part_share[TB_PART_BACK] = 100 - figure[more / 36 % 6];
}

static void read_again(const struct tb_law *law, const struct tb_law_question *q,
                       const struct tb_law_answer *a)
{
    for (size_t i = 0; i < a->wordings; i++) {
        struct tb_law_question again = *q;
        struct tb_law_answer b;
        struct tb_err err = { 0 };

        again.text = a->wording[i];
        again.text_len = strlen(a->wording[i]);
        if (tb_law_check(&b, law, &again, &err) == TB_OK)
            tb_law_answer_free(&b);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct tb_law *law;
    struct tb_law_question q = { 0 };
    struct tb_declaration found = { 0 };
    struct tb_law_answer a;
    struct tb_err err = { 0 };
    struct tb_text t = { 0 };
    struct tb_market m;
    const char *text, *split;
    size_t n;

    if (size < 3)
        return 0;
    if (!law)
        law = tb_law_new();
    m = tb_market_at(data[0] % tb_market_count());
    text = (const char *)data + 3;
    n = size - 3;
    split = memchr(text, '\0', n);
    q.market = m.key;
    q.text = text;
    q.text_len = split ? (size_t)(split - text) : n;
    facts_from(&q.facts, data[1], data[2]);
    if (split) {
        tb_declaration_read(&found, split + 1, n - q.text_len - 1);
        q.found = &found.comp;
    }
    if (tb_law_check(&a, law, &q, &err) == TB_OK) {
        tb_law_words(&t, &a);
        json_decref(tb_json_law(&a));
        read_again(law, &q, &a);
        tb_law_answer_free(&a);
    }
    tb_text_free(&t);
    tb_declaration_free(&found);
    return 0;
}
