"""Better or worse? What was measured, what untouched ground says, and the leading signs, apart."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from swardbook.evidence import Comparison, Verdict
from swardbook.foundation.dates import say
from swardbook.handbook.parameters import value
from swardbook.handbook.species import ANNUAL_MEADOW_GRASS
from swardbook.husbandry.clearing import cleared_on
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import RefillCheck
from swardbook.observations.comparing import Compared, compare_samples
from swardbook.observations.counts import Method
from swardbook.observations.estimating import estimate_kind
from swardbook.observations.occasions import methods_used
from swardbook.observations.samples import Smallest
from swardbook.review.records import occasions_of, treated, untreated
from swardbook.review.seasons import SeasonPair, season_pairs
from swardbook.review.words import estimate_words, figure

MEADOW_GRASS = ANNUAL_MEADOW_GRASS


class Year(StrEnum):
    """The word for a zone's year."""

    BETTER = "better"
    HOLDING = "holding"
    SLIPPING = "slipping"
    CANNOT_SAY = "cannot say"


MARKS = {Year.BETTER: "■", Year.HOLDING: "◧", Year.SLIPPING: "□", Year.CANNOT_SAY: "?"}


@dataclass(frozen=True, slots=True)
class HonestContrast:
    """Treated ground against the honest squares on one day."""

    day: date
    compared: Compared


@dataclass(frozen=True, slots=True)
class Sign:
    """A leading sign: what usually comes before better or worse; never part of the verdict."""

    name: str
    words: str
    day: date


@dataclass(frozen=True, slots=True)
class ZoneReview:
    """One zone's year.

    Parameters
    ----------
    zone : str
        Name of the zone.
    kind : str
        Species key.
    word : Year
        Better, holding, slipping or cannot say: the latest same-season pair alone.
    sentence : str
        The year in under 30 words.
    pairs : tuple of SeasonPair
        Every same-season pair, the earliest first; none is hidden.
    honest : HonestContrast or None
        The latest contrast with the honest squares.
    signs : tuple of Sign
        Leading signs, apart from what was measured.
    tolerance : str
        How the latest estimate since the zone was last cleared stands to what is fine there.
    look_at : str
        What to look at first where it slips.
    """

    zone: str
    kind: str
    word: Year
    sentence: str
    pairs: tuple[SeasonPair, ...]
    honest: HonestContrast | None
    signs: tuple[Sign, ...]
    tolerance: str
    look_at: str


def review_zone(ground: Ground, zone: str, kind: str, smallest: Smallest) -> ZoneReview:
    """Review one zone's year for a weed.

    Parameters
    ----------
    ground : Ground
        The ground as it stands.
    zone : str
        Name of the zone.
    kind : str
        Species key of the weed.
    smallest : Smallest
        The smallest differences worth acting on.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    """
    place = ground.zone(zone)
    pairs = season_pairs(ground, place.name, kind, smallest)
    honest = honest_contrast(ground, place.name, kind, smallest)
    word = year_word(pairs[-1].made if pairs else None)
    return ZoneReview(
        place.name,
        kind,
        word,
        _sentence(word, pairs, honest),
        pairs,
        honest,
        leading_signs(ground, place.name),
        _tolerance(ground, place, kind),
        _look_at(place, pairs),
    )


def year_word(made: Comparison | None) -> Year:
    """Choose the word from one comparison of a weed: less is better."""
    if made is None:
        return Year.CANNOT_SAY
    if made.verdict is Verdict.CLEAR:
        return Year.BETTER if made.difference < 0 else Year.SLIPPING
    if made.verdict in (Verdict.AS_GOOD_AS_EQUAL, Verdict.CLEAR_BUT_SMALL):
        return Year.HOLDING
    if made.verdict is Verdict.LEANING:
        return Year.HOLDING if made.difference < 0 else Year.CANNOT_SAY
    narrow = made.spread.at80.within(value("holding_within") * made.smallest)
    return Year.HOLDING if narrow else Year.CANNOT_SAY


def honest_contrast(
    ground: Ground, zone: str, kind: str, smallest: Smallest
) -> HonestContrast | None:
    """Compare treated ground with the honest squares on the latest day both were counted."""
    for occasion in reversed(occasions_of(ground, zone)):
        here, there = treated(ground, zone, occasion), untreated(ground, zone, occasion)
        if methods_used(here.places, kind) and methods_used(there.places, kind):
            return HonestContrast(occasion.day, compare_samples(there, here, kind, smallest))
    return None


def leading_signs(ground: Ground, zone: str) -> tuple[Sign, ...]:
    """Gather what usually comes before better or worse: bare ground, refills that failed."""
    signs = []
    for occasion in reversed(occasions_of(ground, zone)):
        bare = estimate_kind(treated(ground, zone, occasion).places, "bare")
        if bare and bare[0].estimate is not None:
            told = f"bare ground {estimate_words(bare[0].estimate)}"
            signs.append(Sign("bare ground", told, occasion.day))
            break
    checks = [e for e in ground.entries(zone, RefillCheck.kind) if isinstance(e.what, RefillCheck)]
    if checks and isinstance(checks[-1].what, RefillCheck) and checks[-1].what.looked:
        last = checks[-1].what
        told = f"{last.taken} of {last.looked} refills taken"
        signs.append(Sign("refills", told, checks[-1].day))
    return tuple(signs)


def _sentence(word: Year, pairs: Sequence[SeasonPair], honest: HonestContrast | None) -> str:
    parts = [_pair_words(word, pairs)]
    told = None if honest is None else honest.compared.comparison
    if told is not None and told.verdict in (Verdict.CLEAR, Verdict.LEANING):
        places = 0 if told.value_unit == "%" else 1
        parts.append(
            f"Against the honest squares {figure(told.after, places)} to"
            f" {figure(told.before, places)}: {told.verdict}."
        )
    elif _fell_before(word, pairs):
        parts.append("The fall came with the renovation; since then it is holding.")
    return " ".join(parts)


def _pair_words(word: Year, pairs: Sequence[SeasonPair]) -> str:
    start = word.capitalize()
    if not pairs:
        return f"{start}: no two counts of the same season yet."
    last, made = pairs[-1], pairs[-1].made
    months = f"{last.before:%B} to {last.after:%B}"
    if made is None:
        return f"{start}: not enough data, {months}."
    places = 0 if made.value_unit == "%" else 1
    unit = "%" if made.value_unit == "%" else "a square metre"
    change = f"{figure(made.before, places)} to {figure(made.after, places)} {unit}"
    lean = ""
    if made.verdict is Verdict.LEANING:
        lean = " better" if made.difference < 0 else " worse"
    return f"{start}: {change}, {months}, {made.verdict}{lean}."


def _fell_before(word: Year, pairs: Sequence[SeasonPair]) -> bool:
    """Tell whether an earlier pair fell clearly over a renovation that the latest came after."""
    return word is Year.HOLDING and any(
        pair.renovated
        and pair.before < pairs[-1].before
        and pair.made is not None
        and pair.made.verdict is Verdict.CLEAR
        and pair.made.difference < 0
        for pair in pairs[:-1]
    )


def _tolerance(ground: Ground, zone: Zone, kind: str) -> str:
    """Set the latest cover by points against what is fine in the zone.

    A count before the zone was stripped or became a new seedbed says nothing of it.
    """
    fine = 100 * {
        MEADOW_GRASS: zone.tolerance.annual_meadow_grass,
        "bare": zone.tolerance.bare,
    }.get(kind, -1.0)
    if fine < 0:
        return ""
    cleared = cleared_on(ground.entries(zone.name), zone.area_m2)
    for occasion in reversed(occasions_of(ground, zone.name)):
        for each in estimate_kind(treated(ground, zone.name, occasion).places, kind):
            if each.method is not Method.POINTS or each.estimate is None:
                continue
            if cleared is not None and occasion.day <= cleared:
                return (
                    f"No count since the zone was cleared on {say(cleared)}: nothing to hold"
                    f" against the {fine:.0f} % that is fine here."
                )
            low, high = each.estimate.interval
            if high <= fine:
                return f"Within the {fine:.0f} % that is fine here."
            if low > fine:
                return f"Above the {fine:.0f} % that is fine here."
            return f"Cannot tell whether it is within the {fine:.0f} % that is fine here."
    return ""


def _look_at(zone: Zone, pairs: Sequence[SeasonPair]) -> str:
    made = pairs[-1].made if pairs else None
    worse = made is not None and made.difference > 0
    if made is None or not worse or made.verdict not in (Verdict.CLEAR, Verdict.LEANING):
        return ""
    if zone.sun_hours is not None and zone.sun_hours < value("shade_sun_hours"):
        return f"Look at the shade first: about {zone.sun_hours:g} h of sun, before any seed."
    return ""
