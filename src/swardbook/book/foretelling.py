"""What the look-ahead foretells of one count, with everything it rests on."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import asdict, dataclass, fields
from hashlib import sha256

import numpy as np

from swardbook.book.forecast import courses_told, told_words
from swardbook.book.guesses import Basis
from swardbook.book.kept_learning import learner_of
from swardbook.book.look_ahead import FULL, GENERAL, LEARNED, Asked, chance_of, question_of
from swardbook.book.opening import Book
from swardbook.book.programmes import own_plans
from swardbook.book.trial_learning import TrialLearned, learned_for
from swardbook.foundation.dates import say
from swardbook.foundation.errors import BadInputError, NotEnoughDataError, RefusedError
from swardbook.model.ahead import Horizon, horizons
from swardbook.model.carrying import Look, run_programme
from swardbook.model.chance import Array
from swardbook.model.compiling import Kernel
from swardbook.model.counting_ahead import Frames, counted_ahead
from swardbook.model.growing import Grow, grower
from swardbook.model.kernel_text import LANES
from swardbook.model.look_ahead import Question, Tonight, stand_tonight
from swardbook.model.observing import Standing
from swardbook.model.past import MEADOW_GRASS
from swardbook.model.programmes import Programme
from swardbook.observations.counts import Method
from swardbook.weather.series import DailyWeather

LEVELS = tuple(n / 100 for n in range(101))
NOTHING_SEALED = "Nothing was sealed"
OWN_GUESS = "A guess of your own may be sealed: give --who and --cover or --plants."
FORETELLS = "the mean of the count, luck of the places and the counter's habit included"
Tell = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class Foretold:
    """What a count will find, as quantiles.

    Parameters
    ----------
    horizon : Horizon
        The day it is for.
    frames : Frames
        How the count is made.
    quantiles : tuple of float
        At `LEVELS`. [% or plants m⁻²]
    basis : Basis
        What it rests on.
    """

    horizon: Horizon
    frames: Frames
    quantiles: tuple[float, ...]
    basis: Basis

    @property
    def middle(self) -> float:
        """The middle quantile [% or plants m⁻²]."""
        return self.quantiles[50]

    @property
    def at80(self) -> tuple[float, float]:
        """The ends of the 80 % range [% or plants m⁻²]."""
        return self.quantiles[10], self.quantiles[90]


def foretell(
    book: Book, zone: str, horizon: str, programme: str, draws: int, kernel: Kernel, tell: Tell
) -> Foretold:
    """Foretell what the count of annual meadow-grass will find on a horizon.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        Name of the zone.
    horizon : str
        ``spring``, ``autumn`` or ``far``.
    programme : str
        The way of working, by name; empty: the way recorded so far.
    draws : int
        How many draws, a multiple of 64.
    kernel : Kernel
        The compiled model.
    tell : callable
        Told in words what is being worked on.

    Raises
    ------
    RefusedError
        Where the look-ahead is not learned from the zone's own counts in full.
    UnknownNameError
        If there is no such zone or programme.
    BadInputError
        If the draws are no multiple of 64, or no way of working is recorded or named.
    """
    if draws < LANES or draws % LANES:
        raise BadInputError("the draws", draws, f"a multiple of {LANES}", "Try 4096.")
    trial = learned_for(book, book.ground().zone(zone), kernel, tell)
    question, frames = _may_be_sealed(book, zone, programme, draws, trial)
    plan = question.plans[-1] if programme else question.plans[0]
    if not programme and plan.key != "as_recorded":
        raise BadInputError("--programme", "nothing", "the name of a programme",
                            "No way of working is recorded yet.")  # fmt: skip
    chance = chance_of(book.ground(), question.story.zone)
    grow = grower(kernel, book.settings.threads)
    tell("growing the zone from its start to today")
    known = learner_of(book.settings)(question.story, draws, chance, grow)
    if known.learned.refusal or not known.learned.weighings:
        raise _refused(GENERAL, known.learned.refusal or "No count could be learned from.")
    tonight = stand_tonight(question, known, chance)
    marks = horizons(question.story.today, question.story.latitude)
    mark = next(each for each in marks if each.key == horizon)
    tell(f"the way ahead to {say(mark.day)}")
    look = _look_at(tonight, plan, marks, mark, grow)
    standing = Standing({MEADOW_GRASS: look.plants}, {MEADOW_GRASS: look.cover}, {})
    seeing = known.unknowns.seeing(tonight.scores)
    luck = chance.under("sealed", mark.day.isoformat())
    found = counted_ahead(frames, MEADOW_GRASS, standing, seeing, luck)
    basis = _basis(book, question, tonight, plan, frames, kernel)
    return Foretold(mark, frames, quantiles_of(found), basis)


def quantiles_of(found: Array) -> tuple[float, ...]:
    """Give the quantiles of equally weighted draws at `LEVELS`, to six figures."""
    return tuple(float(f"{each:.6g}") for each in np.quantile(found, LEVELS))


def fingerprint(weather: DailyWeather) -> str:
    """Give a checksum of daily weather: its days and all its values."""
    whole = sha256(weather.days.astype("datetime64[D]").astype("<i8").tobytes())
    for entry in fields(weather):
        series = getattr(weather, entry.name)
        if entry.name != "days" and series is not None:
            whole.update(entry.name.encode())
            whole.update((np.asarray(series, dtype="<f8") + 0.0).tobytes())
    return whole.hexdigest()


def _may_be_sealed(
    book: Book, zone: str, programme: str, draws: int, trial: TrialLearned
) -> tuple[Question, Frames]:
    ground, weather = book.ground(), book.all_weather()
    ground.zone(zone)
    if weather is None:
        raise _refused(GENERAL, "The book holds no weather.")
    names = (programme,) if programme else ()
    try:
        asked = Asked(
            ground, weather, book.today, draws, names, own_plans(book), trial=trial,
            told=courses_told(book),
        )  # fmt: skip
        question, missing = question_of(asked, zone)
    except NotEnoughDataError as short:
        raise RefusedError(NOTHING_SEALED, str(short), OWN_GUESS) from short
    if missing:
        counted = any(each.places for each in question.story.seen)
        raise _refused(LEARNED if counted else GENERAL, missing)
    last = next(each for each in reversed(question.story.seen) if each.places)
    method = Method.PLANTS if question.by_plants else Method.POINTS
    frames = Frames.as_last_time(last.places, MEADOW_GRASS, method)
    if frames is None:
        raise _refused(LEARNED, "The last count was by eye, which is not learned from.")
    return question, frames


def _refused(label: str, reason: str) -> RefusedError:
    return RefusedError(NOTHING_SEALED, f"the look-ahead is {label}. {reason}", OWN_GUESS)


def _look_at(
    tonight: Tonight, plan: Programme, marks: tuple[Horizon, ...], mark: Horizon, grow: Grow
) -> Look:
    upto = [each for each in marks if each.day <= mark.day]
    looks, _ = run_programme(tonight.ahead, plan, MEADOW_GRASS, upto, grow)
    return looks[mark.key]


def _basis(
    book: Book, question: Question, tonight: Tonight, plan: Programme, frames: Frames,
    kernel: Kernel,
) -> Basis:  # fmt: skip
    read = question.weather.until(book.today)
    numbers = {key: held for key, held in asdict(plan).items() if key not in {"key", "name"}}
    return Basis(
        label=FULL,
        programme={
            "key": plan.key,
            "name": plan.name,
            "numbers": json.dumps(numbers, ensure_ascii=False, sort_keys=True),
        },
        draws=question.draws,
        effective_draws=float(f"{tonight.known.learned.effective_draws:.6g}"),
        kernel=kernel.identity,
        weather_name="; ".join(filter(None, (book.store.weather_name(), told_words(book)))),
        weather_first=read.first,
        weather_last=read.last,
        weather_fingerprint=fingerprint(read),
        past_years=tonight.past_years,
        placements=tuple(f"{place}: {size:g}" for place, size in frames.placements),
    )
