/*
 * fibre.h - fibres and their names, and compositions made of them: read from a supplier's words, compared, printed.
 *
 * Pure: values in, values out. Percentages are by mass. A fibre is a number, its row in sql/reference/fibre.csv. The
 * numbers hold for one build only: store keys ("cotton"), never numbers. Where nothing else is said, text that is
 * answered is static, and a function allocates nothing and cannot fail.
 */
#ifndef TENTERBOOK_FIBRE_H
#define TENTERBOOK_FIBRE_H

#include "tenterbook/words.h"

/* What may be done to cloth of a fibre at a bench, the strictest last. */
enum tb_handling {
    TB_HANDLING_ANY,
    TB_HANDLING_FLAMELESS, /* neither flame nor heat: what it frees is toxic */
    TB_HANDLING_LABORATORY /* nothing that frays it: for a licensed laboratory */
};

extern const struct tb_words tb_handling_keys; /* "any", "flameless", "laboratory": what JSON says */

/* What a fibre is, and what it cannot be told from when it burns. All text is static; "" where there is none. */
struct tb_fibre {
    const char *key;        /* "cotton": what the book and JSON say */
    const char *name;       /* "cotton": what a person reads in English (ISO 2076 / EU name) */
    const char *burn_class; /* "cellulose", "protein", ...: fibres of a class behave alike in a flame */
    int eu_number;          /* entry of Annex I, Regulation (EU) 1007/2011; 0: none */
    const char *iso_code;   /* ISO 2076 code of a man-made fibre, "CV"; from memory, see iso_status */
    const char *iso_status; /* "seen" or "memory" */
    const char *iso_name;   /* ISO 2076 name, same status */
    const char *code;       /* short code of the trade, "CO"; may differ from iso_code */
    const char *family;     /* "natural_cellulose", "animal", "olefin", ... */
    const char *twin_group; /* fibres of one group cannot be told apart by burning; a fibre alone: its key */
    const char *burn_key;   /* the published burning profile that serves it ("pla"); "": none is published */
    enum tb_handling
        handling; /* what may be done to cloth of it at a bench; column handling, its source beside it */
    const char *source;
};

/* tb_fibre_count - how many fibres the table has. */
size_t tb_fibre_count(void);
/* tb_fibre_at - what is known of a fibre (0 .. tb_fibre_count() - 1). Borrowed and constant. */
const struct tb_fibre *tb_fibre_at(int fibre);
/* tb_fibre_by_key - the fibre with exactly this key; -1 when the table has none. */
int tb_fibre_by_key(const char *key);
/*
 * tb_fibre_twins - can burning not tell them apart? Cotton and flax are twins, wool and mohair; a fibre is its own.
 *
 *   a, b     fibres, 0 .. tb_fibre_count() - 1
 *   source   column twin_group of fibre.csv
 */
bool tb_fibre_twins(int a, int b);

/* What kind of word was used for a fibre. Order matters: the first kind that fits a word is its kind. */
enum tb_word_kind {
    TB_WORD_LEGAL,        /* a market's law calls the fibre so: see tb_name.market */
    TB_WORD_SYNONYM,      /* another plain name of the fibre; no law lists it */
    TB_WORD_CODE,         /* CO, PES, T/C, poly */
    TB_WORD_TRADE_WORD,   /* merino, lambswool, pima */
    TB_WORD_TRADE_MARK,   /* somebody's registered name */
    TB_WORD_MISNOMER,     /* bamboo, art silk: not the name of any fibre */
    TB_WORD_CONSTRUCTION, /* satin, denim: says how, not of what */
    TB_WORD_VAGUE,        /* synthetic, microfibre, blend: a class or a claim, not a fibre */
    TB_WORD_AMBIGUOUS,    /* PE, CA, EA: two readings */
    TB_WORD_OTHER,        /* other fibres */
    TB_WORD_UNDETERMINED, /* unknown fibres, mixed fibres */
    TB_WORD_MARK,         /* virgin, recycled, organic, pure */
    TB_WORD_PART,         /* warp, lining */
    TB_WORD_HEADER,       /* composition, TKG */
    TB_WORD_FILLER,       /* made of, with */
    TB_WORD_AND,          /* and, und, et */
    TB_WORD_PERCENT,      /* per cent, Prozent */
    TB_WORD_UNKNOWN,      /* none of these */
    TB_WORD_KINDS
};

/* One row of the tables of words (sql/reference/law_name.csv, fibre_name.csv); several rows may have the same word. */
struct tb_name {
    const char *word; /* as a person writes it */
    const char *lang; /* "de"; "" for no language (codes) */
    enum tb_word_kind kind;
    int fibre;          /* -1 when it names none, or more than one: see means */
    const char *means;  /* keys separated by "|" (choices), or by "+" (all of them, in this order) */
    const char *market; /* key of the market whose law lists the name; "" when no law does */
    const char *status; /* "seen" or "memory" */
    const char *source;
};
/* tb_name_count - how many rows the table of words has. */
size_t tb_name_count(void);
/* tb_name_at - a row (below tb_name_count()); they are sorted by folded word. Borrowed and constant. */
const struct tb_name *tb_name_at(size_t row);
/* tb_name_marks - what the word of a row says of the fibre besides its name: bits of enum tb_mark. */
unsigned tb_name_marks(size_t row);
/*
 * tb_name_find - the rows with this word, whatever its case and accents.
 *
 *   word     len bytes as a person writes them
 *   n        how many rows it has; 0 when it has none
 *   returns  the first of them, the one that decides its kind, with the others behind it; NULL when it has none
 */
const struct tb_name *tb_name_find(const char *word, size_t len, size_t *n);
/* tb_fibre_by_word - a fibre by its key or by any name in any language; -1 when the word names none. */
int tb_fibre_by_word(const char *word);

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
/* The keys of the parts, "whole", "warp" ...: what the book, JSON and files say. They may be added to, never changed. */
extern const struct tb_words tb_part_words;
/* tb_part_key - the key of a kind of part, static text. */
const char *tb_part_key(enum tb_part_kind kind);
/* tb_part_by_key - the kind of part with this key; -1 when there is none. */
int tb_part_by_key(const char *key);

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
    double percent;   /* 0 < percent <= 100; NAN: not said, or a range. A fibre alone in its part needs none:
                         "pure new wool" has NAN and no doubt, and tb_part_percent takes it for 100 */
    double tolerance; /* +- points the words themselves claim ("80 +-5"); NAN: none */
    unsigned marks;   /* enum tb_mark */
    size_t id;        /* for a reader to note its own number of it; else 0 */
};
/* In the place of a fibre: "other fibres"; "unknown fibres", or a word that leaves open which fibre it is. */
#define TB_FIBRE_OTHER (-2)
#define TB_FIBRE_UNKNOWN (-3)

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
/* tb_doubt_key - the key of a kind of doubt, as JSON has it: "unknown_word". */
const char *tb_doubt_key(enum tb_doubt_kind kind);
/* tb_doubt_blocks - must a person answer such a doubt before anything is judged by the composition? */
bool tb_doubt_blocks(enum tb_doubt_kind kind);

struct tb_doubt {
    enum tb_doubt_kind kind;
    size_t at, len; /* bytes of the text it is about; at + len <= strlen(text) */
    char *say;      /* one sentence for a person */
    /* Keys it may mean, separated by "|": a fibre's, several joined by "+", "other_fibres", "not_fibre"; for an
     * unknown word the nearest fibre; NULL when there is no list. */
    char *choices;
};

/* One word (or phrase) of the text as the reader took it; the law asks which word was used for a share. */
#define TB_NOWHERE ((size_t)-1)
struct tb_word {
    size_t at, len; /* bytes of the text */
    enum tb_word_kind kind;
    int fibre;                  /* as struct tb_share.fibre; -1 when it names none */
    size_t part, share;         /* where it went: comp.part[part].share[share]; TB_NOWHERE: nowhere */
    const struct tb_name *name; /* first row of the table for it; NULL for an unknown word */
    size_t names;               /* rows with this word (other languages, other laws) */
};

/*
 * Finishes, coatings and loadings that a declaration may name: rows of sql/reference/finish.csv. They are facts of the
 * declaration beside its composition; no fibre name changes with them.
 */
#define TB_FINISHES_MOST 32
/* tb_finish_count - how many finishes the table has, at most TB_FINISHES_MOST. */
size_t tb_finish_count(void);
/* tb_finish_key - the key of a finish (0 .. tb_finish_count() - 1), "flame_retardant": what JSON says. Static. */
const char *tb_finish_key(int finish);
/* tb_finish_by_key - the finish with exactly this key; -1 when the table has none. */
int tb_finish_by_key(const char *key);
/* tb_finish_list - append the names of some finishes (bits, 1u << finish), separated by commas; nothing for none. */
void tb_finish_list(struct tb_text *out, unsigned finishes);

/* What was received, what was read in it, and what has to be asked. */
struct tb_declaration {
    char *text; /* as received */
    struct tb_composition comp;
    unsigned finish; /* the finishes that the words name: bits, 1u << finish */
    int also;        /* see tb_declaration_also; below 0: nothing */
    bool found;      /* what also names was found in the cloth, not declared: see tb_declaration_found */
    struct tb_doubt *doubt;
    size_t n, cap;        /* doubts */
    struct tb_word *word; /* every word of the text, in its order */
    size_t words, words_cap;
};

#define TB_DECLARATION_MOST 8192 /* bytes that are read */
/*
 * tb_declaration_read - read a supplier's words. It never guesses and never fails: what it does not understand
 * becomes a doubt.
 *
 *   out     filled; free with tb_declaration_free
 *   text    any bytes, n of them; NULL is an empty text. It ends at a zero byte or after TB_DECLARATION_MOST bytes,
 *           and a doubt says so
 *   memory  keeps a copy of the text; borrows nothing
 *   source  docs/declarations.md
 */
void tb_declaration_read(struct tb_declaration *out, const char *text, size_t n);
/* tb_declaration_free - free what it holds and empty it; NULL does nothing. */
void tb_declaration_free(struct tb_declaration *d);
/* tb_declaration_clear - may it be judged by: every part has fibres, all of them known, and no doubt blocks? */
bool tb_declaration_clear(const struct tb_declaration *d);

/* What later words are to doubtful ones. */
enum tb_answer_kind {
    TB_ANSWER_READS, /* one of the readings that they have */
    TB_ANSWER_OPEN,  /* more than they say, where they leave open what the cloth is of */
    TB_ANSWER_OTHER  /* no reading: a fibre or a figure that they do not have */
};
/*
 * tb_declaration_answered - what an answer is to doubtful words. A reading names a fibre that each doubtful word may mean, keeps the
 * fibres and the figures that could be read, and brings in no other fibre. Words that name no fibre, and room that the figures
 * leave beside a word nobody knows, are open.
 */
enum tb_answer_kind tb_declaration_answered(const struct tb_declaration *said,
                                            const struct tb_declaration *answer);

/*
 * tb_declaration_handling - the strictest handling that a fibre asks for which the words name anywhere, readable as a whole or
 * not, or that tb_declaration_also noted.
 *   fibre   which fibre asks for it; -1 where none does. May be NULL
 *   source  columns handling and handling_source of fibre.csv
 */
enum tb_handling tb_declaration_handling(const struct tb_declaration *d, int *fibre);
/*
 * tb_declaration_also - note what other words for the same cloth ask for, where that is stricter: whoever once said that a cloth
 * is of asbestos is not taken back by words that nobody can read. Nothing else of them counts.
 *   d     that was read
 *   text  any bytes, n of them
 */
void tb_declaration_also(struct tb_declaration *d, const char *text, size_t n);
/* tb_declaration_found - the same of what an analysis found in the cloth to hold. */
void tb_declaration_found(struct tb_declaration *d, const char *text, size_t n);

/*
 * tb_declaration_print - append what was read, for a person: the composition as tb_composition_print has it, and the
 * finishes in brackets, "100 % cotton (finish: flame retardant)". It reads back to the same of both.
 */
void tb_declaration_print(struct tb_text *out, const struct tb_declaration *d);

/* tb_composition_free - free what it holds and empty it; NULL does nothing. */
void tb_composition_free(struct tb_composition *c);
/* tb_composition_add_part - append an empty part. The pointer is good until the next part is appended. */
struct tb_part *tb_composition_add_part(struct tb_composition *c, enum tb_part_kind kind);
/*
 * tb_part_add_share - append a share without marks or tolerance.
 *
 *   fibre    a fibre, TB_FIBRE_OTHER or TB_FIBRE_UNKNOWN
 *   percent  by mass, above 0 and at most 100; NAN: not said
 *   returns  the share; the pointer is good until the next one is appended to the part
 */
struct tb_share *tb_part_add_share(struct tb_part *p, int fibre, double percent);
/*
 * tb_composition_print - append it as a person reads it: "60 % cotton, 40 % polyester", "warp: 100 % cotton; weft:
 * 100 % flax". Read again with tb_declaration_read it gives the same composition without a doubt.
 */
void tb_composition_print(struct tb_text *out, const struct tb_composition *c);

/* tb_part_percent - percent of a fibre in a part, its shares added up; 0 when it is not there, 100 when it is all the
 * part names, else NAN when it has no figure. */
double tb_part_percent(const struct tb_part *p, int fibre);
/* tb_part_sum - the percentages of a part added up; NAN when one of several shares has none. */
double tb_part_sum(const struct tb_part *p);
/* tb_composition_part - the first part of this kind, borrowed; NULL when there is none. */
const struct tb_part *tb_composition_part(const struct tb_composition *c, enum tb_part_kind kind);

#endif
