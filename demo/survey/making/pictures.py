"""Pictures in the place of photos: drawn here, never photographed, and small.

Each is a PNG of sixteen colours, written without compression so that every machine gives the same
bytes.
"""

from __future__ import annotations

import binascii
import math
import random
import struct
from collections.abc import Callable, Sequence
from typing import Final

__all__ = ["across", "along", "staff_gauge"]

_WIDTH: Final = 200
_HEIGHT: Final = 140

_COLOURS: Final = (
    (250, 250, 247),
    (196, 216, 226),
    (150, 176, 148),
    (104, 138, 100),
    (70, 98, 68),
    (126, 160, 176),
    (88, 126, 148),
    (170, 154, 124),
    (132, 114, 88),
    (90, 76, 60),
    (40, 40, 40),
    (240, 214, 60),
    (200, 60, 50),
    (214, 206, 190),
    (168, 190, 200),
    (255, 255, 255),
)
(
    _PAPER,
    _SKY,
    _HILL,
    _TREE,
    _SHADE,
    _WATER,
    _DEEP,
    _SAND,
    _EARTH,
    _BARK,
    _INK,
    _TAPE,
    _RED,
    _STONE,
    _FOAM,
    _WHITE,
) = range(16)

Canvas = list[bytearray]
Inside = Callable[[float, float], bool]


def along(seed: str, looking: str) -> bytes:
    """Return a drawing of a stream as somebody sees it who looks upstream or downstream."""
    chance = random.Random(f"{seed} {looking}")
    canvas = _empty(_SKY)
    ridge = [chance.uniform(0, 6.3) for _ in range(3)]
    _fill(
        canvas,
        _HILL,
        lambda x, y: y > 42 + 8 * math.sin(x / 31 + ridge[0]) + 4 * math.sin(x / 11 + ridge[1]),
    )
    _fill(canvas, _TREE, lambda x, y: y > 62 + 3 * math.sin(x / 7 + ridge[2]))
    bend = chance.uniform(-26, 26)

    def middle(y: float) -> float:
        return 100 + bend * (1 - (y - 62) / 78) ** 2

    _fill(canvas, _SAND, lambda x, y: y > 64 and abs(x - middle(y)) < 10 + 1.05 * (y - 62))
    _fill(canvas, _WATER, lambda x, y: y > 66 and abs(x - middle(y)) < 6 + 0.9 * (y - 64))
    for _ in range(26):
        y = chance.uniform(72, 138)
        x = middle(y) + chance.uniform(-0.8, 0.8) * (y - 62)
        _dash(canvas, _FOAM, x, y, chance.uniform(3, 12))
    for _ in range(5):
        y = chance.uniform(84, 130)
        x = middle(y) + chance.choice((-1, 1)) * chance.uniform(0.5, 0.8) * (y - 62)
        _ball(canvas, _STONE, x, y, chance.uniform(2, 5))
    for _ in range(9):
        side = chance.choice((-1, 1))
        _alder(canvas, 100 + side * chance.uniform(58, 96), chance.uniform(70, 104), chance)
    return _png(canvas)


def across(seed: str) -> bytes:
    """Return a drawing of the tape over the water, from one bank to the other."""
    chance = random.Random(f"{seed} across")
    canvas = _empty(_HILL)
    wave = chance.uniform(0, 6.3)
    _fill(canvas, _TREE, lambda x, y: y < 40 + 5 * math.sin(x / 13 + wave))
    _fill(canvas, _EARTH, lambda x, y: 52 + 2 * math.sin(x / 9 + wave) < y < 64)
    _fill(canvas, _WATER, lambda x, y: 60 + math.sin(x / 17 + wave) < y < 122)
    _fill(canvas, _SAND, lambda x, y: y > 120 + 2 * math.sin(x / 15 + wave))
    for _ in range(34):
        _dash(canvas, _FOAM, chance.uniform(4, 190), chance.uniform(66, 118), chance.uniform(4, 14))
    _fill(canvas, _TAPE, lambda x, y: abs(y - (78 + 5 * math.sin(math.pi * x / 200))) < 1.2)
    for n in range(19):
        _bar(canvas, _INK, 10 + 10 * n, 78 + 5 * math.sin(math.pi * (10 + 10 * n) / 200) - 2, 1, 4)
    x = chance.uniform(70, 130)
    _bar(canvas, _INK, x, 50, 2, 60)
    _ball(canvas, _RED, x + 7, 72, 4)
    _bar(canvas, _DEEP, x + 4, 76, 7, 26)
    return _png(canvas)


def staff_gauge(seed: str, level: float) -> bytes:
    """Return a drawing of a staff gauge with the water at a level, in metres."""
    chance = random.Random(f"{seed} gauge")
    canvas = _empty(_TREE)
    _fill(canvas, _EARTH, lambda x, y: y > 54)
    top, metre = 14, 210.0
    bottom = 132
    zero = bottom - 8
    water = zero - level * metre
    _bar(canvas, _WHITE, 84, top, 32, bottom - top)
    marks = int((zero - top) / metre * 50)
    for mark in range(marks):
        y = zero - mark * metre / 50
        _bar(canvas, _INK, 84, y - 1, 20 if mark % 5 == 0 else 10, 2)
    _fill(canvas, _WATER, lambda x, y: y > water + 0.7 * math.sin(x / 6) and not 84 < x < 116)
    _fill(canvas, _DEEP, lambda x, y: y > water and 84 <= x <= 116)
    for _ in range(18):
        x, y = chance.uniform(2, 190), chance.uniform(water + 4, 138)
        _dash(canvas, _FOAM, x, y, chance.uniform(3, 10))
    return _png(canvas)


def _alder(canvas: Canvas, x: float, y: float, chance: random.Random) -> None:
    _bar(canvas, _BARK, x - 1, y - 20, 2, 24)
    for _ in range(6):
        colour = chance.choice((_TREE, _SHADE, _SHADE))
        _ball(canvas, colour, x + chance.uniform(-7, 7), y - chance.uniform(16, 36), 6)


def _empty(colour: int) -> Canvas:
    return [bytearray([colour]) * _WIDTH for _ in range(_HEIGHT)]


def _fill(canvas: Canvas, colour: int, inside: Inside) -> None:
    for y, row in enumerate(canvas):
        for x in range(_WIDTH):
            if inside(x, y):
                row[x] = colour


def _bar(canvas: Canvas, colour: int, x: float, y: float, wide: float, high: float) -> None:
    for row in canvas[max(0, round(y)) : max(0, round(y + high))]:
        for place in range(max(0, round(x)), min(_WIDTH, round(x + wide))):
            row[place] = colour


def _dash(canvas: Canvas, colour: int, x: float, y: float, long: float) -> None:
    _bar(canvas, colour, x - long / 2, y, long, 1)


def _ball(canvas: Canvas, colour: int, x: float, y: float, radius: float) -> None:
    for down in range(math.ceil(-radius), math.floor(radius) + 1):
        half = math.sqrt(radius * radius - down * down)
        _bar(canvas, colour, x - half, y + down, 2 * half, 1)


def _png(canvas: Sequence[bytearray]) -> bytes:
    rows = b"".join(
        b"\0" + bytes(a << 4 | b for a, b in zip(row[::2], row[1::2], strict=True))
        for row in canvas
    )
    head = struct.pack(">IIBBBBB", _WIDTH, _HEIGHT, 4, 3, 0, 0, 0)
    palette = b"".join(bytes(colour) for colour in _COLOURS)
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        _chunk(kind, content)
        for kind, content in (
            (b"IHDR", head),
            (b"PLTE", palette),
            (b"IDAT", _stored(rows)),
            (b"IEND", b""),
        )
    )


def _chunk(kind: bytes, content: bytes) -> bytes:
    check = binascii.crc32(kind + content)
    return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", check)


def _stored(content: bytes) -> bytes:
    """Return bytes as a zlib stream that stores them in one piece (RFC 1950, RFC 1951 3.2.4)."""
    from zlib import adler32

    if len(content) > 0xFFFF:
        raise ValueError("the picture is too large for one stored piece")
    sizes = struct.pack("<HH", len(content), len(content) ^ 0xFFFF)
    return b"\x78\x01\x01" + sizes + content + struct.pack(">I", adler32(content))
