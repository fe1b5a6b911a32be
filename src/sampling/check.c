/* check.c - the refusals that the functions of the module share. */
#include "sampling/inside.h"

#include "base/say.h"

tb_rc tb_check_lot(long lot, struct tb_err *err)
{
    if (lot < 1)
        return tb_fail(err, TB_EINVAL, "a lot of %ld bolts cannot be sampled; it holds at least one", lot);
    if (lot > TB_LOT_MOST)
        return tb_fail(err, TB_EINVAL, "a lot of %ld bolts is more than the %ld this program can handle", lot,
                       TB_LOT_MOST);
    return TB_OK;
}

static tb_rc of_bolts(const char *wrong, long n, long bolts, struct tb_err *err)
{
    return n >= 0 && n <= bolts ? TB_OK : tb_fail(err, TB_EINVAL, wrong, n, bolts, bolts);
}

tb_rc tb_check_false(long n, long bolts, struct tb_err *err)
{
    return of_bolts(N_("%ld false bolts of %ld is not possible; it is a number from 0 to %ld"), n, bolts,
                    err);
}

tb_rc tb_check_cut(long n, long bolts, struct tb_err *err)
{
    return of_bolts(N_("%ld cut bolts of %ld is not possible; it is a number from 0 to %ld"), n, bolts, err);
}

tb_rc tb_check_burned(long n, long bolts, struct tb_err *err)
{
    return of_bolts(N_("%ld burned bolts of %ld is not possible; it is a number from 0 to %ld"), n, bolts,
                    err);
}

tb_rc tb_check_sure(double sure, struct tb_err *err)
{
    if (!(sure > 0 && sure < 1))
        return tb_fail(err, TB_EINVAL,
                       "being %g sure is not possible by sampling; it lies above 0 and below 1", sure);
    return TB_OK;
}

tb_rc tb_check_catch(double catch_chance, struct tb_err *err)
{
    if (!(catch_chance > 0 && catch_chance <= 1))
        return tb_fail(err, TB_EINVAL,
                       "a chance of %g to catch a false bolt is not possible; it lies above 0 "
                       "and is at most 1",
                       catch_chance);
    return TB_OK;
}

tb_rc tb_check_share(double share, struct tb_err *err)
{
    if (!(share >= 0 && share <= 1))
        return tb_fail(err, TB_EINVAL, "a share of %g is not possible; it lies between 0 and 1", share);
    return TB_OK;
}
