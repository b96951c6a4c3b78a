"""The gates are exact: one percent below fails, the limit itself passes."""

import pytest

from swardbook.seed import LotPart, Standard, gates, least


def state(species: str, what: str, standard: Standard, found: float) -> str:
    part = LotPart(
        species, 1.0,
        purity=found if what == "purity" else None,
        germination=found if what == "germination" else None,
    )  # fmt: skip
    (gate,) = (g for g in gates([part]) if g.what == what and g.standard is standard)
    return gate.state


LAW, HIGHER = Standard.STATUTORY, Standard.VOLUNTARY


@pytest.mark.parametrize(
    ("species", "what", "standard", "found", "expected"),
    [
        ("browntop bent", "germination", LAW, 0.74, "fail"),
        ("browntop bent", "germination", LAW, 0.75, "pass"),
        ("perennial ryegrass", "germination", LAW, 0.79, "fail"),
        ("perennial ryegrass", "germination", LAW, 0.80, "pass"),
        ("perennial ryegrass", "purity", LAW, 0.959, "fail"),
        ("perennial ryegrass", "purity", LAW, 0.97, "pass"),
        ("perennial ryegrass", "purity", HIGHER, 0.97, "fail"),
        ("perennial ryegrass", "purity", HIGHER, 0.98, "pass"),
        ("browntop bent", "purity", HIGHER, 0.99, "no limit listed"),
        ("tufted hair-grass", "germination", LAW, 0.20, "no limit listed"),
    ],
)
def test_the_gates_stand_where_they_are_printed(
    species: str, what: str, standard: Standard, found: float, expected: str
) -> None:
    assert state(species, what, standard, found) == expected


def test_a_figure_nobody_gave_is_not_a_pass() -> None:
    found = gates([LotPart("browntop bent", 1.0)])
    assert {gate.passed for gate in found} == {None}
    assert "not known" in {gate.state for gate in found}


def test_what_is_not_named_is_passed_over() -> None:
    assert gates([LotPart("others", 1.0)]) == ()


def test_a_limit_carries_its_source() -> None:
    limit = least("chewings fescue", "purity", Standard.VOLUNTARY)
    assert limit is not None
    assert (limit.value, limit.source) == (0.95, "seed_annex_2016")
