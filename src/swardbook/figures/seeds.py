"""The seeds of a mixture at their true size, as they lie on a piece of ground."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from hashlib import sha256
from math import cos, pi, sin
from textwrap import wrap
from xml.sax.saxutils import escape

from swardbook.figures.picture import FONT, INK, PALE, QUIET, TEXT, Picture, Table, head_words
from swardbook.foundation.provenance import Sourced
from swardbook.handbook.parameters import parameter, value
from swardbook.handbook.species import Species, find_species
from swardbook.seed.mixture import MixtureByNumber

SIDE_MM = 50.0
"""Side of the piece of ground. [mm]"""
PX = 96 / 25.4
"""An SVG's px is 1/96 inch. [px mm⁻¹]"""
ROUND = 0.9
"""Width of a clover seed against its length. [-]"""
_LOOKS = (("white", INK, 0.9), (PALE, INK, 0.9), (INK, INK, 0.6), ("white", QUIET, 2.0))
"""Fill, stroke and width of stroke by place in the mixture."""
_PLASTIC = (0.7548776662466927, 0.5698402909980532)
"""Steps of an even sequence in the plane."""
EDGE, ROW, PANEL = 16.0, 46.0, 250.0


def picture_of_seeds(
    mixture: MixtureByNumber, rate_g_m2: float, name: str = "", note: str = ""
) -> Picture:
    """Draw the seeds that lie on 5 by 5 cm at a rate, true to size, and one of each beside a scale.

    Parameters
    ----------
    mixture : MixtureByNumber
        The mixture.
    rate_g_m2 : float
        Sowing rate. [g m⁻²]
    name : str
        What it is called, if anything.
    note : str
        What has to stand beside it.
    """
    rows = _counted(mixture, rate_g_m2)
    many = max(rows, key=lambda row: row[1])
    whole = sum(count for _, count in rows)
    sentence = (
        f"{name + '. ' if name else ''}At {rate_g_m2:g} g/m², 5 by 5 cm holds about {whole:,}"
        f" seeds; {many[1]:,} of them are {_inside(many[0])}."
    )
    key = (
        f"{note} True size when printed without scaling: the square is 5 by 5 cm, marks are 1 mm"
        " apart. Length and number are to scale; width is drawn by rule."
    ).strip()
    heads = ("seed", "in 5 by 5 cm", "length in mm", "grade", "source")
    table = Table("Seeds", heads, tuple(_row(species, count) for species, count in rows))
    return _laid_out(sentence, key, rows, table)


def seed_length(species: Species) -> Sourced:
    """Give the length of a seed as it is sown [mm]."""
    return parameter(f"seed_length.{species.model_name}")


def _counted(mixture: MixtureByNumber, rate: float) -> list[tuple[Species, int]]:
    """Count the seeds of each species in the square."""
    seeds: dict[str, float] = {}
    for part in mixture.parts:
        key = part.component.species
        seeds[key] = seeds.get(key, 0.0) + part.seeds_per_g * rate * (SIDE_MM / 1000) ** 2
    return [(find_species(key), round(count)) for key, count in seeds.items()]


def _row(species: Species, count: int) -> tuple[str, ...]:
    long = seed_length(species)
    told = f"{long.value:g} ({long.low:g} to {long.high:g})"
    return species.english, f"{count:,}", told, long.grade.value, long.source


def _laid_out(
    sentence: str, key: str, rows: Sequence[tuple[Species, int]], table: Table
) -> Picture:
    titles, keys = wrap(sentence, 33), wrap(key, 44)
    top = EDGE + 20 * len(titles) + 16 * len(keys) + 10
    side = SIDE_MM * PX
    width = max(side, PANEL) + 2 * EDGE
    below = top + side + EDGE
    height = below + ROW * len(rows) + EDGE
    words = [_text(EDGE, EDGE + 12 + 20 * n, each, 15, "bold") for n, each in enumerate(titles)]
    down = EDGE + 20 * len(titles) + 10
    words += [_text(EDGE, down + 16 * n, each, TEXT, fill=QUIET) for n, each in enumerate(keys)]
    parts = [head_words("".join(words), top - EDGE)]
    parts.append(
        f'<rect x="{EDGE:g}" y="{top:g}" width="{side:.2f}" height="{side:.2f}" fill="white"'
        f' stroke="{QUIET}"/>'
    )
    parts += _scattered(rows, EDGE, top)
    for place, (species, count) in enumerate(rows):
        parts += _beside(species, count, place, EDGE, below + ROW * place)
    heard = " ".join([key, "; ".join(", ".join(row[:3]) for row in table.rows)])
    return Picture(
        sentence, key, _svg("".join(parts), width, height, sentence, heard), (table,), {}
    )


def _scattered(rows: Sequence[tuple[Species, int]], x: float, y: float) -> Iterator[str]:
    """Lay every seed in the square, evenly and always alike, the largest first."""
    laid = 0
    for place, (species, count) in sorted(
        enumerate(rows), key=lambda each: -seed_length(each[1][0]).value
    ):
        room = SIDE_MM - seed_length(species).value
        for _ in range(count):
            laid += 1
            across, along = ((0.5 + laid * step) % 1.0 for step in _PLASTIC)
            left = x + PX * (SIDE_MM - room) / 2
            yield _seed(
                species, place, left + PX * room * across,
                y + PX * (SIDE_MM - room) / 2 + PX * room * along, 2.399963 * laid,
            )  # fmt: skip


def _beside(species: Species, count: int, place: int, x: float, y: float) -> Iterator[str]:
    """Draw one seed over a scale in mm, and name it."""
    long = seed_length(species)
    middle = x + PX * long.high / 2
    yield _seed(species, place, middle, y + 12, 0.0)
    marks = " ".join(f"M{x + PX * n:.2f} {y + 24:g} v5" for n in range(int(long.high) + 2))
    yield f'<path d="{marks}" fill="none" stroke="{INK}" stroke-width="0.8"/>'
    yield _text(x + 48, y + 14, species.english, TEXT, "bold")
    yield _text(x + 48, y + 30, f"{count:,} in the square, {long.low:g} to {long.high:g} mm", TEXT)


def _seed(species: Species, place: int, x: float, y: float, turned: float) -> str:
    """One seed: a spindle, or an egg for clover, of its own length."""
    fill, stroke, thick = _LOOKS[place % len(_LOOKS)]
    half = PX * seed_length(species).value / 2
    slim = ROUND if species.group == "clover" else value("seed_length.slimness")
    wide = half * slim
    east, north = half * cos(turned), half * sin(turned)
    side_x, side_y = 2 * wide * cos(turned + pi / 2), 2 * wide * sin(turned + pi / 2)
    path = (
        f"M{x - east:.2f} {y - north:.2f} Q{x + side_x:.2f} {y + side_y:.2f} {x + east:.2f}"
        f" {y + north:.2f} Q{x - side_x:.2f} {y - side_y:.2f} {x - east:.2f} {y - north:.2f} Z"
    )
    return f'<path d="{path}" fill="{fill}" stroke="{stroke}" stroke-width="{thick * 0.6:g}"/>'


def _svg(body: str, width: float, height: float, sentence: str, heard: str) -> str:
    mark = sha256((sentence + body).encode()).hexdigest()[:10]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width / PX:.2f}mm"'
        f' height="{height / PX:.2f}mm" viewBox="0 0 {width:.2f} {height:.2f}" role="img"'
        f' aria-labelledby="p{mark}-t" aria-describedby="p{mark}-d">'
        f'<title id="p{mark}-t">{escape(sentence)}</title>'
        f'<desc id="p{mark}-d">{escape(heard)}</desc>'
        f'<rect width="{width:.2f}" height="{height:.2f}" fill="white"/>{body}</svg>\n'
    )


def _inside(species: Species) -> str:
    name = species.english
    return name if name.startswith("Chewings") else name[0].lower() + name[1:]


def _text(
    x: float, y: float, words: str, size: float, weight: str = "normal", fill: str = INK
) -> str:
    return (
        f'<text x="{x:g}" y="{y:g}" font-family="{FONT}" font-size="{size:g}"'
        f' font-weight="{weight}" fill="{fill}">{escape(words)}</text>'
    )
