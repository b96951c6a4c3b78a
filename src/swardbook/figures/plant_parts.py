"""Parts of a grass as line drawings: collar, shoot, tip, surface; each in a box of 120 by 110.

Strokes and patterns tell them apart, never colour. Made by hand for this book.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from math import cos, pi, sin

from swardbook.figures.picture import INK, PALE

Drawing = Callable[[], str]


def line(path: str, width: float = 2, fill: str = "none", more: str = "") -> str:
    """Give a stroked path.

    Parameters
    ----------
    path : str
        Its course, as SVG writes it.
    width : float
        Width of the stroke. [px]
    fill : str
        What it is filled with.
    more : str
        Further attributes.
    """
    return (
        f'<path d="{path}" fill="{fill}" stroke="{INK}" stroke-width="{width:g}"'
        f' stroke-linecap="round" stroke-linejoin="round"{more}/>'
    )


def dots(points: Sequence[tuple[float, float]], radius: float = 2.6) -> str:
    """Give small filled ovals, as spikelets are drawn.

    Parameters
    ----------
    points : sequence of tuple of float
        Where they lie. [px]
    radius : float
        Half their width. [px]
    """
    return "".join(
        f'<ellipse cx="{x:.1f}" cy="{y:.1f}" rx="{radius:g}" ry="{radius * 1.7:.1f}"'
        f' fill="{PALE}" stroke="{INK}" stroke-width="1.2"/>'
        for x, y in points
    )


def _collar() -> str:
    """The stem in its sheath, with the leaf bent back to the right."""
    leaf = line("M70 64 C82 52 98 40 116 34 L114 46 C98 52 86 62 70 78 Z", fill=PALE)
    return line("M50 108 L50 8") + line("M70 108 L70 64") + line("M70 64 L70 8", 1) + leaf


def _stroked(course: str) -> Drawing:
    return lambda: _collar() + line(course, 2.4, "white")


def _hairy_ligule() -> str:
    hairs = "".join(f"M{x} 46 l{(x - 63) / 6:.1f} -9" for x in (56, 60, 64, 68, 72))
    back = "M56 56 l-6 -3 M72 54 l6 -4 M60 52 l-3 -5 M68 51 l3 -5"
    return _collar() + line("M54 64 L54 50 Q63 42 73 50 L73 64", 2.4, "white") + line(
        f"{hairs} {back}", 1.2
    )  # fmt: skip


LIGULES: Mapping[str, Drawing] = {
    "none": _collar,
    "rim": _stroked("M54 64 L54 61 L73 61 L73 64"),
    "blunt": _stroked("M54 64 L54 48 Q63 40 73 48 L73 64"),
    "pointed": _stroked("M54 64 L54 50 Q57 30 63 22 Q69 32 73 50 L73 64"),
    "torn": _stroked("M54 64 L54 40 L57 46 L60 34 L63 44 L66 32 L69 43 L73 36 L73 64"),
    "hairy": _hairy_ligule,
}
AURICLES: Mapping[str, Drawing] = {
    "none": _collar,
    "small": lambda: _collar() + line("M50 66 q-7 -3 -5 5 M70 66 q-2 -9 -7 -4", 3),
    "clasping": lambda: (
        _collar() + line("M50 66 C38 62 44 82 66 76", 3) + line("M70 70 C82 66 78 86 56 82", 3)
    ),
}


def _folded() -> str:
    outer = "M60 20 C80 24 84 60 60 96 C36 60 40 24 60 20 Z"
    return line(outer, 2.4, PALE) + line("M60 88 L48 34 M60 88 L72 34") + line(
        "M60 78 L54 42 M60 78 L66 42"
    )  # fmt: skip


def _rolled() -> str:
    turn = [(60 + (8 + 2.1 * n) * cos(n * pi / 6), 55 + (8 + 2.1 * n) * sin(n * pi / 6))
            for n in range(15)]  # fmt: skip
    course = "M" + " L".join(f"{x:.1f} {y:.1f}" for x, y in turn)
    ring = f'<circle cx="60" cy="55" r="42" fill="{PALE}" stroke="{INK}" stroke-width="2.4"/>'
    return ring + line(course, 2)


def _oval(across: float, down: float) -> Drawing:
    return lambda: (
        f'<ellipse cx="60" cy="55" rx="{across:g}" ry="{down:g}" fill="{PALE}" stroke="{INK}"'
        ' stroke-width="2.4"/>'
    )


VERNATIONS: Mapping[str, Drawing] = {
    "folded": _folded,
    "rolled": _rolled,
    "neither": lambda: (
        _oval(40, 40)() + _oval(24, 24)() + line("M24 40 l-14 -6 M24 70 l-14 6 M96 40 l14 -6", 1.2)
    ),
}
SHOOTS: Mapping[str, Drawing] = {
    "round": _oval(36, 36),
    "flat": _oval(46, 15),
    "three-sided": lambda: line("M60 16 L100 86 L20 86 Z", 2.4, PALE),
}
TIPS: Mapping[str, Drawing] = {
    "pointed": lambda: line("M44 108 L44 60 L60 8 L76 60 L76 108", 2.4, PALE) + line("M60 108 V14"),
    "boat": lambda: (
        line("M42 108 L42 46 C42 22 52 10 60 10 C68 10 78 22 78 46 L78 108", 2.4, PALE)
        + line("M55 108 V40 M65 108 V40", 1.4)
        + line("M60 12 L60 34", 2.4)
        + line("M52 20 Q60 34 68 20", 1.6)
    ),
    "needle": lambda: line("M56 108 L58 40 L60 4 L62 40 L64 108", 2, PALE),
    "twisted": lambda: (
        line("M44 108 L44 74 C44 56 76 54 70 34 L60 8", 2.4)
        + line("M76 108 L76 74 C76 56 46 52 54 34 L60 8", 2.4)
    ),
}


def _leaf(inside: str) -> str:
    return line("M34 108 L34 24 L60 6 L86 24 L86 108", 2.4, PALE) + inside


def _hairs(across: tuple[int, ...], apart: int) -> str:
    course = " ".join(
        f"M{x} {y} l{6 if x >= 60 else -6} -7" for y in range(32, 106, apart) for x in across
    )
    return line(course, 1.2)


HAIRS: Mapping[str, Drawing] = {
    "none": lambda: _leaf(""),
    "scattered": lambda: _leaf(line("M46 40 l-4 -9 M74 58 l4 -9 M54 80 l-4 -9 M70 98 l4 -9", 1.2)),
    "velvety": lambda: _leaf(_hairs((34, 44, 54, 66, 76, 86), 9)),
    "edges": lambda: _leaf(_hairs((34, 86), 14)),
    "joints": lambda: (
        line("M50 108 V6 M70 108 V6") + line("M46 58 Q60 52 74 58 Q60 66 46 58", 2, PALE)
        + line("M46 58 l-9 8 M48 62 l-8 12 M74 58 l9 8 M72 62 l8 12", 1.3)
        + line("M54 64 l-3 12 M66 64 l3 12", 1.3)
    ),
}  # fmt: skip
UPPERS: Mapping[str, Drawing] = {
    "two lines": lambda: _leaf(line("M56 108 V14 M64 108 V14", 1.6)),
    "ribbed": lambda: _leaf(line(" ".join(f"M{x} 108 V26" for x in range(42, 84, 6)), 1.2)),
    "high ridges": lambda: (
        line("M14 90 L24 40 L34 84 L44 32 L54 84 L64 28 L74 84 L84 32 L94 84 L102 44 L108 90 Z",
             2.2, PALE)
    ),
    "plain": lambda: _leaf(line("M60 108 V14", 1)),
    "bristle": lambda: line("M54 108 C54 60 58 30 60 6 C62 30 66 60 66 108", 2.2, PALE),
}  # fmt: skip
LOWERS: Mapping[str, Drawing] = {
    "glossy": lambda: _leaf(
        line("M60 108 V14", 3) + line("M44 100 L52 34 L56 34 L50 100 Z", 0.8, "white")
    ),
    "dull": lambda: _leaf(line("M60 108 V14", 3)),
}
SHEATHS: Mapping[str, Drawing] = {
    "open": lambda: (
        line("M46 108 L46 20 M74 108 L74 20", 2.4) + line("M52 20 C58 50 66 80 70 108", 2)
        + line("M58 20 C64 50 72 76 74 96", 1.2)
    ),
    "closed": lambda: (
        line("M46 108 L46 20 Q60 28 74 20 L74 108", 2.4, PALE) + line("M60 24 V36", 1.2)
    ),
}  # fmt: skip


def _foot(inside: str, fill: str = "white") -> Drawing:
    shoot = "M50 4 L48 70 Q48 84 60 84 Q72 84 72 70 L70 4"
    roots = "M54 84 q-6 10 -16 14 M60 84 v22 M66 84 q6 10 16 14 M57 84 q-3 12 -8 18"
    return lambda: line(shoot, 2.4, fill) + inside + line(roots, 1.2)


_ACROSS = " ".join(f"M49 {y} l22 -8" for y in range(40, 84, 6))
BASES: Mapping[str, Drawing] = {
    "pale": _foot(""),
    "red": _foot(line(_ACROSS, 1.2)),
    "red-brown": _foot(line(f"{_ACROSS} M48 46 l-8 -6 M72 52 l8 -8 M48 62 l-9 -4", 1.2)),
    "dark brown": _foot(line(" ".join(f"M50 {y} H70" for y in range(38, 82, 2)), 1.6)),
    "yellow": _foot(dots([(56, 44), (64, 50), (56, 58), (64, 64), (57, 72), (64, 78)], 1)),
    "pink-striped": _foot(line("M53 40 V82 M57 40 V83 M61 40 V83 M65 40 V83 M69 40 V80", 1.6)),
    "bluish": _foot("", PALE),
}
BULBS: Mapping[str, Drawing] = {
    "no": _foot(""),
    "yes": lambda: (
        line("M54 4 L53 50 C36 58 36 84 60 86 C84 84 84 58 67 50 L66 4", 2.4, PALE)
        + line("M54 86 q-6 8 -14 12 M60 86 v20 M66 86 q6 8 14 12", 1.2)
    ),
}
COLOURS: Mapping[str, Drawing] = {
    "bright": lambda: _leaf(""),
    "dark": lambda: _leaf(line(" ".join(f"M35 {y} H85" for y in range(30, 108, 4)), 1.4)),
    "grey": lambda: _leaf(dots([(x, y) for x in (44, 60, 76) for y in (36, 50, 64, 78, 92)], 0.8)),
}
