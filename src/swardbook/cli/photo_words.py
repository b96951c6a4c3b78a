"""Words and payloads of ``swardbook photo``."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from swardbook.cli.output import table
from swardbook.cli.telling import short_id, tell_when

if TYPE_CHECKING:
    from swardbook.book.photo_sessions import SideBySide
    from swardbook.book.photographs import PhotoRead
    from swardbook.photos.reading import PlotPicture
    from swardbook.photos.touching import Taught

PRECISION = (
    "Good for plots side by side in one session with these cards: cover within 2 points and"
    " colour within 0.015, as tried on drawn swards; real ones are harder. Not across phones or"
    " seasons. One picture is one look at one plot: the plot is the unit."
)

_FEW = 5


def read_lines(found: Sequence[PhotoRead]) -> list[str]:
    """Tell each picture, then what all of them are good for."""
    lines: list[str] = []
    for each in found:
        lines += [*_one(each), ""]
    counts = {state: sum(each.state is state for each in found) for state in dict.fromkeys(
        each.state for each in found)}  # fmt: skip
    if len(found) > 1:
        told = ", ".join(f"{many} {state.value}" for state, many in counts.items())
        lines.append(f"{len(found)} pictures: {told}.")
        lines += [f"  {each.file}: {each.state.value}." for each in _left(found)]
        lines.append("")
    if any(each.reading is not None for each in found):
        return [*lines, PRECISION]
    return lines[:-1]


def _left(found: Sequence[PhotoRead]) -> list[PhotoRead]:
    """Give the pictures of a long batch that were not kept, to be named once more at its end."""
    if len(found) <= _FEW:
        return []
    return [each for each in found if each.state.value in {"asked", "refused"}]


def payload_of(found: Sequence[PhotoRead]) -> dict[str, Any]:
    """Give the object of what was read."""
    return {"pictures": [_payload(each) for each in found], "precision": PRECISION}


def side_lines(found: SideBySide) -> list[str]:
    """Tell plots side by side, by name: no ranking."""
    rows = [
        (each.plot, f"{each.colour_index:.3f}", f"{100 * each.cover:.0f} %", f"{each.pictures}")
        for each in found.plots
    ]
    lines = [f"{found.zone}, {tell_when(found.when)}, one session.", ""]
    lines += table(("plot", "dark-green index", "green cover", "pictures"), rows)
    apart = [each for each in found.pairs if each.is_colour_apart]
    lines += ["", "Difference in dark-green index beyond the error of pictures (0.015):"]
    lines += [f"  {each.one} less {each.other}: {each.colour:+.3f}" for each in apart] or ["  none"]
    lines += [f"Left out: {each}." for each in found.left_out]
    lines += [
        "",
        "That two plots differ says nothing of their mixtures yet: a mixture needs its blocks."
        " `swardbook side-by-side` weighs them.",
    ]
    return [*lines, f"Kept as readings: {short_id(found.kept)}."] if found.kept else lines


def side_payload(found: SideBySide) -> dict[str, Any]:
    """Give the object of plots side by side."""
    return {
        "zone": found.zone,
        "day": found.when.first.isoformat(),
        "camera": found.camera,
        "plots": [
            {"plot": each.plot, "dark_green_index": round(each.colour_index, 4),
             "green_cover_share": round(each.cover, 4), "pictures": each.pictures}
            for each in found.plots
        ],
        "pairs": [
            {"one": each.one, "other": each.other,
             "dark_green_index_difference": round(each.colour, 4),
             "green_cover_share_difference": round(each.cover, 4),
             "is_colour_beyond_error": each.is_colour_apart,
             "is_cover_beyond_error": each.is_cover_apart}
            for each in found.pairs
        ],
        "left_out": list(found.left_out),
        "kept": str(found.kept.id) if found.kept else None,
    }  # fmt: skip


def _one(each: PhotoRead) -> list[str]:
    plot = f", plot {each.plot}" if each.plot else ""
    if each.reading is None:
        return [f"{each.file}{plot}: {each.state.value}.", f"  {each.words}"]
    kept = f" {short_id(each.entry)}" if each.entry is not None else ""
    lines = [f"{each.file}{plot}: {each.state.value}{kept}."]
    lines += [f"  {line}" for line in _figures(each.reading)]
    if each.taught is not None:
        lines += [f"  {line}" for line in _taught(each.taught)]
    if each.lack:
        lines.append(f"  {each.lack}")
    for fault in each.reading.faults:
        lines.append(f"  Needs a look: {fault.name}, {fault.seen}. {fault.do}")
    if each.files is not None and each.photo is not None and each.photo.facts.has_place:
        lines.append("  The file tells where it was taken; the copy to share does not.")
    return lines


def _figures(reading: PlotPicture) -> list[str]:
    covering = reading.covering
    if reading.cover_stands:
        lines = [
            f"green cover {100 * covering.cover:.0f} % (within 2 points); not green: pale"
            f" {100 * covering.pale:.0f} % (dead leaf, sand or dry soil), bare or shaded"
            f" {100 * covering.bare:.0f} %"
        ]
    else:
        lines = ["no cover: see below"]
    if not reading.colour_stands:
        lines.append("no dark-green index to compare: see below")
    elif covering.colour_index is not None:
        lines.append(
            f"dark-green index {covering.colour_index:.3f}, spread {covering.colour_spread:.3f}"
        )
    if reading.side_mm is not None and reading.cover_stands:
        wide, high = reading.side_mm
        grain = "not known" if reading.grain_mm is None else f"{reading.grain_mm:.1f} mm"
        lines.append(f"texture (grain) {grain}; plot {wide / 1000:.2f} by {high / 1000:.2f} m")
    return lines


def _taught(taught: Taught) -> list[str]:
    lines = [
        f"{each.kind}: {100 * each.share:.0f} % ({100 * each.low:.0f} to {100 * each.high:.0f});"
        f" {each.right} of its {each.touches} touches known when held back"
        for each in taught.kinds
    ]
    low, high = taught.right_range
    return [*lines, f"all kinds: {taught.right} of {taught.touches} held-back touches right"
            f" ({100 * low:.0f} to {100 * high:.0f} %); few touches say little"]  # fmt: skip


def _payload(each: PhotoRead) -> dict[str, Any]:
    told: dict[str, Any] = {"file": each.file, "state": each.state.value, "words": each.words,
                            "plot": each.plot}  # fmt: skip
    if each.entry is not None:
        told["entry"] = str(each.entry.id)
    if each.photo is not None:
        facts = each.photo.facts
        told["picture"] = {
            "sha256": each.photo.mark, "taken": facts.taken.isoformat() if facts.taken else None,
            "camera": facts.camera, "tells_place": facts.has_place,
        }  # fmt: skip
    if each.files is not None:
        told["files"] = {"original": str(each.files.original), "to_share": str(each.files.to_share)}
    if each.reading is not None:
        told["reading"] = _reading(each.reading)
    if each.taught is not None:
        told["kinds"] = [
            {"kind": kind.kind, "share": round(kind.share, 4), "low": round(kind.low, 4),
             "high": round(kind.high, 4), "touches": kind.touches, "right_held_back": kind.right}
            for kind in each.taught.kinds
        ]  # fmt: skip
    if each.lack:
        told["kinds_lack"] = each.lack
    return told


def _reading(reading: PlotPicture) -> dict[str, Any]:
    covering = reading.covering
    return {
        "green_cover_share": round(covering.cover, 4),
        "green_cover_by_plain_threshold_share": round(covering.plain_cover, 4),
        "pale_share": round(covering.pale, 4),
        "bare_share": round(covering.bare, 4),
        "dark_green_index": _rounded(covering.colour_index),
        "dark_green_index_spread": _rounded(covering.colour_spread),
        "is_threshold_from_picture": covering.split.is_from_picture,
        "grain_mm": _rounded(reading.grain_mm),
        "plot_sides_mm": [round(side, 1) for side in reading.side_mm] if reading.side_mm else None,
        "mm_per_px": _rounded(reading.mm_per_px),
        "is_colour_put_right": reading.whites is not None,
        "does_cover_stand": reading.cover_stands,
        "does_colour_stand": reading.colour_stands,
        "faults": [
            {"name": each.name, "seen": each.seen, "do": each.do, "spoils_cover": each.spoils_cover}
            for each in reading.faults
        ],
    }


def _rounded(number: float | None) -> float | None:
    return None if number is None else round(number, 4)
