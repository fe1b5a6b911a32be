/* For a paper that leaves the house: is the book what its journal says? (book.h) */
#include "book/key.h"
#include "book/prove_impl.h"
#include "book/stamp.h"

/*
 * All that prove looks at alone, but of the signatures the last one only: it covers every row before it, so that those
 * before say nothing of any fact that it does not say, and they take as long as all the rest.
 */
static tb_rc prove(struct tb_proof *p, struct tb_book *b, struct tb_err *err)
{
    tb_rc rc = tb_prove_meeting(p, b, NULL, NULL, err);

    if (rc == TB_OK && p->fits)
        rc = tb_prove_last_signature(p, b, err);
    if (rc == TB_OK && p->fits)
        rc = tb_prove_stamps(p, b, &(struct tb_held){ 0 }, err);
    return rc;
}

tb_rc tb_book_vouch(struct tb_book *b, struct tb_err *err)
{
    struct tb_proof p;
    tb_rc rc = tb_book_look(b, err);

    if (rc != TB_OK)
        return rc;
    rc = prove(&p, b, err);
    tb_book_look_away(b);
    return rc != TB_OK || p.fits
               ? rc
               : tb_fail(err, TB_EFORMAT, "the book does not fit its journal, and no paper is made of it: %s",
                         p.why);
}
