/*
 * fibre.h - fibres, and compositions made of them: read from a supplier's words, compared, printed.
 *
 * Pure: values in, values out. Percentages are by mass. Fibre numbers index the reference table
 * sql/reference/fibre.csv and are stable only within one build: store keys ("cotton"), never numbers.
 */
#ifndef TENTERBOOK_FIBRE_H
#define TENTERBOOK_FIBRE_H

#include "tenterbook/base.h"

/* What a fibre is, and what it cannot be told from when it burns. All text is static. */
struct tb_fibre {
    const char *key;        /* "cotton": what the book and JSON say */
    const char *name;       /* "cotton": what a person reads in English (ISO 2076 / EU name) */
    const char *burn_class; /* "cellulose", "protein", ...: fibres of a class burn alike */
    int eu_number;          /* entry of Annex I, Regulation (EU) 1007/2011; 0: none */
    const char *iso_code;   /* "CO"; "" when there is none */
};

size_t tb_fibre_count(void);
/* Borrowed; fibre must be in 0 .. tb_fibre_count() - 1. */
const struct tb_fibre *tb_fibre_at(int fibre);
/* The fibre with this key, -1 when there is none. */
int tb_fibre_by_key(const char *key);

/* Which part of the cloth a blend belongs to. */
enum tb_part_kind {
    TB_PART_WHOLE,
    TB_PART_WARP,
    TB_PART_WEFT,
    TB_PART_PILE,
    TB_PART_GROUND,
    TB_PART_FACE,
    TB_PART_BACK,
    TB_PART_COATING,
    TB_PART_SHELL,
    TB_PART_LINING,
    TB_PART_FILLING,
    TB_PART_OTHER, /* named otherwise: see tb_part.label */
    TB_PART_KINDS
};
const char *tb_part_key(enum tb_part_kind kind); /* "warp" */
int tb_part_by_key(const char *key);             /* -1 when there is none */

/* What the words said of a fibre besides its name: bits of tb_share.marks. */
enum tb_mark {
    TB_MARK_VIRGIN = 1 << 0,   /* virgin, new, fleece wool */
    TB_MARK_RECYCLED = 1 << 1, /* recycled, reclaimed, reprocessed, reused */
    TB_MARK_ORGANIC = 1 << 2,
    TB_MARK_MERCERISED = 1 << 3,
    TB_MARK_COMBED = 1 << 4,
    TB_MARK_PURE = 1 << 5 /* "pure", "all", "only" stood before the name */
};

struct tb_share {
    int fibre;        /* >= 0: a fibre; TB_FIBRE_OTHER or TB_FIBRE_UNKNOWN else */
    double percent;   /* 0 < percent <= 100; NAN: not said */
    double tolerance; /* +- points the words themselves claim ("80 +-5"); NAN: none */
    unsigned marks;   /* enum tb_mark */
};
#define TB_FIBRE_OTHER (-2)   /* "other fibres" */
#define TB_FIBRE_UNKNOWN (-3) /* "unknown fibres", "fibre content undetermined" */

/* One part and what it is made of. */
struct tb_part {
    enum tb_part_kind kind;
    char *label;            /* the words for the part when kind is TB_PART_OTHER; else NULL */
    struct tb_share *share; /* in the order of the words */
    size_t n, cap;
};

struct tb_composition {
    struct tb_part *part;
    size_t n, cap; /* n is 0 when nothing could be read */
};

/* Why a declaration cannot be taken as it stands. The reader never guesses: it doubts. */
enum tb_doubt_kind {
    TB_DOUBT_UNKNOWN_WORD, /* not a fibre, part or filler word we know */
    TB_DOUBT_AMBIGUOUS,    /* a code with two readings: PE, CA, EA, PC ... */
    TB_DOUBT_SUM,          /* the percentages of a part do not add up to 100 */
    TB_DOUBT_NO_PERCENT,   /* two or more fibres and no percentages, or some without */
    TB_DOUBT_MISNOMER,     /* a word that is not a fibre name: bamboo, satin, art silk */
    TB_DOUBT_ABBREVIATION, /* understood, but a label may not carry it */
    TB_DOUBT_TRADE_WORD,   /* a trade mark or trade word understood as a fibre */
    TB_DOUBT_NUMBER,       /* a number that cannot be a percentage here */
    TB_DOUBT_REPEATED,     /* the same fibre twice in one part */
    TB_DOUBT_RANGE,        /* "55-80 %": no single figure */
    TB_DOUBT_EMPTY,        /* no composition in the text at all */
    TB_DOUBT_KINDS
};
const char *tb_doubt_key(enum tb_doubt_kind kind); /* "unknown_word" */
/* True for doubts that leave the composition unusable for a verdict until a person answers them. */
bool tb_doubt_blocks(enum tb_doubt_kind kind);

struct tb_doubt {
    enum tb_doubt_kind kind;
    size_t at, len; /* bytes of the text it is about; at + len <= strlen(text) */
    char *say;      /* one sentence for a person */
    char *choices;  /* "polyethylene|polyester": keys it may mean; NULL when there is no list */
};

struct tb_declaration {
    char *text; /* as received */
    struct tb_composition comp;
    struct tb_doubt *doubt;
    size_t n, cap; /* doubts */
};

/*
 * tb_declaration_read - read a supplier's words.
 *
 *   out    filled; free with tb_declaration_free. Whatever the bytes, it succeeds: what is not understood
 *          becomes a doubt
 *   text   any bytes, n of them; read up to TB_DECLARATION_MOST, a doubt names the rest
 */
#define TB_DECLARATION_MOST 8192
void tb_declaration_read(struct tb_declaration *out, const char *text, size_t n);
void tb_declaration_free(struct tb_declaration *d);
/* True when nothing blocks: every part has fibres, and no doubt for which tb_doubt_blocks() holds. */
bool tb_declaration_clear(const struct tb_declaration *d);

void tb_composition_free(struct tb_composition *c);
void tb_composition_copy(struct tb_composition *out, const struct tb_composition *from);
/* Append a part / a share; the pointer is good until the next append. */
struct tb_part *tb_composition_add_part(struct tb_composition *c, enum tb_part_kind kind);
struct tb_share *tb_part_add_share(struct tb_part *p, int fibre, double percent);
/* Same parts in the same order, same fibres in the same order, percentages within 1e-9, same marks. */
bool tb_composition_equal(const struct tb_composition *a, const struct tb_composition *b);
/*
 * tb_composition_print - "60 % cotton, 40 % polyester"; parts as "warp: 100 % cotton; weft: 100 % flax".
 * Reading it back with tb_declaration_read gives the same composition without doubts.
 */
void tb_composition_print(struct tb_text *out, const struct tb_composition *c);

#endif
