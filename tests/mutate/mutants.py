"""The mutants of a C source: one operator or one constant made another, where a reader would call it a fault.

Comments, strings, preprocessor lines and what only makes room (sizes of buffers, capacities, asserts) are left alone: a
change there is no fault, or none that a test without sanitizers could see."""
import re

TOKEN = re.compile(r"""
    (?P<skip>/\*.*?\*/|//[^\n]*|"(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])+'|^[ \t]*\#(?:\\\n|[^\n])*|\s+)
  | (?P<number>(?:0[xX][0-9a-fA-F]+|\d+\.?\d*(?:[eE][-+]?\d+)?|\.\d+)[uUlLfF]*)
  | (?P<word>[A-Za-z_]\w*)
  | (?P<op><<=|>>=|\.\.\.|->|\+\+|--|&&|\|\||[-+*/%&|^!=<>]=|<<|>>|.)
""", re.X | re.S | re.M)

SWAP = {"<": "<=", "<=": "<", ">": ">=", ">=": ">", "==": "!=", "!=": "==", "&&": "||", "||": "&&", "+=": "-=", "-=": "+=",
        "+": "-", "-": "+", "*": "/", "/": "*", "++": "--", "--": "++", "!": ""}
BINARY_ONLY = {"+", "-", "*", "/"}
SWAP_WORD = {"true": "false", "false": "true"}
# a line with one of these makes room, states what must hold, or declares
ROOM = re.compile(r"alloc\(|tb_array\(|tb_new\(|PUSH_ROOM|\bassert\(|\bsizeof\b|\bcap\b|__attribute__|TB_PRINTF|static_assert|NOLINT")
DECLARED = re.compile(r"^\s*(?:static |const |extern |unsigned |struct \w+ )*"
                      r"(?:char|double|int|long|size_t|bool|float|u?int\d+_t|unsigned|struct \w+|json_t)\b[^=(]*$")


def other_number(text, rng):
    """Another constant in place of this one, or None where it would hardly make a fault."""
    m = re.fullmatch(r"(\d+)([uUlL]*)", text)
    if m:
        n = int(m.group(1))
        return str(n + 1 if n == 0 or rng.random() < 0.5 else n - 1) + m.group(2)
    m = re.fullmatch(r"(\d*\.?\d*(?:[eE][-+]?\d+)?)([fF]?)", text)
    if not m or not m.group(1):
        return None
    x = float(m.group(1))
    if 0 < abs(x) < 1e-6:
        return None  # a tolerance: as good a little wider
    return repr(x + 1 if x == 0 or abs(x) >= 2 else x * 1.5) + m.group(2)


def mutants(source, rng):
    """(place, length, new text) of every mutant of a source, in its order."""
    out, before, before_kind = [], "", ""
    lines = source.split("\n")
    starts = [0]
    for l in lines:
        starts.append(starts[-1] + len(l) + 1)
    line = 0
    for m in TOKEN.finditer(source):
        kind, text = m.lastgroup, m.group()
        if kind == "skip":
            continue
        while starts[line + 1] <= m.start():
            line += 1
        here, after = lines[line], source[m.end():m.end() + 2]
        new = None
        if not ROOM.search(here):
            if kind == "op" and text in SWAP:
                operand = before_kind == "number" or before in (")", "]") or \
                    (before_kind == "word" and before not in ("return", "case", "else", "sizeof"))
                if text in BINARY_ONLY:
                    new = SWAP[text] if operand and source[m.end()] in " \n" else None  # a pointer's star stands at its name
                elif text == "!" and source[m.end()] == "!":
                    new = None
                else:
                    new = SWAP[text]
            elif kind == "word":
                new = SWAP_WORD.get(text)
            elif kind == "number" and not (before == "[" and DECLARED.match(here[:m.start() - starts[line]])) \
                    and not (before == "{" and re.match(r"\s*\}", source[m.end():m.end() + 3])):
                new = other_number(text, rng)
        if new is not None and new != text and not (text == "*" and after[:1] in "*,)"):
            out.append((m.start(), m.end() - m.start(), new))
        before, before_kind = text, kind
    return out
