"""Heads of grasses and ways of spreading as line drawings; each in a box of 120 by 110."""

from __future__ import annotations

from collections.abc import Mapping
from math import cos, pi, sin

from swardbook.figures.picture import INK, PALE
from swardbook.figures.plant_parts import Drawing, dots, line


def _branches(reach: float, rise: float, fan: bool = True) -> str:
    """A stem with branches in steps; the lower ones reach further."""
    course, ends = "M60 108 V10", []
    for step, y in enumerate(range(70, 14, -12)):
        long = reach * (1 - step / 6) if fan else reach
        for side in (-1, 1):
            x, top = 60 + side * long, y - rise
            course += f" M60 {y} L{x:.1f} {top:.1f}"
            ends += [(x, top - 3), (60 + side * long * 0.6, y - rise * 0.6 - 4)]
    return line(course, 1.4) + dots([*ends, (60, 8)], 2.2)


def _cylinder() -> str:
    shape = line("M60 108 V78", 2) + line("M50 74 Q50 8 60 6 Q70 8 70 74 Q60 82 50 74 Z", 2.2, PALE)
    return shape + line(" ".join(f"M51 {y} L69 {y - 4}" for y in range(20, 78, 6)), 0.9)


def _edge_on() -> str:
    parts = []
    for step, y in enumerate(range(88, 16, -12)):
        side = 1 if step % 2 else -1
        course = f"M60 {y} q{side * 16} -2 {side * 14} -18 q{-side * 12} 4 {-side * 14} 12"
        parts.append(line(course, 1.4, PALE))
    wavy = "M60 108 V88" + "".join(f" q{4 if n % 2 else -4} -6 0 -12" for n in range(7))
    return line(wavy, 2) + "".join(parts)


def _face_on() -> str:
    parts = []
    for step, y in enumerate(range(84, 12, -12)):
        x = 64 if step % 2 else 56
        left = f"M{x} {y + 8} C{x - 16} {y} {x - 10} {y - 14} {x} {y - 16}"
        right = f"C{x + 10} {y - 14} {x + 16} {y} {x} {y + 8} Z"
        parts.append(line(f"{left} {right}", 1.4, PALE))
        parts.append(
            line(f"M{x} {y + 4} V{y - 12} M{x - 5} {y} V{y - 8} M{x + 5} {y} V{y - 8}", 0.8)
        )
    return line("M60 108 V10", 2) + "".join(parts)


def _clumps() -> str:
    stem = line("M50 108 L50 12 M50 84 L78 66 M50 54 L74 40", 2)
    places = ((82, 60), (77, 34), (56, 16))
    near = ((0, 0), (7, -3), (-6, 3), (3, 7), (-3, -7), (9, 5))
    return stem + dots([(x + dx, y + dy) for x, y in places for dx, dy in near], 3)


def _one_sided() -> str:
    stem = line("M52 108 C52 70 54 40 52 8", 2)
    return stem + dots([(60 + 3 * (n % 2), 84 - 7 * n) for n in range(11)], 3.2)


def _bristles() -> str:
    seeds = [(60 + side * 7, y) for y in range(40, 84, 10) for side in (-1, 1)]
    awns = " ".join(f"M{x} {y - 4} L{60 + (x - 60) * 4} {y - 36}" for x, y in seeds)
    return line("M60 108 V34", 2) + line(awns, 1) + dots(seeds, 2.6)


def _fingers() -> str:
    ends = [(60 + 54 * cos(turn), 62 - 54 * sin(turn)) for turn in
            (pi * part for part in (0.15, 0.32, 0.5, 0.68, 0.85))]  # fmt: skip
    course = "M60 108 V62 " + " ".join(f"M60 62 L{x:.1f} {y:.1f}" for x, y in ends)
    seeds = [(60 + (x - 60) * part, 62 + (y - 62) * part) for x, y in ends
             for part in (0.4, 0.6, 0.8, 1.0)]  # fmt: skip
    return line(course, 1.6) + dots(seeds, 1.6)


def _clusters() -> str:
    places = ((60, 24), (42, 40), (80, 44))
    near = ((0, 0), (6, 3), (-6, 3), (0, 8), (5, -5), (-5, -5))
    stem = line("M60 108 V30 M60 62 L43 46 M60 66 L78 50", 2)
    return stem + dots([(x + dx, y + dy) for x, y in places for dx, dy in near], 2.6)


def _soft() -> str:
    shape = line("M60 108 V88", 2) + line(
        "M60 90 C36 82 40 40 60 6 C80 40 84 82 60 90 Z", 1.2, PALE
    )  # fmt: skip
    inside = [(60 + side * (4 + 3 * (n % 3)), 80 - 8 * n) for n in range(9) for side in (-1, 1)]
    return shape + dots(inside, 2)


HEADS: Mapping[str, Drawing] = {
    "open panicle": lambda: _branches(44, 12),
    "narrow panicle": lambda: _branches(13, 15),
    "soft panicle": _soft,
    "one-sided clumps": _clumps,
    "spike edge-on": _edge_on,
    "spike face-on": _face_on,
    "cylinder": _cylinder,
    "one-sided spike": _one_sided,
    "bristles": _bristles,
    "fingers": _fingers,
    "small clusters": _clusters,
}


def _tuft(x: float, high: float = 40) -> str:
    return (
        f"M{x} 66 L{x - 16} {66 - high * 0.8:g} M{x} 66 L{x - 6} {66 - high:g}"
        f" M{x} 66 L{x + 6} {66 - high:g} M{x} 66 L{x + 16} {66 - high * 0.8:g}"
        f" M{x} 66 l-8 18 M{x} 66 v22 M{x} 66 l8 18"
    )


def _ground() -> str:
    earth = f'<path d="M4 66 H116" stroke="{INK}" stroke-width="1.2" stroke-dasharray="4 3"/>'
    return earth + f'<rect x="4" y="66" width="112" height="40" fill="{PALE}" opacity="0.5"/>'


HABITS: Mapping[str, Drawing] = {
    "tufted": lambda: _ground() + line(_tuft(60, 52), 2),
    "runners": lambda: (
        _ground() + line(_tuft(24), 1.8) + line("M24 64 C40 58 52 60 64 64 C78 58 88 60 98 64", 2.6)
        + line(_tuft(64, 24), 1.4) + line(_tuft(98, 20), 1.4)
    ),
    "underground runners": lambda: (
        _ground() + line(_tuft(24), 1.8) + line("M26 72 C44 88 60 90 84 86 L92 68", 2.6)
        + line("M84 86 L108 90", 2.6) + line("M92 66 l-5 -22 M92 66 l5 -22", 1.4)
    ),
    "sprawling": lambda: (
        _ground() + line("M60 66 C44 56 26 60 10 54 M60 66 C76 56 94 60 110 54", 2.4)
        + line("M60 66 v24 M60 66 l-8 20 M60 66 l8 20 M34 60 v16 M86 60 v16", 1.4)
        + line("M34 60 l-6 -16 M86 60 l6 -16 M12 54 l-4 -14 M108 54 l4 -14 M60 66 l0 -26", 1.6)
    ),
}  # fmt: skip
