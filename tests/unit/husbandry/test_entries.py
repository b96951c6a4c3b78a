"""What happened in a zone: asked for hundreds of times by one answer, and looked for once."""

from dataclasses import replace
from datetime import date

from swardbook.husbandry.happenings import Cut, Feed, Note
from tests.support.grounds import ground, on, zone

DAY = date(2011, 5, 1)
DIARY = (
    on(DAY, Cut(), zone="Lawn"),
    on(DAY, Note("all of it"), zone=""),
    on(DAY, Cut(), zone="Bank"),
    on(DAY, Note("here"), zone="LAWN"),
)


def test_entries_are_those_of_a_zone_and_of_the_whole_site_in_order() -> None:
    at = replace(ground(), zones=(zone(name="Lawn"), zone(name="Bank")), diary=DIARY)
    for _ in range(2):  # asked again it is the same
        assert at.entries("lawn") == (DIARY[0], DIARY[1], DIARY[3])
        assert at.entries("Lawn", "note") == (DIARY[1], DIARY[3])
        assert at.entries_of("bank", Cut) == (DIARY[2],)
        assert at.entries_of("bank", Feed) == at.entries("nowhere", "cut") == ()


def test_a_ground_with_another_diary_remembers_nothing_of_the_first() -> None:
    at = replace(ground(), diary=DIARY)
    assert len(at.entries("lawn")) == 3
    assert replace(at, diary=DIARY[:1]).entries("lawn") == DIARY[:1]
    assert replace(at, diary=()) == replace(ground(), diary=())
