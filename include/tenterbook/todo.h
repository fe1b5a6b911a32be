/*
 * todo.h - what is left to do, for whoever takes over the shift: what is urgent first, then what waits longest.
 *
 * Only reads: nothing is judged again. The next test of a lot is the one that its verdict names.
 */
#ifndef TENTERBOOK_TODO_H
#define TENTERBOOK_TODO_H

#include "tenterbook/book.h"
#include "tenterbook/fibre.h"
#include "tenterbook/words.h"

/* In the order they are told. */
enum tb_todo_kind {
    TB_TODO_CLAIM,     /* a claim runs: the supplier is to be told, an answer or a remedy is awaited */
    TB_TODO_HELD,      /* a lot is held until somebody settles it */
    TB_TODO_HELD_BOLT, /* a bolt is held by itself, whatever becomes of its lot */
    TB_TODO_DECIDE, /* a laboratory has answered, and nobody decided since; or it did after the lot was released */
    TB_TODO_GROUND, /* a lot was decided of, and something that the decision could rest on is void since */
    TB_TODO_SPEAKS, /* what was seen speaks against the words of a lot, and holds nothing: it asks for a test */
    TB_TODO_UNDECIDED,  /* a lot was burned or tested, and that does not decide it */
    TB_TODO_WORDS,      /* a lot waits for what the supplier answers about its words */
    TB_TODO_UNSETTLED,  /* a lot is judged or analysed, and nobody decided what becomes of it */
    TB_TODO_UNBURNT,    /* a swatch was cut, and neither burned nor tested */
    TB_TODO_UNCUT,      /* bolts were drawn and not cut */
    TB_TODO_UNDRAWN,    /* a lot waits, and nothing of it was drawn, cut or analysed */
    TB_TODO_LABORATORY, /* a laboratory has pieces, and its analysis did not come */
    TB_TODO_JOINT,      /* the own pieces of a joint sample are kept */
    TB_TODO_KINDS
};
/* "claim", "held", "held_bolt", "decide", "ground", "speaks_against", "undecided", "words", "unsettled", "unburnt", "uncut", "undrawn", "laboratory", "joint" */
extern const struct tb_words tb_todo_words_of;

/* One row as the book gives it: what a column holds depends on the kind (sql/query/todo.sql). */
struct tb_todo_row {
    const char *lot, *supplier, *what, *part, *since, *who;
    const char *pile; /* rows of one pile are told together; "" each by itself */
    const char *detail, *until;
    int64_t done, pieces,
        among; /* done: not left to do; of a held lot how many bolts are released all the same; ground: bolts
                  decided of by themselves, 0: the lot is meant */
};
typedef tb_rc tb_todo_row_fn(void *arg, const struct tb_todo_row *row, struct tb_err *err);
/* tb_todo_each - call for each row of a kind, borrowed for the call. Of claims there are none: see lot_claim.h. */
tb_rc tb_todo_each(struct tb_book *b, enum tb_todo_kind kind, const char *today, tb_todo_row_fn *fn,
                   void *arg, struct tb_err *err);

/*
 * tb_ground_gone - whether something that the decision on a lot could rest on is void since: `what` is its standing, since and who
 * when it was made void and by whom, detail when it was decided. TB_ENOTFOUND, without a sentence: nothing is.
 *   ref  of the lot
 */
tb_rc tb_ground_gone(struct tb_todo_row *out, struct tb_book *b, const char *ref, struct tb_arena *mem,
                     struct tb_err *err);

/* One thing to do. Texts are "" where there is nothing to say. */
struct tb_todo_item {
    enum tb_todo_kind kind;
    const char *lot, *supplier;
    const char *since, *who; /* the moment it waits from, and who began it; of a claim "" */
    /*
     * claim: the state as tb_claim_state_key; held, held_bolt: why; decide, ground: the standing; speaks_against, undecided: the declared words where they are in doubt; words:
     * the declared words; unsettled: the verdict, "" a laboratory analysed it and no verdict counts; unburnt: the tag; uncut: the numbers of the bolts; laboratory: its name; joint: the tags, each with its place in brackets
     */
    const char *what;
    const char *bolt,
        *part;     /* the number of the bolt that is held or of which the swatch is; the part of the swatch */
    bool disagree; /* and laboratories contradict each other */
    const char *conclusion,
        *markets; /* where a laboratory has answered: word of tb_concluded_words, of which markets; else "" */
    const char *
        now; /* held by a verdict that stands no more: what is concluded now, word of tb_concluded_words; else "" */
    bool at_odds;              /* and that is open since what was seen contradicts itself */
    const char *next;          /* the test that would decide a lot, or confirm or lift its hold */
    const char *due;           /* a claim: the day; joint: until when it is kept; else "" */
    enum tb_handling handling; /* of cloth that is not cut or not burnt: what may be done to it at all */
    bool unburnable;           /* the same: a burn of it neither burned nor melted (tb_lot_unburnable) */
    bool every;                /* undrawn: a draw of fewer bolts than all promises too little */
    long left;                 /* days to it; below 0: past */
    int64_t released;          /* held: bolts of it that are released all the same */
    int64_t singles;           /* ground: bolts decided of by themselves; 0: the lot is meant */
    int64_t pieces,
        among; /* bolts tested of those there are; bolts not cut of those drawn; pieces, and which joint sample (0: sent without one) */
};
struct tb_todo_request {
    const char *today;  /* YYYY-MM-DD */
    const char *person; /* only what this person began, and claims; NULL: what anybody did */
    const char *day;    /* only what began on this day; NULL: on any */
};
struct tb_todo {
    const char *today;
    bool part;                 /* only what one person began, or what began on one day, was asked for */
    struct tb_todo_item *item; /* by kind; claims by the day they are due, the rest by how long they wait */
    size_t n, of[TB_TODO_KINDS];
};
/*
 * tb_todo_read - all there is to do, as one steady state of the book.
 *   fails   TB_EINVAL a day that is not valid; TB_ENOTFOUND nobody of that name wrote in the book; as tb_claim_open_list
 *   memory  all in mem
 *   cost    one statement a kind, and a few for each open claim
 */
tb_rc tb_todo_read(struct tb_todo *out, struct tb_book *b, const struct tb_todo_request *request,
                   struct tb_arena *mem, struct tb_err *err);

#endif
