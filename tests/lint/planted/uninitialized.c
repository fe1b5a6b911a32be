/*
 * A planted fault: a figure is read that was never set.
 * clang-tidy: clang-analyzer-core.uninitialized.UndefReturn
 * cppcheck: uninitvar
 */
double planted_uninitialized(int known);

double planted_uninitialized(int known)
{
    double share;

    if (known > 2)
        share = 0.5;
    return share;
}
