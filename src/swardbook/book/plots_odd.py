"""What looks odd in readings of plots: asked about, and kept all the same."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from statistics import median

from swardbook.handbook.parameters import value
from swardbook.husbandry.doubt import Doubt
from swardbook.husbandry.ground import Plot
from swardbook.husbandry.plot_records import PlotReading


def odd_readings(found: Sequence[PlotReading], plots: Mapping[str, Plot]) -> list[Doubt]:
    """Ask about readings that are all alike, far from the others, or by two people in a block.

    Parameters
    ----------
    found : sequence of PlotReading
        What was read on one occasion.
    plots : mapping of str to Plot
        The trial's plots by name.
    """
    told = list[Doubt]()
    values = [each.value for each in found if each.value is not None]
    alike = max((values.count(each) for each in set(values)), default=0)
    if len(values) >= value("alike_places") and alike == len(values):
        told.append(Doubt(f"{alike} plots exactly alike; keep and mark for another look?"))
    return told + _far_off(found) + _two_in_a_block(found, plots)


def _far_off(found: Sequence[PlotReading]) -> list[Doubt]:
    """Ask about a reading that is many times the others of its count, or a small part of them."""
    told = []
    for each in found:
        others = [e.value for e in found if e.value and e.plot != each.plot]
        if not each.value or len(others) < value("trial.odd_others"):
            continue
        middle, times = median(others), value("trial.odd_times")
        if not middle / times < each.value < middle * times:
            told.append(
                Doubt(f"{each.plot}: {each.value:g}, where others are about {middle:.3g}. Typed"
                      " right?")
            )  # fmt: skip
    return told


def _two_in_a_block(found: Sequence[PlotReading], plots: Mapping[str, Plot]) -> list[Doubt]:
    """Two counters within one block spoil it, unless enough plots were read by both."""
    by: dict[int, set[str]] = {}
    both: dict[str, set[str]] = {}
    for each in found:
        if each.counter and each.plot in plots:
            by.setdefault(plots[each.plot].block, set()).add(each.counter)
            both.setdefault(each.plot, set()).add(each.counter)
    wanted = int(value("two_counters_places"))
    if sum(len(names) > 1 for names in both.values()) >= wanted:
        return []
    return [
        Doubt(f"Two counters inside block {block}. Let both read {wanted} plots, so that the"
              " difference shows?")
        for block, names in sorted(by.items()) if len(names) > 1
    ]  # fmt: skip
