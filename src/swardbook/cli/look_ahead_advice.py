"""What would change the advice, and what to measure first: as an object and in words."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from swardbook.cli.wrapping import heading, under

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from swardbook.book.advice import Change, Hinges, Weighed
    from swardbook.book.look_ahead import ZoneLookAhead
    from swardbook.model.knowing import Advice, Worth

NOTHING = "would not change the choice"
_FURTHER_DOWN = 2


def advice_payload(found: ZoneLookAhead) -> dict[str, Any]:
    """Lay out what the advice hangs on."""
    hinges, by_plants = found.hinges, found.look.question.by_plants
    return {
        "would_change_the_advice": [_flip(each, by_plants) for each in hinges.flips],
        "would_change_the_order_further_down": [_turn(each) for each in hinges.further_down],
        "leans_on_judged_numbers": [_leaning(each) for each in hinges.judged],
        "worth_of_measuring": _worths(found),
    }


def _worths(found: ZoneLookAhead) -> dict[str, Any] | None:
    hinges, question = found.hinges, found.look.question
    advice, by_plants = hinges.advice, question.by_plants
    if advice is None:
        return None
    turning = advice.turning
    return {
        "choice": advice.choice,
        "leaves_with_hours_priced": _amount(advice.left, by_plants),
        "price_of_an_hour_a_week": _amount(question.hour_price, by_plants),
        "price_of_an_hour_a_week_that_changes_it": (
            {**_amount(turning.price, by_plants), "chosen_then": turning.other} if turning else None
        ),
        "knowing_everything": _worth(advice.everything, by_plants),
        "measure_first": hinges.first.measurement.key if hinges.first else None,
        "cannot_be_told_from_it": [each.measurement.key for each in hinges.tied],
        "measurements": [_weighed(each, by_plants) for each in hinges.weighed],
    }


def _weighed(each: Weighed, by_plants: bool) -> dict[str, Any]:
    does, measured = each.measurement, each.measured
    return {
        "key": does.key,
        "does": does.does,
        "settles": does.settles,
        "when": does.when,
        "hours": measured.hours,
        "known_after_weeks": measured.weeks,
        "worth": _worth(measured.worth, by_plants),
        "worth_less_its_hours": _amount(measured.net, by_plants),
    }


def _worth(worth: Worth, by_plants: bool) -> dict[str, Any]:
    return {
        "spares": _amount(worth.spared if worth.shows else 0.0, by_plants),
        "estimate": _amount(worth.spared, by_plants),
        "standard_error": _amount(worth.error, by_plants),
        "changes_the_choice_share_of_draws": _short(worth.changes),
        "says": "may change the choice" if worth.shows else NOTHING,
    }


def _amount(number: float, by_plants: bool) -> dict[str, float | None]:
    return {
        "plants_per_m2": _short(number) if by_plants else None,
        "cover_points": None if by_plants else _short(number),
    }


def _flip(change: Change, by_plants: bool) -> dict[str, Any]:
    assert change.flip is not None
    return {
        **_named(change),
        "chosen_instead": change.flip.other,
        "where_it_is": "high" if change.flip.where_high else "low",
        "worth_of_knowing": _worth(change.flip.worth, by_plants),
        "told_by": [each.key for each in change.told_by],
    }


def _turn(change: Change) -> dict[str, Any]:
    assert change.turn is not None
    return {
        **_leaning(change),
        "low_third_favours": change.turn.low,
        "high_third_favours": change.turn.high,
    }


def _leaning(change: Change) -> dict[str, Any]:
    return {**_named(change), "rank_correlation": _short(change.correlation)}


def _named(change: Change) -> dict[str, Any]:
    return {
        "number": change.key,
        "name": change.name,
        "grade": change.grade.value if change.grade else None,
    }


def _short(number: float) -> float:
    return float(f"{number:.4g}") + 0.0


def advice_lines(found: ZoneLookAhead) -> list[str]:
    """Say in words what would change the advice, and what to measure first."""
    hinges = found.hinges
    if len(found.look.prospects) < 2:
        return []
    lines = heading("What would change the advice")
    if hinges.advice is None:
        few = f"{found.look.question.draws} draws are too few to say what a measurement is worth."
        return [*lines, *under("", few, 0), ""]
    names = {each.programme.key: _inside(each.programme.name) for each in found.look.prospects}
    unit = "plants a m²" if found.look.question.by_plants else "% of the ground"
    lines += under("", _choice(found, hinges.advice, names, unit), 0)
    for flip in hinges.flips:
        lines += under("-", _flip_words(flip, names, unit), 0)
    measure = _measure(hinges, unit)
    lines += under("", measure, 0) if measure else []
    for turn in hinges.further_down[:_FURTHER_DOWN]:
        lines += under("-", _turn_words(turn, names), 0)
    return [*lines, ""]


def _choice(found: ZoneLookAhead, advice: Advice, names: Mapping[str, str], unit: str) -> str:
    price, everything = found.look.question.hour_price, advice.everything
    chosen = names[advice.choice]
    told = f"On average {chosen} leaves least."
    if price:
        told = f"With an hour a week at {price:g} {unit}, {chosen} comes out best on average."
    if not everything.spared:
        told += " It does so in every draw, so nothing that could be known would change the choice."
    else:
        told += (
            f" Even knowing everything, the weather to come too, would change that in"
            f" {_cases(everything.changes)} cases and spare {_spared(everything.spared, unit)}."
        )
    if advice.turning:
        told += (
            f" Were an hour a week less worth more than {_spared(advice.turning.price, unit)} to"
            f" you, it would be {names[advice.turning.other]} (--hour-price)."
        )
    return told


def _flip_words(change: Change, names: Mapping[str, str], unit: str) -> str:
    flip = change.flip
    assert flip is not None
    return (
        f"{_begun(change.name)}: if {'high' if flip.where_high else 'low'},"
        f" {names[flip.other]}, in {_cases(flip.worth.changes)} cases. Knowing it would spare"
        f" {_spared(flip.worth.spared, unit)} on average."
    )


def _measure(hinges: Hinges, unit: str) -> str:
    advice, first = hinges.advice, hinges.first
    if advice is None or not advice.everything.spared:
        return ""
    if first is None:
        none = "" if hinges.flips else "No single unknown flips the choice beyond chance. "
        return f"{none}None of {len(hinges.weighed)} measurements would change the choice."
    worth = first.measured.worth
    told = (
        f"Measure first: {_inside(first.measurement.does)} ({_takes(first)}). It would change the"
        f" choice in {_cases(worth.changes)} cases and spare {_spared(worth.spared, unit)} on"
        f" average, give or take {2 * worth.error:.1g}."
    )
    if hinges.tied:
        told += f" Not to be told from it: {_listed(hinges.tied)}."
    others = [each for each in hinges.weighed if each.measured.worth.shows]
    longer = [each for each in others if each is not first and each not in hinges.tied]
    if longer:
        told += f" Also of use: {_listed(longer)}."
    silent = len(hinges.weighed) - len(others)
    return told + (f" The other {silent} {NOTHING}." if silent else "")


def _listed(weighed: Iterable[Weighed]) -> str:
    return "; ".join(f"{_inside(each.measurement.does)} ({_takes(each)})" for each in weighed)


def _takes(each: Weighed) -> str:
    hours, weeks = each.measured.hours, each.measured.weeks
    known = f", known after {weeks:g} week{'' if weeks == 1 else 's'}" if weeks else ""
    return f"about {hours:g} h{known}, {each.measurement.when}"


def _turn_words(change: Change, names: Mapping[str, str]) -> str:
    turn = change.turn
    assert turn is not None
    return (
        f"Further down the order, {change.name}: if low {names[turn.low]} is ahead, if high"
        f" {names[turn.high]}."
    )


def _cases(share: float) -> str:
    """Say a share of the draws as cases."""
    if share >= 0.15:
        return f"{round(10 * share)} of 10"
    return f"1 of {round(1 / max(share, 0.001)):,}"


def _spared(number: float, unit: str) -> str:
    """Say an amount with no more figures than it bears."""
    if number < 0.1:
        return f"less than 0.1 {unit}"
    return f"{number:.0f} {unit}" if number >= 9.5 else f"{number:.1f} {unit}"


def _inside(text: str) -> str:
    """Write a name inside a sentence; capitals that a person gave it are kept."""
    return text[0].lower() + text[1:] if text[1:].islower() else text


def _begun(text: str) -> str:
    return text[0].upper() + text[1:]


__all__ = ["NOTHING", "advice_lines", "advice_payload"]
