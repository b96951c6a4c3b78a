"""Conditions of the sward: growth, disease, heads and the box, and what a job opens."""

from __future__ import annotations

import re
from dataclasses import dataclass

from swardbook.foundation.dates import say
from swardbook.handbook.parameters import value
from swardbook.handbook.troubles import trouble_called
from swardbook.husbandry.happenings import Cut, Disease, Verticut
from swardbook.husbandry.worked_out import WorkedOut
from swardbook.planning.checks_weather import diary
from swardbook.planning.heads import box_works, heads_standing, latest_look
from swardbook.planning.resetting import since_reset
from swardbook.planning.situation import Happened, Situation
from swardbook.planning.states import Condition, Rank, State

PESTS = (
    "grub", "chafer", "leatherjacket", "slug", "frit", "bird", "rook", "cast", "worm", "mole",
    "leaf smother", "wash",
)  # fmt: skip
WHAT_IS_WRONG = "what is wrong"
"""What a kept look for disease, pest, weather or care answers."""


def growing_now(sit: Situation) -> Condition:
    """Tell whether grass grows enough to mend a verticut."""
    return _growing(sit, "growing_now_potential")


def growing_strongly(sit: Situation) -> Condition:
    """Tell whether grass grows enough to mend scarifying or tining."""
    return _growing(sit, "growing_strong_potential")


def growing_at_all(sit: Situation) -> Condition:
    """Tell whether there is growth to feed: by warmth, never without measured growth beside it."""
    growth = sit.lately.growth
    if growth is None:
        return Condition("growth", State.UNKNOWN, "no weather to tell it by", rank=Rank.LOOKS)
    boxes = recent_boxes(sit)
    enough = growth >= value("growing_now_potential") or boxes.filled >= value("growing_now_boxes")
    none = growth < value("feed_growth_least") and not boxes.filled
    state = State.MET if enough else State.NOT_MET if none else State.UNKNOWN
    told = f"growth potential {growth:.2f}; {boxes.filled} of {boxes.cuts} cuts filled the box"
    waits = "" if enough else "two cuts that fill the box"
    source = f"weather, week to {say(sit.today)}"
    return Condition("growth", state, told, source, "growing_now_potential", until=waits)


def patch_disease(sit: Situation) -> Condition:
    """Tell whether patch disease is active."""
    active = active_diseases(sit)
    if active:
        last = active[-1]
        told = f"{last.what.name or 'disease'} active since {say(last.day)}"
        return _disease(State.NOT_MET, told, diary(last))
    suspected = _suspected(sit)
    if suspected is not None:
        named = suspected.what.named
        told = f"{named['likeliest']} {named['likelihood']} on {say(suspected.day)}; check it"
        return _disease(State.UNKNOWN, told, diary(suspected))
    entries = [each for each in sit.ground.entries(sit.zone.name) if each.when.first <= sit.today]
    last_seen = max((each.when.last for each in entries), default=None)
    if last_seen is None or sit.age(last_seen) > value("visit_days"):
        return _disease(State.UNKNOWN, "nobody has noted anything here for a fortnight", "")
    told = f"none noted; last note here {say(min(last_seen, sit.today))}"
    return _disease(State.MET, told, f"diary, {say(min(last_seen, sit.today))}")


def _suspected(sit: Situation) -> Happened[WorkedOut] | None:
    """Find the last kept look for what is wrong, where it may be a disease and nobody said not."""
    looks = [
        each
        for each in since_reset(sit, WorkedOut, value("visit_days"))
        if each.what.about == WHAT_IS_WRONG
    ]
    if not looks or looks[-1].what.named.get("likelihood") not in {"likely", "possible"}:
        return None
    trouble = trouble_called(looks[-1].what.named.get("likeliest", ""))
    noted = any(each.day >= looks[-1].day for each in since_reset(sit, Disease))
    return looks[-1] if trouble is not None and trouble.kind == "disease" and not noted else None


def active_diseases(sit: Situation) -> list[Happened[Disease]]:
    """List diseases noted as active and not noted as over; pests are left out."""
    return [each for each in _active(sit) if not is_pest(each.what.name)]


def active_pests(sit: Situation) -> list[Happened[Disease]]:
    """List pests noted as active and not noted as over."""
    return [each for each in _active(sit) if is_pest(each.what.name)]


def is_pest(name: str) -> bool:
    """Tell whether a name noted under disease is a pest or another trouble, not a disease."""
    words = name.casefold()
    return any(pest in words for pest in PESTS) or bool(re.search(r"\b(cats?|ants?)\b", words))


def box_for_heads(sit: Situation) -> Condition:
    """Tell whether a pass would spread seed: heads standing and nothing to collect them."""
    return _box(sit, blocks=True)


def box_or_rake(sit: Situation) -> Condition:
    """Tell the same for a cut, where cutting now and raking up beats waiting."""
    return _box(sit, blocks=False)


def verticut_rhythm(sit: Situation) -> Condition:
    """Tell whether the last verticut is long enough ago."""
    last = sit.latest(Verticut)
    if last is None:
        return Condition("since last verticut", State.MET, "none in the book", "diary")
    days, source = sit.age(last.day), diary(last)
    key = "verticut_gap_limit_days"
    limit, usual = value(key), value("verticut_gap_days")
    if days < limit:
        told = f"{days} days; weekly is the upper limit"
        waits = f"{limit:.0f} days since the last"
        return Condition("since last verticut", State.NOT_MET, told, source, key, until=waits)
    if days < usual:
        told = f"{days} days; only in strong growth, moist, with no lines showing"
        return Condition("since last verticut", State.UNKNOWN, told, source, key)
    return Condition("since last verticut", State.MET, f"{days} days", source, key)


def opening(sit: Situation) -> Condition:
    """Tell whether opening the ground now lets annual meadow-grass in."""
    if sit.is_between(value("opening_from"), value("opening_to")):
        return Condition(
            "opened ground", State.NOT_MET,
            "opens ground in annual meadow-grass's best months",
            f"season, {say(sit.today)}", "opening_from", Rank.HEADS,
            until="late summer, with seed to follow",
        )  # fmt: skip
    if sit.is_between(value("germination_autumn_from"), value("germination_autumn_to")):
        return Condition(
            "opened ground", State.UNKNOWN, "germination flush: only if seed goes in after it",
            f"season, {say(sit.today)}", "germination_autumn_from", Rank.HEADS, blocks=False,
        )  # fmt: skip
    return Condition("opened ground", State.MET, "outside the flushes", f"season, {say(sit.today)}")


def light(sit: Situation) -> Condition:
    """Tell whether the place has the light that seedlings need."""
    hours, least = sit.zone.sun_hours, value("shade_sun_hours")
    key = "shade_sun_hours"
    if hours is None:
        told = "hours of sun not measured"
        return Condition("light", State.UNKNOWN, told, "zone", key, blocks=False)
    if hours < least:
        told = f"{hours:g} h of sun: only a shade mixture lasts"
        return Condition("light", State.NOT_MET, told, "zone", key, blocks=False)
    return Condition("light", State.MET, f"{hours:g} h of sun", "zone", key)


@dataclass(frozen=True, slots=True)
class Boxes:
    """Cuts of the last fortnight by whether they filled the box."""

    filled: int
    not_filled: int
    not_said: int

    @property
    def cuts(self) -> int:
        """All of them."""
        return self.filled + self.not_filled + self.not_said


def recent_boxes(sit: Situation) -> Boxes:
    """Count the cuts of the last fortnight by whether they filled the box."""
    cuts = sit.happened(Cut, within_days=value("growing_now_days"))

    def number(answer: bool | None) -> int:
        return sum(cut.entry.number for cut in cuts if cut.what.filled_box is answer)

    return Boxes(number(True), number(False), number(None))


def _growing(sit: Situation, key: str) -> Condition:
    growth, least = sit.lately.growth, value(key)
    boxes, wanted = recent_boxes(sit), value("growing_now_boxes")
    source = f"weather, week to {say(sit.today)}; diary, cuts of a fortnight"
    waits = "two cuts in a fortnight that fill the box"
    if growth is not None and growth < least:
        told = f"growth potential {growth:.2f}, below {least:g}"
        return Condition("growing now", State.NOT_MET, told, source, key, until=waits)
    told = f"{boxes.filled} of {boxes.cuts} cuts in a fortnight filled the box"
    if growth is None:
        return Condition("growing now", State.UNKNOWN, "no weather to tell it by", "", key)
    told = f"growth potential {growth:.2f}; {told}"
    if boxes.filled >= wanted:
        return Condition("growing now", State.MET, told, source, key)
    if boxes.filled + boxes.not_said >= wanted or boxes.cuts < wanted:
        told = f"{told}; {boxes.not_said} not said" if boxes.not_said else told
        return Condition("growing now", State.UNKNOWN, told, source, key, until=waits)
    return Condition("growing now", State.NOT_MET, told, source, key, until=waits)


def _active(sit: Situation) -> list[Happened[Disease]]:
    latest: dict[str, Happened[Disease]] = {}
    for each in since_reset(sit, Disease):
        latest[each.what.name.casefold()] = each
    return [
        each
        for each in latest.values()
        if each.what.active and sit.age(each.day) <= value("disease_memory_days")
    ]


def _box(sit: Situation, blocks: bool) -> Condition:
    standing, works = heads_standing(sit), box_works(sit)
    look = latest_look(sit)
    source = diary(look) if look is not None else "diary"
    if standing is False:
        return _heads(State.MET, "no heads standing", source, True)
    if works:
        told = "heads standing: box on, emptied off the site" if standing else "box on"
        return _heads(State.MET, told, source, True)
    if standing:
        told = "would spread seed: box, or wait" if blocks else "cut now, and rake up: no box"
        return _heads(State.NOT_MET, f"heads standing, no box; {told}", source, blocks)
    return _heads(State.UNKNOWN, "no box, and heads not looked for; look", source, blocks)


def _heads(state: State, because: str, source: str, blocks: bool) -> Condition:
    waits = "" if state is State.MET else "a working box"
    return Condition(
        "box and heads", state, because, source, "heads_above_blade", Rank.HEADS, blocks, waits
    )


def _disease(state: State, because: str, source: str) -> Condition:
    over = "a look for disease" if state is State.UNKNOWN else "the disease noted as over"
    waits = "" if state is State.MET else over
    return Condition("disease", state, because, source, "visit_days", Rank.STRESS, until=waits)
