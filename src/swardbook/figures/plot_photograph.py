"""A photographed plot beside what was read in it: leaf black, ground white, so that it prints."""

from __future__ import annotations

from base64 import b64encode

from swardbook.figures.mowing_lines import WIDE, page, text
from swardbook.figures.picture import INK, Picture, Table

_GAP = 16.0
_HEAD = 22.0
_TENTHS = 10


def picture_of_plot(
    sentence: str, key: str, plot_png: bytes, mask_png: bytes, sides: tuple[float, float],
    table: Table,
) -> Picture:  # fmt: skip
    """Draw a plot as it was read, with a scale in percent for touches, and its leaf beside it.

    Parameters
    ----------
    sentence, key : str
        What it shows, and what its marks mean.
    plot_png, mask_png : bytes
        The plot, and its leaf in black, as PNG.
    sides : tuple of float
        Width and height of the plot, in any one unit. [any one unit]
    table : Table
        The figures.
    """
    wide = (WIDE - _GAP) / 2
    high = wide * sides[1] / sides[0]
    parts = [
        text((0, 14), "As read, with percent across and down", "start"),
        text((wide + _GAP, 14), "Leaf black, ground white", "start"),
        _image(plot_png, 0.0, wide, high),
        _image(mask_png, wide + _GAP, wide, high),
    ]
    for tenth in range(2, _TENTHS, 2):
        x, y = wide * tenth / _TENTHS, _HEAD + high * tenth / _TENTHS
        parts += [
            text((x, _HEAD + high + 14), f"{10 * tenth}", "middle"),
            f'<path d="M{x:.1f} {_HEAD + high:.1f}v4M-3 {y:.1f}h3" stroke="{INK}"/>',
            text((-4, y + 4), f"{10 * tenth}", "end"),
        ]
    return page(sentence, key, "".join(parts), _HEAD + high + 20, table)


def _image(png: bytes, x: float, wide: float, high: float) -> str:
    held = b64encode(png).decode("ascii")
    return (
        f'<image x="{x:.1f}" y="{_HEAD:.1f}" width="{wide:.1f}" height="{high:.1f}"'
        f' preserveAspectRatio="none" href="data:image/png;base64,{held}"/>'
        f'<rect x="{x:.1f}" y="{_HEAD:.1f}" width="{wide:.1f}" height="{high:.1f}" fill="none"'
        f' stroke="{INK}"/>'
    )
