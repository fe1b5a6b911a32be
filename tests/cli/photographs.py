#!/usr/bin/python3
"""Draw photographs that tests attach: photographs.py FOLDER

alpha.png, grey.png; colour.jpg and fourinks.jpg, baseline JPEG; upright-1.jpg to upright-8.jpg, one picture as eight cameras held otherwise
write it: turned by the program that shows it, each has a dark corner at the top left, a dark edge below it, and is higher than wide.
"""
import struct
import sys
import zlib


def png(kind, channels, pixel):
    chunk = lambda t, d: struct.pack(">I", len(d)) + t + d + struct.pack(">I", zlib.crc32(t + d))
    raw = b"".join(b"\0" + b"".join(bytes(pixel(x, y)) for x in range(90)) for y in range(60))
    return (b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", 90, 60, 8, kind, 0, 0, 0)) + chunk(b"IDAT", zlib.compress(raw)) +
            chunk(b"IEND", b""))


def segment(mark, body):
    return bytes([0xFF, mark]) + struct.pack(">H", len(body) + 2) + body


def exif(orientation):
    """APP1 with one entry: 0x0112, a SHORT (CIPA DC-008, 4.6.4)."""
    return segment(0xE1, b"Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01" + struct.pack(">H", orientation) + b"\0\0\0\0\0\0")


class Bits:
    def __init__(self):
        self.v, self.n = 0, 0

    def put(self, value, size):
        self.v, self.n = self.v << size | value, self.n + size

    def bytes(self):
        pad = -self.n % 8
        whole = (self.v << pad | (1 << pad) - 1).to_bytes((self.n + pad) // 8, "big")
        return whole.replace(b"\xFF", b"\xFF\0")


def jpeg(width, height, level, before=b""):
    """A baseline JPEG (ITU-T T.81) of blocks of 8 by 8, each of one level: level(x, y) gives a number -16..15 for each component."""
    components = len(level(0, 0))
    # One table of Huffman codes of 4 bits: a size of 0 to 11 for what a block's level differs by; for the rest "end of block" alone.
    dc = bytes([0, 0, 0, 12] + [0] * 12) + bytes(range(12))
    ac = bytes([1] + [0] * 15) + b"\0"
    out = b"\xFF\xD8" + before + segment(0xDB, b"\0" + bytes([64] + [1] * 63))
    out += segment(0xC0, struct.pack(">BHHB", 8, height, width, components) + b"".join(bytes([i + 1, 0x11, 0]) for i in range(components)))
    out += segment(0xC4, b"\0" + dc) + segment(0xC4, b"\x10" + ac)
    out += segment(0xDA, bytes([components]) + b"".join(bytes([i + 1, 0]) for i in range(components)) + b"\0\x3F\0")
    bits, last = Bits(), [0] * components
    for y in range((height + 7) // 8):
        for x in range((width + 7) // 8):
            for i, v in enumerate(level(x, y)):
                d, last[i] = v - last[i], v
                size = abs(d).bit_length()
                bits.put(size, 4)
                if size:
                    bits.put(d if d > 0 else d + (1 << size) - 1, size)
                bits.put(0, 1)
    return out + bits.bytes() + b"\xFF\xD9"


def held(orientation):
    """The rows as they lie on the sensor: what has to be done to them to see the picture is undone (CIPA DC-008, tag 0x0112)."""
    rows = [[-12 if (y < 3 and x < 2) or (x == 0 and y < 6) else 12 for x in range(4)] for y in range(8)]
    flip, upside = (lambda r: [list(reversed(a)) for a in r]), (lambda r: list(reversed(r)))
    transpose = lambda r: [list(a) for a in zip(*r)]
    undo = {1: lambda r: r, 2: flip, 3: lambda r: flip(upside(r)), 4: upside, 5: transpose,
            6: lambda r: upside(transpose(r)),              # shown turned a quarter clockwise: so it was turned the other way
            7: lambda r: flip(upside(transpose(r))), 8: lambda r: flip(transpose(r))}
    got = undo[orientation](rows)
    return jpeg(8 * len(got[0]), 8 * len(got), lambda x, y: (got[y][x],), exif(orientation))


def main():
    folder = sys.argv[1]
    save = lambda name, data: open(f"{folder}/{name}", "wb").write(data)
    save("alpha.png", png(6, 4, lambda x, y: (x * 2, y * 3, 99, 255 - x)))
    save("grey.png", png(0, 1, lambda x, y: (x + y,)))
    save("colour.jpg", jpeg(64, 48, lambda x, y: (x, 4, y)))
    save("fourinks.jpg", jpeg(64, 48, lambda x, y: (x, 4, y, 2)))
    for i in range(1, 9):
        save(f"upright-{i}.jpg", held(i))


if __name__ == "__main__":
    main()
