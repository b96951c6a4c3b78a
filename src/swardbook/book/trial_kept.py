"""A trial's plan in the book: kept, read back, shuffled again before sowing, moved by hand."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict, replace
from typing import Any
from zlib import crc32

from swardbook.book.mowing import one_zone
from swardbook.book.opening import Book
from swardbook.book.set_out import TrialAsked, TrialSetOut, describe
from swardbook.book.trial_care import SET_OUT, sown_on, uneven_care
from swardbook.book.worked_out import Answer, keep_answer, last_answer
from swardbook.foundation.dates import say
from swardbook.foundation.errors import BadInputError, RefusedError
from swardbook.husbandry.ground import Ground, Plot
from swardbook.husbandry.happenings import Sow
from swardbook.husbandry.worked_out import WorkedOut
from swardbook.trials.bags import Entry
from swardbook.trials.design import UNSOWN, Design, Drawn, Kind, Slot, read_kind
from swardbook.trials.layout import Laid, LaidPlot, lay, size_of_plot
from swardbook.trials.shuffling import draw, swapped

__all__ = [
    "answer_of", "keep_trial", "kept_layout", "kept_trial", "move_by_hand", "shuffle_trial",
    "sown_on", "trial_zone",
]  # fmt: skip
_OLD = "not in the plan any more"


def keep_trial(book: Book, found: TrialSetOut) -> Answer:
    """Write the plots of a trial in the book, and make the answer under which it is kept.

    Raises
    ------
    RefusedError
        If the zone's trial is sown already.
    """
    _refuse_once_sown(book.ground(), found.zone, "set out another trial")
    assert found.laid is not None
    reason = f"Set out by seed {found.drawn.seed}."
    with book.store.together():
        _save(book, found.zone, found.laid.plots, reason)
    return answer_of(found)


def answer_of(found: TrialSetOut) -> Answer:
    """Make the answer under which a trial's plan is kept."""
    assert found.laid is not None
    design, laid, asked = found.drawn.design, found.laid, found.asked
    numbers = {
        "draws": float(found.drawn.draws),
        "blocks": float(design.blocks), "rows": float(design.rows),
        "plot_width_m": laid.size.width_m, "plot_length_m": laid.size.length_m,
        "passes": float(laid.size.passes), "overlap_m": laid.size.overlap_m,
        "path_m": laid.path_m, "guard_m": laid.guard_m,
        "efficiency": found.drawn.efficiency,
    }  # fmt: skip
    if found.drawn.seed is not None:
        numbers["seed"] = float(found.drawn.seed)
    if found.shown is not None:
        numbers |= {"needed_gap_pair": found.shown.pair, "needed_gap_any": found.shown.any_pair,
                    "sd": found.shown.sd, "gap": found.shown.gap,
                    "chance_pair": found.shown.chance_pair,
                    "chance_any": found.shown.chance_any}  # fmt: skip
    entries = [[e.name, e.lot, e.rate_g_m2] for e in found.entries.values()]
    named = {
        "design": design.kind.value, "entries": json.dumps(entries, ensure_ascii=False),
        "within": json.dumps(design.levels), "once": json.dumps(design.new),
        "order": "shuffled" if found.drawn.is_shuffled else "chosen, not shuffled",
        "trait": found.measure.name, "sd_from": found.measure.sd_from,
    }  # fmt: skip
    given = {name: told for name, held in asdict(asked).items() if (told := _text(held))}
    return Answer(SET_OUT, found.title.split(": ", 1)[1], given, numbers, named)


def kept_trial(book: Book, zone: str = "") -> TrialSetOut:
    """Read back the plan of a zone's trial, as it is in the book now.

    Raises
    ------
    BadInputError
        If the zone has no plots.
    """
    ground = book.ground()
    place = ground.zone(trial_zone(book, zone))
    plots = sorted(
        (plot for plot in ground.plots if plot.zone == place.name and plot.why_left_out != _OLD),
        key=lambda plot: (plot.block, plot.number),
    )
    kept = last_answer(ground, SET_OUT, place.name)
    answer = kept.answer if kept is not None else None
    asked = _asked(answer, [plot.planned for plot in plots])
    drawn = _drawn(plots, answer)
    entries = _entries(ground, place.name, plots, answer)
    laid = _laid(drawn, plots, answer)
    uneven = uneven_care(ground, place.name, [plot.name for plot in plots])
    is_sown = sown_on(ground, place.name) is not None
    return describe(book, place, asked, drawn, laid, entries, uneven=uneven, is_sown=is_sown)


def kept_layout(ground: Ground, zone: str) -> Laid | None:
    """Lay a zone's plots out again; None where it has none, or their size was not kept.

    Parameters
    ----------
    ground : Ground
        The ground.
    zone : str
        The zone by name.
    """
    plots = [each for each in ground.plots if each.zone == zone and each.why_left_out != _OLD]
    kept = last_answer(ground, SET_OUT, zone)
    if not plots or kept is None:
        return None
    plots.sort(key=lambda plot: (plot.block, plot.number))
    return _laid(_drawn(plots, kept.answer), plots, kept.answer)


def shuffle_trial(
    book: Book, zone: str = "", seed: int | None = None, who: str = "", reason: str = ""
) -> TrialSetOut:
    """Shuffle the plots of a trial again, with a new seed, before it is sown.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone; none where only one has a trial.
    seed : int or None
        The new seed; None takes one that follows from the last.
    who, reason : str
        Who asked for it, and why.

    Raises
    ------
    RefusedError
        If the trial is sown: the order is then history.
    BadInputError
        If no plan is kept.
    """
    found, name = _before_sowing(book, zone, "shuffle the plots again")
    old = found.drawn
    number = crc32(f"{name}|{old.seed}|{book.today}".encode()) if seed is None else seed
    return _kept_anew(book, found, draw(old.design, number), who,
                      reason or f"Shuffled again by seed {number}.")  # fmt: skip


def move_by_hand(
    book: Book, zone: str, pairs: Sequence[str], reason: str, who: str = ""
) -> TrialSetOut:
    """Exchange the mixtures of two plots by hand; the plan is marked for good.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone; none where only one has a trial.
    pairs : sequence of str
        ``1-02=1-07``: two plots that exchange what is planned.
    reason : str
        Why; it is kept.
    who : str
        Who did it.

    Raises
    ------
    BadInputError
        If a plot is none of the plan, or no reason is given.
    RefusedError
        If the trial is sown.
    """
    if not reason.strip():
        raise BadInputError("--reason", "none", "why the plot was moved; it is kept with the plan")
    found, _ = _before_sowing(book, zone, "move a plot")
    drawn = found.drawn
    for pair in pairs:
        one, sign, other = pair.partition("=")
        if not sign:
            raise BadInputError("--move", pair, "two plots, such as 1-02=1-07")
        drawn = swapped(drawn, _place(one), _place(other))
    return _kept_anew(book, found, drawn, who, reason)


def _before_sowing(book: Book, zone: str, what: str) -> tuple[TrialSetOut, str]:
    ground = book.ground()
    name = trial_zone(book, zone)
    _refuse_once_sown(ground, name, what)
    if last_answer(ground, SET_OUT, name) is None:
        raise BadInputError(
            f"the trial of {name}", "no plan", "a trial kept with `swardbook set-out --keep`"
        )
    return kept_trial(book, name), name


def _refuse_once_sown(ground: Ground, zone: str, what: str) -> None:
    day = sown_on(ground, zone)
    if day is not None and any(plot.zone == zone for plot in ground.plots):
        raise RefusedError(
            f"{what} in {zone}",
            f"it was sown on {say(day)}; the order of its plots is history now.",
            "If a bag went elsewhere than planned, put the plot right: swardbook plots sown-as.",
        )


def _kept_anew(book: Book, found: TrialSetOut, drawn: Drawn, who: str, reason: str) -> TrialSetOut:
    laid = found.laid
    assert laid is not None
    place = book.ground().zone(found.zone)
    fresh = describe(
        book, place, replace(found.asked, seed=drawn.seed), drawn,
        lay(drawn, laid.size, laid.path_m, laid.guard_m), found.entries,
    )  # fmt: skip
    assert fresh.laid is not None
    with book.store.together():
        _save(book, found.zone, fresh.laid.plots, reason, who)
        keep_answer(book, answer_of(fresh), zone=found.zone, who=who, note=reason)
    return fresh


def _save(book: Book, zone: str, laid: Sequence[LaidPlot], reason: str, who: str = "") -> None:
    """Write the plots; some that are there and not in the plan are left out, not lost."""
    there = {plot.name: plot for plot in book.store.ground().plots if plot.zone == zone}
    for each in laid:
        slot = each.slot
        plot = Plot(each.name, zone, slot.block, slot.number, slot.entry, row=each.row,
                    column=each.column, treatment=slot.treatment)  # fmt: skip
        if there.pop(each.name, None) != plot:
            book.store.save_plot(plot, on=book.today, who=who, reason=reason)
    for plot in there.values():
        if not plot.why_left_out:
            book.store.save_plot(
                replace(plot, left_out_from=book.today, why_left_out=_OLD),
                on=book.today, who=who, reason=reason,
            )  # fmt: skip


def trial_zone(book: Book, zone: str = "") -> str:
    """Name the zone of a trial; where none is named, the only one with plots.

    Raises
    ------
    BadInputError
        If the zone has no plots, or none is named and several have.
    UnknownNameError
        If there is no such zone.
    """
    ground = book.ground()
    if zone:
        name = one_zone(book, zone)
        if any(plot.zone == name for plot in ground.plots):
            return name
        raise BadInputError(
            f"the trial of {name}", "no plots", "a trial set out with `swardbook set-out --keep`"
        )
    kept = list(dict.fromkeys(plot.zone for plot in ground.plots))
    trials = [name for name in kept if ground.zone(name).use.value == "trial"] or kept
    if len(trials) == 1:
        return trials[0]
    if not kept:
        raise BadInputError(
            "the trial", "none", "the zone of a trial that was set out",
            "Set one out: `swardbook set-out 'Mix A=30' 'Mix B=25' --zone NAME --plot 1.5x2"
            " --keep`.",
        )  # fmt: skip
    raise BadInputError("--zone", "none", ", ".join(trials))


def _asked(answer: WorkedOut | None, mixtures: list[str]) -> TrialAsked:
    if answer is None:
        return TrialAsked(tuple(dict.fromkeys(mixtures)))
    given: dict[str, Any] = dict(answer.given)
    for name in ("mixtures", "within", "once"):
        given[name] = tuple(json.loads(given[name])) if name in given else ()
    for name in ("control", "is_along"):
        given[name] = given.get(name) == "yes"
    for name, read in (("repeats", int), ("rows", int), ("passes", int), ("seed", int),
                       ("gap", float), ("sd", float), ("sd_whole", float),
                       ("level", float)):  # fmt: skip
        if name in given:
            given[name] = read(given[name])
    return TrialAsked(**given)


def _text(held: Any) -> str:
    if isinstance(held, tuple):
        return json.dumps(list(held), ensure_ascii=False) if held else ""
    if isinstance(held, bool):
        return "yes" if held else "no"
    return "" if held is None else str(held)


def _drawn(plots: Sequence[Plot], answer: WorkedOut | None) -> Drawn:
    first = {plot.block: (min(p.row for p in plots if p.block == plot.block),
                          min(p.column for p in plots if p.block == plot.block))
             for plot in plots}  # fmt: skip
    slots = tuple(
        Slot(plot.block, plot.number, plot.row - first[plot.block][0] + 1,
             plot.column - first[plot.block][1] + 1 if plot.column else plot.number,
             plot.planned, plot.treatment)
        for plot in plots
    )  # fmt: skip
    names = tuple(dict.fromkeys(slot.entry for slot in slots))
    levels = tuple(sorted({slot.treatment for slot in slots if slot.treatment}))
    blocks = len({slot.block for slot in slots})
    if answer is None:
        kind = Kind.SPLIT if levels else Kind.BLOCKS if blocks > 1 else Kind.SINGLE
        return Drawn(Design(kind, names, blocks, levels), slots, None)
    once, within = (tuple(json.loads(answer.named[each])) for each in ("once", "within"))
    order = [name for name, _, _ in json.loads(answer.named["entries"])]
    checks = tuple(name for name in order if name not in once)
    design = Design(
        read_kind(answer.named["design"]), checks, round(answer.found["blocks"]), within or levels,
        once, round(answer.found["rows"]),
    )  # fmt: skip
    return Drawn(
        design, slots, round(answer.found["seed"]) if "seed" in answer.found else None,
        round(answer.found["draws"]),
        answer.named.get("order") == "shuffled", answer.found["efficiency"],
    )  # fmt: skip


def _laid(drawn: Drawn, plots: Sequence[Plot], answer: WorkedOut | None) -> Laid | None:
    if answer is None or not all(plot.row for plot in plots):
        return None
    sides = answer.found
    passes, width = round(sides["passes"]), sides["plot_width_m"]
    mower = (width + (passes - 1) * sides["overlap_m"]) / passes if passes else None
    size = size_of_plot(mower, width, sides["plot_length_m"], passes or None)
    return lay(drawn, size, sides["path_m"], sides["guard_m"])


def _entries(
    ground: Ground, zone: str, plots: Sequence[Plot], answer: WorkedOut | None
) -> dict[str, Entry]:
    labels = {lot.code: lot for lot in ground.lots}
    if answer is not None:
        return {
            name: Entry(name, lot, rate, labels[lot].parts if lot in labels else ())
            for name, lot, rate in json.loads(answer.named["entries"])
        }
    sown = {
        labels[entry.what.lot].mixture: entry.what for entry in ground.entries(zone, Sow.kind)
        if isinstance(entry.what, Sow) and entry.what.lot in labels and entry.zone == zone
    }  # fmt: skip
    found = {}
    for plot in plots:
        what = sown.get(plot.planned)
        if what is not None:
            found[plot.planned] = Entry(
                plot.planned, what.lot, what.rate_g_m2 or 0.0, labels[what.lot].parts
            )
        else:
            found[plot.planned] = Entry(UNSOWN if plot.planned == UNSOWN else plot.planned)
    return found


def _place(text: str) -> tuple[int, int]:
    block, dash, number = text.strip().partition("-")
    if not dash or not block.isdigit() or not number.isdigit():
        raise BadInputError("the plot", text, "block and number, such as 1-02")
    return int(block), int(number)
