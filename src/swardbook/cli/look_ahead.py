"""What next year may look like, programme by programme."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.look_ahead_advice import advice_payload
from swardbook.cli.look_ahead_words import lines_of
from swardbook.cli.picturing import check_places, picture_option, with_picture
from swardbook.cli.progressing import progress
from swardbook.cli.trial_learned import learned_payload

if TYPE_CHECKING:
    from pathlib import Path

    from swardbook.book.look_ahead import ZoneLookAhead
    from swardbook.book.opening import Book
    from swardbook.evidence.estimates import Interval
    from swardbook.figures.picture import Picture
    from swardbook.model.expecting import Expected
    from swardbook.model.look_ahead import LookAhead, Prospect
    from swardbook.model.prospects import Contrast, Range

_KEYS = {
    "annual_meadow_grass_cover": "annual_meadow_grass_cover_percent",
    "annual_meadow_grass_plants": "annual_meadow_grass_plants_per_m2",
    "annual_meadow_grass_heads": "annual_meadow_grass_heads_per_m2",
    "seed_returned": "annual_meadow_grass_seed_returned_per_m2",
    "yorkshire_fog_cover": "yorkshire_fog_cover_percent",
    "sown_cover": "sown_cover_percent",
    "bare": "bare_percent",
}


@click.command()
@click.option("--zone", "-z", required=True, help="Zone, by name.")
@click.option(
    "--programme",
    "-p",
    "programmes",
    multiple=True,
    metavar="NAME",
    help="Programme to compare; may be given again. None: all.",
)
@click.option(
    "--draws",
    type=click.IntRange(min=64),
    default=None,
    help="Draws, a multiple of 64; 4096 if not said. Fewer are quicker and coarser.",
)
@click.option(
    "--hour-price",
    type=click.FloatRange(min=0),
    default=0.0,
    help="Plants a m² (or % of the ground) you would leave for an hour a week less; 0: hours do"
    " not count in the choice.",
)
@picture_option("each programme's likely range, and of the counts so far")
@picture_option("what each programme leaves against the hours it takes", "picture_hours")
@door_options
def command(
    door: Door, zone: str, programmes: tuple[str, ...], draws: int | None, hour_price: float,
    picture: Path | None, picture_hours: Path | None,
) -> None:  # fmt: skip
    """Look ahead: is next year likely better, by which way of working, how sure, what would tell.

    Without counts it is general knowledge only and says so. It never promises.
    """
    from swardbook.book.look_ahead import look_ahead_of

    check_places(picture, picture_hours)
    book = door.book()
    found = look_ahead_of(book, zone, draws, programmes, progress(), hour_price)
    drawn = with_picture(picture, lambda: _drawn(book, found), payload_of(found), lines_of(found))
    payload, lines = with_picture(
        picture_hours, lambda: _drawn(book, found, hours=True), *drawn, "picture_hours"
    )
    door.show(payload, lines, book)


def _drawn(book: Book, found: ZoneLookAhead, *, hours: bool = False) -> Picture:
    from swardbook.book.pictures import draw_hours, draw_look_ahead

    return (draw_hours if hours else draw_look_ahead)(book, found)


def payload_of(found: ZoneLookAhead) -> dict[str, Any]:
    """Lay a look-ahead out as one object."""
    look = found.look
    story = look.question.story
    return {
        "zone": found.zone,
        "label": found.label,
        "may_be_sealed": look.may_be_sealed,
        "why_no_verdict_on_next_year": found.why_not_full or None,
        "refusal": look.refusal or None,
        "story_from": story.first.isoformat(),
        "draws": look.question.draws,
        "effective_draws_least": round(look.effective_draws),
        "past_years_of_weather": list(look.past_years),
        "model_identity": found.identity,
        "weed_told_in": "plants" if look.question.by_plants else "cover",
        "horizons": {each.key: each.day.isoformat() for each in look.horizons},
        "now": {_KEYS[key]: _range(each) for key, each in look.now.items()},
        "order_by_weed_next_october": list(look.ranking),
        "least_weed_next_october": _leading(look),
        "assumed": list(story.assumed),
        "trial": learned_payload(found.trial),
        "programmes": [_prospect(found, each) for each in look.prospects],
        **advice_payload(found),
        "learned": _learned(look),
        "hours_there_are_in_a_week": found.weekly_hours,
        "weeks_in_season": _short(found.season_weeks),
    }


def _leading(look: LookAhead) -> dict[str, Any] | None:
    led = look.leading
    if led is None:
        return None
    return {
        "verdict": led.verdict.value,
        "leader": led.group[0] if led.is_leader else None,
        "cannot_be_told_apart": [] if led.is_leader else list(led.group),
        "leave_more": list(led.behind),
        "against_the_least": {key: _contrast(each) for key, each in led.against_least.items()},
    }


def _learned(look: LookAhead) -> dict[str, Any]:
    return {
        "counts": [
            {
                "count": each.name,
                "effective_draws": round(each.effective_draws),
                "steps": each.steps,
                "drawn_again": each.drawn_again,
            }
            for each in look.weighings
        ],
        "moved": [
            {
                "number": each.unknown,
                "before": _range(each.before),
                "after": _range(each.after),
                "shift_in_standard_deviations": _short(each.shift),
                "spread_lost_share": _short(each.narrowing),
            }
            for each in look.moved
        ],
        "against_expectation": [_expected(each) for each in look.expected],
        "against_expectation_of_the_rest": [
            {"kind": each.kind} | _expected(each) for each in look.expected_rest
        ],
    }


def _prospect(found: ZoneLookAhead, prospect: Prospect) -> dict[str, Any]:
    plan = prospect.programme
    return {
        "key": plan.key,
        "name": plan.name,
        "says": plan.says,
        "held_back": list(plan.held_back),
        "next_year": found.years[plan.key].value,
        "at": {
            horizon: {_KEYS[key]: _range(each) for key, each in measures.items()}
            for horizon, measures in prospect.at.items()
        },
        "hours_a_year": _range(prospect.hours_year),
        "hours_a_week_in_season": _range(found.hours_week[plan.key]),
        "money_gbp_a_year": _range(prospect.money_year) if found.is_priced else None,
        "nitrogen_taken_off_g_m2_a_year": _range(prospect.nitrogen_off_year),
        "against_the_first": {key: _contrast(each) for key, each in prospect.against.items()},
        "next_october_against_last": (
            _contrast(prospect.since_last_autumn) if prospect.since_last_autumn else None
        ),
    }


def _contrast(made: Contrast) -> dict[str, Any]:
    return {
        "difference": _short(made.difference),
        "unit": made.unit,
        "at_80_percent": _ends(made.spread.at80),
        "at_95_percent": _ends(made.spread.at95),
        "smallest_worth_acting_on": _short(made.smallest),
        "verdict": made.verdict.value,
        "share_of_draws_with_less": _short(made.share_less),
    }


def _expected(expected: Expected) -> dict[str, Any]:
    return {
        "day": expected.day.isoformat(),
        "found": _short(expected.found),
        "expected": _short(expected.middle),
        "expected_at_80_percent": _ends(expected.at80),
        "unit": expected.unit,
        "was_inside": expected.was_inside,
    }


def _range(found: Range) -> dict[str, Any]:
    return {"middle": _short(found.median), "at_80_percent": _ends(found.at80)}


def _ends(interval: Interval) -> list[float]:
    return [_short(interval.low), _short(interval.high)]


def _short(number: float) -> float:
    """Keep four figures: more would not be known."""
    return float(f"{number:.4g}") + 0.0
