"""What would spoil a trial, read from its plan before it is sown."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum

from swardbook.handbook.parameters import parameter, value
from swardbook.handbook.species import in_words
from swardbook.seed.comfort import Comfort
from swardbook.trials.design import Drawn, Kind, error_df, facing
from swardbook.trials.layout import Laid, whole_widths
from swardbook.trials.shuffling import always_at_one_end


class Answer(StrEnum):
    """Whether something spoils the trial."""

    FINE = "fine"
    SPOILS = "spoils"
    MIND = "mind"
    NOT_KNOWN = "don't know"


@dataclass(frozen=True, slots=True)
class Look:
    """One thing looked at.

    Parameters
    ----------
    what : str
        What was looked at.
    answer : Answer
        Whether it spoils the trial.
    words : str
        What was found.
    mend : str
        What would put it right.
    """

    what: str
    answer: Answer
    words: str
    mend: str = ""


@dataclass(frozen=True, slots=True)
class Facts:
    """What is known of the ground and the care, beside the plan.

    Parameters
    ----------
    ends : tuple of str
        Words for the first and the last end, such as ``wet south``; empty if not said.
    sides : tuple of str
        Words for the left and right side, as seen from the first end; empty if not said.
    tap, sun : str
        End or side where the tap is, and where it is sunniest; empty if not said.
    blocks_across : bool or None
        Whether blocks lie across the way in which the ground changes; None if not said.
    height_mm : float or None
        Height of cut. [mm]
    comfort : mapping of str to Comfort
        Each mixture against that height, by name.
    uneven : tuple of str
        Care that some plots got and others did not, in words.
    favourite : str
        Mixture that somebody already likes best.
    is_sown : bool
        Whether it is sown, so that the plan can no longer be mended.
    """

    ends: tuple[str, str] = ("", "")
    sides: tuple[str, str] = ("", "")
    tap: str = ""
    sun: str = ""
    blocks_across: bool | None = None
    height_mm: float | None = None
    comfort: Mapping[str, Comfort] = field(default_factory=dict)
    uneven: tuple[str, ...] = ()
    favourite: str = ""
    is_sown: bool = False


def what_spoils(drawn: Drawn, laid: Laid | None, facts: Facts) -> tuple[Look, ...]:
    """Look a plan over like somebody who wishes it to fail.

    Parameters
    ----------
    drawn : Drawn
        The draw.
    laid : Laid or None
        Where plots lie; None where that is not kept.
    facts : Facts
        What is known beside.

    Returns
    -------
    tuple of Look
        What spoils it, then what is to be minded or not known, then what is fine.
    """
    looks = [
        _repeats(drawn), _shuffled(drawn), _error(drawn), _neighbours(drawn), _ends(drawn, facts),
        _control(drawn), _change(drawn, facts), _tap(facts), *_comfort(facts), *_on_ground(laid),
        _care(facts), _mind_counters(drawn),
    ]  # fmt: skip
    found = [each for each in looks if each is not None]
    if facts.is_sown:
        found = [replace(each, mend="") if each.what in _OF_PLAN else each for each in found]
    return tuple(sorted(found, key=lambda one: _ORDER.index(one.answer)))


_ORDER = (Answer.SPOILS, Answer.MIND, Answer.NOT_KNOWN, Answer.FINE)
_OF_PLAN = {"repeats", "order", "spread", "neighbours", "ends", "control", "ground", "guards",
            "turning", "mower passes"}  # fmt: skip
"""What only another plan would mend."""


def may_rank(drawn: Drawn) -> bool:
    """Tell whether mixtures of this plan may be ranked at all: shuffled, and repeats enough."""
    return drawn.is_shuffled and _least(drawn) >= value("trial.ranked_from")


def _least(drawn: Drawn) -> int:
    own = drawn.plots_of
    levels = max(len(drawn.design.levels), 1)
    return min(own[name] for name in drawn.design.entries) // levels


def _repeats(drawn: Drawn) -> Look:
    least, wanted = _least(drawn), round(value("trial.ranked_from"))
    more = f"{wanted} or more of each would let me."
    if least == 1:
        return Look(
            "repeats", Answer.SPOILS,
            "One plot each: I can describe these, not rank them. You would see a difference and"
            " could not tell mixture from place.", more,
        )  # fmt: skip
    if least < wanted:
        return Look(
            "repeats", Answer.SPOILS, f"{least} plots each: too few to rank mixtures by.", more
        )
    times = f"{least} plots of each mixture"
    if drawn.design.kind is Kind.AUGMENTED:
        return Look(
            "repeats", Answer.MIND,
            f"{least} plots of each check; what stands once is only screened, against the checks.",
            "Choose from it what goes into a trial with repeats.",
        )  # fmt: skip
    if drawn.design.kind is Kind.TUBS:
        return Look(
            "repeats", Answer.MIND,
            f"{least} tubs of each: they speak of emergence, colour and texture, never of wear,"
            " drought, winter or weeds.",
            "Rims flush with the soil and below the blade, own drainage; they dry fast.",
        )  # fmt: skip
    return Look("repeats", Answer.FINE, f"{times}.")


def _shuffled(drawn: Drawn) -> Look:
    if drawn.is_shuffled and drawn.seed is None:
        return Look("order", Answer.NOT_KNOWN, "How plots were shuffled is not kept with the plan.")
    if drawn.is_shuffled:
        return Look("order", Answer.FINE, f"Shuffled by seed {drawn.seed}.")
    return Look(
        "order", Answer.SPOILS,
        "A plot was moved by hand: results will be marked “chosen, not shuffled”, and nothing is"
        " ranked.", "Shuffle again before sowing: swardbook shuffle.",
    )  # fmt: skip


def _error(drawn: Drawn) -> Look | None:
    df = error_df(drawn.design)
    if df == 0 or df >= value("trial.df_least"):
        return None
    return Look(
        "spread", Answer.MIND,
        f"Only {df} degrees of freedom are left for error: the spread itself will hardly be"
        " known.", "Another block, or another mixture.",
    )  # fmt: skip


def _neighbours(drawn: Drawn) -> Look:
    if drawn.design.kind in {Kind.TUBS, Kind.SINGLE}:
        return Look("neighbours", Answer.FINE, "Nothing stands beside itself for long.")
    alike = [
        f"{one.entry} at {_name(one.block, one.number)} and {_name(other.block, other.number)}"
        for one, other in facing(drawn.slots)
        if one.entry == other.entry and one.block != other.block
    ]
    if not alike:
        return Look("neighbours", Answer.FINE, "No mixture stands beside itself.")
    return Look(
        "neighbours", Answer.MIND, f"Beside itself across a path: {'; '.join(alike)}.",
        "Shuffle again, or keep seed off the path between.",
    )  # fmt: skip


def _ends(drawn: Drawn, facts: Facts) -> Look | None:
    if drawn.design.kind in {Kind.TUBS, Kind.SINGLE}:
        return None
    words = {"left": facts.sides[0] or "left", "right": facts.sides[1] or "right"}
    found = always_at_one_end(drawn.slots)
    told = [f"{name} always stands at the {words[side]} side" for name, side in found]
    sunny = {side for side, word in words.items() if facts.sun and _same(facts.sun, word)}
    for name, side in found:
        if side in sunny:
            told.append(f"for {name} that is the sunny one")
    if facts.favourite and (lean := _leans(drawn, facts.favourite)) is not None:
        side, share = lean
        if side in sunny and share >= 0.5:
            told.append(f"{facts.favourite}, which is liked best, lies towards the sunny side")
    if not told:
        return Look("ends", Answer.FINE, "No mixture always has the same end.")
    return Look(
        "ends", Answer.SPOILS, f"{'; '.join(told)}.", "Shuffle again: a place is no mixture."
    )


def _leans(drawn: Drawn, name: str) -> tuple[str, float] | None:
    """Give the side an entry leans to, and how far: 1 when all its plots lie at the edge."""
    widest = max(slot.column for slot in drawn.slots)
    own = [slot.column for slot in drawn.slots if slot.entry.casefold() == name.casefold()]
    if not own or widest == 1:
        return None
    middle = (widest + 1) / 2
    off = sum(column - middle for column in own) / len(own) / (middle - 1)
    return ("right" if off > 0 else "left"), abs(off)


def _control(drawn: Drawn) -> Look:
    has_one = any(slot.entry.casefold() == "unsown" for slot in drawn.slots)
    if has_one:
        return Look("control", Answer.FINE, "Unsown plots show what comes by itself.")
    return Look(
        "control", Answer.MIND, "No unsown plot: nothing tells what would have come by itself.",
        "Add the control: raked, fed, watered and cut like the others.",
    )  # fmt: skip


def _change(drawn: Drawn, facts: Facts) -> Look | None:
    if drawn.design.kind in {Kind.LATIN, Kind.ROW_COLUMN}:
        return Look("ground", Answer.FINE, "Rows and columns both take out how the ground changes.")
    if drawn.design.kind in {Kind.TUBS, Kind.SINGLE}:
        return None
    if facts.blocks_across is False:
        return Look(
            "ground", Answer.SPOILS,
            "Blocks lie along the way in which the ground changes: every mixture meets another"
            " part of it, and no block takes that out.", "Turn the blocks across it.",
        )  # fmt: skip
    if not any(facts.ends):
        return Look(
            "ground", Answer.NOT_KNOWN, "Which end is wetter, shadier or richer is not said.",
            "Look after rain, then say it (--ends 'wet south, dry north'): blocks lie across it.",
        )  # fmt: skip
    first, last = (each or "the other end" for each in facts.ends)
    return Look("ground", Answer.FINE, f"Blocks lie across the change from {first} to {last}.")


def _tap(facts: Facts) -> Look:
    if not facts.tap:
        return Look(
            "water", Answer.NOT_KNOWN, "Where the tap is is not said: who waters the far end?",
            "Say it (--tap), and water by tins, block by block.",
        )  # fmt: skip
    if any(_same(facts.tap, side) for side in facts.sides if side):
        return Look(
            "water", Answer.MIND,
            f"The tap is at the {facts.tap} side: within every block the plots there get watered"
            " first and most. Who waters the far side?",
            "Start each time at the other side, and measure with tins.",
        )  # fmt: skip
    return Look(
        "water", Answer.MIND,
        f"The tap is at {facts.tap}: blocks far from it go dry first. Blocks take that out, if"
        " a block is watered whole.", "Finish a block before you stop.",
    )  # fmt: skip


def _comfort(facts: Facts) -> list[Look]:
    """Weigh share of mixture by millimetres below its range: much of it stands alone."""
    height = facts.height_mm
    if height is None:
        return [Look("height of cut", Answer.NOT_KNOWN, "The height of cut is not said.")]
    every = sorted(facts.comfort.items(), key=lambda each: -each[1].strain_mm)
    found, little = [], []
    for name, comfort in every:
        if comfort.will_not_last:
            found.append(Look(
                "height of cut", Answer.MIND,
                f"{name} is ryegrass alone at {height:g} mm, and will not last there.",
                "Say so beside every result.",
            ))  # fmt: skip
        elif comfort.strain_mm >= value("trial.strain"):
            found.append(Look(
                "height of cut", Answer.MIND,
                f"{name} is cut at {height:g} mm, below what it likes: {_below(comfort)}."
                " Identical care is not equally kind.",
                "Say so beside every result, or give heights as a split plot.",
            ))  # fmt: skip
        elif comfort.below:
            little.append(f"{name} ({_below(comfort)})")
    if little:
        found.append(Look(
            "height of cut", Answer.MIND,
            f"A little below what a part of it likes, at {height:g} mm: {'; '.join(little)}.",
        ))  # fmt: skip
    fine = Look("height of cut", Answer.FINE, f"{height:g} mm suits every mixture.")
    return found or [fine]


def _below(comfort: Comfort) -> str:
    return ", ".join(
        f"{in_words(each.species)} ({each.share_by_weight:.0%}) from {each.comfort.low:g} mm"
        for each in comfort.below if each.comfort is not None
    )  # fmt: skip


def _on_ground(laid: Laid | None) -> list[Look]:
    if laid is None:
        return [Look("guards", Answer.NOT_KNOWN, "Guards and paths are not kept with this plan.")]
    found = []
    if laid.size.passes and not laid.size.is_whole:
        narrow, wide = whole_widths(
            (laid.size.width_m + (laid.size.passes - 1) * laid.size.overlap_m) / laid.size.passes,
            laid.size.width_m,
        )
        found.append(Look(
            "mower passes", Answer.SPOILS,
            f"{laid.size.width_m:g} m is no whole number of passes: some strips are cut twice or"
            " not at all.", f"Make plots {narrow:g} or {wide:g} m wide.",
        ))  # fmt: skip
    least = parameter("trial.guard").low / 1000
    if laid.size.passes and laid.guard_m < least:
        found.append(Look(
            "guards", Answer.SPOILS,
            "No guard round the trial: outer plots have an edge that others have not, and the"
            " mower turns on them.", f"Sow and cut {least:g} m or more all round, uncounted.",
        ))  # fmt: skip
    turns = parameter("trial.path").low / 1000
    if laid.size.passes and 0 < laid.path_m < turns:
        found.append(Look(
            "turning", Answer.MIND, f"Paths of {laid.path_m:g} m: the mower turns on plots.",
            f"Make them {turns:g} m or more.",
        ))  # fmt: skip
    return found or [Look("guards", Answer.FINE, "Guards, paths and passes fit the mower.")]


def _care(facts: Facts) -> Look | None:
    if not facts.uneven:
        return None
    return Look(
        "care", Answer.SPOILS, f"Care was not alike: {'; '.join(facts.uneven)}.",
        "Say it beside the result; leave out what it decided, with the reason.",
    )  # fmt: skip


def _mind_counters(drawn: Drawn) -> Look | None:
    if drawn.design.kind in {Kind.TUBS, Kind.SINGLE} or drawn.design.blocks < 2:
        return None
    return Look(
        "counters", Answer.FINE,
        "Two counters: whole blocks each, and four frames or more counted by both.",
    )  # fmt: skip


def _name(block: int, number: int) -> str:
    return f"{block}-{number:02d}"


def _same(one: str, other: str) -> bool:
    first, second = one.strip().casefold(), other.strip().casefold()
    return bool(second) and (first == second or first in second.split() or second in first.split())
