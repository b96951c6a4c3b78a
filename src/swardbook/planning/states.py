"""Met, not met, don't know: the states of a condition, and what they add up to."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class State(StrEnum):
    """How a condition stands; what is unknown is never met."""

    MET = "met"
    NOT_MET = "not met"
    UNKNOWN = "don't know"

    @property
    def shape(self) -> str:
        """The mark shown beside the word."""
        return {"met": "✓", "not met": "✗", "don't know": "?"}[self.value]


class Overall(StrEnum):
    """What the conditions of a job add up to."""

    FIT = "fit"
    LOOK_FIRST = "look first"
    NOT_FIT = "not fit"

    @property
    def shape(self) -> str:
        """The mark shown beside the word."""
        return {"fit": "✓", "look first": "?", "not fit": "✗"}[self.value]


class Rank(StrEnum):
    """Who wins when rules collide, strongest first; drought, heat and disease count as stress."""

    SAFETY = "safety and closures"
    GROUND = "frost and wet ground"
    SEEDLINGS = "living seedlings"
    STRESS = "a sward under stress"
    HEADS = "getting heads off"
    THIRD = "the one-third rule"
    LOOKS = "colour and looks"

    @property
    def order(self) -> int:
        """Place in the order of precedence, 0 the strongest."""
        return list(Rank).index(self)


@dataclass(frozen=True, slots=True)
class Condition:
    """One condition of a job, and where its state comes from.

    Parameters
    ----------
    name : str
        The condition: ``frost``, ``tug test`` ...
    state : State
        Met, not met or don't know.
    because : str
        The reason in plain words.
    source : str
        The record or day it came from, such as ``diary, Sat 4 October 2011``.
    threshold : str
        Handbook key of the threshold used; empty where there is none.
    rank : Rank
        The rule it belongs to, for who wins.
    blocks : bool
        Whether `NOT_MET` forbids the job; if not, the job needs a look and a hand.
    until : str
        What it waits for, as a condition; never a date made up.
    """

    name: str
    state: State
    because: str
    source: str = ""
    threshold: str = ""
    rank: Rank = Rank.LOOKS
    blocks: bool = True
    until: str = ""


def add_up(conditions: tuple[Condition, ...]) -> Overall:
    """Add conditions up: one that blocks forbids, one that is open asks for a look."""
    if any(each.state is State.NOT_MET and each.blocks for each in conditions):
        return Overall.NOT_FIT
    if any(each.state is not State.MET for each in conditions):
        return Overall.LOOK_FIRST
    return Overall.FIT


def deciding(conditions: tuple[Condition, ...]) -> tuple[Condition, ...]:
    """Give the conditions that decide, strongest rule first; none if the job is fit."""
    overall = add_up(conditions)
    if overall is Overall.NOT_FIT:
        found = [each for each in conditions if each.state is State.NOT_MET and each.blocks]
    else:
        found = [each for each in conditions if each.state is not State.MET]
    return tuple(sorted(found, key=lambda each: each.rank.order))
