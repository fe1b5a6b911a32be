#!/bin/sh
# In place of `ar` for tests/mutate/mutate.py: link.sh rcs LIBRARY OBJECT... links a shared library.
shift
out=$1
shift
exec "${CC:-cc}" -shared -Wl,-Bsymbolic -Wl,-soname,"$(basename "$out")" -o "$out" "$@"
