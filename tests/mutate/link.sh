#!/bin/sh
# In place of `ar` for tests/mutate/mutate.py: link.sh rcs LIBRARY OBJECT... links a shared library.
shift
out=$1
shift
command -v ld.lld >/dev/null && quick=-fuse-ld=lld
exec ${CC:-cc} ${quick:-} -shared -Wl,-Bsymbolic -Wl,-soname,"$(basename "$out")" -o "$out" "$@"
