#include "sampling/check.h"

#include "tenterbook/sampling.h"

tb_rc tb_check_lot(long lot, struct tb_err *err)
{
    if (lot < 1)
        return tb_fail(err, TB_EINVAL, "a lot of %ld bolts cannot be sampled; it holds at least one", lot);
    if (lot > TB_LOT_MOST)
        return tb_fail(err, TB_EINVAL, "a lot of %ld bolts is more than the %ld this program can handle", lot,
                       TB_LOT_MOST);
    return TB_OK;
}

tb_rc tb_check_part(long part, long whole, const char *what, struct tb_err *err)
{
    if (part < 0 || part > whole)
        return tb_fail(err, TB_EINVAL, "%ld %s bolts of %ld is not possible; it is a number from 0 to %ld",
                       part, what, whole, whole);
    return TB_OK;
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
