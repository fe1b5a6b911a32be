/*
 * pool.h - inside the evidence module: a burn held against everything but what is declared, for the next declaration.
 *
 * Rows of a table often saw the same and were declared otherwise. Of the compositions that a burn is held against, all but the
 * declared ones are the same then, and what the burn makes of them is too, to the last bit.
 */
#ifndef TENTERBOOK_EVIDENCE_POOL_H
#define TENTERBOOK_EVIDENCE_POOL_H

#include "evidence/apart.h"
#include "evidence/shortlist.h"

struct tb_pool {
    struct tb_text key;       /* what the burn says and counts */
    struct tb_shortlist list; /* nothing of it declared; its chances are undone */
    struct tb_apart apart;    /* of its entries */
    bool made;
};

/*
 * tb_pool_of - the pool of the burn of a group; made when it is asked for the second time in a row, since most burns are asked of
 * once.
 *
 *   returns  `pool`; NULL: there is none, the burn is weighed without
 */
const struct tb_pool *tb_pool_of(struct tb_pool *pool, const struct tb_evidence *ev,
                                 const struct tb_group *g);
/* Free what is in it; it is empty then. */
void tb_pool_free(struct tb_pool *pool);

#endif
