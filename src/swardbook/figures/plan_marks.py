"""Patterns and shapes of the plan: each state looks different without any colour."""

from __future__ import annotations

import re
from collections.abc import Mapping
from html import escape

from swardbook.figures.picture import FONT, INK, QUIET

_LINE = 'class="hatch" stroke="#5c5c5c" fill="none"'
PATTERNS: Mapping[str, str] = {
    "plain": "",
    "dots": '<circle class="hatch-dot" cx="3" cy="3" r="1.1" fill="#5c5c5c"/>',
    "lines": f'<path {_LINE} d="M-2 12 L12 -2 M-2 2 L2 -2 M8 12 L12 8" stroke-width="0.9"/>',
    "back": f'<path {_LINE} d="M-2 -2 L12 12 M8 -2 L12 2 M-2 8 L2 12" stroke-width="0.9"/>',
    "cross": f'<path {_LINE} d="M0 0 L10 10 M10 0 L0 10" stroke-width="0.8"/>',
    "flat": f'<path {_LINE} d="M0 5 L10 5" stroke-width="0.9"/>',
    "upright": f'<path {_LINE} d="M5 0 L5 10" stroke-width="0.9"/>',
    "grid": f'<path {_LINE} d="M5 0 L5 10 M0 5 L10 5" stroke-width="0.8"/>',
    "zigzag": f'<path {_LINE} d="M0 7 L2.5 3 L5 7 L7.5 3 L10 7" stroke-width="0.9"/>',
    "rings": f'<circle {_LINE} cx="5" cy="5" r="2.4" stroke-width="0.9"/>',
    "brick": f'<path {_LINE} d="M0 0 L10 0 M0 5 L10 5 M2.5 0 L2.5 5 M7.5 5 L7.5 10"'
    ' stroke-width="0.8"/>',
    "ticks": f'<path {_LINE} d="M2 2 L2 5 M7 7 L7 10" stroke-width="1.1"/>',
}
"""Patterns by name, each in a tile of 10 by 10."""
_R = (4.0, 5.5, 7.5, 10.0)
_FILL = f'fill="white" stroke="{INK}"'
SHAPES: Mapping[str, str] = {
    "peg": '<path class="sign" d="M-4 0 L4 0 M0 -4 L0 4" stroke="#1b1b1b" stroke-width="1.6"/>',
    "circle": f'<circle class="sign" r="4" {_FILL} stroke-width="1.6"/>',
    "square": f'<rect class="sign" x="-5" y="-5" width="10" height="10" {_FILL}'
    ' stroke-width="1.2"/>',
    "point": f'<rect class="solid" x="-3.5" y="-3.5" width="7" height="7" fill="{INK}"/>',
    "diamond": f'<path class="sign" d="M0 -5.5 L5.5 0 L0 5.5 L-5.5 0 Z" {_FILL}'
    ' stroke-width="1.6"/>',
    "ring": f'<circle class="sign" r="4.5" {_FILL} stroke-width="1.6"/>',
    "ring-dot": f'<circle class="sign" r="4.5" {_FILL} stroke-width="1.6"/>'
    f'<circle class="solid" r="1.6" fill="{INK}"/>',
    "solid": f'<circle class="solid" r="4.5" fill="{INK}"/>',
    "half": f'<circle class="sign" r="4.5" {_FILL} stroke-width="1.6"/>'
    f'<path class="solid" d="M0 -4.5 A4.5 4.5 0 0 1 0 4.5 Z" fill="{INK}"/>',
    "look": f'<rect class="sign" x="-5" y="-5" width="10" height="10" {_FILL} stroke-width="1.6"/>'
    '<path class="sign" d="M0 -3 L0 0.8 M0 2.2 L0 3.2" stroke="#1b1b1b" stroke-width="1.6"/>',
    "times": '<path class="sign" d="M-4 -4 L4 4 M-4 4 L4 -4" stroke="#1b1b1b" stroke-width="2"/>',
}
"""Shapes by name, drawn round their middle."""


def pattern_defs(mark: str) -> str:
    """Give the patterns as definitions whose ids end in a mark of their own."""
    return "<defs>" + "".join(
        f'<pattern id="{name}-{mark}" width="10" height="10" patternUnits="userSpaceOnUse">'
        f"{tile}</pattern>"
        for name, tile in PATTERNS.items() if tile
    ) + "</defs>"  # fmt: skip


def mark_shape(
    shape: str, x: float, y: float, size: int = 1, label: str = "", wide: float = 1e9
) -> str:  # fmt: skip
    """Draw a shape at a place, with what is written beside it.

    Parameters
    ----------
    shape : str
        A shape.
    x, y : float
        Where. [px]
    size : int
        From 1 to 4; 0 is small.
    label : str
        What is written beside it.
    wide : float
        Width of the paper; near its right edge words go to the left. [px]
    """
    radius = _R[min(max(size, 1), 4) - 1]
    drawn = SHAPES[shape]
    if shape == "circle":
        drawn = f'<circle class="sign" r="{radius:g}" {_FILL} stroke-width="1.6"/>'
    said = ""
    if label:
        place = f'y="{radius + 11:g}" text-anchor="middle"' if shape == "circle" else 'x="6" y="-5"'
        if shape != "circle" and x + 6.4 * len(label) > wide:
            place = 'x="-6" y="-5" text-anchor="end"'
        said = (
            f'<text class="letters halo" {place} font-family="{FONT}" font-size="11"'
            f' fill="{INK}" stroke="white" stroke-width="3" paint-order="stroke">'
            f"{escape(label)}</text>"
        )
    reach = '<circle r="11" fill="none" pointer-events="all"/>'
    small = "" if size else " scale(0.6)"
    return f'<g transform="translate({x:.1f},{y:.1f}){small}">{reach}{drawn}{said}</g>'


def sample(name: str, told: str) -> str:
    """Draw a pattern or shape of the legend with what it means."""
    drawn = ""
    if name in PATTERNS:
        tile = PATTERNS[name].replace('d="', 'transform="translate(2,-5)" d="')
        tile = re.sub(r'cx="\d" cy="\d"', 'cx="8" cy="0"', tile)
        drawn = (
            f'<rect class="sign" x="0" y="-7" width="16" height="13" {_FILL} stroke-width="1"/>'
            f"{tile}"
        )
    elif name in SHAPES:
        drawn = f'<g transform="translate(8,-1)">{SHAPES[name]}</g>'
    x = 24 if drawn else 0
    return (
        f'{drawn}<text class="letters" x="{x}" y="4" font-family="{FONT}" font-size="12"'
        f' fill="{INK if drawn else QUIET}">{escape(told)}</text>'
    )
