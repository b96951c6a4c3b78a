"""Germination watch: when each component is due, what is up, whose it is, and what takes it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date

from swardbook.book.opening import Book
from swardbook.book.own_emergence import NONE, OwnEmergence
from swardbook.book.seedling_windows import Window, rate_of, windows_of, with_sightings
from swardbook.book.seedlings_seen import Sighting, sightings
from swardbook.book.worked_out import Answer
from swardbook.evidence.estimates import Interval
from swardbook.foundation.dates import say
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.parameters import parameter, value
from swardbook.handbook.species import find_species, in_words
from swardbook.handbook.troubles import Trouble, signs, troubles
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import Sow
from swardbook.husbandry.tested import latest_test
from swardbook.planning.situation import situation
from swardbook.planning.troubles import Diagnosis, diagnose, read_signs
from swardbook.seed import by_number
from swardbook.seed.seedlings import Seedlings, Whose, count_seedlings, whose

Tell = Callable[[str], None]
ABOUT = "germination watch"
EARLY, USUAL, FEW = "too early to say", "as many as usual", "fewer than usual"
TOO_FEW = "not enough data"
FIRST_WEEKS = (
    "birds", "slugs", "frit_fly", "worm_casts", "cats", "leaf_smother", "wash_off", "damping_off",
    "slow_seed",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Sown:
    """Viable seed that was sown, and what says so.

    Parameters
    ----------
    per_m2 : float
        Seed that can come up. [seeds m⁻²]
    range_ : Interval or None
        Its range, where a test gave one. [seeds m⁻²]
    by : str
        What it is reckoned by, in words.
    """

    per_m2: float
    range_: Interval | None
    by: str


@dataclass(frozen=True, slots=True)
class Watched:
    """What was seen; all that is not known is left empty.

    Parameters
    ----------
    frames, unsown : tuple of float
        Seedlings in frames on sown and on unsown ground. [seedlings]
    side_mm : float or None
        Side of a frame. [mm]
    named : tuple of int
        Sown kinds, weed and cannot tell, looked at with a lens; empty if not looked at.
    leaves : float
        Leaves most seedlings have. [-]
    seen, not_seen : tuple of str
        Signs of loss.
    """

    frames: tuple[float, ...] = ()
    unsown: tuple[float, ...] = ()
    side_mm: float | None = None
    named: tuple[int, int, int] | None = None
    leaves: float = 0.0
    seen: tuple[str, ...] = ()
    not_seen: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Watch:
    """Germination in a zone.

    Parameters
    ----------
    zone : str
        Name of the zone.
    sown_on : date
        The day of sowing.
    title : str
        What was sown.
    days : int
        Days since.
    windows : tuple of Window
        Component by component.
    sown : Sown or None
        Viable seed that was sown; None where no rate is known.
    seedlings : Seedlings or None
        From the frames.
    whose : Whose or None
        Whose they are.
    verdict : str
        ``too early to say``, ``as many as usual``, ``fewer than usual``, ``not enough data`` from
        too few frames, or empty without frames.
    because : str
        Why.
    diagnosis : Diagnosis or None
        What may take seedlings, by the signs given.
    losses : tuple of Trouble
        What may take seedlings in the first weeks, each with the check that parts it.
    notes : tuple of str
        What is missing and what it would change.
    own : OwnEmergence
        One's own earlier sowings, and whether the windows are weighed by them.
    """

    zone: str
    sown_on: date
    title: str
    days: int
    windows: tuple[Window, ...]
    sown: Sown | None
    seedlings: Seedlings | None
    whose: Whose | None
    verdict: str
    because: str
    diagnosis: Diagnosis | None
    losses: tuple[Trouble, ...]
    notes: tuple[str, ...]
    own: OwnEmergence = NONE


def watch(book: Book, zone: str, seen: Watched, tell: Tell = lambda _: None) -> Watch:
    """Watch the last sowing of a zone come up.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone.
    seen : Watched
        What was seen.
    tell : callable
        Told in words what is being worked on.

    Raises
    ------
    UnknownNameError
        If there is no such zone or sign.
    NotEnoughDataError
        If no sowing with a lot is known, or the weather since it has gaps.
    """
    ground = book.ground()
    place = ground.zone(zone)
    day, what = _last_sowing(ground, place, book.today)
    windows, wet_note, own = windows_of(book, ground, place, day, what, tell)
    sown = _sown(ground, place, day, what)
    notes = [wet_note] if wet_note else []
    counted, too_few = _counted(seen, sown)
    if counted is not None and counted.unsown is None:
        notes.append("No unsown frame: what came by itself is in the number, so no share of"
                     " the seed is told. Leave a square unsown next time.")  # fmt: skip
    told = None
    if seen.named is not None:
        told = whose(*seen.named, seen.leaves)
    noted = sightings(ground, place.name, day, book.today)
    ahead = windows
    windows = with_sightings(windows, noted, _is_unnamed_up(counted, told, noted))
    notes += _early_notes(ahead, windows)
    verdict, because = _verdict(windows, counted, what, too_few)
    sit = situation(ground, place.name, book.weather(), book.today)
    signs_seen = read_signs(seen.seen, seen.not_seen)
    found = diagnose(sit, signs_seen) if seen.seen or seen.not_seen else None
    lot = ground.lot(what.lot)
    return Watch(
        place.name, day, f"{lot.mixture}, lot {lot.code}", (book.today - day).days, windows,
        sown, counted, told, verdict, because, found, tuple(troubles()[key] for key in FIRST_WEEKS),
        tuple(notes), own,
    )  # fmt: skip


def watch_answer(made: Watch) -> Answer:
    """Give what was found as the diary keeps it."""
    found = {"days_since_sowing": float(made.days)}
    if made.seedlings is not None:
        range_ = made.seedlings.interval
        found |= {
            "seedlings_per_m2": made.seedlings.sown.per_m2,
            "seedlings_low_per_m2": range_.low,
            "seedlings_high_per_m2": range_.high,
        }
        if (share := made.seedlings.share) is not None:
            found |= {"share_of_viable": share[0], "share_low": share[1].low,
                      "share_high": share[1].high}  # fmt: skip
    states = {window.species: window.state for window in made.windows}
    words = f"{made.verdict or 'not counted'}: {made.because}"
    return Answer(ABOUT, words, {"sown": made.title}, found, states)


def loss_signs() -> dict[str, str]:
    """List the signs of loss in the first weeks with their words."""
    wanted = {sign for key in FIRST_WEEKS for sign in troubles()[key].usual}
    return {name: words for name, words in signs().items() if name in wanted}


def _last_sowing(ground: Ground, zone: Zone, today: date) -> tuple[date, Sow]:
    sown = [
        (entry.day, entry.what)
        for entry in ground.entries(zone.name, Sow.kind)
        if isinstance(entry.what, Sow) and entry.what.lot and entry.day <= today
    ]
    if not sown:
        raise NotEnoughDataError(f"germination in {zone.name}", "a sowing with its lot", "none")
    return sown[-1]


def _sown(ground: Ground, zone: Zone, day: date, what: Sow) -> Sown | None:
    """Give the viable seed sown: by a test of the lot where there is one, else by its label."""
    rate = rate_of(zone, what)
    if rate is None:
        return None
    lot = ground.lot(what.lot)
    tested = latest_test(ground, lot)
    if tested is None:
        mixture = by_number(lot.parts)
        sources = {part.component.germination.source for part in mixture.parts}
        by = "by the label" if sources == {"label"} else (
            "by the least germination allowed or assumed, as the label gives none in part or whole"
        )  # fmt: skip
        return Sown(rate * mixture.viable_seeds_per_g, None, by)
    mixture = by_number(lot.parts, tested.test)
    low, high = mixture.viable_range
    by = f"by your germination test of {say(tested.entry.day)}, {tested.test.germinated} of" \
         f" {tested.test.seeds}, before the label"  # fmt: skip
    if (late := (tested.entry.day - day).days) > 0:
        by += f"; it was made {late} days after the sowing, so the seed may have been better then"
    return Sown(rate * mixture.viable_seeds_per_g, Interval(rate * low, rate * high), by)


def _counted(seen: Watched, sown: Sown | None) -> tuple[Seedlings | None, str]:
    """Give what the frames hold, or why they are too few to tell."""
    if not seen.frames:
        return None, ""
    side = seen.side_mm or value("watch.frame_mm")
    try:
        return count_seedlings(
            seen.frames, seen.unsown, side, sown.per_m2 if sown else None,
            sown.range_ if sown else None,
        ), ""  # fmt: skip
    except NotEnoughDataError as slip:
        told = f"the frames are too few for a verdict: {slip.question} needs {slip.needed}"
        return None, f"{told}, counted {slip.found}"


def _is_unnamed_up(
    counted: Seedlings | None, told: Whose | None, noted: Sequence[Sighting]
) -> bool:
    """Tell whether seedlings are up that may be any of the sown kinds."""
    if told is not None and told.sown:
        return True
    if any(not each.species and not each.is_weed for each in noted):
        return True
    if counted is None or not counted.sown.per_m2:
        return False
    net = counted.net_interval
    return net is None or net.high > 0


def _early_notes(expected: Sequence[Window], windows: Sequence[Window]) -> list[str]:
    """Say where what was seen came before what was expected."""
    notes, unnamed = [], []
    for before, now in zip(expected, windows, strict=True):
        name = in_words(now.species)
        if now.seen is not None and (now.opens is None or now.seen < now.opens):
            opens = f"from {say(now.opens)}" if now.opens else "not within the days followed"
            name = name[0].upper() + name[1:]
            notes.append(f"{name} was seen on {say(now.seen)}, and expected {opens}: what was seen"
                         " counts.")  # fmt: skip
        elif now.state != before.state and now.seen is None:
            unnamed.append(name)
    if unnamed:
        notes.append(
            f"Seedlings are up before {' or '.join(unnamed)} was expected; what is up counts. Whose"
            f" they are: cannot tell before {value('watch.leaves_to_name'):g} leaves."
        )
    return notes


def _verdict(
    windows: Sequence[Window], counted: Seedlings | None, what: Sow, too_few: str
) -> tuple[str, str]:
    """Judge a count, never before the slowest window has shut."""
    waiting = [window for window in windows if not window.is_shut]
    if waiting:
        slowest = max(waiting, key=lambda each: each.shuts or date.max)
        until = f"until {say(slowest.shuts)}" if slowest.shuts else "beyond the days followed"
        name = find_species(slowest.species).english
        because = f"{name} may come {until}; nothing is called failed before"
        return EARLY, f"{because}; {too_few}" if too_few else because
    if too_few:
        return TOO_FEW, too_few
    if counted is None:
        return "", "every window has shut: count at least six frames, and two unsown"
    share = counted.share
    if share is None:
        return EARLY, "without unsown frames or a rate no share of the seed can be told"
    usual = parameter(f"seed_establishment_{what.method.replace(' ', '_')}")
    told = (
        f"usual is {100 * usual.low:.0f} to {100 * usual.high:.0f} % of viable seed, {what.method}"
    )
    if share[1].high < usual.low:
        return FEW, f"{told}; look for the cause before sowing again"
    return USUAL, told
