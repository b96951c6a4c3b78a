"""Which programme leaves least, where that can be said; else which cannot be told apart."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from swardbook.evidence.verdicts import Verdict
from swardbook.model.chance import Array
from swardbook.model.prospects import Contrast, contrast

_APART = (Verdict.CLEAR, Verdict.CLEAR_BUT_SMALL, Verdict.LEANING)


@dataclass(frozen=True, slots=True)
class Leading:
    """What the order of programmes lets one say.

    Parameters
    ----------
    verdict : Verdict
        The weakest verdict that sets the leader off from the others; where some cannot be told
        from it, the verdict on those.
    group : tuple of str
        Keys of the programmes that leave least: one is a leader, several cannot be told apart.
    behind : tuple of str
        Keys of those that leave more, as far as can be said.
    against_least : mapping of str to Contrast
        Each other programme against the one with the least.
    """

    verdict: Verdict
    group: tuple[str, ...]
    behind: tuple[str, ...]
    against_least: Mapping[str, Contrast]

    @property
    def is_leader(self) -> bool:
        """Whether one programme stands apart from all others."""
        return len(self.group) == 1


def leading(
    ranked: Sequence[str], outcomes: Mapping[str, Array], *, is_density: bool
) -> Leading | None:
    """Say which programme leaves least, or which ones cannot be told apart.

    Parameters
    ----------
    ranked : sequence of str
        Keys in order of their mean outcome, the least first.
    outcomes : mapping of str to array
        What each programme ends with, one value a draw. [m⁻² or -]
    is_density : bool
        Whether outcomes are densities; else shares of ground.

    Returns
    -------
    Leading or None
        None where there is only one programme.
    """
    if len(ranked) < 2:
        return None
    least, *others = ranked
    made = {
        key: contrast(key, outcomes[key], least, outcomes[least], is_density=is_density)
        for key in others
    }
    behind = tuple(key for key in others if made[key].difference > 0 and _is_apart(made[key]))
    group = (least, *(key for key in others if key not in behind))
    if len(group) == 1:
        said = max((made[key].verdict for key in behind), key=_APART.index)
    else:
        said = _joint([made[key].verdict for key in group[1:]])
    return Leading(said, group, behind, made)


def _is_apart(made: Contrast) -> bool:
    return made.verdict in _APART


def _joint(found: Sequence[Verdict]) -> Verdict:
    alike = all(each is Verdict.AS_GOOD_AS_EQUAL for each in found)
    return Verdict.AS_GOOD_AS_EQUAL if alike else Verdict.TOO_CLOSE
