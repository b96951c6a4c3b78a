"""Materials at the command line: seed by bay, dressing, spoil, refills, feed, calibration."""

import pytest

from tests.cli.conftest import Run

COURT = ("--zone", "main court")
PARTS = ("--part", "chewings fescue=80", "--part", "browntop bent=20")


@pytest.fixture
def seeded(ground: Run) -> Run:
    """The small ground with 40 kg of one lot."""
    ground("lot", "add", "--code", "BB-0417", "--name", "Bobbin", *PARTS, "--weight", "40")
    return ground


def test_seed_is_weighed_out_by_bay_and_direction_without_a_book(run: Run) -> None:
    told = run("materials", "seed", "--area", "819.2", "--parts", "4", "--rate", "20", "--json")
    bays = told.json["bays"]
    assert [bay["whole_g"] for bay in bays] == [4096] * 4
    assert {(bay["first_way_g"], bay["across_g"]) for bay in bays} == {(2048, 2048)}
    assert told.json["sown_g"] == pytest.approx(16_384)
    assert told.json["spare_g"] == pytest.approx(0.15 * 16_384)
    assert told.json["lot"] is None


def test_the_zone_and_its_lot_say_what_is_in_hand(seeded: Run) -> None:
    asked = ("materials", "seed", *COURT, "--rate", "20", "--lot", "bb-0417")
    told = " ".join(seeded(*asked).text.split())
    assert "Main court 819.2 16,384 8,192 8,192" in told
    assert "BB-0417: 40.00 kg in hand by the book, enough." in told
    assert "swardbook square-up" in told
    assert "The label on the bag decides" in told
    short = seeded(*asked[:-4], "--rate", "45", "--lot", "BB-0417").text
    assert "2.39 kg short; another lot is another seed" in " ".join(short.split())


def test_bags_kept_for_bays_are_what_the_weights_are_held_to(seeded: Run) -> None:
    bays = ("--bay", "north=409.6", "--bay", "south=409.6")
    seeded("materials", "seed", *COURT, *bays, "--rate", "20", "--lot", "BB-0417", "--keep")
    seeded("sow", "--lot", "BB-0417", "--rate", "20", *COURT)
    told = seeded("square-up", *COURT, "--used", "north=8200", "--used", "south=8.9 kg", code=1)
    assert "✓ north: 8,200 g used, 8,192 g planned" in told.text
    assert "✗ south: 8,900 g used" in told.text
    fine = seeded("square-up", *COURT, "--left", "BB-0417=23.6 kg", "--json").json
    assert fine["squares_up"] is True
    assert fine["bays_from"] == "bags kept for the bays"
    assert fine["lots"][0]["expected_g"] == pytest.approx(23_616)
    light = seeded("square-up", *COURT, "-l", "BB-0417=22 kg", "--keep", code=1).text
    assert "1616 g light" in light
    assert "No two lots or bays explain it" in light
    assert "Kept " in light


def test_square_up_says_what_it_lacks_and_what_it_cannot_read(seeded: Run) -> None:
    assert "a sowing with its lot" in seeded("square-up", "--left", "BB-0417=1 kg").text
    seeded("sow", "--lot", "BB-0417", "--rate", "20", *COURT)
    assert "a lot weighed back" in seeded("square-up").text
    for arguments, words in (
        (("--left", "BB-0417"), "LOT=WEIGHT"),
        (("--left", "BX-0417=3 kg"), "Did you mean BB-0417"),
        (("--left", "BB-0417=60 kg"), "another bag?"),
        (("--used", "west=3"), "bay of this sowing"),
        (("--sown", "3 May", "--left", "BB-0417=3 kg"), "a day of sowing"),
    ):
        assert words in seeded("square-up", *arguments, code=2).text


def test_a_dressing_is_ordered_loose_and_told_in_tonnes_barrows_and_bags(run: Run) -> None:
    asked = ("materials", "dressing", "--area", "150", "--depth", "3", "--bag", "25 kg")
    found = run(*asked, "--density", "1.5", "--json").json
    assert (found["settled_l"], found["weight_kg"], found["bags"]) == (450, 675, 27)
    assert found["loose_l"] == pytest.approx(517.5)
    assert (found["barrows"], found["passes"]) == (7, 1)
    told = run("materials", "dressing", "--area", "460.8", "--depth", "25").text
    assert "Deeper than seed is covered" in told
    assert "mask" in told
    same = run("materials", "dressing", "--area", "150", "--weight", "675 kg",
               "--density", "1.5", "--json").json  # fmt: skip
    assert same["depth_mm"] == pytest.approx(3)


def test_spoil_is_told_as_it_lay_and_loose(run: Run) -> None:
    cores = run("materials", "spoil", "--area", "819.2", "--tine", "13", "--spacing", "50",
                "--depth", "100", "--json").json  # fmt: skip
    assert cores["solid_l"] == pytest.approx(819.2 * 5.309, rel=1e-3)
    turf = run("materials", "spoil", "--area", "460.8", "--depth", "35", "--json").json
    assert turf["solid_l"] == pytest.approx(16_128)
    assert turf["fill_settled_l"] == 0
    thatch = run("materials", "spoil", "--area", "100", "--blade", "2", "--spacing", "25",
                 "--depth", "4", "--passes", "3").text  # fmt: skip
    assert "Slits: 96 L as it lay" in thatch
    assert "--depth alone" in run("materials", "spoil", "--area", "9", "--tine", "13", code=2).text


def test_refills_of_a_palm_take_soil_seed_and_cover(seeded: Run) -> None:
    asked = ("materials", "refill", *COURT, "--holes", "286", "--size", "100")
    found = seeded(*asked, "--lot", "BB-0417", "--json").json
    assert found["area_m2"] == pytest.approx(2.246, abs=0.001)
    assert found["seed_g"] == pytest.approx(2.246 * 28, abs=0.1)
    assert found["in_hand_g"] == 40_000
    assert found["closes_itself"] is False
    assert "another shows for years" in seeded(*asked).text
    small = seeded("materials", "refill", "--holes", "60", "--size", "45 mm").text
    assert "close themselves" in small


def test_f21_a_label_is_oxides_unless_said_otherwise(run: Run) -> None:
    asked = ("materials", "feed", "--area", "100", "--npk", "10-10-10", "--rate", "30")
    told = run(*asked).text
    assert "Gives N 3.0, P₂O₅ 3.0 (P 1.3), K₂O 3.0 (K 2.5) g/m²" in told
    assert "label read as N–P₂O₅–K₂O" in told
    assert "read as elements" in run(*asked, "--elements").text


def test_a_dose_of_nitrogen_in_two_crossing_passes(run: Run) -> None:
    found = run("materials", "feed", "--area", "150 m2", "--npk", "12-0-9", "--nitrogen", "3",
                "--bag", "20 kg", "--json").json  # fmt: skip
    assert (found["product_g_m2"], found["each_pass_g_m2"]) == (25, 12.5)
    assert (found["product_kg"], found["bags"]) == (3.75, 1)
    assert found["more_than_one_dose"] is False
    assert any("paving" in each["says"] for each in found["cautions"])


def test_f22_a_scorching_dose_is_said_to_be_one(run: Run) -> None:
    told = run("materials", "feed", "--area", "10", "--npk", "46-0-0", "--rate", "50").text
    assert "more nitrogen than one usual dose" in told
    assert "can scorch" in " ".join(told.split())


def test_a_soil_test_leaves_what_is_short_and_says_what_is_ample(ground: Run) -> None:
    found = ground("materials", "need", "--test", "K=45", "--nitrogen", "10", "--json").json
    [potassium] = found["needs"]
    assert potassium["need_g_m2"] == pytest.approx(3.80, abs=0.005)
    assert potassium["oxide_g_m2"] == pytest.approx(4.58, abs=0.005)
    assert "P" in found["not_tested"]
    water = ("--water", "240", "--in-water", "K=10")
    less = ground("materials", "need", "--test", "K=45", "--nitrogen", "10", *water, "--json").json
    assert less["needs"][0]["need_g_m2"] == pytest.approx(1.40, abs=0.005)
    assert "a soil test of P, K" in ground("materials", "need", *COURT, "--nitrogen", "10").text
    reading = ("-s", "quantity=phosphorus", "-s", "value=60", "-s", "unit=mg/kg")
    ground("diary", "add", "reading", *reading, *COURT)
    told = " ".join(ground("materials", "need", *COURT, "--nitrogen", "10", "--keep").text.split())
    assert "tests readings of Main court" in told
    assert "ample: none needed" in told
    assert "consider nitrogen only" in told
    assert "Kept " in told


def test_a_spreader_is_walked_through_and_set(run: Run) -> None:
    run_ = ("--width", "1.5", "--run", "20", "--rate", "25")
    told = " ".join(run("materials", "spreader", *run_).text.split())
    assert "each run should take 375 g" in told
    found = run("materials", "spreader", "450", "440", "460", *run_, "--setting", "5", "--dial",
                "1", "10", "--area", "819.2", "--json").json  # fmt: skip
    assert found["next_setting"] == pytest.approx(4.1667, abs=1e-4)
    assert found["product_kg"] == pytest.approx(20.48)
    assert found["is_set"] is False
    assert run("materials", "spreader", "375", "375", "375", *run_, "--json").json["is_set"] is True


def test_a_sprayer_is_set_by_jug_and_walk(run: Run) -> None:
    asked = ("materials", "sprayer", "0,6", "--run", "20", "--seconds", "20", "--width", "1")
    found = run(*asked, "--tank", "15", "--area", "819.2", "--json").json
    assert found["water_l_ha"] == pytest.approx(100)
    assert found["tank_covers_m2"] == pytest.approx(1500)
    assert found["tanks"] == 1
    told = " ".join(run(*asked, "--tank", "15", "--label-rate", "4").text.split())
    assert "At the label's rate as you typed it 6000 g" in told
    assert "names and doses no plant-protection product" in told


def test_imperial_in_gives_the_same_as_metric(run: Run) -> None:
    metric = run("materials", "seed", "--area", "836.127 m2", "--rate", "33.906", "--json").json
    imperial = run("materials", "seed", "--area", "1000 yd2", "--rate", "1 oz/yd2", "--json").json
    assert imperial["sown_g"] == pytest.approx(metric["sown_g"], rel=1e-4)
    inch = run("materials", "dressing", "--area", "100", "--depth", "1/8 in", "--json").json
    assert inch["depth_mm"] == pytest.approx(3.175)


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["seed", "--rate", "30"], "--zone NAME, or --area"),
        (["spoil", "--area", "20", "--tine", "0", "--spacing", "50", "--depth", "90"], "tine is 0"),
        (["spoil", "--area", "20", "--depth", "0"], "depth is 0"),
        (["refill", "--holes", "5", "--size", "100", "--depth", "0"], "depth of a hole is 0"),
        (["seed", "--area", "30"], "the whole rate"),
        (["seed", "--area", "30", "--rate", "35 oz/yd2"], "Did you mean 35 g/m2?"),
        (["seed", "--bay", "north", "--rate", "30"], "NAME=AREA"),
        (["dressing", "--area", "30"], "one of --depth and --weight"),
        (["dressing", "--area", "30", "--depth", "3", "--material", "grit"], "No material called"),
        (["feed", "--area", "30", "--npk", "12-0", "--nitrogen", "3"], "12-0-9"),
        (["feed", "--area", "30", "--npk", "0-0-9", "--nitrogen", "3"], "a label with nitrogen"),
        (["feed", "--area", "30", "--npk", "12-0-9"], "one of --nitrogen and --rate"),
        (["need", "--test", "N=45", "--nitrogen", "10"], "nutrient of a soil test"),
        (["need", "--test", "K=much", "--nitrogen", "10"], "NUTRIENT=mg/kg"),
        (["need", "--test", "K=45", "--nitrogen", "10", "--water", "9"], "--in-water together"),
        (["spreader", "450"], "--width, --run and --rate"),
        (["spreader", "wet", "--width", "1", "--run", "9", "--rate", "9"], "a catch"),
    ],
)
def test_what_cannot_be_read_is_told_plainly(run: Run, arguments: list[str], words: str) -> None:
    assert words in run("materials", *arguments, code=2).text


def test_an_order_for_a_zone_says_when_its_job_is_not_fit_today(ground: Run) -> None:
    frost = ("--set", "state=frost")
    ground("diary", "add", "frost", *frost, *COURT)
    for asked, job in (
        (("feed", "--npk", "12-0-9", "--nitrogen", "3"), "feed"),
        (("dressing", "--depth", "2"), "dress"),
        (("spoil", "--tine", "13", "--spacing", "50", "--depth", "100"), "tine"),
    ):
        told = ground("materials", *asked, *COURT).text
        assert f"{job} today: not fit" in told
        assert "frost" in told
        assert ground("materials", *asked, *COURT, "--json").json["fit_today"] == "not fit"
