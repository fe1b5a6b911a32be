/* sqlite_impl.h - what the files that keep a book in SQLite share. Nothing else includes it but tests that tamper. */
#ifndef TENTERBOOK_BOOK_SQLITE_IMPL_H
#define TENTERBOOK_BOOK_SQLITE_IMPL_H

#include "base/folder.h"
#include "book/private.h"

#include <sqlite3.h>
#include <sys/stat.h>

#define TB_APPLICATION_ID 0x54654e42 /* "TeNB": marks the file as a book */

struct tb_stmt {
    struct tb_book *book;
    sqlite3_stmt *st;
    const struct tb_sql_text *text;
    int bound;                   /* the highest parameter bound so far */
    int slot[40];                /* slot[n]: SQLite's index of $n */
    struct tb_fact_table *table; /* fact table it writes; NULL: none */
    int owner;                   /* the parameter of a fact that says which lot it is of; 0: none does */
    const char *owner_key;       /* what was bound to it; borrowed until the statement is carried out */
    bool busy, not_utf8;         /* not_utf8: a text bound to a fact was none; it is not recorded */
    struct tb_text record;       /* canonical form of the parameters of a fact */
};

/* Where a file lies and what it was like when it was opened (place.c). */
struct tb_place {
    const char *share; /* the kind of network share, "NFS"; NULL: it lies on this machine */
    bool only_read;    /* nothing may be written there */
    bool log;          /* a log lies beside it: somebody writes it, or did and was killed */
    struct stat seen;
};

struct tb_db {
    sqlite3 *db;
    struct tb_place place;
    char *path;          /* of the file that is open */
    char *to;            /* the name a new one gets when whole; NULL: it has it */
    struct tb_half half; /* a new one until then */
    int64_t version;     /* of its shape when it was opened */
    struct tb_text
        shape; /* the schema that the migrations make of that version; empty until it is asked for */
    struct tb_stmt stmt[TB_SQL_COUNT];
    void (*say_wait)(void *arg, int seconds);
    void *say_arg;
    int waited_ms;
};

/* A failure of SQLite as a sentence for the bench and a detail for the log; answers its code. */
tb_rc tb_sqlite_failed(struct tb_err *err, sqlite3 *db, int code);
/* Carry out texts that give no rows. */
tb_rc tb_sqlite_exec(struct tb_db *s, const char *sql, struct tb_err *err);
/* Before the first call of SQLite: it is told where there is no memory (memory.c). */
void tb_sqlite_memory(void);
/* Open the file and set the connection up; `flags` are those of sqlite3_open_v2. */
tb_rc tb_sqlite_connect(struct tb_db **out, const char *path, int flags, struct tb_err *err);

/* Can it be the name of a file, or does SQLite mean something else by it? */
bool tb_is_file_name(const char *path);
/* TB_EREFUSED where a book of that name would lie on a network share. */
tb_rc tb_place_takes(const char *path, struct tb_err *err);
/* tb_place_look - fails: TB_ENOTFOUND nothing is there; TB_EINVAL no file; TB_EIO it cannot be read. */
tb_rc tb_place_look(struct tb_place *out, const char *path, struct tb_err *err);
/* Open the file as its place allows; TB_EREFUSED where not even reading is safe. */
tb_rc tb_place_connect(struct tb_db **out, const struct tb_place *p, const char *path, struct tb_err *err);
/* Why nothing is written there, as TB_EREFUSED. */
tb_rc tb_place_refuses(const struct tb_place *p, const char *path, struct tb_err *err);
/* TB_EBUSY when somebody wrote the file since, though it was read as one that does not change. */
tb_rc tb_place_still(const struct tb_place *p, const char *path, struct tb_err *err);

/* What the file says of itself, into s->version: TB_EFORMAT when it is no book, TB_EREFUSED when it is of a later shape. */
tb_rc tb_sqlite_check(struct tb_db *s, struct tb_err *err);
/* Run the migrations that its shape lacks, up to `version`, in the transaction that is open. */
tb_rc tb_sqlite_migrate(struct tb_db *s, int64_t version, struct tb_err *err);
/* An empty one in memory, of an older shape too. */
tb_rc tb_sqlite_made(struct tb_db **out, int64_t version, struct tb_err *err);

/* TB_EREFUSED where the log of an earlier book of that name lies beside it. */
tb_rc tb_refuse_old_log(const char *path, struct tb_err *err);
/* The file at `path` gets the name `aside`, with its log, and the one at `half` the name `path` (swap.c). */
tb_rc tb_swap(const char *half, const char *path, const char *aside, struct tb_err *err);

#endif
