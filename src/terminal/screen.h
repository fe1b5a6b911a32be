/*
 * screen.h - what is written to a terminal fits it: lines break between words, tables fold. What gives a terminal orders is shown
 * as U+FFFD (tb_utf8_shown), in a file too, for somebody will look at it.
 */
#ifndef TENTERBOOK_TERMINAL_SCREEN_H
#define TENTERBOOK_TERMINAL_SCREEN_H

#include <stdio.h>

/*
 * tb_screen - a stream to standard output that breaks long lines between words, under the first word of the line.
 *
 * Lines that are there to be copied or read by a program stay whole: commands, and what begins with { or [.
 * A file gets its lines whole. Close it with tb_screen_close, which leaves stdout open; gives 0, or
 * EOF when something could not be written.
 */
FILE *tb_screen(void);
/* Writes what is left of a line begun and gives the stream back; standard output stays open. */
int tb_screen_close(FILE *screen);

#endif
