"""Work out the worth of a task with the model: the way ahead with it done, and with it skipped."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from swardbook.book.compiled import kernel_of
from swardbook.book.forecast import courses_told
from swardbook.book.kept_learning import learner_of
from swardbook.book.look_ahead import Asked, chance_of, question_of
from swardbook.book.opening import Book
from swardbook.book.trial_learning import learned_for
from swardbook.book.worth_words import NOT_WEIGHED, worth_words
from swardbook.foundation.dates import month_here
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.model.growing import Grow, grower
from swardbook.model.look_ahead import Tonight, stand_tonight
from swardbook.model.programmes import Programme
from swardbook.model.worth import skipped_worth
from swardbook.planning.situation import Situation
from swardbook.planning.tasks import NOT_WORKED_OUT, Worth

Zone = tuple[Tonight, Programme, bool]


def worth_by_model(
    book: Book, draws: int, tell: Callable[[str], None]
) -> Callable[[Situation, str], Worth]:
    """Give the function that works out what skipping a job in a zone would change.

    Parameters
    ----------
    book : Book
        The opened book.
    draws : int
        Draws, a multiple of 64.
    tell : callable
        Told in words what is being worked on.

    Returns
    -------
    callable
        Takes a situation and a job; each zone is grown to today once, when first asked for.
    """
    grow = grower(kernel_of(book.settings, tell), book.settings.threads)
    stood: dict[str, Zone | str] = {}

    def work(sit: Situation, job: str) -> Worth:
        name = sit.zone.name
        if name not in stood:
            tell(f"Working out what the week is worth in {name} ...")
            stood[name] = _stand(book, name, draws, grow)
        found = stood[name]
        if isinstance(found, str):
            return Worth(f"{NOT_WORKED_OUT.words}; {found}")
        tonight, plan, general = found
        skipped = skipped_worth(tonight.ahead, plan, job, grow, sit.site.weekly_hours or 0.0)
        if skipped is None:
            return Worth(NOT_WEIGHED)
        return worth_words(skipped, name, general, month_here(10, sit.site.latitude))

    return work


def _stand(book: Book, zone: str, draws: int, grow: Grow) -> Zone | str:
    """Grow a zone to today; in words why not, where the book holds too little for it."""
    ground, weather = book.ground(), book.all_weather()
    if weather is None:
        return "no weather"
    learn = learner_of(book.settings)
    try:
        trial = learned_for(book, ground.zone(zone), grow.kernel)
        asked = Asked(ground, weather, book.today, draws, trial=trial, told=courses_told(book))
        question, _ = question_of(asked, zone)
        chance = chance_of(ground, ground.zone(zone))
        known = learn(question.story, draws, chance, grow)
        general = bool(known.learned.refusal) or not known.learned.weighings
        if known.learned.refusal:
            blind = replace(question.story, seen=())
            known = learn(blind, draws, chance, grow)
        return stand_tonight(question, known, chance), question.plans[0], general
    except NotEnoughDataError as short:
        return f"needs {short.needed}"
