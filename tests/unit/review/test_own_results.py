"""One's own plots and past sowings speak for or against a mixture, or not at all."""

from dataclasses import replace
from datetime import date

from swardbook.demo.scenario import made_up_ground
from swardbook.review.own_results import NOT_COUNTED, NOT_HELD, OwnResult, own_results

GROUND = made_up_ground()
COURT, APRON = GROUND.zone("Short court"), GROUND.zone("Pavilion apron")


def of(mixture: str, zone: str, wanted: str = "Short court") -> OwnResult:
    found = own_results(GROUND, mixture, GROUND.zone(wanted))
    return next(each for each in found if each.zone == zone)


def test_a_mixture_nobody_sowed_has_none() -> None:
    assert own_results(GROUND, "ryegrass and fescue", COURT) == ()


def test_plots_are_held_against_what_is_fine_where_it_is_wanted() -> None:
    strict, easy = of("Gatepost", "Trial ground"), of("Gatepost", "Trial ground", "Pavilion apron")
    assert strict.is_plots
    assert strict.estimate == easy.estimate
    assert (strict.says, easy.says) == ("speaks against it", "speaks for it")
    assert strict.counted_on == date(2011, 9, 21)


def test_a_plot_left_out_is_left_out() -> None:
    gone = replace(
        GROUND, plots=tuple(replace(plot, left_out_from=date(2010, 9, 1)) for plot in GROUND.plots)
    )
    found = own_results(gone, "Gatepost", COURT)
    assert not any(each.is_plots for each in found)


def test_plants_are_not_held_against_a_share_and_no_count_is_said() -> None:
    assert of("Bobbin", "Short court").says == NOT_HELD
    assert of("Bobbin", "Turf nursery").says == NOT_COUNTED


def test_what_has_to_be_said_stands_beside_it() -> None:
    found = [each for each in own_results(GROUND, "Bobbin", COURT) if each.zone == "Main court"]
    assert [each.lot for each in found] == ["BB-0417", "BB-0533"]
    assert any("so far" in words for words in found[1].beside)
    assert any("one zone" in words for words in found[0].beside)
    assert any("10 mm there" in words for words in of("Gatepost", "Trial ground").beside)
