"""Labels are typed with dirty hands: slips are named, and the likely meaning offered."""

import pytest

from swardbook.foundation.errors import BadInputError, OutOfRangeError, UnknownNameError
from swardbook.seed import (
    LotPart,
    SeedLot,
    changed_components,
    read_lot_code,
    read_parts,
    read_seed_weight,
    read_share,
    with_label,
)


@pytest.mark.parametrize(
    "texts",
    [
        ["browntop bent=20", "chewings fescue=80"],
        ["browntop bent=0.2", "chewings fescue=0.8"],
        ["Agrostis capillaris = 20 %", "CHEWINGS=80%"],
        ["colonial bentgrass=20.0", "Festuca rubra commutata=80,0"],
    ],
)
def test_parts_are_read_in_percent_or_fractions_by_any_name(texts: list[str]) -> None:
    bent, fescue = read_parts(texts)
    assert (bent.species, fescue.species) == ("browntop bent", "chewings fescue")
    assert (bent.share_by_weight, fescue.share_by_weight) == pytest.approx((0.2, 0.8))


def test_one_part_of_one_is_all_of_it() -> None:
    assert read_parts(["PRG=1"]) == read_parts(["PRG=100"])


@pytest.mark.parametrize("text", ["browntop bent", "=20", "browntop bent=", "browntop bent=some"])
def test_a_part_that_is_no_name_and_number_says_how_to_write_it(text: str) -> None:
    with pytest.raises(BadInputError):
        read_parts([text])


@pytest.mark.parametrize("text", ["browntop bent=0", "browntop bent=-20", "browntop bent=nan"])
def test_a_part_of_nothing_is_refused(text: str) -> None:
    with pytest.raises((BadInputError, OutOfRangeError)):
        read_parts([text, "chewings fescue=100"])


def test_f03_parts_that_add_to_97_offer_others() -> None:
    with pytest.raises(BadInputError, match="Keep as 'others 3 %', or change one"):
        read_parts(["browntop bent=20", "chewings fescue=77"])
    assert len(read_parts(["browntop bent=20", "chewings fescue=77", "others=3"])) == 3


def test_f03_parts_that_add_to_110_ask_for_a_change() -> None:
    with pytest.raises(BadInputError, match=r"These add to 110\. Change one"):
        read_parts(["browntop bent=30", "chewings fescue=80"])


def test_a_part_above_the_whole_is_named() -> None:
    with pytest.raises(BadInputError, match="the part of browntop bent"):
        read_parts(["browntop bent=200"])


@pytest.mark.parametrize(("text", "share"), [("0.85", 0.85), ("85 %", 0.85), ("1", 1.0)])
def test_a_share_is_read_without_a_note_where_it_can_mean_one_thing(
    text: str, share: float
) -> None:
    read = read_share("germination", "browntop bent", text)
    assert (read.value, read.note) == (share, "")


def test_85_is_read_as_percent_and_said() -> None:
    read = read_share("germination", "browntop bent", "85")
    assert read.value == 0.85
    assert "85 is read as 85 %" in read.note


def test_f04_germination_8_5_is_refused_with_the_likely_figure() -> None:
    with pytest.raises(BadInputError, match=r"8\.5 % would be nearly dead seed\. 85 %\?"):
        read_share("germination", "browntop bent", "8.5")


def test_f04_germination_0_085_is_the_same_slip() -> None:
    with pytest.raises(BadInputError, match=r"8\.5 % would be nearly dead seed\. 85 %\?"):
        read_share("germination", "browntop bent", "0.085")


def test_a_low_purity_is_called_chaff_and_not_dead() -> None:
    with pytest.raises(BadInputError, match=r"9 % would be mostly chaff\. 90 %"):
        read_share("purity", "browntop bent", "9")


@pytest.mark.parametrize("text", ["0", "-1", "101", "850", "good", "", "nan"])
def test_what_is_no_share_is_refused(text: str) -> None:
    with pytest.raises(BadInputError):
        read_share("purity", "browntop bent", text)


@pytest.mark.parametrize(("text", "grams"), [("0.07", 0.07), ("0.07 g", 0.07), ("0,07", 0.07)])
def test_a_seed_weight_is_read_in_grams(text: str, grams: float) -> None:
    assert read_seed_weight("browntop bent", text) == grams


def test_a_seed_weight_ten_times_off_is_asked_about() -> None:
    with pytest.raises(BadInputError, match=r"0\.7 g is 9\.3 times that"):
        read_seed_weight("browntop bent", "0.7")


def test_figures_for_a_grass_that_is_no_part_are_refused() -> None:
    with pytest.raises(UnknownNameError, match="part of this mixture"):
        with_label(read_parts(["PRG=100"]), {"browntop bent": 0.9}, {}, {})


def test_f05_a_lot_number_that_is_the_name_is_explained_and_kept_as_unknown() -> None:
    code, told = read_lot_code(" bobbin ", "Bobbin")
    assert code == "unknown Bobbin"
    assert "That is the name" in told
    assert "bar code or stitched label" in told


def test_a_lot_without_a_number_is_kept_as_unknown() -> None:
    assert read_lot_code("", "Bobbin") == ("unknown Bobbin", "No lot number; kept as unknown.")


def test_a_lot_number_is_kept_as_it_stands() -> None:
    assert read_lot_code("BB-0417", "Bobbin") == ("BB-0417", "")


def test_a_lot_without_number_or_name_is_refused() -> None:
    with pytest.raises(BadInputError):
        read_lot_code("", " ")


def test_f31_same_name_and_other_components_is_another_make_up() -> None:
    old = SeedLot("BB-0417", "Bobbin", (LotPart("chewings fescue", 1.0),))
    new = SeedLot("BB-0533", "bobbin", (LotPart("hard fescue", 1.0),))
    variety = SeedLot("BB-0600", "Bobbin", (LotPart("chewings fescue", 1.0, "another variety"),))
    alike = SeedLot("BB-0418", "Bobbin", (LotPart("chewings fescue", 1.0),))
    assert changed_components(new, [old]) == (old,)
    assert changed_components(variety, [old]) == (old,)
    assert changed_components(alike, [old]) == ()
