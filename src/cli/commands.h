/* The table of commands, sorted: one line each. */
TB_CMD(draw)
TB_CMD(help)
TB_CMD(sheet)
