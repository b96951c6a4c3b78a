"""Costs to the penny: planned beside spent, and a diary's words stay in the diary."""

from __future__ import annotations

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from swardbook.husbandry.costs import OTHER, CostLine, Costs, costs
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import Changed, Cut, Feed, Happening, Note, Tine
from tests.support.counted import entry

SEED = Note("Seed: Bobbin 40 kg, Umbrella 10 kg.")


def spent(what: Happening, amount: str | None) -> DiaryEntry:
    return entry("2011-05-07", what, money=None if amount is None else Decimal(amount))


def by_name(made: Costs) -> dict[str, tuple[Decimal | None, Decimal | None]]:
    return {each.name: (each.planned, each.spent) for each in made.lines}


def test_entries_are_added_by_kind_of_work_to_the_penny() -> None:
    made = costs(
        [spent(Feed("12-0-9"), "0.10"), spent(Feed("12-0-9"), "0.20"), spent(Tine(), "395"),
         spent(Cut(8.0), None)],
        {},
    )  # fmt: skip
    assert by_name(made) == {"Feed": (None, Decimal("0.30")), "Tining": (None, Decimal(395))}
    assert made.spent == Decimal("395.30")
    assert made.planned is None


def test_a_purchase_counts_to_the_planned_line_that_its_words_begin_to_say() -> None:
    planned = {"Seed": Decimal("524.50"), "Mower hire": Decimal(0), "Regrind": Decimal(265)}
    made = costs(
        [spent(SEED, "524.50"), spent(Note("Mower hired for the trial."), "180"),
         spent(Changed("grass box", "split", "new"), "87")],
        planned,
    )  # fmt: skip
    assert by_name(made) == {
        "Seed": (Decimal("524.50"), Decimal("524.50")),
        "Mower hire": (Decimal(0), Decimal(180)),
        "Regrind": (Decimal(265), None),
        OTHER: (None, Decimal(87)),
    }
    assert made.planned == Decimal("789.50")
    assert made.spent == Decimal("791.50")


def test_words_of_a_note_never_become_the_name_of_a_line() -> None:
    made = costs([spent(Note("Paid the neighbour not to tell."), "20")], {"Seed": Decimal(1)})
    assert [each.name for each in made.lines] == ["Seed", OTHER]


def test_nothing_written_down_is_not_nought() -> None:
    made = costs([spent(Cut(8.0), None)], {})
    assert made.lines == ()
    assert made.spent is None


@given(st.lists(st.decimals("0", "9999", places=2), max_size=30), st.integers(1, 12))
def test_fewer_lines_add_up_to_the_same(amounts: list[Decimal], most: int) -> None:
    made = Costs(tuple(CostLine(f"line {n}", a, a) for n, a in enumerate(amounts)))
    short = made.shortened(most)
    assert len(short.lines) <= max(most, 1)
    assert short.spent == made.spent
    assert short.planned == made.planned
