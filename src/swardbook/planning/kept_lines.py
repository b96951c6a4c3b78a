"""Kept answers in the morning look: each in the section it belongs to, aged ones to be checked."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from swardbook.planning.kept import KeptState, kept_answers, kept_words
from swardbook.planning.sections import Line
from swardbook.planning.situation import Situation
from swardbook.planning.tasks import Status

CHECKS = "checks"


def kept_lines(zones: Sequence[Situation]) -> Mapping[str, list[Line]]:
    """Give the lines that kept answers add to the morning look, by section.

    Parameters
    ----------
    zones : sequence of Situation
        The zones, all on the same day.
    """
    found: dict[str, list[Line]] = {}
    for sit in zones:
        for kept in kept_answers(sit):
            section = kept.question.section
            if not section or kept.state not in {KeptState.IN_USE, KeptState.AGED}:
                continue
            is_aged = kept.state is KeptState.AGED
            shape = "?" if is_aged else Status.WAITING.shape
            line = Line(
                (sit.zone.name,), shape, kept.state.value, kept_words(sit, kept),
                {"about": kept.what.about, "kept_on": kept.day.isoformat(),
                 "changed": "; ".join(kept.changed)},
            )  # fmt: skip
            found.setdefault(CHECKS if is_aged else section, []).append(line)
    return found
