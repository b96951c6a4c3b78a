"""What would change the advice, in words a person can act on."""

from types import SimpleNamespace
from typing import Any, cast

from swardbook.book.advice import Change, Hinges, Weighed, measurements, plain_name
from swardbook.cli.look_ahead_advice import advice_lines, advice_payload
from swardbook.model.knowing import Advice, Flip, Measured, Turning, Worth

SEED = "today.annual_meadow_grass.seed_in_ground"
EVERYTHING = Worth("everything", 9.0, 0.5, 0.4, True)
PLANS = [("dig", "Dig by hand"), ("whole", "Whole programme")]


def weighed(key: str, spared: float, changes: float, *, shows: bool = True) -> Weighed:
    made = measurements()[key]
    worth = Worth(key, spared, 0.2, changes, shows)
    return Weighed(made, Measured(worth, made.hours.value, made.weeks.value, spared))


def found(*each: Weighed, first: bool, tied: int = 0, flips: bool = True, bound: Worth) -> Any:
    flip = Flip(Worth(SEED, 4.0, 0.3, 0.2, True), "whole", where_high=True)
    told = measurements()["soil_cores"]
    hinges = Hinges(
        advice=Advice("dig", 40.0, bound, (), (), "", (), Turning(2.5, "whole")),
        flips=(Change(SEED, plain_name(SEED), None, flip, None, 0.0, (told,)),) if flips else (),
        further_down=(),
        judged=(),
        weighed=each,
        first=each[0] if first else None,
        tied=each[1 : 1 + tied],
    )
    prospects = [SimpleNamespace(programme=SimpleNamespace(key=k, name=n)) for k, n in PLANS]
    question = SimpleNamespace(by_plants=True, draws=4096, hour_price=0.0)
    look = SimpleNamespace(prospects=prospects, question=question)
    return cast("Any", SimpleNamespace(hinges=hinges, look=look))


def words(answer: Any) -> str:
    return " ".join(" ".join(advice_lines(answer)).split())


def test_what_to_measure_is_said_with_hours_cases_and_plants() -> None:
    answer = found(
        weighed("soil_cores", 3.0, 0.125),
        weighed("two_passes", 2.9, 0.2),
        weighed("box_checked", 1.0, 0.1),
        weighed("heads_measured", 0.0, 0.0, shows=False),
        first=True, tied=1, bound=EVERYTHING,
    )  # fmt: skip
    text = words(answer)
    assert (
        "Measure first: take 20 soil cores, spread them on trays and count what comes up in six"
        " weeks (about 2 h, known after 6 weeks, at any time). It would change the choice in 1 of 8"
        " cases and spare 3.0 plants a m² on average, give or take 0.4."
    ) in text
    assert "Not to be told from it: pull one strip of 50 m² twice" in text
    assert "Also of use: lay 10 trays behind the mower" in text
    assert "The other 1 would not change the choice." in text
    assert "On average dig by hand leaves least." in text
    assert "if high, whole programme, in 2 of 10 cases. Knowing it would spare 4.0" in text
    assert "worth more than 2.5 plants a m² to you, it would be whole programme" in text


def test_where_nothing_flips_the_choice_it_is_said_and_no_measurement_is_named() -> None:
    useless = weighed("soil_cores", 0.01, 0.01, shows=False)
    text = words(found(useless, first=False, flips=False, bound=EVERYTHING))
    assert "No single unknown flips the choice beyond chance." in text
    assert "None of 1 measurements would change the choice." in text
    assert "cores" not in text


def test_where_one_is_best_in_every_draw_nothing_is_asked_to_be_measured() -> None:
    nothing = Worth("everything", 0.0, 0.0, 0.0, False)
    text = words(found(weighed("soil_cores", 0.0, 0.0, shows=False), first=False, flips=False,
                       bound=nothing))  # fmt: skip
    assert "nothing that could be known would change the choice" in text
    assert "measure" not in text.replace("measurement", "").lower()


def test_a_worth_within_chance_is_nothing_in_the_object_and_its_estimate_stands_beside_it() -> None:
    useless = weighed("soil_cores", 0.3, 0.01, shows=False)
    told = advice_payload(found(useless, first=False, bound=EVERYTHING))
    (row,) = told["worth_of_measuring"]["measurements"]
    assert row["worth"]["says"] == "would not change the choice"
    assert row["worth"]["spares"] == {"plants_per_m2": 0.0, "cover_points": None}
    assert row["worth"]["estimate"]["plants_per_m2"] == 0.3
    (flip,) = told["would_change_the_advice"]
    assert (flip["chosen_instead"], flip["where_it_is"]) == ("whole", "high")
    assert flip["told_by"] == ["soil_cores"]
