"""Hours since blades had an edge, and the paper test."""

from dataclasses import replace
from datetime import timedelta

from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import Changed, Cut, Reading
from swardbook.planning.blades import BladeCare, blade_care
from tests.support.grounds import MAY, ground, on, zone


def ago(back: int, what: Changed | Cut | Reading, hours: float | None = None) -> DiaryEntry:
    return on(MAY - timedelta(days=back), what, hours=hours)


def care(*entries: DiaryEntry) -> BladeCare:
    whole = ground(*entries)
    return blade_care(whole, whole.zones[0], MAY)


GROUND = Changed("mower blades, cylinder", "", "ground")
SET = Changed("mower blades, cylinder", "", "set")


def test_hours_are_counted_from_the_last_edge_and_the_last_setting() -> None:
    found = care(
        ago(40, Cut(8.0), 5.0), ago(30, GROUND), ago(20, Cut(8.0), 1.5), ago(10, SET),
        ago(5, Cut(8.0), 0.5), ago(4, Cut(8.0)),
    )  # fmt: skip
    assert (found.since_edge.hours, found.since_edge.cuts) == (2.0, 3)
    assert found.since_edge.without_hours == 1
    assert (found.since_set.hours, found.since_set.what) == (0.5, "set")
    assert found.due == ()


def test_an_edge_never_noted_is_asked_for() -> None:
    assert "note when" in care(ago(3, Cut(8.0), 1.0)).due[-1]


def test_hours_past_the_usual_and_paper_that_folds_are_due() -> None:
    cuts = [ago(n, Cut(8.0), 2.0) for n in range(1, 35)]
    told = " ".join(care(ago(40, GROUND), *cuts).due)
    assert "edge: 68 h" in told
    assert "paper test and setting" in told
    paper = care(ago(40, GROUND), ago(1, Reading("paper test, cylinder", 8, "of 10")))
    assert paper.paper == 8
    assert "8 of 10 places" in paper.due[0]


def test_a_paper_test_older_than_the_setting_says_nothing() -> None:
    found = care(ago(9, Reading("paper test", 5, "of 10")), ago(8, GROUND))
    assert found.due == ()


def test_zones_cut_with_another_mower_do_not_count() -> None:
    whole = ground(
        ago(9, GROUND), ago(3, Cut(8.0), 1.0), replace(ago(2, Cut(35.0), 4.0), zone="Lawn")
    )
    rotary = zone(name="Lawn", mower=replace(zone().mower, kind="rotary"))
    both = replace(whole, zones=(*whole.zones, rotary))
    assert blade_care(both, both.zones[0], MAY).since_edge.hours == 1
    assert blade_care(both, rotary, MAY).since_edge.hours == 4
