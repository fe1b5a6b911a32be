/* Any bytes as a declaration: no crash, places within the text, and a clear reading prints and reads back the same. */
#include "tenterbook/fibre.h"

#include "same_composition.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void must(bool holds)
{
    if (!holds)
        abort();
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct tb_declaration d, again;
    struct tb_text text = { 0 };
    size_t len;

    tb_declaration_read(&d, (const char *)data, size);
    len = strlen(d.text);
    must(d.comp.n || d.n);
    for (size_t i = 0; i < d.n; i++)
        must(d.doubt[i].at + d.doubt[i].len <= len && *d.doubt[i].say);
    for (size_t i = 0; i < d.words; i++)
        must(d.word[i].at + d.word[i].len <= len);
    if (tb_declaration_clear(&d)) {
        tb_composition_print(&text, &d.comp);
        tb_declaration_read(&again, text.s, text.n);
        must(same_composition(&d.comp, &again.comp));
        tb_declaration_free(&again);
        tb_text_free(&text);
    }
    tb_declaration_free(&d);
    return 0;
}
