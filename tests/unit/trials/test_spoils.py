"""What would spoil a trial is said before it is sown."""

from dataclasses import replace

from swardbook.seed.comfort import weigh_comfort
from swardbook.seed.lot import LotPart
from swardbook.trials.design import UNSOWN, Design, Drawn, Kind
from swardbook.trials.layout import Laid, lay, size_of_plot
from swardbook.trials.shuffling import draw, swapped
from swardbook.trials.spoils import Answer, Facts, Look, may_rank, what_spoils

FIVE = ("Bobbin", "Thimble", "Gatepost", "Haystack", UNSOWN)
SIZE = size_of_plot(0.51, 1.5, 2.0)
DRAWN = draw(Design(Kind.BLOCKS, FIVE, 4, rows=1), 3)
TALL = (LotPart("tall fescue", 0.85), LotPart("smooth-stalked meadow-grass", 0.15))
KNOWN = Facts(
    ("wet south", "dry north"), ("west", "east"), "the wall", "", True, 10.0,
    {"Haystack": weigh_comfort(TALL, 10.0)},
)  # fmt: skip


def laid(drawn: Drawn = DRAWN, path: float = 0.75, guard: float = 1.0) -> Laid:
    return lay(drawn, SIZE, path, guard)


def look(what: str, drawn: Drawn = DRAWN, facts: Facts = KNOWN, on: Laid | None = None) -> Look:
    found = what_spoils(drawn, on or laid(drawn), facts)
    return next(each for each in found if each.what == what)


def test_one_plot_each_is_described_and_not_ranked() -> None:
    single = draw(Design(Kind.SINGLE, FIVE, 1, rows=1), 1)
    found = look("repeats", single)
    assert found.answer is Answer.SPOILS
    assert "describe these, not rank them" in found.words
    assert "3 or more of each would let me" in found.mend
    assert not may_rank(single)
    assert may_rank(DRAWN)


def test_two_blocks_are_too_few_to_rank_by_and_leave_little_for_error() -> None:
    two = draw(Design(Kind.BLOCKS, FIVE, 2, rows=1), 1)
    assert look("repeats", two).answer is Answer.SPOILS
    assert "4 degrees of freedom" in look("spread", two).words


def test_a_plot_moved_by_hand_is_chosen_not_shuffled() -> None:
    moved = swapped(DRAWN, (1, 1), (1, 5))
    found = look("order", moved)
    assert found.answer is Answer.SPOILS
    assert "chosen, not shuffled" in found.words
    assert not may_rank(moved)


def test_identical_care_is_not_equally_kind() -> None:
    found = look("height of cut")
    assert found.answer is Answer.MIND
    assert "Haystack" in found.words
    assert "tall fescue (85%)" in found.words
    assert "not equally kind" in found.words
    rye = {"Gatepost": weigh_comfort((LotPart("perennial ryegrass", 1.0),), 8.0)}
    assert "will not last" in look("height of cut", facts=replace(KNOWN, comfort=rye)).words
    assert look("height of cut", facts=replace(KNOWN, height_mm=None)).answer is Answer.NOT_KNOWN


def test_a_mixture_always_at_the_sunny_end_is_named() -> None:
    slots = []
    for slot in DRAWN.slots:
        mine = slot.entry == "Bobbin"
        last = next(s for s in DRAWN.slots if s.block == slot.block and s.entry == "Bobbin")
        column = 5 if mine else last.column if slot.column == 5 else slot.column
        slots.append(replace(slot, column=column))
    found = look("ends", replace(DRAWN, slots=tuple(slots)), replace(KNOWN, sun="east"))
    assert found.answer is Answer.SPOILS
    assert "Bobbin always stands at the east side" in found.words
    assert "sunny" in found.words
    liked = replace(KNOWN, sun="east", favourite="Bobbin")
    assert "liked best" in look("ends", replace(DRAWN, slots=tuple(slots)), liked).words


def test_a_mixture_beside_itself_across_a_path_is_named() -> None:
    first = [slot.entry for slot in DRAWN.slots if slot.block == 1]
    slots = tuple(
        replace(slot, entry=first[slot.number - 1]) if slot.block == 2 else slot
        for slot in DRAWN.slots
    )
    found = look("neighbours", replace(DRAWN, slots=slots))
    assert found.answer is Answer.MIND
    assert f"{first[0]} at 1-01 and 2-01" in found.words


def test_no_guards_and_narrow_paths_are_told() -> None:
    assert look("guards", on=laid(guard=0)).answer is Answer.SPOILS
    assert "turns on plots" in look("turning", on=laid(path=0.2)).words
    odd = lay(DRAWN, size_of_plot(0.51, 1.1, 2.0), 0.75, 1.0)
    assert "no whole number of passes" in look("mower passes", on=odd).words
    assert look("guards").answer is Answer.FINE


def test_what_is_not_said_is_not_taken_as_fine() -> None:
    found = {each.what: each.answer for each in what_spoils(DRAWN, None, Facts())}
    for what in ("ground", "water", "height of cut", "guards"):
        assert found[what] is Answer.NOT_KNOWN


def test_the_tap_at_one_side_is_worse_than_at_one_end() -> None:
    side = look("water", facts=replace(KNOWN, tap="east"))
    assert "Who waters the far side?" in side.words
    assert "Blocks take that out" in look("water", facts=replace(KNOWN, tap="south")).words


def test_blocks_along_the_change_and_uneven_care_spoil_it() -> None:
    along = look("ground", facts=replace(KNOWN, blocks_across=False))
    assert along.answer is Answer.SPOILS
    uneven = replace(KNOWN, uneven=("water: 6 on block 1, 4 on the others",))
    assert "water: 6 on block 1" in look("care", facts=uneven).words


def test_what_spoils_stands_before_what_is_fine() -> None:
    order = [each.answer for each in what_spoils(DRAWN, laid(guard=0), KNOWN)]
    rank = [Answer.SPOILS, Answer.MIND, Answer.NOT_KNOWN, Answer.FINE]
    assert order == sorted(order, key=rank.index)


def test_tubs_speak_of_emergence_and_never_of_wear() -> None:
    tubs = draw(Design(Kind.TUBS, FIVE[:4], 4), 1)
    assert "never of wear" in look("repeats", tubs).words


def test_no_unsown_control_is_minded() -> None:
    bare = draw(Design(Kind.BLOCKS, FIVE[:4], 4, rows=1), 1)
    assert look("control", bare).answer is Answer.MIND
    assert look("control").answer is Answer.FINE
