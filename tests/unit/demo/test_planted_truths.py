"""What the made-up ground is there to teach, found by the ordinary use cases."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from swardbook.book.comparing import (
    compare_days,
    compare_margins,
    compare_refills,
    compare_strips,
    pulling,
    zone_review,
)
from swardbook.book.opening import Book
from swardbook.book.route import route_answer
from swardbook.book.survey import survey_of
from swardbook.demo.build import build
from swardbook.demo.names import APRON, LIME_WALK, MAIN, MEADOW_GRASS, SHORT, SURROUND, TRIAL
from swardbook.demo.trial_generator import AMG, COUNTED_ON
from swardbook.evidence import Comparison, Verdict
from swardbook.observations.comparing import Compared, Reason
from swardbook.observations.counts import Method
from swardbook.observations.overlap import counters_overlap
from swardbook.observations.samples import Smallest
from swardbook.planning.cut_gaps import analyse_gaps
from swardbook.planning.routes import Route
from swardbook.planning.situation import situation
from swardbook.review.better_or_worse import Year, ZoneReview
from swardbook.review.records import occasions_of
from swardbook.seed.comfort import weigh_comfort
from swardbook.seed.label import changed_components
from swardbook.seed.mixture import by_number
from swardbook.settings import Settings
from tests.unit.demo.test_trial import adjusted_means

SMALLEST = Smallest.customary()
AUGUST = (date(2010, 8, 7), date(2011, 8, 6))
OCTOBER = (date(2010, 10, 9), date(2011, 10, 8))


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    home: Path = tmp_path_factory.mktemp("made-up")
    built = build(Settings(home), lambda: date(2026, 1, 5), tell=lambda _: None).book
    yield built
    built.store.close()


def year_of(book: Book, zone: str) -> ZoneReview:
    return zone_review(book, zone, MEADOW_GRASS, SMALLEST)


def between(review: ZoneReview, days: tuple[date, date]) -> Compared:
    return next(pair.compared for pair in review.pairs if (pair.before, pair.after) == days)


def made(compared: Compared | None) -> Comparison:
    assert compared is not None
    assert compared.comparison is not None, compared.refusals
    return compared.comparison


def test_t2_gatepost_leads_on_meadow_grass_early_and_not_late() -> None:
    early, late = adjusted_means(COUNTED_ON[0]), adjusted_means(COUNTED_ON[5])
    assert early["Gatepost"] < early["Bobbin"]
    assert late["Gatepost"] > late["Bobbin"]
    assert AMG["Bobbin"][5] == AMG["Thimble"][5], "T1: truly equal, and drawn apart by luck"


def test_t3_haystack_is_cut_below_its_comfort(book: Book) -> None:
    ground = book.ground()
    height = ground.zone(TRIAL).height_of_cut_mm
    haystack = weigh_comfort(ground.lot("HS-1009").parts, height)
    bobbin = weigh_comfort(ground.lot("BB-0417").parts, height)
    assert haystack.below[0].species == "tall fescue"
    assert haystack.strain_mm > 10
    assert bobbin.below == ()


def test_t4_the_wet_block_is_worse(book: Book) -> None:
    blocks = {plot.name: plot.block for plot in book.ground().plots if plot.zone == TRIAL}
    last = next(each for each in occasions_of(book.ground(), TRIAL) if each.day == COUNTED_ON[5])
    share = {
        block: sum(p.found[MEADOW_GRASS] for p in last.places if blocks[p.place] == block)
        / sum(p.looked for p in last.places if blocks[p.place] == block)
        for block in (1, 4)
    }
    assert share[1] > share[4] + 0.05


def test_t7_odalys_reads_high_and_eight_plots_cannot_put_her_right(book: Book) -> None:
    day = next(each for each in occasions_of(book.ground(), TRIAL) if each.day == COUNTED_ON[3])
    found = counters_overlap(day.places, MEADOW_GRASS, Method.POINTS, "Ines", "Odalys")
    assert found.n == 8
    assert found.difference == pytest.approx(8.5, abs=0.05)
    assert found.interval.low < 0 < found.interval.high
    assert not found.may_correct


def test_t8_the_short_court_is_holding_alone_and_clear_against_the_squares(book: Book) -> None:
    review = year_of(book, SHORT)
    assert made(between(review, OCTOBER)).verdict is Verdict.TOO_CLOSE
    assert review.word is Year.HOLDING
    assert review.honest is not None
    contrast = made(review.honest.compared)
    assert contrast.verdict is Verdict.CLEAR
    assert contrast.difference < 0
    said = review.sentence
    assert said.index("too close to call") < said.index("clear"), "both said, in that order"


def test_t9_where_nothing_was_sown_nothing_fell(book: Book) -> None:
    surround = made(between(year_of(book, SURROUND), AUGUST))
    assert surround.verdict is Verdict.TOO_CLOSE
    assert surround.difference > 0
    pair = next(p for p in year_of(book, MAIN).pairs if (p.before, p.after) == AUGUST)
    assert any(SURROUND in told and "nothing sown" in told for told in pair.context)


def test_t10_six_places_are_not_enough(book: Book) -> None:
    review = year_of(book, APRON)
    assert review.word is Year.CANNOT_SAY
    for pair in review.pairs:
        assert pair.made is None
        assert [each.reason for each in pair.compared.refusals] == [Reason.TOO_FEW_PLACES]


def test_t11_five_pairs_of_strips_only_lean(book: Book) -> None:
    strips = compare_strips(
        book, MAIN, MEADOW_GRASS, SMALLEST,
        tuple(f"V{n}" for n in range(1, 6)), tuple(f"N{n}" for n in range(1, 6)),
    )  # fmt: skip
    found = made(strips.compared)
    assert found.difference == pytest.approx(-6.0)
    low, high = found.spread.at95
    assert low == pytest.approx(-12.1, abs=0.05)
    assert high == pytest.approx(0.1, abs=0.05)
    assert found.verdict is Verdict.LEANING


def test_t12_the_margin_matters_for_fog(book: Book) -> None:
    shares = compare_margins(book, 100, SMALLEST)
    assert (shares.first, shares.second) == ((2, 40), (7, 18))
    low, high = shares.comparison.spread.at95
    assert abs(shares.comparison.difference) == pytest.approx(34, abs=0.5)
    assert sorted((abs(low), abs(high))) == pytest.approx([12, 57], abs=0.5)
    assert shares.comparison.verdict is Verdict.CLEAR
    assert any("not allotted at random" in each for each in shares.comparison.cautions)


def test_t13_autumn_refills_took_better_and_the_cause_is_not_shown(book: Book) -> None:
    shares = compare_refills(book, SMALLEST)
    assert (shares.first, shares.second) == ((52, 58), (31, 60))
    assert shares.comparison.verdict is Verdict.CLEAR
    assert any("not proof of the cause" in each for each in shares.comparison.cautions)


def test_t14_pulls_in_a_germinating_week_carry_a_caution(book: Book) -> None:
    spring, may, june, august = pulling(book, SHORT, MEADOW_GRASS).removals
    for removal, total, left in ((spring, 2120, 191), (may, 877, 85), (august, 1024, 441)):
        assert removal.passes is not None
        assert removal.passes.total == pytest.approx(total, abs=1)
        assert removal.passes.left == pytest.approx(left, abs=1)
    assert june.passes is None
    assert june.refusal
    assert spring.may_headline_left
    assert august.cautions
    assert not august.may_headline_left


def test_t15_july_is_incomplete_and_no_dates_are_invented(book: Book) -> None:
    sit = situation(book.ground(), MAIN, book.weather(), book.today)
    july = analyse_gaps(sit, date(2011, 7, 1), date(2011, 7, 31))
    assert july.incomplete_months == ("July",)
    assert not all(gap.is_certain for gap in july.gaps)
    assert july.verdict == Verdict.NOT_ENOUGH
    assert "incomplete in July: 5 cuts have no day" in july.reason


def test_the_gap_in_the_flush_is_seen(book: Book) -> None:
    sit = situation(book.ground(), MAIN, book.weather(), date(2011, 6, 10))
    may = analyse_gaps(sit, date(2011, 5, 2), date(2011, 5, 31))
    assert max(gap.days for gap in may.gaps) == 11


def test_t16_a_new_lot_of_the_same_name_is_another_seed(book: Book) -> None:
    ground = book.ground()
    old, new = ground.lot("BB-0417"), ground.lot("BB-0533")
    assert old.mixture == new.mixture
    assert old in changed_components(new, ground.lots)


def test_t17_pocketwatch_is_mostly_ryegrass_by_weight_and_bent_by_number(book: Book) -> None:
    parts = book.ground().lot("PW-0555").parts
    assert max(parts, key=lambda part: part.share_by_weight).species == "perennial ryegrass"
    assert by_number(parts).largest.component.species == "browntop bent"


def test_t18_the_visitors_darkest_is_not_the_cleanest(book: Book) -> None:
    note = next(entry for entry in book.ground().diary if "visitors" in getattr(
        entry.what, "text", ""))  # fmt: skip
    assert "Gatepost" in note.what.text  # type: ignore[union-attr]
    late = adjusted_means(COUNTED_ON[5])
    assert min(late, key=lambda name: late[name]) != "Gatepost"


@pytest.mark.parametrize("zone", [MAIN, SURROUND])
def test_t19_may_against_august_is_no_progress(book: Book, zone: str) -> None:
    days = compare_days(
        book, zone, MEADOW_GRASS, SMALLEST, date(2011, 5, 7), date(2011, 8, 6)
    )  # fmt: skip
    assert days.compared.comparison is None
    assert days.compared.refusals[0].reason is Reason.DIFFERENT_SEASON
    assert AUGUST in days.instead


def test_t20_the_main_court_fell_clearly_from_august_to_august(book: Book) -> None:
    fall = made(between(year_of(book, MAIN), AUGUST))
    assert fall.verdict is Verdict.CLEAR
    assert fall.n == 24
    assert -22 < fall.difference < -6


def test_t21_since_the_renovation_it_is_holding_and_both_pairs_are_shown(book: Book) -> None:
    review = year_of(book, MAIN)
    assert {(pair.before, pair.after) for pair in review.pairs} >= {AUGUST, OCTOBER}
    assert made(between(review, OCTOBER)).verdict is Verdict.TOO_CLOSE
    assert review.word is Year.HOLDING
    assert "The fall came with the renovation" in review.sentence


def test_t22_the_lime_walk_slips_or_leans_and_shade_is_named(book: Book) -> None:
    review = year_of(book, LIME_WALK)
    change = made(between(review, OCTOBER))
    assert change.difference > 0
    assert change.verdict in {Verdict.CLEAR, Verdict.LEANING}
    assert "shade" in review.look_at


def test_t23_unboxed_days_stand_beside_the_strips(book: Book) -> None:
    strips = compare_strips(
        book, MAIN, MEADOW_GRASS, SMALLEST,
        tuple(f"V{n}" for n in range(1, 6)), tuple(f"N{n}" for n in range(1, 6)),
    )  # fmt: skip
    said = " ".join(strips.beside)
    assert "23 July" in said
    assert "3 September" in said


def test_before_the_work_the_wet_end_and_the_thatch_come_before_the_route(book: Book) -> None:
    """Job B5: the drainage result matters more than the share."""
    before = replace(book, today=date(2010, 8, 11))
    found = route_answer(before, MAIN)
    assert found.advised is Route.OVERSOW
    assert [each.what for each in found.faults] == ["drainage", "thatch"]
    assert "south end (5 to 9 mm/h)" in found.sentence
    page = survey_of(before, MAIN)
    assert page.sentence == "Drains slowly at the south end; thatch 18 mm; pH 6.4 to 7.2."
    assert "drainage" not in {each.fact for each in page.missing}


def test_after_the_work_the_old_rings_no_longer_speak_and_no_route_is_advised(book: Book) -> None:
    found = route_answer(book, MAIN)
    assert found.advised is None
    assert found.lack is not None
    assert "ring test" in found.lack.needed
    assert found.keepers is not None
    assert {each.zone for each in found.closures} == {MAIN, SHORT}
