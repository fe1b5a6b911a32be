/* apart_impl.h - what both sides of a process apart share. Not for anyone else. */
#ifndef TENTERBOOK_BASE_APART_IMPL_H
#define TENTERBOOK_BASE_APART_IMPL_H

#include "base/apart.h"

#include <sys/types.h>

#define TB_APART_NO_MEMORY 77 /* exit status of a child that found none */

/* Each part goes over with a head before it. */
enum tb_apart_kind {
    TB_APART_PART = 1, /* for `take` */
    TB_APART_ASK,      /* the same, and a byte goes back */
    TB_APART_FAIL,     /* struct tb_apart_failure: the last */
    TB_APART_END       /* all is said */
};
struct tb_apart_head {
    uint32_t kind, n;
};
struct tb_apart_failure {
    int32_t rc;
    struct tb_err err;
};

struct tb_apart {
    int fd; /* of the way back */
    struct tb_text out;
    bool guarded; /* its calls are limited */
    /* Where nothing is apart: who takes the parts, and with what answer. */
    const struct tb_apart_job *job;
    struct tb_err *err;
    tb_rc rc;
};

/* A fuzzer follows what its own process runs, and tries a thousand files a second: there nothing is apart. */
#ifdef FUZZING_BUILD_MODE_UNSAFE_FOR_PRODUCTION
#define TB_APART_TOGETHER 1
#else
#define TB_APART_TOGETHER 0
#endif
#ifdef TB_COVERAGE
#define TB_APART_COUNTED 1
#else
#define TB_APART_COUNTED 0
#endif

/* Builds that look for faults of memory themselves, or count lines, need the system for that: nothing is forbidden there. */
#if defined(__SANITIZE_ADDRESS__) || defined(TB_COVERAGE)
#define TB_APART_LOOSE 1
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
#define TB_APART_LOOSE 1
#endif
#endif
#ifndef TB_APART_LOOSE
#define TB_APART_LOOSE 0
#endif

/* In the child: are its calls limited? */
bool tb_apart_is_guarded(const struct tb_apart *to);
/* The same job in this process. */
tb_rc tb_apart_here(const struct tb_apart_job *job, struct tb_err *err);
/* The whole life of the child; never returns. */
_Noreturn void tb_apart_child(int fd, const struct tb_apart_job *job, pid_t parent);

#define TB_APART_SECONDS 120
#define TB_APART_MEMORY_MB 2048

#endif
