"""What would change the choice of a programme, and what to measure first."""

from collections.abc import Callable

import numpy as np
import pytest

from swardbook.model.chance import Array, Chance
from swardbook.model.knowing import Advice, Bill, advise, strongest, turning_of

CHANCE = Chance(("advice",))
DRAWS = 4096
GROUPS = (np.arange(DRAWS) // 64) % 16
LIFT = CHANCE.normals("lift", DRAWS)
NOISE = CHANCE.normals("noise", DRAWS)
COMMON = 30 + 5 * CHANCE.normals("common", DRAWS)
KEYS = ("tufts_flagged", "heads_measured", "soil_cores", "second_counter")


def bill(price: float = 0.0, ahead: float = 1.0) -> Bill:
    return Bill(
        left={"cut": COMMON, "verticut": COMMON + ahead - 3 * LIFT},
        hours={"cut": np.full(DRAWS, 2.0), "verticut": np.full(DRAWS, 3.0)},
        price=price,
        weeks=30.0,
        groups=GROUPS,
    )


def show(errors: dict[str, float]) -> Callable[[str], Array]:
    """Show the lift with some error; nothing of it where there is none named."""

    def shown(key: str) -> Array:
        luck = CHANCE.normals(f"error of {key}", DRAWS)
        return (LIFT + errors[key] * luck)[None] if key in errors else luck[None]

    return shown


def told(errors: dict[str, float], **given: float) -> Advice:
    found = advise(bill(**given), {"lift": LIFT, "noise": NOISE}, KEYS, show(errors))
    assert found is not None
    return found


def test_the_unknown_that_flips_the_choice_is_named_with_its_worth_and_noise_is_not() -> None:
    found = told({})
    assert found.choice == "cut"
    (flip,) = found.flips
    assert flip.worth.key == "lift"
    assert (flip.other, flip.where_high) == ("verticut", True)
    # Everything that matters is the lift here, so knowing it is knowing everything.
    assert flip.worth.spared == pytest.approx(found.everything.spared, rel=0.02)
    assert flip.worth.changes == pytest.approx(np.mean(LIFT > 1 / 3), abs=0.03)


def test_a_measurement_that_shows_the_unknown_without_error_is_worth_knowing_it() -> None:
    found = told({"tufts_flagged": 0.0})
    best = found.measured[0]
    assert best.worth.key == found.first == "tufts_flagged"
    assert best.worth.spared == found.flips[0].worth.spared
    for useless in found.measured[1:]:
        assert not useless.worth.shows
        assert useless.worth.spared < 3 * max(useless.worth.error, 1e-9)


def test_the_quickest_with_most_of_the_worth_is_first_and_one_as_good_is_named_beside_it() -> None:
    # One hour against two for hardly more.
    found = told({"tufts_flagged": 0.30, "heads_measured": 0.31, "second_counter": 2.0})
    assert found.first == "heads_measured"
    assert "tufts_flagged" in found.tied
    assert "second_counter" not in found.tied
    worths = {each.worth.key: each.worth for each in found.measured}
    assert 0 < worths["second_counter"].spared < worths["heads_measured"].spared


def test_a_quick_measurement_with_little_of_the_worth_is_not_first() -> None:
    found = told({"heads_measured": 3.0, "soil_cores": 0.1})
    assert found.first == "soil_cores"


def test_where_one_is_best_in_every_draw_nothing_is_worth_anything_and_nothing_is_named() -> None:
    found = told({"tufts_flagged": 0.0}, ahead=50.0)
    assert found.everything.spared == 0
    assert found.flips == ()
    assert found.first == ""
    assert {each.worth.spared for each in found.measured} == {0.0}


def test_where_nothing_shows_what_flips_it_no_measurement_is_named() -> None:
    found = told({})
    assert found.flips
    assert found.first == ""
    assert found.tied == ()


def test_a_price_of_hours_counts_for_programmes_and_for_measuring() -> None:
    found = told({"tufts_flagged": 0.0}, price=3.0, ahead=-2.0)
    free = told({"tufts_flagged": 0.0}, ahead=-2.0)
    assert (free.choice, found.choice) == ("verticut", "cut")
    best = found.measured[0]
    assert best.net == pytest.approx(best.worth.spared - 3.0 / 30 * best.hours)
    dear = told({"tufts_flagged": 0.0}, price=300.0, ahead=-2.0)
    assert dear.first == ""


def test_the_price_at_which_the_choice_changes_is_the_difference_over_the_hours() -> None:
    found = turning_of(bill(ahead=-2.0))
    assert found is not None
    lead = float(np.mean(3 * LIFT)) + 2.0
    assert found.other == "cut"
    assert found.price == pytest.approx(lead)
    assert turning_of(bill(ahead=2.0)) is None


def test_the_unknowns_asked_are_those_the_differences_go_with() -> None:
    many = {f"noise {n}": CHANCE.normals(f"noise {n}", DRAWS) for n in range(60)}
    losses = np.stack([COMMON, COMMON + LIFT**2 - 1, COMMON + NOISE])
    asked = strongest(losses, many | {"bent": LIFT, "straight": NOISE, "same": np.ones(DRAWS)})
    assert set(asked[:2]) == {"bent", "straight"}
    assert "same" not in asked


def test_too_few_draws_or_one_programme_say_nothing() -> None:
    one = Bill({"cut": COMMON}, {"cut": COMMON}, 0.0, 30.0, GROUPS)
    assert advise(one, {"lift": LIFT}, KEYS, show({})) is None
    few = slice(256)
    small = Bill(
        {"a": COMMON[few], "b": NOISE[few]}, {"a": COMMON[few], "b": NOISE[few]}, 0.0, 30.0,
        GROUPS[few],
    )  # fmt: skip
    assert advise(small, {"lift": LIFT[few]}, KEYS, lambda _: LIFT[None, few]) is None
