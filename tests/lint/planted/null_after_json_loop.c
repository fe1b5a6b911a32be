/*
 * A planted fault: a null pointer is written through, after a loop that only the macros of jansson can explain.
 * clang-tidy: clang-analyzer-core.NullDereference
 * cppcheck: nullPointer
 */
#include <jansson.h>

size_t planted_null(json_t *list);

size_t planted_null(json_t *list)
{
    json_t *one;
    size_t i, n = 0, *place = NULL;

    json_array_foreach(list, i, one) n += json_is_string(one);
    if (n > 1)
        *place = n;
    return n;
}
