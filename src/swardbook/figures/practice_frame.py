"""A strung frame over drawn sward, to practise counting: what lies under each crossing is known.

Kinds differ by shape first and by colour second, so that they are told apart in grey as well.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from swardbook.foundation.chance import Array, Chance

STRINGS = 5
CROSSINGS = STRINGS * STRINGS
_APART, _EDGE, _SIDE = 64, 52, 360
_BLADES = 420

Luck = Callable[[], float]

KINDS: Mapping[str, str] = {
    "sown": "fine dark needles in a tuft",
    "annual meadow-grass": "pale broad leaves, with or without a head of dots",
    "yorkshire fog": "one broad grey leaf with stripes and hairs",
    "moss": "a cushion of small stars",
    "bare": "an open patch with crumbs of soil",
}
"""What can lie under a crossing, and how it is drawn."""
_SHARES: Mapping[str, tuple[float, float]] = {
    "annual meadow-grass": (0.10, 0.40), "yorkshire fog": (0.0, 0.12), "moss": (0.0, 0.12),
    "bare": (0.03, 0.15),
}  # fmt: skip
"""Range that a frame's share of each kind is drawn from: made up, for practice only [-]."""


@dataclass(frozen=True, slots=True)
class PracticeFrame:
    """One frame that was drawn.

    Parameters
    ----------
    number, frame : int
        Number of the set, and of the frame in it; the same numbers give the same drawing.
    under : tuple of str
        What lies under each crossing, row by row from the top left.
    svg : str
        The drawing; it says nothing of what lies where.
    """

    number: int
    frame: int
    under: tuple[str, ...]
    svg: str

    @property
    def truth(self) -> Mapping[str, int]:
        """Give how many crossings lie over each kind; they add up to all of them."""
        found = Counter(self.under)
        return {kind: found[kind] for kind in KINDS}

    @property
    def rows(self) -> tuple[tuple[str, ...], ...]:
        """Give what lies under the crossings, string by string."""
        return tuple(self.under[at : at + STRINGS] for at in range(0, CROSSINGS, STRINGS))


def practice_frame(number: int, frame: int) -> PracticeFrame:
    """Draw one frame of a set.

    Parameters
    ----------
    number : int
        Number of the set.
    frame : int
        Which frame of it, from 1.
    """
    chance = Chance(("practice frame", f"{number}", f"{frame}"))
    under = _drawn_kinds(chance)
    return PracticeFrame(number, frame, under, _drawing(chance, frame, under))


def sample_of(kind: str) -> str:
    """Draw one kind alone, for the key.

    Parameters
    ----------
    kind : str
        One of `KINDS`.
    """
    luck = _luck(Chance(("practice key", kind)).uniforms("one", 200))
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="-30 -30 60 60" width="60" height="60"'
        f' aria-hidden="true"><rect x="-30" y="-30" width="60" height="60" fill="{_PAPER}"/>'
        f"{_SPRITES[kind](luck)}</svg>"
    )


def _drawn_kinds(chance: Chance) -> tuple[str, ...]:
    part = chance.uniforms("shares", len(_SHARES))
    ends, total = [], 0.0
    for (kind, (low, high)), u in zip(_SHARES.items(), part, strict=True):
        total += low + (high - low) * float(u)
        ends.append((total, kind))
    return tuple(
        next((kind for end, kind in ends if u < end), "sown")
        for u in chance.uniforms("crossings", CROSSINGS)
    )


def _luck(row: Array) -> Luck:
    numbers = iter(row.tolist())
    return lambda: next(numbers)


_PAPER, _SWARD, _INK = "#dfe6cf", "#9db07d", "#1b1b1b"


def _drawing(chance: Chance, frame: int, under: tuple[str, ...]) -> str:
    luck = _luck(chance.uniforms("shapes", 8 * _BLADES + 200 * CROSSINGS))
    parts = [f'<rect width="{_SIDE}" height="{_SIDE}" fill="{_PAPER}"/>']
    for _ in range(_BLADES):
        x, y, lean, long = luck() * _SIDE, luck() * _SIDE, 14 * luck() - 7, 8 + 10 * luck()
        parts.append(_stroke(f"M{x:.0f} {y:.0f}q{lean / 2:.0f} {-long / 2:.0f} {lean:.0f}"
                             f" {-long:.0f}", _SWARD, 1.2))  # fmt: skip
    places = [(_EDGE + _APART * column, _EDGE + _APART * row)
              for row in range(STRINGS) for column in range(STRINGS)]  # fmt: skip
    for kind, (x, y) in zip(under, places, strict=True):
        parts.append(f'<g transform="translate({x} {y})">{_SPRITES[kind](luck)}</g>')
    for at in range(STRINGS):
        course = _EDGE + _APART * at
        for line in (f"M{course} 8V{_SIDE - 8}", f"M8 {course}H{_SIDE - 8}"):
            parts += [_stroke(line, "#ffffff", 3), _stroke(line, _INK, 1)]
    parts += [f'<circle cx="{x}" cy="{y}" r="4" fill="none" stroke="{_INK}" stroke-width="1.5"/>'
              for x, y in places]  # fmt: skip
    edge = f'<rect x="4" y="4" width="{_SIDE - 8}" height="{_SIDE - 8}" fill="none"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_SIDE} {_SIDE}" width="{_SIDE}"'
        f' height="{_SIDE}" role="img" aria-labelledby="frame-{frame}">'
        f'<title id="frame-{frame}">Frame {frame}: {CROSSINGS} crossings of strings over drawn'
        f' sward</title>{"".join(parts)}{edge} stroke="{_INK}" stroke-width="6"/></svg>'
    )


def _stroke(course: str, colour: str, width: float, fill: str = "none") -> str:
    return (
        f'<path d="{course}" fill="{fill}" stroke="{colour}" stroke-width="{width:g}"'
        ' stroke-linecap="round"/>'
    )


def _sown(luck: Luck) -> str:
    parts = []
    for at in range(11):
        lean = (at - 5) * 3.4 + 4 * luck() - 2
        parts.append(f"M{at - 5} 18Q{lean / 3:.1f} 0 {lean:.1f} {-20 - 6 * luck():.1f}")
    return _stroke(" ".join(parts), "#1f3d16", 1.6)


def _meadow_grass(luck: Luck) -> str:
    leaves = []
    for turn in (-1, 1):
        x = turn * (18 + 4 * luck())
        leaves.append(f"M0 18C{x / 2:.1f} 10 {x:.1f} 2 {x * 1.1:.1f} -8C{x * 0.7:.1f} -4"
                      f" {x / 4:.1f} 4 0 18Z")  # fmt: skip
    if luck() < 0.5:
        return _stroke(" ".join(leaves), "#4c6b18", 1, "#c4dc7c")
    heads = "".join(
        f'<circle cx="{side * (2 + 2.6 * step) + 2 * luck() - 1:.1f}" cy="{-20 + 5 * step}" r="2.6"'
        f' fill="#fbfbf2" stroke="{_INK}" stroke-width=".9"/>'
        for step in range(4)
        for side in (-1, 1)
    )
    stem = _stroke("M0 18V-20", "#5b6f2a", 1.2)
    return _stroke(" ".join(leaves), "#4c6b18", 1, "#c4dc7c") + stem + heads


def _fog(luck: Luck) -> str:
    lean = 6 * luck() - 3
    leaf = _stroke(f"M-6 20C-12 6 -10 -12 {lean:.1f} -24C10 -12 12 6 6 20Z", "#3c4650", 1.4,
                   "#c3ccd2")  # fmt: skip
    stripes = _stroke("M-3 17C-6 4 -5 -8 -1 -16M3 17C6 4 5 -8 1 -16M0 18V-18", "#3c4650", 0.9)
    hairs = " ".join(f"M{side * 9} {y}l{side * (5 + 2 * luck()):.1f} -2"
                     for y in range(-10, 16, 5) for side in (-1, 1))  # fmt: skip
    return leaf + stripes + _stroke(hairs, "#3c4650", 0.9)


def _moss(luck: Luck) -> str:
    stars = []
    for x, y in ((-12, -8), (0, -13), (12, -8), (-14, 4), (0, 0), (14, 4), (-7, 13), (7, 13)):
        cx, cy = x + 3 * luck() - 1.5, y + 3 * luck() - 1.5
        stars.append(f"M{cx - 5:.1f} {cy:.1f}h10M{cx - 2.5:.1f} {cy - 4.3:.1f}l5 8.6"
                     f"M{cx + 2.5:.1f} {cy - 4.3:.1f}l-5 8.6")  # fmt: skip
    ground = '<ellipse rx="21" ry="19" fill="#a99a2e"/>'
    return ground + _stroke(" ".join(stars), "#2f2a05", 1.3)


def _bare(luck: Luck) -> str:
    crumbs = "".join(
        f'<circle cx="{34 * luck() - 17:.1f}" cy="{26 * luck() - 13:.1f}"'
        f' r="{1 + 1.4 * luck():.1f}" fill="#3a2414"/>'
        for _ in range(16)
    )
    wide, tall = 20 + 3 * luck(), 17 + 3 * luck()
    ground = f'<ellipse rx="{wide:.1f}" ry="{tall:.1f}" fill="#b08a63" stroke="#3a2414"/>'
    return ground + crumbs


_SPRITES: Mapping[str, Callable[[Luck], str]] = {
    "sown": _sown, "annual meadow-grass": _meadow_grass, "yorkshire fog": _fog, "moss": _moss,
    "bare": _bare,
}  # fmt: skip
