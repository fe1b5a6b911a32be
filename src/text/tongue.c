/* tongue.c - the languages papers are written in. */
#include "tenterbook/tongue.h"

TB_WORDS(tb_tongue_words, TB_TONGUES,
         "papers are not written in '%s'; the languages are en, de, es, fr, it, pl, pt, tr and zh", "en",
         "de", "es", "fr", "it", "pl", "pt", "tr", "zh");
