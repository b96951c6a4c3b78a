"""Feed by the bag, need by the soil test, and setting a spreader or sprayer, kept for the zone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil

from swardbook.book.fields import quantity
from swardbook.foundation.errors import BadInputError, NotEnoughDataError, UnknownNameError
from swardbook.foundation.quantities import read_number, read_quantity, require
from swardbook.handbook.parameters import value
from swardbook.husbandry.bulk import bags
from swardbook.husbandry.calibrating import Nozzles, SpreaderSetting, compare_nozzles, set_spreader
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import Feed, Reading
from swardbook.husbandry.labels import Given, given, read_label
from swardbook.husbandry.looks import doubt_of_unit
from swardbook.husbandry.nutrients import (
    NUTRIENTS,
    Need,
    need_g_m2,
    product_g_m2,
    share_of,
)
from swardbook.husbandry.spreading import catch_for, spray_l_m2, tank_area_m2

SPREADER, SPRAYER, SOIL_NEED = "spreader", "sprayer", "soil need"
OXIDES = {"P": "P2O5", "K": "K2O", "Ca": "CaO", "Mg": "MgO", "S": "SO3"}
"""How labels name each nutrient."""
NAMES = {
    "phosphorus": "P", "potassium": "K", "potash": "K", "calcium": "Ca", "magnesium": "Mg",
    "sulphur": "S", "sulfur": "S",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class FeedOrder:
    """A feed for an area.

    Parameters
    ----------
    product_g_m2 : float
        Product in all. [g m⁻²]
    pass_g_m2 : float
        Product of each of two crossing passes. [g m⁻²]
    kg : float
        Product for the area. [kg]
    bags : int or None
        Whole bags, where their weight was given.
    gives : Given
        Nutrients, as oxides and as elements.
    is_much : bool
        Whether it is more nitrogen than one dose of quick feed.
    asked : str
        What was perhaps meant, where the rate only makes sense in another unit; empty otherwise.
    """

    product_g_m2: float
    pass_g_m2: float
    kg: float
    bags: int | None
    gives: Given
    is_much: bool
    asked: str = ""


@dataclass(frozen=True, slots=True)
class SoilNeed:
    """What the soil is short of over a year, nutrient by nutrient.

    Parameters
    ----------
    nitrogen_g_m2 : float
        Nitrogen of the year that uptake goes by. [g m⁻²]
    needs : tuple of Need
        Each nutrient that was tested, as the element.
    oxide_g_m2 : mapping of str to float
        The same need as labels print it. [g m⁻²]
    not_tested : tuple of str
        Nutrients without a test.
    source : str
        Where the tests came from.
    """

    nitrogen_g_m2: float
    needs: tuple[Need, ...]
    oxide_g_m2: Mapping[str, float]
    not_tested: tuple[str, ...]
    source: str

    def is_ample(self, nutrient: str) -> bool | None:
        """Tell whether the soil holds enough of one; None where it was not tested."""
        found = [each for each in self.needs if each.nutrient == nutrient]
        return found[0].need == 0 if found else None


@dataclass(frozen=True, slots=True)
class SprayerSetting:
    """What a sprayer puts down, and what a tank covers.

    Parameters
    ----------
    nozzles : Nozzles
        How alike they are.
    l_ha : float
        Water. [L ha⁻¹]
    l_100_m2 : float
        Water. [L per 100 m²]
    tank_m2 : float or None
        Area of one tank. [m²]
    tanks : int or None
        Tanks for the area.
    product_tank_g : float or None
        Product in one full tank at the label's rate as typed. [g]
    product_g : float or None
        Product for the whole area. [g]
    """

    nozzles: Nozzles
    l_ha: float
    l_100_m2: float
    tank_m2: float | None
    tanks: int | None
    product_tank_g: float | None
    product_g: float | None


def feed_order(
    area_m2: float, npk: str, nitrogen: str = "", rate: str = "", bag_kg: float | None = None,
    are_elements: bool = False,
) -> FeedOrder:  # fmt: skip
    """Work out product for a dose of nitrogen, or what a rate of product gives.

    Parameters
    ----------
    area_m2 : float
        Where. [m²]
    npk : str
        Figures of the label, ``12-0-9``.
    nitrogen, rate : str
        Nitrogen wanted, or product, as typed; one of the two.
    bag_kg : float or None
        What a bag holds. [kg]
    are_elements : bool
        Whether the label prints P and K as elements.

    Raises
    ------
    BadInputError
        If neither or both are given, or the label has no nitrogen for a dose of it.
    """
    if bool(nitrogen) == bool(rate):
        raise BadInputError("the dose", "both or neither", "one of --nitrogen and --rate")
    label = read_label(npk, are_elements)
    if nitrogen and label[0] == 0:
        raise BadInputError("--npk", npk, "a label with nitrogen", "Or give --rate of product.")
    per_m2 = (
        quantity(rate, "g/m2", "--rate") if rate
        else product_g_m2(quantity(nitrogen, "g/m2", "--nitrogen"), label[0])
    )  # fmt: skip
    odd = doubt_of_unit(read_quantity(rate, "g/m2", "--rate"), "rate_g_m2") if rate else None
    gives = given(Feed("", require("rate of product", per_m2, 0.01, 5000, "g/m2"), *label))
    assert gives is not None
    kg = per_m2 * require("area", area_m2, 0.01, 1e7, "m2") / 1000
    return FeedOrder(
        per_m2, per_m2 / 2, kg, None if bag_kg is None else bags(kg, bag_kg), gives,
        gives.nitrogen > value("feed_dose_most") + 1e-9, odd.text if odd else "",
    )  # fmt: skip


def read_tests(texts: Sequence[str]) -> dict[str, float]:
    """Read ``K=45`` or ``potassium=45``: a soil test of each nutrient [mg kg⁻¹].

    Raises
    ------
    BadInputError
        If one has no number.
    UnknownNameError
        If it is no nutrient a soil test is read for.
    """
    found = {}
    for text in texts:
        name, _, figure = text.partition("=")
        number = read_number(figure.replace("mg/kg", "").replace("ppm", ""))
        if number is None:
            raise BadInputError("--test", text, "NUTRIENT=mg/kg, such as K=45")
        found[_symbol(name)] = number
    return found


def tests_of_zone(ground: Ground, zone: str) -> dict[str, float]:
    """Give the last soil test of each nutrient in the diary [mg kg⁻¹]."""
    found = {}
    for entry in ground.entries(zone, "reading"):
        if not isinstance(entry.what, Reading):
            continue
        try:
            symbol = _symbol(entry.what.quantity)
        except UnknownNameError:
            continue
        found[symbol] = entry.what.value
    return found


def soil_need(
    tests: Mapping[str, float], nitrogen_g_m2: float, depth_mm: float = 100.0,
    density: float = 1.5, floors: Mapping[str, float] | None = None, source: str = "as typed",
    brought: Mapping[str, float] | None = None,
) -> SoilNeed:  # fmt: skip
    """Work out what a year's growth wants beyond what the soil can spare.

    Parameters
    ----------
    tests : mapping of str to float
        Soil tests, by symbol. [mg kg⁻¹]
    nitrogen_g_m2 : float
        Nitrogen of the year. [g m⁻²]
    depth_mm, density : float
        Depth sampled [mm], and bulk density of the soil. [kg L⁻¹]
    floors : mapping of str to float, optional
        Least that has to stay, where the extract was not Mehlich-3. [mg kg⁻¹]
    source : str
        Where the tests came from.
    brought : mapping of str to float, optional
        What a year's irrigation brings. [g m⁻²]

    Raises
    ------
    NotEnoughDataError
        If nothing was tested.
    """
    if not tests:
        raise NotEnoughDataError(
            "what the soil is short of", "a soil test of P, K, Ca, Mg or S, in mg/kg", "none"
        )
    least, water = floors or {}, brought or {}
    needs = tuple(
        _less(
            need_g_m2(each, tests[each], nitrogen_g_m2, depth_mm, density, least.get(each)),
            water.get(each, 0.0),
        )
        for each in NUTRIENTS if each in tests
    )  # fmt: skip
    oxides = {
        OXIDES[each.nutrient]: each.need / share_of(each.nutrient, OXIDES[each.nutrient])
        for each in needs
    }
    missing = tuple(each for each in NUTRIENTS if each not in tests)
    return SoilNeed(nitrogen_g_m2, needs, oxides, missing, source)


@dataclass(frozen=True, slots=True)
class SpreaderAnswer:
    """A spreader's setting with what should be caught, and product for the area."""

    found: SpreaderSetting
    catch_g: float
    """What should be caught in the run. [g]"""
    product_kg: float | None
    """Product for the area at the whole rate. [kg]"""


def spreader(
    caught: Sequence[str], width: str, run: str, rate: str, passes: int = 2,
    setting: float | None = None, ends: tuple[float, float] | None = None,
    area_m2: float | None = None,
) -> SpreaderAnswer:  # fmt: skip
    """Tell whether a spreader is set, from what it put on a sheet over a measured run.

    Parameters
    ----------
    caught : sequence of str
        Product of each run, as typed; bare numbers are g.
    width, run, rate : str
        Effective width, length of the run, and whole rate of product, as typed.
    passes : int
        Passes that share the rate; two cross.
    setting : float or None
        Where the dial stood. [mark of the dial]
    ends : tuple of float, optional
        Lowest and highest mark. [mark of the dial]
    area_m2 : float or None
        Area to spread. [m²]
    """
    if not (width and run and rate):
        raise BadInputError("the run", "not all of it", "--width, --run and --rate")
    wide, long = quantity(width, "m", "--width") / 1000, quantity(run, "m", "--run") / 1000
    whole = quantity(rate, "g/m2", "--rate")
    each_pass = whole / require("passes", passes, 1, 4, "-")
    found = set_spreader(
        [quantity(each, "g", "a catch") for each in caught], wide, long, each_pass, setting, ends
    )
    kg = None if area_m2 is None else whole * area_m2 / 1000
    return SpreaderAnswer(found, catch_for(each_pass, wide, long), kg)


def sprayer(
    litres_min: Sequence[float], speed_m_s: float, width_m: float, tank_l: float | None = None,
    area_m2: float | None = None, label_g_m2: float | None = None,
) -> SprayerSetting:  # fmt: skip
    """Tell what a sprayer puts down from a jug and a timed walk.

    Parameters
    ----------
    litres_min : sequence of float
        What each nozzle gives. [L min⁻¹]
    speed_m_s, width_m : float
        Walking speed and width sprayed by all nozzles. [m s⁻¹, m]
    tank_l : float or None
        What the tank holds. [L]
    area_m2 : float or None
        Area to cover. [m²]
    label_g_m2 : float or None
        Rate as the label prints it, typed by the person. [g m⁻²]
    """
    nozzles = compare_nozzles(litres_min)
    water = spray_l_m2(nozzles.together_l_min, speed_m_s, width_m)
    covers = None if tank_l is None else tank_area_m2(tank_l, water)
    return SprayerSetting(
        nozzles, water * 10_000, water * 100, covers,
        None if covers is None or area_m2 is None else ceil(area_m2 / covers - 1e-9),
        None if covers is None or label_g_m2 is None else covers * label_g_m2,
        None if area_m2 is None or label_g_m2 is None else area_m2 * label_g_m2,
    )  # fmt: skip


def _less(need: Need, brought: float) -> Need:
    return replace(need, need=max(need.need - brought, 0.0))


def _symbol(name: str) -> str:
    plain = name.strip().casefold()
    for symbol in NUTRIENTS:
        if plain == symbol.casefold():
            return symbol
    if plain in NAMES:
        return NAMES[plain]
    raise UnknownNameError("nutrient of a soil test", name.strip(), [*NUTRIENTS, *NAMES])
