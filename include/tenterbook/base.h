/*
 * base.h - errors, memory, growing text: what every other module stands on.
 *
 * Nothing in here knows about cloth, files of ours or the database.
 */
#ifndef TENTERBOOK_BASE_H
#define TENTERBOOK_BASE_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

/* What a function may answer. More than two or three failures in one function means it does too much. */
typedef enum {
    TB_OK = 0,
    TB_EINVAL,    /* a value given by a person, a file or a caller is not acceptable */
    TB_ENOTFOUND, /* what was asked for is not there: an answer, not always a fault */
    TB_EEXISTS,   /* it is there already */
    TB_EREFUSED,  /* understood, and not allowed (a setting, a rule of the house) */
    TB_EBUSY,     /* somebody else is writing; the bounded wait ran out */
    TB_EFORMAT,   /* a file is damaged or not what it claims to be */
    TB_EIO,       /* the disk, the system or the database failed */
    TB_EUSAGE,    /* the command line itself is wrong (exit 2) */
    TB_EAFTER     /* what was asked for is done, and something after it failed (exit 3) */
} tb_rc;

/* The caller owns it; whoever returns a failure has filled it. Zero-initialise before first use. */
struct tb_err {
    char msg[600];    /* for the person at the bench: what is wrong, in one sentence */
    char detail[400]; /* for the log: SQL text, file:line, the library's own message; may be empty */
    /* names of what was asked for and is missing or wrong, as options and fields are called, separated by spaces: "why" */
    char about[64];
};

#define TB_PRINTF(fmt, first) __attribute__((format(printf, fmt, first)))

/*
 * tb_fail - note a failure and answer its code, so that `return tb_fail(err, TB_EINVAL, "...")` is one line.
 * The format is looked up in the message catalogue. A message that does not fit is cut at a character.
 */
tb_rc tb_fail(struct tb_err *err, tb_rc rc, const char *fmt, ...) TB_PRINTF(3, 4);
/* tb_within - put "where: " before the message that is there already; answers rc. */
tb_rc tb_within(struct tb_err *err, tb_rc rc, const char *fmt, ...) TB_PRINTF(3, 4);
/*
 * tb_about - name what the failure is about, so that whoever asked can say where it is said: the option, the field of a
 * form. The message names neither. Answers rc, as in `return tb_about(err, tb_fail(...), "new goods-of")`.
 */
tb_rc tb_about(struct tb_err *err, tb_rc rc, const char *names);
/* tb_detail - what the log should know besides; keeps the message. */
void tb_detail(struct tb_err *err, const char *fmt, ...) TB_PRINTF(2, 3);
#ifdef __clang_analyzer__
/*
 * The static analyser cannot see that a failure is never TB_OK: what is used after one would look
 * uninitialised.
 */
void tb_noted(struct tb_err *err, ...);
#define tb_fail(err, rc, ...) (tb_noted((err), __VA_ARGS__), (rc))
#define tb_within(err, rc, ...) (tb_noted((err), __VA_ARGS__), (rc))
#endif

/* Memory. Running out of it ends the program with a sentence: there is nothing sensible to do at the bench.
 * All of these answer zeroed memory and never NULL. Free with free(). */
/* tb_no_memory - what they do then, and what a caller does whose library had none: last words, and exit code 1. */
_Noreturn void tb_no_memory(void);
/*
 * tb_try_realloc - realloc that may answer NULL: for a library that undoes what it began. The malloc, calloc, realloc and
 * posix_memalign of every other library in the program end it like those below (mem.c). Free with free().
 */
void *tb_try_realloc(void *old, size_t n);
/*
 * tb_on_no_memory - what is said in place of the usual words. Memory it asks for may be missing (NULL); where it
 * comes back, the usual words follow. NULL: the usual. Answers what was said until now.
 */
typedef void tb_no_memory_fn(void);
tb_no_memory_fn *tb_on_no_memory(tb_no_memory_fn *say);
/* tb_memory_ready - at the start of a program: what it will ask for comes in large pieces, and what was freed is kept. */
void tb_memory_ready(void);
void *tb_alloc(size_t count, size_t size);
/* Like realloc for count things of this size; the grown part is not zeroed. */
void *tb_realloc(void *old, size_t count, size_t size);
/* A copy of a text; NULL stays NULL. */
char *tb_strdup(const char *s);
/* A copy of n bytes, NUL-terminated. */
char *tb_strndup(const char *s, size_t n);
#define tb_new(type) ((type *)tb_alloc(1, sizeof(type)))
#define tb_array(type, n) ((type *)tb_alloc((n), sizeof(type)))
#ifdef __clang_analyzer__ /* a list with room has memory behind it */
#define TB_THERE(ptr)                                                                                        \
    if (!(ptr))                                                                                              \
    __builtin_unreachable()
#else
#define TB_THERE(ptr) (void)0
#endif
/* Make room for one more element: TB_PUSH_ROOM(list->item, list->n, list->cap); list->item[list->n++] = x; */
#define TB_PUSH_ROOM(ptr, n, cap)                                                                            \
    do {                                                                                                     \
        if ((n) == (cap)) {                                                                                  \
            (cap) = (cap) ? (cap)*2 : 8;                                                                     \
            (ptr) = tb_realloc((ptr), (cap), sizeof *(ptr));                                                 \
        }                                                                                                    \
        TB_THERE(ptr);                                                                                       \
    } while (0)
/* One more element at the end of a list too short to be worth keeping room for: TB_PUSH(list, n, value). */
#define TB_PUSH(ptr, n, ...)                                                                                 \
    ((ptr) = tb_realloc((ptr), (n) + 1, sizeof *(ptr)), (void)((ptr)[(n)++] = __VA_ARGS__))
/* tb_country_valid - whether these are the two letters of a country: ISO 3166-1 alpha-2, or XK for Kosovo. */
bool tb_country_valid(const char *code);
/* tb_country_of_three - the two letters for the three of ISO 3166-1 alpha-3, in capitals; false, and out untouched: they are none. */
bool tb_country_of_three(char out[3], const char *code);

#define TB_COUNT(array) (sizeof(array) / sizeof((array)[0]))

/* Text that grows. `s` is always NUL-terminated once something was added; NULL before. */
struct tb_text {
    char *s;
    size_t n;   /* bytes, without the NUL */
    size_t cap; /* bytes that fit before the next growth */
};
/* A text at the end. */
void tb_text_add(struct tb_text *t, const char *s);
/* n bytes at the end. */
void tb_text_addn(struct tb_text *t, const char *s, size_t n);
/* One byte at the end. */
void tb_text_addc(struct tb_text *t, char c);
/* What printf would print, at the end. */
void tb_text_addf(struct tb_text *t, const char *fmt, ...) TB_PRINTF(2, 3);
/* The same for a function that takes `...` itself. */
void tb_text_vaddf(struct tb_text *t, const char *fmt, va_list ap) TB_PRINTF(2, 0);
/*
 * As addf, with the format looked up in the message catalogue: for sentences that are no failures of their
 * own.
 */
void tb_text_say(struct tb_text *t, const char *fmt, ...) TB_PRINTF(2, 3);
/* One more part of an enumeration, looked up; ", " stands between the parts. */
void tb_part(struct tb_text *list, const char *fmt, ...) TB_PRINTF(2, 3);
/* One more clause of a sentence, looked up; "; " stands between the clauses. */
void tb_clause(struct tb_text *sentence, const char *fmt, ...) TB_PRINTF(2, 3);
/* The same for a function that takes `...` itself. */
void tb_text_vsay(struct tb_text *t, const char *fmt, va_list ap) TB_PRINTF(2, 0);
/* Empty it and keep the room. */
void tb_text_clear(struct tb_text *t);
/* Free it and make it reusable. */
void tb_text_free(struct tb_text *t);
/* The text as yours to free, "" when nothing was added; t is empty afterwards. */
char *tb_text_take(struct tb_text *t);
/* The text, borrowed; "" when nothing was added. */
const char *tb_text_str(const struct tb_text *t);

/*
 * A share (0 .. 1) in words of the reader: "95.2 %"; what is not certain is never "100 %" or "0 %". Returns
 * out.
 */
#define TB_PERCENT 32
const char *tb_percent(char out[TB_PERCENT], double share);

/* Text and records that live and die together: everything put into an arena is freed at once. */
struct tb_arena {
    struct tb_arena_block *first;
    char *next;
    size_t left;
};
/* `size` zeroed bytes, aligned for any object; never NULL. */
void *tb_arena_alloc(struct tb_arena *a, size_t size);
/* A copy of a text; NULL stays NULL. */
char *tb_arena_strdup(struct tb_arena *a, const char *s);
/* A copy of n bytes, NUL-terminated. */
char *tb_arena_strndup(struct tb_arena *a, const char *s, size_t n);
/* A list with room for twice as many: its n things of this size, and *cap of them fit. What it was stays unused. */
void *tb_arena_grow(struct tb_arena *a, const void *list, size_t n, size_t size, size_t *cap);
/* As TB_PUSH_ROOM, for a list that lives in an arena and is not freed by itself. */
#define TB_ARENA_ROOM(a, ptr, n, cap)                                                                        \
    do {                                                                                                     \
        if ((n) == (cap))                                                                                    \
            (ptr) = tb_arena_grow((a), (ptr), (n), sizeof *(ptr), &(cap));                                   \
    } while (0)
/* What printf would print. */
char *tb_arena_printf(struct tb_arena *a, const char *fmt, ...) TB_PRINTF(2, 3);
/* A text that has grown, moved into the arena; "" when nothing was added. t is empty afterwards. */
char *tb_arena_take(struct tb_arena *a, struct tb_text *t);
/* Free all of it at once and make it reusable. */
void tb_arena_free(struct tb_arena *a);

#endif
