"""One occasion of counting, and the figure of each place on it."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from swardbook.observations.counts import Method, PlaceCount


@dataclass(frozen=True, slots=True)
class Occasion:
    """The places counted on one day.

    Parameters
    ----------
    day : date
        The day of the count.
    places : tuple of PlaceCount
        What was counted; a place can stand several times, by placement and by counter.
    label : str
        What the occasion is called, if anything.
    """

    day: date
    places: tuple[PlaceCount, ...]
    label: str = ""

    @property
    def counters(self) -> tuple[str, ...]:
        """Who counted, in alphabetical order; unnamed ones are left out."""
        return tuple(sorted({place.counter for place in self.places if place.counter}))

    def only(self, names: Iterable[str]) -> Occasion:
        """Keep the places of given names."""
        wanted = {name.casefold() for name in names}
        kept = tuple(place for place in self.places if place.place.casefold() in wanted)
        return Occasion(self.day, kept, self.label)

    def without(self, names: Iterable[str]) -> Occasion:
        """Leave out the places of given names."""
        unwanted = {name.casefold() for name in names}
        kept = tuple(place for place in self.places if place.place.casefold() not in unwanted)
        return Occasion(self.day, kept, self.label)


@dataclass(frozen=True, slots=True)
class PlaceFigure:
    """One kind at one place on one occasion, all placements of the frame together.

    Parameters
    ----------
    place : str
        Name of the place.
    found : float
        Points hit, plants, or percent by eye. [points, plants or %]
    looked : float
        Points looked at, or area [m²], or 100 by eye.
    counter : str
        Who counted it.
    method : Method
        How it was counted.
    """

    place: str
    found: float
    looked: float
    counter: str
    method: Method

    @property
    def value(self) -> float:
        """Cover [%] for points and by eye, or plants [plants m⁻²]."""
        share = self.found / self.looked
        return share if self.method is Method.PLANTS else 100 * share


def place_figures(
    places: Sequence[PlaceCount], kind: str, method: Method, counter: str = ""
) -> Mapping[str, PlaceFigure]:
    """Bring the placements of each place together.

    Parameters
    ----------
    places : sequence of PlaceCount
        What was counted; a place where the kind was not looked for is left out, never 0.
    kind : str
        Species key, or ``bare``, ``sown`` ...
    method : Method
        Points, plants or by eye; never mixed.
    counter : str
        Take this counter's; empty takes, at each place, whoever counted most of the places.

    Returns
    -------
    mapping of str to PlaceFigure
        By name of the place, in the order of the names.
    """
    sums: dict[str, dict[str, list[float]]] = defaultdict(dict)
    for each in places:
        if each.method is method and kind in each.found:
            tally = sums[each.place].setdefault(each.counter, [0.0, 0.0])
            tally[0] += each.found[kind]
            tally[1] += each.looked
    often = Counter(name for by_counter in sums.values() for name in by_counter)
    figures = {}
    for place in sorted(sums):
        by_counter = sums[place]
        who = counter or max(sorted(by_counter), key=lambda name: often[name])
        if who in by_counter:
            found, looked = by_counter[who]
            figures[place] = PlaceFigure(place, found, looked, who, method)
    return figures


def methods_used(places: Sequence[PlaceCount], kind: str) -> tuple[Method, ...]:
    """Give the methods by which a kind was counted, the one with most places first."""
    used = Counter(place.method for place in places if kind in place.found)
    return tuple(sorted(used, key=lambda method: (-used[method], method.value)))


def not_counted(places: Sequence[PlaceCount], kind: str) -> tuple[str, ...]:
    """Give the places that were visited but where the kind was not counted."""
    counted = {place.place for place in places if kind in place.found}
    return tuple(sorted({place.place for place in places} - counted))
