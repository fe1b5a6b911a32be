/* Any bytes as a packing list in text form: rows, then the reader on top with options out of the first byte. */
#include "fuzz_intake.h"

#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct tb_intake_opts opts = { .supplier = "Mill", .note = "1", .article = "A", .declared = "" };

    if (size < 1)
        return 0;
    opts.dates = "\0dmy"[data[0] & 3];
    opts.decimal = "\0,.\0"[data[0] >> 2 & 3];
    opts.length_unit = data[0] & 16 ? TB_UNIT_M : TB_UNIT_NONE;
    opts.width_unit = data[0] & 32 ? TB_UNIT_CM : TB_UNIT_NONE;
    opts.mass_unit = data[0] & 64 ? TB_UNIT_GSM : TB_UNIT_NONE;
    opts.number_by_lot = (data[0] & 128) != 0;
    fuzz_read(data + 1, size - 1, &opts);
    return 0;
}
