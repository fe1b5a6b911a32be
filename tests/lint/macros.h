/*
 * The macros of libraries that cppcheck does not read, in a form it understands: without them it loses its place in
 * every function that loops over JSON, and sees nothing there.
 */
#ifndef TB_LINT_MACROS_H
#define TB_LINT_MACROS_H

#define json_array_foreach(array, index, value)                                                              \
    for ((index) = 0; (index) < json_array_size(array) && ((value) = json_array_get(array, index)); (index)++)
#define json_object_foreach(object, key, value)                                                              \
    for ((key) = json_object_iter_key(json_object_iter(object));                                             \
         (key) && ((value) = json_object_get(object, key));                                                  \
         (key) = json_object_iter_key(json_object_iter_next(object, json_object_key_to_iter(key))))

#endif
