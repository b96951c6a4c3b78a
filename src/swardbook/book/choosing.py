"""Choose a mixture: what suits a zone, what it looks like in time, and what one's own plots say."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

from swardbook.book.compiled import kernel_of
from swardbook.book.from_seed import bed_of, coming, names_known, stands_in, years_ahead
from swardbook.book.kept_mixtures import ABOUT, kept_mixture, kept_names
from swardbook.book.mixture_candidates import Candidate, Choice, Wanted
from swardbook.book.mixture_looks import looks_of
from swardbook.book.opening import Book
from swardbook.book.seed import MixtureQuestion, question_of_lot, work_out
from swardbook.book.survey_facts import SHADE
from swardbook.book.trial_learning import learned_for
from swardbook.book.trial_standing import TrialStanding, trial_standings
from swardbook.book.worked_out import Answer, last_answer
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.handbook.mixtures import mixture_kinds
from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Ground, Zone
from swardbook.review.own_results import own_results
from swardbook.seed.lot import LotPart
from swardbook.seed.suiting import Place, weigh_suits

__all__ = [
    "Candidate", "Choice", "Wanted", "choice_answer", "choose", "compare", "judge_parts",
    "place_of",
]  # fmt: skip
Tell = Callable[[str], None]


def choose(book: Book, wanted: Wanted, tell: Tell = lambda _: None) -> Choice:
    """Find two to four mixtures for a zone, from the lots of the book and the trade's kinds.

    Parameters
    ----------
    book : Book
        The opened book.
    wanted : Wanted
        What is asked.
    tell : callable
        Told in words what is being worked on.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    NotEnoughDataError
        If there is no whole past year of weather.
    """
    zone, place = place_of(book, wanted)
    every = _with_trials(book, zone, place, [*_lots(book, zone, place), *_kinds(book, zone, place)])
    order = sorted(
        every,
        key=lambda each: (
            _is_behind(each),
            each.suits.misfit,
            not each.lot,
            not _is_usual(each, zone),
            each.name,
        ),
    )
    listed: list[Candidate] = []
    for each in order:
        twin = any(_alike(each, other) for other in listed)
        if each.suits.may_be_listed and not twin and len(listed) < value("suits.short_list"):
            listed.append(each)
    rest = tuple(each for each in order if each not in listed)
    return _grown(book, wanted, zone, place, listed, rest, tell)


def compare(
    book: Book, wanted: Wanted, names: Sequence[str], tell: Tell = lambda _: None
) -> Choice:
    """Put mixtures side by side for a zone: lots of the book, kept mixtures or kinds, by name.

    Raises
    ------
    BadInputError
        If fewer than two are named.
    UnknownNameError
        If there is no such zone, lot, kept mixture or kind.
    NotEnoughDataError
        If there is no whole past year of weather.
    """
    zone, place = place_of(book, wanted)
    if len(names) < 2:
        raise BadInputError("the mixtures", ", ".join(names), "two or more, by lot or by kind")
    found = [_named(book, zone, place, name) for name in dict.fromkeys(names)]
    return _grown(book, wanted, zone, place, _with_trials(book, zone, place, found), (), tell)


def judge_parts(
    book: Book, wanted: Wanted, name: str, question: MixtureQuestion, tell: Tell = lambda _: None
) -> Choice:
    """Hold a mixture of one's own, built or blended, against a zone, and grow it on."""
    zone, place = place_of(book, wanted)
    return _grown(book, wanted, zone, place, [_candidate(name, "", "", question, place)], (), tell)


def choice_answer(made: Choice) -> Answer:
    """Give a choice as the diary keeps it: the list, what was asked, and cover with its range."""
    names = ", ".join(each.title for each in made.short_list) or "nothing known suits"
    found = {}
    for place, each in enumerate(made.short_list, 1):
        for look in each.looks:
            key = f"{place}_sown_{look.when.replace(' ', '_')}"
            found[f"{key}_percent"] = round(100 * look.sown.median, 1)
            found[f"{key}_low_percent"] = round(100 * look.sown.at80.low, 1)
            found[f"{key}_high_percent"] = round(100 * look.sown.at80.high, 1)
    given = {
        "height": f"{made.place.height_mm:g} mm",
        "sown on": made.sow_on.isoformat(),
        "watered": {True: "yes", False: "no"}.get(bool(made.place.is_watered), ""),
    }
    parts = {
        f"{place} {each.title}": ", ".join(
            f"{100 * part.share_by_weight:g} % {part.species}" for part in each.suits.components
        )
        for place, each in enumerate(made.short_list, 1)
    }
    return Answer(ABOUT, names, given, found, parts)


def place_of(book: Book, wanted: Wanted) -> tuple[Zone, Place]:
    """Put together what a zone asks: what was said, else what the book knows.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    """
    ground = book.ground()
    zone = ground.zone(wanted.zone)
    watered = wanted.is_watered
    if watered is None and ground.site.hose_l_min is not None:
        watered = True
    return zone, Place(
        use=zone.use.value,
        height_mm=wanted.height_mm or zone.height_of_cut_mm,
        sun_hours=_sun_hours(ground, zone) if wanted.sun_hours is None else wanted.sun_hours,
        is_watered=watered,
        salt_ds_m=wanted.salt_ds_m,
        patience_months=wanted.patience_months,
        stands=frozenset() if wanted.is_bare else stands_in(ground, zone, book.today),
    )


def _sun_hours(ground: Ground, zone: Zone) -> float | None:
    """Give the hours of sun [h] a survey kept, else what was said of the zone."""
    kept = last_answer(ground, SHADE, zone.name)
    return zone.sun_hours if kept is None else kept.answer.found.get("sun_hours", zone.sun_hours)


def _lots(book: Book, zone: Zone, place: Place) -> list[Candidate]:
    return [
        _of_lot(book, zone, place, lot.code)
        for lot in book.ground().lots
        if any(part.species != "others" for part in lot.parts)
    ]


def _of_lot(book: Book, zone: Zone, place: Place, code: str) -> Candidate:
    lot, question = question_of_lot(book, code)
    made = _candidate(lot.mixture, lot.code, "", question, place)
    return replace(made, own=own_results(book.ground(), lot.mixture, zone))


def _is_behind(each: Candidate) -> bool:
    """Tell whether a trial that speaks for this ground found it clearly behind another."""
    return any(standing.counts for standing in each.trials)


def _is_usual(each: Candidate, zone: Zone) -> bool:
    kind = mixture_kinds().get(each.name)
    return kind is not None and zone.use.value in kind.uses


def _kinds(book: Book, zone: Zone, place: Place) -> list[Candidate]:
    return [_of_kind(book, zone, place, name) for name in mixture_kinds()]


def _of_kind(book: Book, zone: Zone, place: Place, name: str) -> Candidate:
    kind = mixture_kinds()[name]
    question = MixtureQuestion(tuple(LotPart(part, share) for part, share in kind.shares))
    made = _candidate(name, "", kind.used_for, question, place)
    return replace(made, own=own_results(book.ground(), name, zone))


def _named(book: Book, zone: Zone, place: Place, name: str) -> Candidate:
    lots = {lot.code.casefold(): lot.code for lot in book.ground().lots}
    lots |= {lot.mixture.casefold(): lot.code for lot in reversed(book.ground().lots)}
    wanted = name.strip().casefold()
    if wanted in lots:
        return _of_lot(book, zone, place, lots[wanted])
    if wanted in mixture_kinds():
        return _of_kind(book, zone, place, wanted)
    built = kept_mixture(book.ground(), name)
    if built is not None:
        title, parts = built
        return _candidate(title, "", "", MixtureQuestion(parts), place)
    known = [*names_known(book.ground()), *kept_names(book.ground())]
    raise UnknownNameError("lot, kept mixture or kind", name, known)


def _candidate(
    name: str, lot: str, used_for: str, question: MixtureQuestion, place: Place
) -> Candidate:
    answer = work_out(replace(question, height_mm=place.height_mm))
    price = question.price_per_kg
    cost = None
    if price is not None:
        cost = (price * Decimal(repr(answer.rate_g_m2)) / 1000).quantize(Decimal("0.01"))
    return Candidate(
        name, lot, used_for, answer, weigh_suits(question.known_parts, place), cost, ()
    )


def _with_trials(
    book: Book, zone: Zone, place: Place, found: Sequence[Candidate]
) -> list[Candidate]:
    """Set beside each lot how its mixture stands in the book's own trials."""
    told = trial_standings(book.ground(), zone, place.height_mm, place.sun_hours)

    def of(each: Candidate) -> tuple[TrialStanding, ...]:
        held = told.get(each.name.casefold(), ()) if each.lot else ()
        return tuple(standing.for_lot(each.lot) for standing in held)

    return [replace(each, trials=of(each)) for each in found]


def _alike(one: Candidate, other: Candidate) -> bool:
    """Tell whether two hold the same species in the same shares, as two lots of one name do."""
    shares = [
        sorted((each.species, round(each.share_by_weight, 2)) for each in made.suits.components)
        for made in (one, other)
    ]
    return shares[0] == shares[1]


def _grown(
    book: Book, wanted: Wanted, zone: Zone, place: Place, listed: Sequence[Candidate],
    others: tuple[Candidate, ...], tell: Tell,
) -> Choice:  # fmt: skip
    latitude = book.ground().site.latitude
    day = wanted.sow_on or coming(book.today, value("choose.sow_day"), latitude)
    if day <= book.today:
        raise BadInputError("the day of sowing", str(day), "a day after today")
    if book.all_weather() is None:
        missing = (_NO_LOOKS, *_not_known(place, wanted))
        return Choice(
            zone, place, day, tuple(listed), others, (), False, missing, "", wanted.is_bare
        )
    years = years_ahead(book, zone, day + timedelta(days=round(value("choose.year"))))
    kernel = kernel_of(book.settings, tell)
    learned = learned_for(book, zone, kernel, tell, place.height_mm, place.sun_hours)
    bed = bed_of(book, zone, place.height_mm, bool(place.is_watered))
    bed = replace(bed, ranges=learned.ranges)
    looked = tuple(
        replace(each, looks=looks_of(each.answer, bed, day, years, kernel, book.settings.threads))
        for each in listed
    )
    return Choice(
        zone, place, day, looked, others, years.past, years.is_thin, _not_known(place, wanted),
        _crossing(looked), wanted.is_bare, learned,
    )  # fmt: skip


_NO_LOOKS = (
    "How each looks at 5 weeks, 6 and 12 months: the book has no daily weather to grow them under."
    " Bring some in with `swardbook weather import FILE.csv`."
)


def _not_known(place: Place, wanted: Wanted) -> tuple[str, ...]:
    told = []
    if not wanted.is_bare and not place.stands:
        told.append("What stands there: no sowing of it is in the book. Where fine grasses stand"
                    " and stay, ryegrass and tall fescue would drop out, as they cannot be taken"
                    " out again. Give --bare if the old sward is cleared first.")  # fmt: skip
    if place.sun_hours is None:
        told.append("Hours of sun: in shade, ryegrass and bent would drop out. Give --sun.")
    if place.is_watered is None:
        told.append("Water at hand: without it bent and slow seed would drop back. Give --water.")
    if place.salt_ds_m is None:
        told.append("Salt of the soil: by the sea or a salted road, test it and give --salt.")
    if place.patience_months is None:
        told.append("When it must be used: give --use-in, in months.")
    return tuple(told)


def _crossing(looked: Sequence[Candidate]) -> str:
    """Say where what is first after five weeks is not first after a year, by the middle draw."""
    if len(looked) < 2:
        return ""
    first = max(looked, key=lambda each: each.looks[0].sown.median)
    last = max(looked, key=lambda each: each.looks[-1].sown.median)
    least = value("choose.crossing_least")
    early = first.looks[0].sown.median - last.looks[0].sown.median
    late = last.looks[-1].sown.median - first.looks[-1].sown.median
    if min(early, late) < least:
        return ""
    return (
        f"Fast is not the same as good: {first.title} has most sown grass after 5 weeks,"
        f" {last.title} after 12 months (middle draws; look at the ranges)."
    )
