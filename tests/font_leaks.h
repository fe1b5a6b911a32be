/* font_leaks.h - included once by a test program that draws: what the leak checker may overlook. */
#ifndef TESTS_FONT_LEAKS_H
#define TESTS_FONT_LEAKS_H

/* The font library keeps its tables until the end and does not give them back. */
const char *__lsan_default_suppressions(void);
const char *__lsan_default_suppressions(void)
{
    return "leak:libfontconfig\nleak:libpango\n";
}

#endif
