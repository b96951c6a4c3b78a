"""How well a photograph is read: drawn swards of known cover, `python -m tools.photo_swards`.

Each seed draws two plots that lie side by side: cover, leaf width, leaf colour, soil, light, cast,
noise and JPEG quality are drawn too. Both are laid between printed cards and taken with one camera,
as JPEG with halved colour; then the code that a user runs reads the file: finds the cards, sees
the plot from above, puts cast and exposure right, reads cover and colour. The page
`docs/reference/photographs.md` is written from one run over a fixed list of seeds.
"""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial
from math import isnan
from pathlib import Path

import numpy as np
from tests.support.pixels import the_pass
from tests.support.scenes import plot_between_cards
from tests.support.swards import Camera, Sward, jpeg, seen, sward

from swardbook.handbook.parameters import value
from swardbook.photos.grain import grain_px
from swardbook.photos.opening import look_at
from swardbook.photos.reading import PlotPicture, read_photo

HERE = Path(__file__).parent
PAGE = HERE.parent / "docs" / "reference" / "photographs.md"
SEEDS = tuple(range(90_001, 90_221))
"""Two hundred and twenty pairs of plots; never used to make the code better."""
RUNS = 1
"""How often this list has been run on code that is handed on; raise it with the code."""
COVER_ERROR, COLOUR_ERROR = value("photo_cover_error"), value("photo_colour_error")
PLOT_PX = (480, 600)
SIDES_MM = (400.0, 320.0)
Colour = tuple[int, int, int]
DARK, LIGHT = (45, 85, 35), (115, 148, 68)
MOIST, DRY = (80, 62, 45), (160, 140, 102)


@dataclass(frozen=True, slots=True)
class Plot:
    """One plot: what is true of it, and what was read.

    Parameters
    ----------
    leaf_px : float
        Width of its leaves in the picture. [px]
    true_cover, cover, plain_cover : float
        Cover as drawn, as read, and by the plain threshold. [-]
    true_index : float
        Dark-green index as drawn. [-]
    index : float or None
        The index as read. [-]
    grain_px : float or None
        Grain of the plot. [px]
    faults : tuple of str
        What the gates found wrong.
    cover_stands, colour_stands : bool
        Whether the reading is given as good.
    colour_step : float
        Step to which the file rounded the coarser waves of its colour. [of 255]
    """

    leaf_px: float
    true_cover: float
    cover: float
    plain_cover: float
    true_index: float
    index: float | None
    grain_px: float | None
    faults: tuple[str, ...]
    cover_stands: bool
    colour_stands: bool
    colour_step: float


@dataclass(frozen=True, slots=True)
class Pair:
    """Two plots taken with one camera in one light."""

    seed: int
    quality: int
    noise: float
    tilt: float
    plots: tuple[Plot, Plot]

    @property
    def colour_error(self) -> float | None:
        """Error of the difference in index; None where a reading does not stand [-]."""
        one, other = self.plots
        if one.index is None or other.index is None:
            return None
        if not (one.colour_stands and other.colour_stands):
            return None
        return (one.index - other.index) - (one.true_index - other.true_index)


def between(draw: np.random.Generator, one: Colour, other: Colour) -> Colour:
    """Draw a colour between two."""
    share = draw.uniform()
    red, green, blue = (round(a + share * (b - a)) for a, b in zip(one, other, strict=True))
    return red, green, blue


def camera_of(draw: np.random.Generator) -> Camera:
    """Draw the light, the cast, the noise and how hard the file is pressed."""
    red, green, blue = draw.uniform(0.55, 0.95) * draw.uniform(0.87, 1.15, 3)
    return Camera(
        gains=(float(red), float(green), float(blue)),
        noise=float(draw.uniform(0, 0.02)),
        quality=int(draw.integers(70, 96)),
    )


def take(seed: int) -> Pair:
    """Draw two plots, take their pictures, and read them."""
    draw = np.random.default_rng(seed)
    camera, soil = camera_of(draw), between(draw, MOIST, DRY)
    tilt = float(draw.choice([0.0, 0.0, 0.08, 0.16]))
    plots = []
    for number in (0, 1):
        width = float(draw.uniform(4, 12))
        drawn = sward(
            float(draw.uniform(0.05, 0.95)), 2 * seed + number, PLOT_PX, width,
            leaf=between(draw, DARK, LIGHT), soil=soil,
        )  # fmt: skip
        plots.append(read(drawn, width, camera, tilt, 2 * seed + number))
    return Pair(seed, camera.quality, camera.noise, tilt, (plots[0], plots[1]))


def read(drawn: Sward, width: float, camera: Camera, tilt: float, seed: int) -> Plot:
    """Lay a drawn plot between cards, take its picture, read the file."""
    scene = plot_between_cards(drawn.pixels, SIDES_MM, (990, 1110), tilt)
    held = jpeg(seen(scene.pixels, camera, seed), camera)
    photo = look_at(held, "drawn.jpg")
    found: PlotPicture = read_photo(photo, the_pass())
    covering = found.covering
    return Plot(
        width, drawn.cover, covering.cover, covering.plain_cover, drawn.colour_index,
        covering.colour_index, grain_px(found.plot), tuple(each.name for each in found.faults),
        found.cover_stands, found.colour_stands,
        photo.pressed.colour_step if photo.pressed else 0.0,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Errors:
    """Errors of a group: bias and spread, share within what is promised, the worst."""

    many: int
    bias: float
    spread: float
    within: float
    worst: float


def errors_of(errors: Sequence[float], promised: float) -> Errors:
    """Sum errors up.

    Parameters
    ----------
    errors : sequence of float
        Read less true.
    promised : float
        Within what they ought to lie.
    """
    held = np.array(errors, np.float64)
    if not held.size:
        return Errors(0, *[float("nan")] * 4)
    return Errors(
        held.size, float(held.mean()), float(held.std(ddof=1)) if held.size > 1 else float("nan"),
        float((np.abs(held) <= promised).mean()), float(held[np.abs(held).argmax()]),
    )  # fmt: skip


HEADS = (
    "| plots | number | bias | spread (sd) | within 2 points | worst |",
    "|---|---|---|---|---|---|",
)
COVERS = ((0.0, 0.2), (0.2, 0.4), (0.4, 0.6), (0.6, 0.8), (0.8, 1.0))
WIDTHS = ((4.0, 5.0), (5.0, 6.0), (6.0, 8.0), (8.0, 10.0), (10.0, 12.0))
QUALITIES = ((70, 80), (80, 88), (88, 96))


def _percent(share: float) -> str:
    """Write a share so that 100 % means all."""
    return f"{100 * share:.1f} %" if 0.99 <= share < 1 else f"{100 * share:.0f} %"


def cover_row(name: str, plots: Sequence[Plot]) -> str:
    """Give a row of the table of cover, in points."""
    found = errors_of([100 * (plot.cover - plot.true_cover) for plot in plots], 100 * COVER_ERROR)
    if not found.many:
        return f"| {name} | 0 | | | | |"
    return (
        f"| {name} | {found.many} | {found.bias:+.2f} | {found.spread:.2f} |"
        f" {_percent(found.within)} | {found.worst:+.1f} |"
    )


def colour_row(name: str, pairs: Sequence[Pair]) -> str:
    """Give a row of the table of colour."""
    errors = [each for pair in pairs if (each := pair.colour_error) is not None]
    found = errors_of(errors, COLOUR_ERROR)
    if not found.many:
        return f"| {name} | 0 | | | | |"
    spread = "" if isnan(found.spread) else f" {found.spread:.4f}"
    return (
        f"| {name} | {found.many} | {found.bias:+.4f} |{spread} |"
        f" {_percent(found.within)} | {found.worst:+.3f} |"
    )


def page(pairs: Sequence[Pair], runs: int) -> str:
    """Write the page.

    Parameters
    ----------
    pairs : sequence of Pair
        What was taken and read.
    runs : int
        How often this list of seeds was run, this run and all.
    """
    plots = [plot for pair in pairs for plot in pair.plots]
    good = [plot for plot in plots if plot.cover_stands]
    refused = [plot for plot in plots if not plot.cover_stands]
    times = "once" if runs == 1 else f"{runs} times"
    lines = [
        "# How well photographs are read",
        "",
        "Written by `make photo-swards`. The code that you run reads pictures of plots that were"
        " drawn blade by blade, so that cover and colour are known: cover 5 to 95 %, leaves 4 to 12"
        " pixels wide, light to dark green, moist to dry soil, exposure and cast put right by the"
        " cards, noise up to 2 % of full scale, JPEG of quality 70 to 95 with colour at half the"
        " resolution, half of them from the side.",
        "",
        f"{len(pairs)} pairs of plots, {len(plots)} plots. The list of seeds was fixed beforehand,"
        f" is not used to make the code better, and was run {times}. Drawn swards are the best"
        " case: real ones have shade within, dead leaf and dew, and a lens mixes light where this"
        " drawing mixes its encoded values.",
        "",
        "## Cover",
        "",
        "Read less true, in points. `stands` are the pictures that no gate sends back; what"
        " swardbook says of cover, it says of these.",
        "",
        *HEADS,
        cover_row("stands", good),
        cover_row("sent back", refused),
        *(
            cover_row(f"stands, cover {100 * low:.0f} to {100 * high:.0f} %",
                      [plot for plot in good if low <= plot.true_cover < high])
            for low, high in COVERS
        ),
        *(
            cover_row(f"stands, leaf {low:.0f} to {high:.0f} pixels",
                      [plot for plot in good if low <= plot.leaf_px < high])
            for low, high in WIDTHS
        ),
        *(
            cover_row(f"all, leaf {low:.0f} to {high:.0f} pixels",
                      [plot for plot in plots if low <= plot.leaf_px < high])
            for low, high in WIDTHS
        ),
        *(
            cover_row(f"stands, JPEG quality {low} to {high - 1}",
                      [plot for pair in pairs if low <= pair.quality < high
                       for plot in pair.plots if plot.cover_stands])
            for low, high in QUALITIES
        ),
        *(
            cover_row(f"stands, {name}", [plot for pair in pairs if pair.tilt == tilt
                                          for plot in pair.plots if plot.cover_stands])
            for name, tilt in (("from above", 0.0), ("a little from the side", 0.08),
                               ("more from the side", 0.16))
        ),
        "",
        "## What the gates let through",
        "",
        "Of the plots drawn, the share that no gate sends back. A phone of 12 million pixels at"
        " about a metre sees a leaf of 2 mm six pixels wide, and writes quality 85 to 97.",
        "",
        "| leaf width | quality 70 to 79 | quality 80 to 87 | quality 88 to 95 |",
        "|---|---|---|---|",
        *(_passed_row(pairs, low, high) for low, high in WIDTHS),
        "",
        f"Sent back: {len(refused)} of {len(plots)} ({_reasons(refused)}).",
        "",
        "## Colour, side by side",
        "",
        "Difference in dark-green index of the two plots of a pair, read less true; both pictures"
        " stand.",
        "",
        HEADS[0].replace("2 points", "0.015").replace("plots", "pairs"),
        HEADS[1],
        colour_row("all", pairs),
        *(
            colour_row(f"lower cover {100 * low:.0f} to {100 * high:.0f} %",
                       [pair for pair in pairs if low <= _lower(pair) < high])
            for low, high in COVERS
        ),
        *(
            colour_row(f"thinner leaf {low:.0f} to {high:.0f} pixels",
                       [pair for pair in pairs if low <= _thinner(pair) < high])
            for low, high in WIDTHS
        ),
    ]  # fmt: skip
    return "\n".join(lines) + "\n"


def _passed_row(pairs: Sequence[Pair], low: float, high: float) -> str:
    cells = []
    for first, last in QUALITIES:
        of = [plot for pair in pairs if first <= pair.quality < last
              for plot in pair.plots if low <= plot.leaf_px < high]  # fmt: skip
        good = sum(plot.cover_stands for plot in of)
        cells.append(f"{100 * good / len(of):.0f} % of {len(of)}" if of else "")
    return f"| {low:.0f} to {high:.0f} pixels | {' | '.join(cells)} |"


def _lower(pair: Pair) -> float:
    return min(plot.true_cover for plot in pair.plots)


def _thinner(pair: Pair) -> float:
    return min(plot.leaf_px for plot in pair.plots)


def _reasons(refused: Sequence[Plot]) -> str:
    counts: dict[str, int] = {}
    for name in (name for plot in refused for name in plot.faults):
        counts[name] = counts.get(name, 0) + 1
    return ", ".join(f"{name} {many}" for name, many in sorted(counts.items())) or "none"


def main() -> None:
    """Take the pictures, read them, and write the page."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--page", type=Path, default=PAGE)
    parser.add_argument("--processes", type=int, default=1)
    parser.add_argument("--runs", type=int, default=RUNS, help="how often this list was run")
    asked = parser.parse_args()
    tell = partial(print, flush=True)
    with ProcessPoolExecutor(asked.processes) as pool:
        pairs = []
        for number, pair in enumerate(pool.map(take, SEEDS), 1):
            pairs.append(pair)
            if number % 20 == 0:
                tell(f"{number} of {len(SEEDS)} pairs")
    asked.page.write_text(page(pairs, asked.runs), encoding="utf-8")
    print(f"Written: {asked.page}")


if __name__ == "__main__":
    main()
