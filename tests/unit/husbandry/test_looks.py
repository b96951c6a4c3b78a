"""What a person types by slip is kept and asked about; what is ordinary is not."""

from dataclasses import replace
from datetime import date

import pytest

from swardbook.foundation.quantities import read_quantity
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, Site
from swardbook.husbandry.happenings import (
    Closure,
    Cut,
    Feed,
    Frost,
    Happening,
    Note,
    Reading,
    Refill,
    Sow,
    Strip,
    Treatment,
    Verticut,
    Water,
)
from swardbook.husbandry.looks import doubt_of_datum, doubt_of_unit, doubts, odd
from tests.support.books import LOT, MAIN, SHORT, SITE, entry

NO_HOSE_RATE = Site("Fennowick Croquet Club", 52.0, 62.0)


def ground(*diary: DiaryEntry, site: Site = SITE) -> Ground:
    return Ground(site, (MAIN, SHORT), lots=(LOT,), diary=diary)


def told(what: Happening, *before: DiaryEntry, site: Site = SITE, **more: object) -> str:
    """Say what looks odd about an entry after others."""
    return odd(entry(99, what, **more), ground(*before, site=site))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "what",
    [
        Cut(8.0, True, True), Cut(None, True), Cut(12.0), Feed("spring feed", 25, 12.0, 0, 9),
        Water(depth_mm=3, by="can"), Water(minutes=20, by="hose"), Reading("soil temperature", 9),
        Reading("pH", 6.4), Sow("BB-0417", 30), Sow("BB-0417", 30, area_m2=819.2),
        Verticut(1, "below height of cut", 20), Note("basalt chips by the path, assault course"),
        Treatment("as on the can", "M 00000"),
    ],
)  # fmt: skip
def test_what_is_ordinary_is_not_asked_about(what: Happening) -> None:
    assert told(what) == ""


def test_f01_a_rate_that_only_makes_sense_in_grams_is_asked_about() -> None:
    doubt = doubt_of_unit(read_quantity("35 oz/yd2", "g/m2", "rate"), "rate_g_m2")
    assert doubt is not None
    assert doubt.text == "35 oz/yd2 is 1,187 g/m². Did you mean 35 g/m²?"
    assert doubt.change == "rate_g_m2=35"
    assert doubt_of_unit(read_quantity("1 oz/yd2", "g/m2", "rate"), "rate_g_m2") is None


def test_f02_an_area_ten_times_the_zone_offers_the_tenth() -> None:
    [doubt] = doubts(entry(1, Sow(rate_g_m2=20, area_m2=8192)), ground())
    assert doubt.text == "That is ten times the zone's 819.2 m². Use 819.2?"
    assert doubt.change == "area_m2=819.2"
    assert "more than the zone's 819.2 m²" in told(Refill(area_m2=900))


def test_f06_a_cut_three_days_after_sowing_is_asked_about_from_either_side() -> None:
    sown = entry(1, Sow(rate_g_m2=30), day=date(2011, 9, 4))
    cut = entry(2, day=date(2011, 9, 7))
    assert "3 days after sowing" in odd(cut, ground(sown))
    assert "A cut is noted 3 days after it" in odd(sown, ground(cut))
    part = entry(1, Sow(rate_g_m2=30, area_m2=9), day=date(2011, 9, 4))
    assert odd(cut, ground(part)) == ""
    assert odd(entry(2, day=date(2011, 9, 30)), ground(sown)) == ""


def test_f09_a_depth_without_its_datum_is_asked_about() -> None:
    doubt = doubt_of_datum(-2.0)
    assert doubt.text.startswith("2 mm below the tips, above the soil, or into the soil?")
    assert doubt.change == "datum=above soil"


@pytest.mark.parametrize(
    ("height", "words"),
    [
        (80.0, "8 cm is meadow height; the last was 8 mm"),
        (0.3, "0.3 in is 7.6 mm"),
        (40.0, "far higher"),
    ],
)
def test_f10_a_height_in_another_unit_is_asked_about(height: float, words: str) -> None:
    assert words in told(Cut(height), entry(1, Cut(8.0), day=date(2011, 10, 1)))


def test_f10_a_height_far_below_the_last_is_asked_about() -> None:
    assert "Is it cm?" in told(Cut(4.0), entry(1, Cut(38.0), day=date(2011, 10, 1)))


def test_f20_a_rate_far_above_those_used_is_asked_about_and_no_dose_is_offered() -> None:
    may = date(2011, 5, 7)
    used = [entry(1, Feed(rate_g_m2=5), day=may), entry(2, Feed(rate_g_m2=35), day=may)]
    [doubt] = doubts(entry(3, Feed("moss killer", 200)), ground(*used))
    assert doubt.text == (
        "Far above the feeds you have used (5–35 g/m²). Check the bag; the label decides."
    )
    assert doubt.change == ""


def test_f22_a_scorching_dose_of_nitrogen_is_asked_about() -> None:
    words = told(Feed("urea", 50, 46.0))
    assert words.startswith("23 g N/m² in one go is several times a usual dose and can scorch.")


def test_f23_minutes_without_a_hose_rate_are_kept_as_minutes() -> None:
    words = told(Water(minutes=120), site=NO_HOSE_RATE)
    assert words == "Time a 10 L bucket and I can turn hours into mm. Kept as 2 h for now."


@pytest.mark.parametrize(("by", "asked"), [("hose", True), ("", True), ("can", False)])
def test_f24_water_in_a_recorded_restriction_is_recorded_and_not_judged(
    by: str, asked: bool
) -> None:
    closed = entry(1, Closure(date(2011, 7, 14), "hose"), day=date(2011, 6, 9), zone="")
    words = told(Water(depth_mm=3, by=by), closed, day=date(2011, 7, 14))
    assert words == ("You noted a hosepipe restriction. Can or tank?" if asked else "")
    assert told(Water(depth_mm=3, by=by), closed, day=date(2011, 7, 15)) == ""


def test_f26_warm_soil_in_march_is_perhaps_fahrenheit() -> None:
    words = told(Reading("soil temperature", 31, "°C"), day=date(2011, 3, 8))
    assert words == "31 °F is −0.6 °C; 31 °C is summer sand. Which?"
    assert told(Reading("soil temperature", 31, "°C"), day=date(2011, 7, 8)) == ""


def test_f26_the_south_has_its_summer_in_january() -> None:
    south = Site("Fennowick South", -43.0, 10.0)
    warm = Reading("soil temperature", 31, "°C")
    assert told(warm, site=south, day=date(2011, 1, 8)) == ""
    assert told(warm, site=south, day=date(2011, 7, 8)) != ""


def test_f27_a_ph_without_its_point_is_asked_about() -> None:
    [doubt] = doubts(entry(1, Reading("pH", 56)), ground())
    assert (doubt.text, doubt.change) == ("5.6?", "value=5.6")


def test_f28_a_cut_on_a_frost_morning_is_asked_about_unless_it_thawed() -> None:
    frost = entry(1, Frost("frost"), zone="")
    assert "Cut after it cleared?" in told(Cut(8.0), frost)
    assert told(Cut(8.0), frost, entry(2, Frost("thawed"), zone="")) == ""


def test_f29_two_cuts_of_one_day_are_both_kept_until_told() -> None:
    first = entry(1, who="Bram")
    assert told(Cut(8.0)) == ""
    words = told(Cut(8.0), first)
    assert words == (
        "There is another cut that day by Bram. One cut or two? Both are kept until you say."
    )
    assert told(Cut(8.0), first, zone=SHORT.name) == ""
    assert told(Sow("A", 9, 12.0), entry(2, Sow("B", 9, 12.0))) == ""


def test_f30_a_verticut_of_seedlings_asks_for_another_zone() -> None:
    sown = entry(1, Sow(rate_g_m2=30), day=date(2011, 9, 3), zone=SHORT.name)
    [doubt] = doubts(entry(2, Verticut(1), zone=SHORT.name), ground(sown))
    assert doubt.text == "Short court was sown 35 days ago. Main court?"
    assert doubt.change == "zone=Main court"


def test_f36_what_looks_like_a_gate_code_is_pointed_out() -> None:
    assert "gate code" in told(Cut(8.0), note="Gate by the wall, code 4471, ring first")
    assert told(Cut(8.0), note="gate post 420 mm from P1") == ""


@pytest.mark.parametrize(
    "words",
    ["salt on the moss", "Vinegar", "some BLEACH", "diesel", "washing-up liquid", "boiling brine"],
)
def test_n08_kitchen_remedies_are_kept_as_a_note_with_the_caution(words: str) -> None:
    for what, note in ((Note(words), ""), (Cut(8.0), words), (Treatment(words, "M 0"), "")):
        said = told(what, note=note)
        assert "is not a plant-protection use; it can harm soil, and may be unlawful" in said
        assert "safe" not in said
        assert "g/m²" not in said


def test_n09_a_product_without_authorisation_or_withdrawn_is_history_only() -> None:
    for what in (Treatment("as on the can"), Treatment("as on the can", "M 1", reason="withdrawn")):
        assert "never copied forward" in told(what)


def test_an_entry_is_not_odd_beside_itself_or_beside_the_one_it_corrects() -> None:
    first = entry(1)
    assert odd(first, ground(first)) == ""
    assert odd(entry(2, corrects=first.id), ground(first)) == ""


LAWN = replace(MAIN, name="Back lawn", height_of_cut_mm=25.0)


def lawn_told(height: float, *before: DiaryEntry) -> tuple[str, str]:
    """Say what looks odd about a cut of a lawn kept at 25 mm, and the fix offered."""
    cut = entry(99, Cut(height), date(2011, 6, 1), LAWN.name)
    found = doubts(cut, Ground(SITE, (LAWN,), lots=(LOT,), diary=before))
    return " ".join(each.text for each in found), " ".join(each.change for each in found)


def test_f10_a_height_far_from_the_zones_own_is_asked_about_with_the_likely_fix() -> None:
    told, change = lawn_told(80.0)
    assert told == "80 mm where the zone is cut at 25 mm. 8 mm?"
    assert change == "height_of_cut_mm=8"
    told, change = lawn_told(50.0)
    assert (change, "25 mm?" in told) == ("height_of_cut_mm=25", True)
    assert lawn_told(40.0) == ("", "")


@pytest.mark.parametrize(
    "before",
    [
        entry(1, Cut(60.0), date(2011, 5, 28), LAWN.name),
        entry(1, Cut(25.0), date(2011, 5, 4), LAWN.name),
        entry(1, Sow("BB-0417", 30), date(2011, 5, 1), LAWN.name),
        entry(1, Reading("sward height", 70, "mm"), date(2011, 5, 30), LAWN.name),
    ],
    ids=["a step down", "after an absence", "a new sward", "a height that was read"],
)
def test_a_high_cut_that_the_diary_explains_is_not_asked_about(before: DiaryEntry) -> None:
    assert lawn_told(50.0, before) == ("", "")


def test_an_oversown_sward_is_kept_cut_and_a_seedbed_is_not() -> None:
    for method, asked in (("broadcast on sward", False), ("seedbed", True), ("slit", False)):
        sown = entry(1, Sow("BB-0417", 12, method=method), date(2011, 10, 2))
        assert bool(told(Cut(8.0, True), sown)) is asked, method
    stripped = entry(2, Strip(30.0), date(2011, 9, 20))
    slit = entry(1, Sow("BB-0417", 25, method="slit"), date(2011, 10, 2))
    assert "6 days after sowing" in told(Cut(8.0, True), stripped, slit).lower()


def test_two_bags_or_two_parts_of_a_zone_on_one_day_are_no_double_entry() -> None:
    one = entry(1, Sow("BB-0417", 30, area_m2=200.0))
    assert "One sow or two" in told(Sow("BB-0417", 30), one)
    assert told(Sow("GP-2240", 30), one) == ""
    assert told(Sow("BB-0417", 30, area_m2=300.0), one) == ""
    fed = entry(1, Feed("spring feed", 25, 12.0))
    assert told(Feed("seaweed", 25, 1.0), fed) == ""
