"""Words and payloads of mixtures held against a zone; shared by choose, compare and build."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any, TypeVar

import click

from swardbook.cli.output import table
from swardbook.cli.trial_learned import learned_payload, learned_told, standing_payload
from swardbook.cli.wrapping import heading, under

if TYPE_CHECKING:
    from datetime import date

    from swardbook.book.choosing import Candidate, Choice, Wanted
    from swardbook.book.mixture_looks import Look
    from swardbook.model.prospects import Range
    from swardbook.review.own_results import OwnResult
    from swardbook.seed.suiting import ComponentSuits

Command = TypeVar("Command", bound=Callable[..., Any])
IN_TIME = {"suits": "in time", "strained": "only just in time", "does not last": "not in time"}


def wanted_options(command: Any) -> Any:
    """Give a command what a zone may ask of a mixture."""
    for option in reversed(
        (
            click.option("--height", default="", metavar="MM", help="Height of cut, if not the"
                         " zone's."),
            click.option("--sow-on", default="", metavar="DAY", help="Day of sowing to look at."
                         "  [default: the coming 1 September]"),
            click.option("--water/--no-water", "water", default=None,
                         help="Whether it can be watered; if not said, a known hose counts."),
            click.option("--sun", default="", metavar="HOURS", help="Hours of sun at the equinox."),
            click.option("--salt", default="", metavar="DS/M", help="Salt of the soil in dS/m."),
            click.option("--use-in", default="", metavar="MONTHS",
                         help="Months from sowing until it must be used."),
            click.option("--bare", is_flag=True,
                         help="The old sward is cleared first: it rules no mixture out."),
        )
    ):  # fmt: skip
        command = option(command)
    return command


def read_wanted(given: dict[str, Any], zone: str, today: date) -> Wanted:
    """Read what is asked of a mixture."""
    from swardbook.book.choosing import Wanted
    from swardbook.book.fields import quantity
    from swardbook.book.from_seed import day_to_come
    from swardbook.foundation.errors import BadInputError

    if not zone:
        raise BadInputError("--zone", "", "the name of a zone")
    return Wanted(
        zone,
        quantity(given["height"], "mm", "--height") if given["height"] else None,
        day_to_come(given["sow_on"], today) if given["sow_on"] else None,
        given["water"],
        _number(given["sun"], "--sun", 24.0),
        _number(given["salt"], "--salt", 50.0),
        _number(given["use_in"], "--use-in", 60.0),
        given["bare"],
    )


def _number(text: str, name: str, most: float) -> float | None:
    from swardbook.foundation.errors import BadInputError
    from swardbook.foundation.quantities import read_number

    if not text:
        return None
    number = read_number(text)
    if number is None or not 0 <= number <= most:
        raise BadInputError(name, text, f"a number from 0 to {most:g}")
    return number


def choice_payload(made: Choice) -> dict[str, Any]:
    """Give what was found as one object."""
    place = made.place
    return {
        "zone": made.zone.name,
        "asked": {
            "use": place.use, "height_mm": place.height_mm, "sun_hours": place.sun_hours,
            "watered": place.is_watered, "salt_ds_m": place.salt_ds_m,
            "patience_months": place.patience_months, "stands": sorted(place.stands),
            "bare": made.is_bare,
        },
        "sow_on": made.sow_on.isoformat(),
        "short_list": [_candidate(each) for each in made.short_list],
        "others": [_candidate(each) for each in made.others],
        "crossing": made.crossing,
        "not_known": list(made.not_known),
        "trial": learned_payload(made.learned),
        "past_years": list(made.past_years),
        "few_past_years": made.is_thin,
    }  # fmt: skip


def _candidate(each: Candidate) -> dict[str, Any]:
    answer, suits = each.answer, each.suits
    return {
        "name": each.name, "lot": each.lot, "used_for": each.used_for,
        "rate_g_m2": answer.rate_g_m2,
        "viable_seeds_per_m2": round(answer.viable_m2),
        "cost_per_m2": None if each.cost_m2 is None else str(each.cost_m2),
        "components": [_component(part) for part in suits.components],
        "share_of_seeds_strained": round(suits.share(_fits("strained")), 4),
        "share_of_seeds_that_do_not_last": round(suits.share(_fits("does not last")), 4),
        "months_to_use": None if suits.months is None else {
            "low": suits.months.low, "value": suits.months.value, "high": suits.months.high,
            "grade": suits.months.grade.value, "source": suits.months.source},
        "in_time": IN_TIME.get(suits.in_time.value, suits.in_time.value),
        "cannot_be_undone": list(suits.cannot_be_undone),
        "own_results": [_own(result) for result in each.own],
        "own_trials": [standing_payload(standing) for standing in each.trials],
        "looks": [_look(look) for look in each.looks],
    }  # fmt: skip


def _fits(word: str) -> Any:
    from swardbook.seed.suiting import Fits

    return Fits(word)


def _component(part: ComponentSuits) -> dict[str, Any]:
    return {
        "species": part.species,
        "share_by_weight": round(part.share_by_weight, 6),
        "share_of_viable_seeds": round(part.share_by_number, 6),
        "judged": [
            {"criterion": each.criterion, "fits": each.fits.value, "because": each.because,
             "source": None if each.basis is None else each.basis.source}
            for each in part.judged
        ],
    }  # fmt: skip


def _own(result: OwnResult) -> dict[str, Any]:
    estimate = result.estimate
    return {
        "zone": result.zone, "lot": result.lot, "sown_on": result.sown_on.isoformat(),
        "plots": result.is_plots,
        "counted_on": None if result.counted_on is None else result.counted_on.isoformat(),
        "annual_meadow_grass": None if estimate is None else {
            "value": round(estimate.value, 2), "low": round(estimate.interval.low, 2),
            "high": round(estimate.interval.high, 2), "unit": estimate.unit, "n": estimate.n},
        "fine_up_to_percent": round(100 * result.limit, 2),
        "says": result.says, "beside": list(result.beside),
    }  # fmt: skip


def _look(look: Look) -> dict[str, Any]:
    return {
        "when": look.when,
        "sown_percent": _range(look.sown),
        "bare_percent": _range(look.bare),
        "annual_meadow_grass_percent": _range(look.weed),
        "yorkshire_fog_percent": _range(look.fog),
        "components_percent": {species: _range(part) for species, part in look.components},
    }


def _range(found: Range) -> dict[str, float]:
    low, high = found.at80
    return {"low": round(100 * low, 1), "middle": round(100 * found.median, 1),
            "high": round(100 * high, 1)}  # fmt: skip


def choice_lines(made: Choice, title: str) -> list[str]:
    """Lay what was found out as lines."""
    from swardbook.foundation.dates import say

    place = made.place
    lines = [
        *heading(f"{title} for {made.zone.name}"),
        *under("", f"{place.use}, cut at {place.height_mm:g} mm; sown {say(made.sow_on)} in a bare"
                   f" bed{', kept damp' if place.is_watered else ', not watered'}."
                   f" {_old_sward(made)}", 0),
    ]  # fmt: skip
    if made.short_list:
        lines += ["", *_table(made.short_list)]
    else:
        lines += ["", "Nothing known suits. What each falls short of stands below."]
    for each in made.short_list:
        lines += ["", *_told(each, made.zone.name)]
    if made.others:
        lines += ["", "Not on the list:", *(line for each in made.others for line in _why(each))]
    lines += ["", *_foot(made)]
    return lines


def _old_sward(made: Choice) -> str:
    """Say what is minded of the old sward."""
    if made.is_bare:
        return "The old sward is cleared first."
    if made.place.stands:
        stands = ", ".join(sorted(made.place.stands))
        return f"What was sown there stays ({stands}), though each is looked at in a bare bed."
    return "What stands there is not known."


def _table(listed: Sequence[Candidate]) -> list[str]:
    heads = ("", "g/m²", "cost/m²", *(f"sown at {look.when}" for look in listed[0].looks))
    rows = [
        (each.title, f"{each.answer.rate_g_m2:g}",
         "not known" if each.cost_m2 is None else str(each.cost_m2),
         *(_percents(look.sown) for look in each.looks))
        for each in listed
    ]  # fmt: skip
    return table(heads, rows)


def _percents(found: Range) -> str:
    low, high = found.at80
    return f"{100 * found.median:.0f} % ({100 * low:.0f} to {100 * high:.0f})"


def _told(each: Candidate, zone: str) -> list[str]:
    from swardbook.cli.seed_words import about, english, percent

    parts = [
        f"{english(part.species)} {percent(part.share_by_weight)} by weight,"
        f" {percent(part.share_by_number)} by number"
        for part in each.suits.components
    ]
    lines = [f"{each.title}:", *under("", f"{'; '.join(parts)}.")]
    lines += under("", f"About {about(each.answer.viable_m2)} seeds/m² can come up.")
    lines += _judged(each)
    if each.looks:
        first, last = each.looks[0], each.looks[-1]
        lines += under("", f"Annual meadow-grass {_percents(first.weed)} at {first.when},"
                           f" {_percents(last.weed)} at {last.when}.")  # fmt: skip
        shares = ", ".join(f"{english(name)} {_percents(part)}" for name, part in last.components)
        lines += under("", f"At {last.when}: {shares}, bare {_percents(last.bare)}.")
    months = each.suits.months
    if months is not None:
        told = IN_TIME.get(each.suits.in_time.value)
        lines += under("", f"Use after {months.low:g} to {months.high:g} months"
                           f"{f': {told}' if told else ''} ({months.grade}).")  # fmt: skip
    lines += [line for words in each.suits.cannot_be_undone for line in under("✗", words)]
    if each.answer.hard_to_undo:
        lines += under("◧", "Ryegrass does several times better than its seed number in the first"
                            " year, and cannot easily be undone among fine grasses.")  # fmt: skip
    lines += _own_lines(each.own, zone)
    return [*lines, *(part for told in each.trials for part in under("·", told.words))]


def _judged(each: Candidate) -> list[str]:
    """Say what is strained or not known, component by component; what suits is not told."""
    from swardbook.cli.seed_words import english

    odd = [
        (judged, part)
        for part in each.suits.components
        for judged in part.judged
        if judged.fits.value in {"strained", "does not last", "don't know"}
    ]
    unknown = dict.fromkeys(
        f"{judged.criterion}: {judged.because}"
        for judged, _ in odd
        if judged.fits.value == "don't know"
    )
    told = [
        (judged.fits.shape, f"{english(part.species)}, {judged.criterion}: {judged.fits.value}"
         f" ({judged.because}).")
        for judged, part in odd
        if judged.fits.value != "don't know"
    ]  # fmt: skip
    lines = [line for shape, words in told for line in under(shape, words)]
    return [*lines, *(line for words in unknown for line in under("?", f"{words}."))]


def _own_lines(own: Sequence[OwnResult], zone: str) -> list[str]:
    from swardbook.foundation.dates import say
    from swardbook.review.words import estimate_words

    if not own:
        return under("", "Your own results of it: none yet.")
    lines = []
    for each in own:
        if each.estimate is None or each.counted_on is None:
            lines += under("·", f"{each.zone}, sown {say(each.sown_on)}: not counted since.")
            continue
        beside = f" ({'; '.join(each.beside)})" if each.beside else ""
        told = f"{estimate_words(each.estimate)} on {say(each.counted_on)}"
        lines += under(
            "·", f"{each.zone}, sown {say(each.sown_on)}: annual meadow-grass {told}; against what"
            f" is fine in {zone}, {100 * each.limit:g} %: {each.says}{beside}."
        )  # fmt: skip
    return lines


def _why(each: Candidate) -> list[str]:
    from swardbook.cli.seed_words import english

    why = list(each.suits.cannot_be_undone)
    why += [f"{standing.verdict} in {standing.zone}" for standing in each.trials if standing.counts]
    why += [
        f"{english(part.species)}: {judged.criterion} {judged.because}"
        for part in each.suits.components
        for judged in part.judged
        if judged.fits.value == "does not last"
    ][:2]
    if each.suits.in_time.value == "does not last":
        why.append("not in time")
    return under("·", f"{each.title}: {'; '.join(why) or 'others suit as well or better'}")


def _foot(made: Choice) -> list[str]:
    lines = under("", made.crossing, 0) if made.crossing else []
    for mark, words in learned_told(made.learned):
        lines += under(mark, words, 0)
    lines += [line for words in made.not_known for line in under("?", words, 0)]
    own = "counts of your zones are" if made.learned.ranges else "your own counts are"
    few = " Few years: the ranges are too narrow." if made.is_thin else ""
    if made.short_list and not made.past_years:
        lines += under(
            "", "Those least strained come first; the choice is yours. Places in an order are from"
            " trials elsewhere; traits are judged.", 0,
        )  # fmt: skip
    elif made.short_list:
        lines += under(
            "", "Those least strained come first; the choice is yours. Ranges are four in five over"
            f" {len(made.past_years)} past years of this site's weather, a bare bed and general"
            f" knowledge of weed seed; {own} not in them.{few} They know nothing of"
            " shade, salt, or a grass that fades when cut too low: the marks above do. Places in an"
            " order are from trials elsewhere; traits are judged.", 0,
        )  # fmt: skip
    return lines
