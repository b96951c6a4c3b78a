"""Cautions: one table, each with source, grade and whom it defers to."""

import pytest

from swardbook.foundation.provenance import Grade
from swardbook.handbook.cautions import Caution, cautions, cautions_for
from swardbook.handbook.sources import sources
from swardbook.husbandry.vibration import ACTION_M_S2, LIMIT_M_S2

ALL = list(cautions().values())


@pytest.mark.parametrize("caution", ALL, ids=lambda each: each.key)
def test_a_caution_has_source_and_grade_and_defers_to_somebody(caution: Caution) -> None:
    assert caution.source in sources()
    assert caution.grade
    assert caution.text.endswith(("decide.", "decides."))
    assert caution.says.endswith((".", "?"))


def test_naming_and_looking_for_disease_and_pests_have_cautions() -> None:
    for job in ("name plant", "disease", "pests"):
        assert cautions_for(job)


def test_soapy_water_is_spoken_of_only_where_grubs_are_and_as_no_treatment() -> None:
    assert "soapy_water" not in {each.key for each in cautions_for("pests")}
    (found,) = (each for each in cautions_for("pests", {"grubs"}) if each.key == "soapy_water")
    assert "no treatment" in found.says
    assert "unlawful" in found.says


def test_a_caution_is_published_only_where_a_work_other_than_practice_stands_behind_it() -> None:
    for caution in ALL:
        assert (caution.grade is Grade.PUBLISHED) == (caution.source != "practice"), caution.key


def test_vibration_and_noise_are_said_with_the_values_that_the_law_acts_on() -> None:
    said = cautions()["vibration"].says
    assert f"{ACTION_M_S2:g} m/s²" in said
    assert f"{LIMIT_M_S2:g} is the most" in said
    assert cautions()["vibration"].source == "eu_vibration_2002"
    assert "80 dB(A)" in cautions()["noise"].says
