/*
 * A planted fault: a place beyond the end of an array is read.
 * clang-tidy: clang-analyzer-core.uninitialized.Assign
 * cppcheck: arrayIndexOutOfBounds
 */
int planted_beyond(void);

int planted_beyond(void)
{
    static const int figure[3] = { 1, 2, 3 };
    int sum = 0;

    for (int i = 0; i <= 3; i++)
        sum += figure[i];
    return sum;
}
