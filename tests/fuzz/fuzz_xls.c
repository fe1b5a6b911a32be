/*
 * Old workbooks. The first byte chooses: 0 the bytes are the file itself; else they are the records of the workbook, put into
 * a compound file here so that its chains are no wall. ODS goes with the workbooks of fuzz_xlsx.c.
 */
#include "fuzz_intake.h"
#include "xls_helper.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static const struct tb_intake_opts opts = { .supplier = "Mill",
                                                .note = "1",
                                                .article = "A",
                                                .declared = "",
                                                .dates = 'd',
                                                .length_unit = TB_UNIT_M,
                                                .width_unit = TB_UNIT_CM };
    struct tb_text file = { 0 };

    if (size < 1 || size > 60000)
        return 0;
    if (data[0] == 0) {
        fuzz_read(data + 1, size - 1, &opts);
        return 0;
    }
    make_cfb(&file, "Workbook", data + 1, size - 1);
    fuzz_read(file.s, file.n, &opts);
    tb_text_free(&file);
    return 0;
}
