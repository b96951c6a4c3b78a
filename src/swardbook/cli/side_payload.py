"""Mixtures side by side, as one object."""

from __future__ import annotations

from math import exp
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from swardbook.book.side_by_side import SideBySide
    from swardbook.book.trial_choice import TrialChoice
    from swardbook.trials.pair_verdicts import PairSaid
    from swardbook.trials.said import DaySaid


def side_payload(found: SideBySide) -> dict[str, Any]:
    """Put all that is known in one object."""
    told: dict[str, Any] = {
        "zone": found.zone, "trait": found.trait.kind or found.trait.trait.key,
        "unit": found.trait.days[-1].unit, "less_is_better": found.asked.lower_first,
        "smallest": round(found.asked.smallest, 4), "plots_counted": str(found.asked.how),
        "days_read": [each.day.isoformat() for each in found.trait.days],
        "judged_for": found.for_zone,
        "crossings": [
            {"ahead_first": each.early, "ahead_later": each.late, "first": each.first.isoformat(),
             "last": each.last.isoformat(), "gap_first": round(each.before, 2),
             "gap_last": round(each.after, 2)}
            for each in found.crossings
        ],
        "counters": [
            {"day": day.isoformat(), "first": each.first, "second": each.second,
             "difference": round(each.difference, 2),
             "interval_95": [round(end, 2) for end in each.interval],
             "shared_plots": each.n, "may_correct": each.may_correct}
            for day, each in found.counters
        ],
        "beside": _beside(found),
        "visitors": [
            {"day": each.day.isoformat(), "question": each.question, "people": each.people,
             "chosen": dict(each.chosen), "most_chosen": list(each.favourites)}
            for each in found.likings
        ],
    }  # fmt: skip
    if found.said is None:
        return {**told, "verdict": "not enough data", **_described(found)}
    return {**told, **_said(found, found.said)}


def _said(found: SideBySide, said: DaySaid) -> dict[str, Any]:
    shown = exp if said.read.are_plants else float
    chances = {each.name: each for each in said.chances}
    return {
        "day": said.read.day.isoformat(), "occasion": said.read.label,
        "months_from_sowing": None if said.months is None else round(said.months, 1),
        "so_far": said.is_so_far, "refusals": list(said.refusals),
        "counters_by_block": {str(block): who for block, who in said.read.counters.items()},
        "mixtures": [
            {
                "name": said.means.names[at], "mean": round(shown(float(said.means.values[at])), 3),
                "interval_95": [round(shown(end), 3) for end in said.means.own_interval(at)],
                "mark": "" if said.refusals else said.marks[at],
                "plots": int(said.means.plots[at]),
                "chance_best": _of(chances, said.means.names[at], "best"),
                "chance_among_best": _of(chances, said.means.names[at], "among_best"),
            }
            for at in said.means.ordered(found.asked.lower_first)
        ],
        "not_told_apart_from_best": list(said.level),
        "pairs": [_pair(each, said.read.are_plants) for each in said.pairs],
        "planned_pairs": [
            {"first": each.first, "second": each.second, "difference": round(each.value, 4),
             "interval_95": [round(end, 4) for end in each.interval()], "p": round(each.p, 6)}
            for each in found.planned
        ],
        "analysis": _analysis(said),
        "against_control": None if said.against is None else {
            "control": said.against.control,
            "p": {n: round(float(p), 6)
                  for n, p in zip(said.against.names, said.against.p, strict=True)},
        },
        **_plots(found, said),
        "over_time": _in_time(found),
        "with_neighbours": _neighbours(found),
    }  # fmt: skip


def _plots(found: SideBySide, said: DaySaid) -> dict[str, Any]:
    shown = exp if said.read.are_plants else float
    return {
        "left_out": [{"plot": each.plot, "why": each.why} for each in said.chosen.left_out],
        "not_counted": list(said.chosen.not_read),
        "other_plots": {
            str(how): {n: round(shown(float(v)), 3)
                       for n, v in zip(means.names, means.values, strict=True)}
            for how, means in found.variants.items()
        },
        "verdicts_that_change": [
            {"plots": str(each.how), "first": each.one.first, "second": each.one.second,
             "verdict": str(each.one.verdict), "then": str(each.other.verdict)}
            for each in found.changed
        ],
    }  # fmt: skip


def _of(chances: dict[str, Any], name: str, what: str) -> float | None:
    return round(getattr(chances[name], what), 3) if name in chances else None


def _pair(each: PairSaid, is_log: bool) -> dict[str, Any]:
    return {
        "first": each.first, "second": each.second,
        "difference_log" if is_log else "difference": round(each.difference, 4),
        "interval_95": [round(end, 4) for end in each.spread.at95],
        "needed": round(each.needed, 4), "needed_if_planned": round(each.needed_planned, 4),
        "verdict": str(each.verdict), "only_just": each.is_only_just,
        "verdict_if_planned": str(each.planned_verdict),
    }  # fmt: skip


def _analysis(said: DaySaid) -> dict[str, Any]:
    told: dict[str, Any] = {}
    if said.shuffled is not None:
        told |= {"shuffle_p": round(said.shuffled.p, 5), "shuffles": said.shuffled.shuffles}
    if said.second is not None:
        told["second_opinion"] = {
            "model": said.second.model, "shuffle_p": round(said.second.shuffled.p, 5)
        }  # fmt: skip
    if said.analysis is None:
        return told
    made = said.analysis
    return {
        **told, "design": made.design, "error_df": made.error.df,
        "error_ms": round(made.error.ms, 6), "spread": round(made.spread, 4),
        "lines": [
            {"term": each.line.term, "df": each.line.df, "ss": round(each.line.ss, 6),
             "f": round(each.f, 6), "p": round(each.p, 8)}
            for each in made.lines
        ],
        "block_means": {name: round(mean, 3) for name, mean in made.block_means},
    }  # fmt: skip


def _in_time(found: SideBySide) -> dict[str, Any] | None:
    made = found.in_time
    if made is None:
        return None
    return {"epsilon": round(made.epsilon, 4), "mixtures_p": round(made.entries.p, 8),
            "dates_p": round(made.dates.p, 8),
            "mixtures_by_dates_p": round(made.crossing.p, 8)}  # fmt: skip


def _neighbours(found: SideBySide) -> dict[str, Any] | None:
    made = found.neighbours
    if made is None:
        return None
    means = zip(made.means.names, made.means.values, strict=True)
    return {"fading": made.fading, "nugget": round(made.nugget, 3),
            "means": {name: round(float(each), 2) for name, each in means}}  # fmt: skip


def _beside(found: SideBySide) -> list[dict[str, Any]]:
    return [
        {
            "mixture": each.name, "lot": each.lot, "rate_g_m2": each.rate_g_m2,
            "cost_per_m2": None if each.cost_m2 is None else str(each.cost_m2),
            "cut_at_mm": each.comfort.height_mm,
            "below_comfort": [
                {"species": part.species, "share": round(part.share_by_weight, 3),
                 "below_mm": part.below_mm}
                for part in each.comfort.below
            ],
            "will_not_last": each.comfort.will_not_last,
            "cannot_be_undone": list(each.cannot_be_undone),
            "slow_by_nature": each.is_slow,
        }
        for each in found.beside.values()
    ]  # fmt: skip


def _described(found: SideBySide) -> dict[str, Any]:
    made = found.described
    assert made is not None
    return {
        "plots": [
            {"name": each.name, "mean": round(each.value, 3),
             "measuring_error": None if each.measuring_error is None
             else round(each.measuring_error, 3), "looks": each.looks}
            for each in made.plots
        ],
        "borrowed_spread": made.borrowed.value, "borrowed_grade": str(made.borrowed.grade),
    }  # fmt: skip


def choice_payload(found: TrialChoice) -> dict[str, Any]:
    """Put a choice in one object."""
    return {
        "day": found.day.isoformat(), "plots": found.plots,
        "wishes": [
            {"trait": each.trait, "weight": each.weight, "worst": round(each.worst, 3),
             "best": round(each.best, 3)}
            for each in found.wishes
        ],
        "worth": {n: round(w, 4)
                  for n, w in zip(found.choice.names, found.choice.worth, strict=True)},
        "comes_first": [
            {"weights": each.told,
             "share": {n: round(s, 4) for n, s in zip(found.choice.names, each.first, strict=True)}}
            for each in found.choice.under
        ],
        "ever_first": list(found.choice.ever_first), "stable": found.choice.is_stable,
    }  # fmt: skip
