"""Layers of the plan: how far each zone is, what was counted, and what was sown where."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from swardbook.book.lots_there import last_whole, sowings_in
from swardbook.book.pictures import named
from swardbook.book.plan_frames import Frame
from swardbook.figures.ground_plan import Mark
from swardbook.foundation.dates import say
from swardbook.handbook.species import ANNUAL_MEADOW_GRASS
from swardbook.husbandry.areas import Point
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import Changed, Count, Note, Photograph, Strip
from swardbook.husbandry.spots import Spot
from swardbook.husbandry.stage import Stage, stage
from swardbook.husbandry.worked_out import WorkedOut
from swardbook.observations.counts import Method, PlaceCount, by_key

STAGE, WEED, LOT = "stage", "weed", "lot"
_STAGES: Mapping[Stage, tuple[str, str]] = {
    Stage.SURVEYED: ("flat", "surveyed, nothing sown yet"),
    Stage.CLEARED: ("dots", "cleared"),
    Stage.SOWN: ("ticks", "sown, nothing seen yet"),
    Stage.SHOWING: ("upright", "showing"),
    Stage.KNITTING: ("lines", "knitting: cut, still closing"),
    Stage.SETTLED: ("plain", "settled"),
    Stage.SLIPPING: ("cross", "slipping: more bare than is fine"),
}
_WITHIN, _ABOVE, _NOT_COUNTED, _COUNTED = "plain", "lines", "dots", "flat"
_LOTS = (
    "lines", "back", "grid", "upright", "flat", "ticks", "cross", "zigzag", "rings", "brick",
    "dots",
)  # fmt: skip
_SIZES = {Method.PLANTS: (0.5, 2.0, 8.0), Method.POINTS: (0.05, 0.15, 0.4)}
"""From where a mark is drawn larger: plants a square metre, or share of cover."""
_QUIET = (Changed, Count, Note, Photograph, WorkedOut)


@dataclass(frozen=True, slots=True)
class Told:
    """What a layer tells of each zone and peg.

    Parameters
    ----------
    title, key : str
        What it shows, and what has to be known to read it.
    patterns : mapping of str to (str, str)
        Pattern of each zone, and what is to be said of it.
    legend, peg_legend : tuple of (str, str)
        What patterns and the marks of pegs mean.
    heads : tuple of str
        Heads of the table; the zone first.
    rows : tuple of tuple of str
        Its rows.
    pegs : mapping of str to (str, str, int, str)
        Shape, label, size and words of each peg, by zone and name; a plain peg where absent.
    lots : mapping of str to str
        Pattern of each mixture.
    """

    title: str
    key: str
    patterns: Mapping[str, tuple[str, str]]
    legend: tuple[tuple[str, str], ...]
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    pegs: Mapping[tuple[str, str], tuple[str, str, int, str]] = field(default_factory=dict)
    peg_legend: tuple[tuple[str, str], ...] = (("peg", "peg"),)
    lots: Mapping[str, str] = field(default_factory=dict)

    def pattern(self, zone: str) -> str:
        """Give the pattern of a zone."""
        return self.patterns[zone][0]

    def says(self, zone: str) -> str:
        """Give what is to be said of a zone."""
        return self.patterns[zone][1]

    def mark(self, name: str, zone: str, at: Point, sketch: str) -> Mark:
        """Give the mark of a peg."""
        shape, label, size, words = self.pegs.get((zone, name), ("peg", "", 1, ""))
        says = "; ".join(part for part in (f"peg in {zone}", words, sketch) if part)
        return Mark("peg", name, at, shape, says, zone, label, size)


def by_stage(ground: Ground, day: date, kind: str) -> Told:
    """Tell how far each zone is, and what was last done there.

    Parameters
    ----------
    ground : Ground
        The ground on that day.
    day : date
        The day.
    kind : str
        Not used.
    """
    del kind
    patterns, rows = {}, []
    for zone in ground.zones:
        pattern, words = _STAGES[stage(ground, zone, day)]
        last = _last_done(ground, zone)
        patterns[zone.name] = (pattern, f"{words}; last: {last}")
        rows.append((zone.name, zone.use.value, f"{zone.area_m2:,.1f}", words, last))
    heads = ("zone", "use", "m²", "stage", "last done")
    return Told("by stage", "", patterns, tuple(_STAGES.values()), heads, tuple(rows))


def by_weed(ground: Ground, day: date, kind: str) -> Told:
    """Tell what the last count of one weed found at each peg, and beside what is fine there.

    Parameters
    ----------
    ground : Ground
        The ground on that day.
    day : date
        The day.
    kind : str
        The weed, by key.
    """
    del day
    patterns, rows = {}, []
    pegs: dict[tuple[str, str], tuple[str, str, int, str]] = {}
    is_meadow_grass = kind == ANNUAL_MEADOW_GRASS
    for zone in ground.zones:
        last = _last_counts(ground, zone, kind)
        for place, (on, count) in last.items():
            pegs[zone.name, place] = (*_counted(count, kind), f"counted {say(on)}")
        state, words = _beside(zone, [each for _, each in last.values()], kind, is_meadow_grass)
        when = say(max(on for on, _ in last.values())) if last else "never counted"
        patterns[zone.name] = (state, f"{words}; {when}")
        rows.append((zone.name, words, f"{len(last)}", when))
    legend = (
        (_WITHIN, "at or below what is fine there"), (_ABOVE, "above what is fine there"),
        (_COUNTED, "counted, nothing to hold it against"), (_NOT_COUNTED, "not counted"),
    )  # fmt: skip
    heads = ("zone", "found", "places", "last counted")
    title = f"{named(kind)} as last counted"
    key = "At pegs: % is of points, a bare number plants a square metre; larger rings are more."
    shown = (("circle", "peg, as last counted"), ("peg", "peg, not counted for this"))
    return Told(title, key, patterns, legend, heads, tuple(rows), pegs, shown)


def by_lot(ground: Ground, day: date, kind: str) -> Told:
    """Tell which lot was last sown where.

    Parameters
    ----------
    ground : Ground
        The ground on that day.
    day : date
        The day.
    kind : str
        Not used.
    """
    del kind, day
    codes = {lot.code: lot.mixture for lot in ground.lots}
    order: dict[str, str] = {}
    patterns, rows = {}, []
    mixtures = set(codes.values())
    trials = {plot.zone for plot in ground.plots if plot.planned in mixtures}
    for zone in ground.zones:
        put = sowings_in(ground, zone.name)
        last = None if zone.name in trials else last_whole(put)
        parts = sum(each.part for each in put)
        if zone.name in trials:
            words = "plot by plot" if put else "plots, not sown yet"
        elif last is None:
            words = "only parts sown" if put else "nothing sown on record"
        else:
            words = f"{last.lot or 'a lot not said'}, {say(last.day)}"
        some = f"; {parts} entries of parts or refills" if parts > 1 else "; 1 entry of a part"
        told = words + (some if parts and zone.name not in trials else "")
        code = last.lot if last is not None else ""
        for each in [code] if code else [one.lot for one in put if zone.name in trials]:
            order.setdefault(each, _LOTS[len(order) % len(_LOTS)])
        patterns[zone.name] = (order.get(code, "plain") if code else "plain", told)
        rows.append((zone.name, code, codes.get(code, ""), told))
    legend = tuple((pattern, f"{code} {codes.get(code, '')}".strip())
                   for code, pattern in order.items())  # fmt: skip
    lots = {
        codes[each.lot]: order[each.lot]
        for zone in trials for each in sowings_in(ground, zone) if each.lot in codes
    }  # fmt: skip
    heads = ("zone", "last lot", "mixture", "what was sown")
    return Told("last sown lots", "Plain: no lot over the whole of it.", patterns, legend, heads,
                tuple(rows), lots=lots)  # fmt: skip


def spot_marks(
    found: Sequence[Spot], shown: Mapping[str, Frame], shapes: Mapping[str, str]
) -> list[Mark]:  # fmt: skip
    """Give the marks of spots, each by its state.

    Parameters
    ----------
    found : sequence of Spot
        The spots.
    shown : mapping of str to Frame
        Where zones lie.
    shapes : mapping of str to str
        Shape of each state.
    """
    marks = []
    for spot in found:
        frame = shown.get(spot.zone)
        if frame is None and (spot.zone or len(shown) == 1):
            continue
        at = spot.at.point if frame is None else frame.on_site(spot.at.point)
        last = spot.steps[-1]
        says = f"{spot.state}; {last.says}, {say(last.day)}"
        marks.append(Mark("spot", spot.name, at, shapes[spot.state], says, spot.zone))
    return marks


def _last_done(ground: Ground, zone: Zone) -> str:
    done = [
        each for each in ground.entries(zone.name)
        if each.zone and not isinstance(each.what, _QUIET)
    ]  # fmt: skip
    return f"{done[-1].what.kind}, {say(done[-1].day)}" if done else "nothing on record"


def _last_counts(ground: Ground, zone: Zone, kind: str) -> dict[str, tuple[date, PlaceCount]]:
    """Give the last count of a kind at each peg or square; none from before turf was stripped."""
    named_here = [(peg.name, peg.zone) for peg in ground.pegs]
    named_here += [(square.name, square.zone) for square in ground.squares]
    if all(of != zone.name for _, of in named_here):
        named_here = [(plot.name, plot.zone) for plot in ground.plots]
    own = {name.casefold(): name for name, of in named_here if of == zone.name}
    since = max((each.day for each in ground.entries(zone.name, Strip.kind)), default=date.min)
    found: dict[str, tuple[date, PlaceCount]] = {}
    for entry in ground.entries(zone.name, Count.kind):
        assert isinstance(entry.what, Count)
        if entry.day < since:
            continue
        for place in by_key(entry.what.places):
            name = own.get(place.place.casefold())
            if name is not None and kind in place.found:
                found[name] = (entry.day, place)
    return found


def _counted(count: PlaceCount, kind: str) -> tuple[str, str, int]:
    each = count.found[kind] / count.looked
    if count.method is Method.PLANTS:
        size = 1 + sum(each >= edge for edge in _SIZES[Method.PLANTS])
        return "circle", f"{each:.0f}" if each >= 9.5 or each == 0 else f"{each:.1f}", size
    size = 1 + sum(each >= edge for edge in _SIZES[Method.POINTS])
    return "circle", f"{100 * each:.0f}%", size


def _beside(
    zone: Zone, counts: Sequence[PlaceCount], kind: str, is_meadow_grass: bool
) -> tuple[str, str]:  # fmt: skip
    if not counts:
        return _NOT_COUNTED, f"{named(kind)} not counted"
    plants = [each for each in counts if each.method is Method.PLANTS]
    shares = [each for each in counts if each.method is not Method.PLANTS]
    if len(plants) > len(shares):
        each = sum(c.found[kind] for c in plants) / sum(c.looked for c in plants)
        return _COUNTED, f"{each:.1f} plants/m² in {len(plants)} frames"
    share = sum(c.found[kind] for c in shares) / sum(c.looked for c in shares)
    fine = zone.tolerance.annual_meadow_grass
    if not is_meadow_grass:
        return _COUNTED, f"{100 * share:.0f} % of points"
    word = "at or below" if share <= fine else "above"
    state = _WITHIN if share <= fine else _ABOVE
    return state, f"{100 * share:.0f} % of points, {word} the {100 * fine:.0f} % that is fine there"
