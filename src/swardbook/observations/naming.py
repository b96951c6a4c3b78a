"""Name a plant by what was seen: how likely each is, what to look at next, and when to stop.

No answer rules a plant out: each may be wrong, by a share that the handbook states. Answers are
taken as independent given the plant, which they are not quite (a bristle leaf is also narrow and
sharp), so a share near one is less sure than it reads; that is why a name needs several answers.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.handbook.parameters import value
from swardbook.handbook.plants import AGES, Plant, Question, chances, plants, questions

SURE, PROBABLY, CANNOT_TELL = "sure", "probably", "cannot tell"
DONT_KNOW = "don't know"
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_DONT_KNOW = {"?", "dontknow", "unknown", "notsure", "none seen", "noneseen"}
Shares: TypeAlias = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Looked:
    """What was seen of one plant.

    Parameters
    ----------
    answers : mapping of str to str
        Answer by trait.
    unknown : tuple of str
        Traits answered with don't know; they change nothing and are not asked again.
    age : str
        How old the plant is; one of `AGES`.
    """

    answers: Mapping[str, str] = field(default_factory=dict)
    unknown: tuple[str, ...] = ()
    age: str = "plant"


@dataclass(frozen=True, slots=True)
class Candidate:
    """One plant it may be.

    Parameters
    ----------
    plant : Plant
        The plant.
    share : float
        How likely it is, by the answers. [-]
    check : str
        What separates it from the likeliest; empty for the likeliest itself.
    """

    plant: Plant
    share: float
    check: str = ""


@dataclass(frozen=True, slots=True)
class Naming:
    """What a plant is called.

    Parameters
    ----------
    verdict : str
        ``sure``, ``probably`` or ``cannot tell``.
    likeliest : Candidate
        The likeliest plant; no name where the verdict is ``cannot tell``.
    alike : tuple of Candidate
        Look-alikes: the next in line, and those that are known to be mistaken for it.
    because : str
        What the verdict rests on.
    next_question : Question or None
        What would tell most for its time; None where nothing more is worth asking.
    gain_bits : float
        What that question tells on average. [bit]
    """

    verdict: str
    likeliest: Candidate
    alike: tuple[Candidate, ...]
    because: str
    next_question: Question | None
    gain_bits: float


def read_looked(seen: Iterable[str], age: str = "plant") -> Looked:
    """Read what was seen, as typed.

    Parameters
    ----------
    seen : iterable of str
        Each as ``trait=answer``; a measured trait takes a number in mm, and ``?`` is don't know.
    age : str
        ``seedling`` (one or two leaves), ``young`` (three and more) or ``plant``.

    Raises
    ------
    BadInputError
        If one is no pair, a trait is given two answers, or the age is none of the three.
    UnknownNameError
        If there is no such trait or answer; offers the nearest.
    """
    if age not in AGES:
        raise BadInputError("the age", age, ", ".join(AGES))
    answers: dict[str, str] = {}
    unknown: list[str] = []
    for text in seen:
        name, given, answer = text.partition("=")
        if not given or not answer.strip():
            raise BadInputError("what was seen", text, "trait=answer, such as tip=boat or tip=?")
        question = _find(name, questions(), "trait")
        state = _answer(questions()[question], answer)
        if answers.get(question, state) != state:
            raise BadInputError(f"what was seen of {question}", text, "one answer on each trait")
        if state:
            answers[question] = state
        elif question not in unknown:
            unknown.append(question)
    return Looked(answers, tuple(each for each in unknown if each not in answers), age)


def shares(looked: Looked, sown: Collection[str] = ()) -> dict[str, float]:
    """Give how likely each plant is, by the answers and by what was sown.

    Parameters
    ----------
    looked : Looked
        What was seen; the order of the answers does not matter.
    sown : collection of str
        Keys of species sown in the zone.

    Returns
    -------
    dict of str to float
        Share by plant; they add up to one. [-]
    """
    return dict(zip(plants(), (float(each) for each in _posterior(looked, sown)), strict=True))


def name_plant(looked: Looked, sown: Collection[str] = ()) -> Naming:
    """Name a plant, or say that it cannot be told and what would tell.

    Parameters
    ----------
    looked : Looked
        What was seen.
    sown : collection of str
        Keys of species sown in the zone.
    """
    found = _posterior(looked, sown)
    order = sorted(range(len(found)), key=lambda n: (-found[n], n))
    listed = list(plants().values())
    top = listed[order[0]]
    verdict, because = _verdict(looked, top, float(found[order[0]]))
    together = _together(found, order)
    alike = [Candidate(listed[n], float(found[n]), separating_check(top, listed[n], looked))
             for n in together[1:]]  # fmt: skip
    if not alike and not _mistaken_for(top):
        n = order[1]
        check = separating_check(top, listed[n], looked)
        alike = [Candidate(listed[n], float(found[n]), check)]
    known = {each.plant.key for each in alike}
    for key in _mistaken_for(top):
        if key not in known and len(alike) < value("key.few") and verdict != CANNOT_TELL:
            n = list(plants()).index(key)
            alike.append(
                Candidate(listed[n], float(found[n]), separating_check(top, listed[n], looked))
            )
    asked, gain = next_question(looked, sown) if verdict != SURE else (None, 0.0)
    first = Candidate(top, float(found[order[0]]))
    return Naming(verdict, first, tuple(alike), because, asked, gain)


def next_question(looked: Looked, sown: Collection[str] = ()) -> tuple[Question | None, float]:
    """Find the question that tells most for its time, and what it tells.

    Parameters
    ----------
    looked : Looked
        What was seen so far.
    sown : collection of str
        Keys of species sown in the zone.

    Returns
    -------
    tuple of Question or None, and float
        The question and its expected gain; None where none is worth its time. [bit]
    """
    if looked.age == "seedling":
        return None, 0.0
    found = _posterior(looked, sown)
    best, best_rate, best_gain = None, value("key.least_gain"), 0.0
    for question in open_questions(looked):
        gain = _gain(found, question.key)
        rate = gain / question.minutes.value
        if rate > best_rate:
            best, best_rate, best_gain = question, rate, gain
    return best, best_gain


def open_questions(looked: Looked) -> list[Question]:
    """List what can still be looked at on a plant of that age."""
    oldest = AGES.index(looked.age)
    return [
        each
        for each in questions().values()
        if each.asked
        and each.key not in looked.answers
        and each.key not in looked.unknown
        and AGES.index(each.age) <= oldest
        and not (each.after and looked.answers.get(each.after) == each.unless)
    ]


def separating_check(one: Plant, other: Plant, looked: Looked | None = None) -> str:
    """Say what separates two plants: the handbook's check, or the trait they differ in most.

    Parameters
    ----------
    one, other : Plant
        The two.
    looked : Looked, optional
        What was seen already; what is still open comes first.
    """
    seen = looked or Looked()
    told = one.alike.get(other.key) or other.alike.get(one.key)
    if told:
        return told
    still = open_questions(Looked(seen.answers, seen.unknown))
    usable = still or [each for each in questions().values() if each.asked]
    best = max(usable, key=lambda each: _apart(one, other, each))
    if _apart(one, other, best) < 0.2:
        return "Nothing in the hand separates them surely; a head in flower or a specialist does."
    mine, theirs = (_words(each, best) for each in (one, other))
    if set(best.states) == {"yes", "no"}:
        mine, theirs = ("one" if each == "yes" else "none" for each in (mine, theirs))
        return f"Feel for a {best.called}: {mine} in {one.in_words}, {theirs} in {other.in_words}."
    return f"Look at the {best.called}: {mine} in {one.in_words}, {theirs} in {other.in_words}."


def _apart(one: Plant, other: Plant, question: Question) -> float:
    a, b = chances(one, question), chances(other, question)
    return sum(abs(a[state] - b[state]) for state in a) / 2


def _words(plant: Plant, question: Question) -> str:
    row = plant.shown.get(question.key)
    if row is None:
        return "not known"
    if row.low is not None and row.high is not None:
        return f"{row.low:g} to {row.high:g} {'mm' if question.cuts else ''}".strip()
    return " or ".join(row.usual)


def _verdict(looked: Looked, top: Plant, share: float) -> tuple[str, str]:
    number = sum(questions()[trait].asked for trait in looked.answers)
    told = f"{number} answer{'' if number == 1 else 's'}"
    if looked.age == "seedling":
        return CANNOT_TELL, (
            "At one or two leaves most seedlings cannot be told apart."
            f" Look again in about {value('key.look_again_weeks'):.0f} growing weeks,"
            " at three leaves."
        )
    if not number:
        return CANNOT_TELL, "Nothing was looked at yet."
    enough = number >= value("key.sure_answers")
    if share >= value("key.sure") and enough and looked.age == "plant" and not top.as_one:
        return SURE, f"{told}, and nothing else fits nearly as well."
    if share >= value("key.probably"):
        why = "" if looked.age == "plant" else " A young plant is never sure."
        more = "" if enough else " Too few answers to be sure."
        one = f" In the hand it is one with {' and '.join(top.as_one)}." if top.as_one else ""
        return PROBABLY, f"{told}; others fit less well.{why}{more}{one}"
    return CANNOT_TELL, f"{told}, and several plants fit."


def _together(found: Shares, order: list[int]) -> list[int]:
    """Find the fewest plants that hold most of the shares, the likeliest first."""
    held, most, few = 0.0, value("key.together"), value("key.few")
    for place, n in enumerate(order):
        held += float(found[n])
        if held >= most or place >= few:
            return order[: place + 1]
    return order


def _mistaken_for(plant: Plant) -> list[str]:
    others = [each.key for each in plants().values() if plant.key in each.alike]
    return list(dict.fromkeys([*plant.alike, *others]))


def _posterior(looked: Looked, sown: Collection[str]) -> Shares:
    factor = value("key.sown_factor")
    prior = _common() * np.array([factor if key in sown else 1.0 for key in plants()])
    told = np.log(prior)
    for trait in sorted(looked.answers):
        states = list(questions()[trait].states)
        told = told + np.log(_table(trait)[:, states.index(looked.answers[trait])])
    weights: Shares = np.exp(told - told.max())
    whole: Shares = weights / weights.sum()
    return whole


def _gain(found: Shares, trait: str) -> float:
    """Give the expected fall in entropy: that of the answer, less what it is by error alone."""
    table = _table(trait)
    by_state = found @ table
    own = -(table * np.log2(table)).sum(axis=1)
    return float(-(by_state * np.log2(by_state)).sum() - found @ own)


@cache
def _common() -> Shares:
    return np.array([each.in_lawns.value for each in plants().values()])


@cache
def _table(trait: str) -> Shares:
    question = questions()[trait]
    return np.array([list(chances(each, question).values()) for each in plants().values()])


def _answer(question: Question, typed: str) -> str:
    """Give the answer's key; empty for don't know."""
    word = _folded(typed)
    if typed.strip() == "?" or (word and word in {_folded(each) for each in _DONT_KNOW}):
        return ""
    if question.cuts:
        try:
            number = float(typed.casefold().replace("mm", "").replace(",", ".").strip())
        except ValueError:
            return _find(typed, question.states, f"answer on {question.key}")
        if not 0 < number < 100:
            raise BadInputError(question.key, typed, "a measure from 0 to 100 mm")
        return question.state_of(number)
    if question.asked and word.isdecimal() and 0 < int(word) <= len(question.states):
        return list(question.states)[int(word) - 1]
    if not question.asked:
        typed = next((str(n) for n, name in enumerate(_MONTHS, 1) if word.startswith(name)), typed)
    return _find(typed, question.states, f"answer on {question.key}")


def _find(typed: str, known: Mapping[str, Any], kind: str) -> str:
    folded = {_folded(each): each for each in known}
    found = folded.get(_folded(typed))
    if found is None:
        raise UnknownNameError(kind, typed.strip(), known)
    return found


def _folded(text: str) -> str:
    return "".join(letter for letter in text.casefold() if letter.isalnum())
