"""What a day reads besides the state: the constants of one draw, with their units.

Ranges, shapes and sources stand in the handbook (`handbook/data/parameters/model.csv`).
"""

from __future__ import annotations

from typing import NamedTuple

from swardbook.model.numbers import Numbers


class SownParameters(NamedTuple):
    """One sown component."""

    refill_seed: Numbers
    """Viable seeds sown into a square metre of refilled hole. [m⁻²]"""
    base_temperature: Numbers
    """Below this, seed earns no hydrothermal time. [°C]"""
    warmth_50: Numbers
    """Hydrothermal time to half emergence in the field. [°C d]"""
    spread: Numbers
    """Steepness of emergence around that time. [-]"""
    potential_base: Numbers
    """Water potential at which seed stops. [MPa]"""
    potential_slow: Numbers
    """Water potential at which it goes at half speed. [MPa]"""
    area_at_emergence: Numbers
    """Ground one seedling holds when it has emerged. [m²]"""
    growth: Numbers
    """Logistic rate of filling open ground. [(°C d)⁻¹]"""
    closure: Numbers
    """Rate of closing the last gaps from their edges. [(°C d)⁻¹]"""
    power: Numbers
    """Pressing power against other grasses in a closed sward. [-]"""
    comfort_height: Numbers
    """Lowest height of cut it stands. [mm]"""
    drought_loss: Numbers
    """Cover lost a day without water. [d⁻¹]"""
    wear: Numbers
    """Cover lost to wear, against red fescue. [-]"""
    seed_death: Numbers
    """Seed in the ground lost a day. [d⁻¹]"""


class BinShares(NamedTuple):
    """One share for each ripening bin."""

    b0: Numbers
    b1: Numbers
    b2: Numbers
    b3: Numbers
    b4: Numbers
    b5: Numbers


class WeedParameters(NamedTuple):
    """One weed grass."""

    base_temperature: Numbers
    """Below this, seed earns nothing. [°C]"""
    best_temperature: Numbers
    """Soil temperature of fastest emergence. [°C]"""
    highest_temperature: Numbers
    """Above this, none. [°C]"""
    potential_base: Numbers
    """Water potential at which seed stops. [MPa]"""
    potential_slow: Numbers
    """Water potential at half speed. [MPa]"""
    emergence: Numbers
    """Share of ready surface seed that comes up in open ground. [(°C d)⁻¹]"""
    emergence_buried: Numbers
    """The same for buried seed. [(°C d)⁻¹]"""
    dormant_share: Numbers
    """Share of fresh seed that is dormant. [-]"""
    release: Numbers
    """Dormant seed that becomes ready a day. [d⁻¹]"""
    summer_dormancy: Numbers
    """How far readiness falls at midsummer; 0 is not at all. [-]"""
    light_closed: Numbers
    """Emergence under a closed sward against open ground. [-]"""
    burial: Numbers
    """Surface seed buried a day. [d⁻¹]"""
    unburial: Numbers
    """Buried seed brought up by one pass that opens the soil. [-]"""
    surface_death: Numbers
    """Surface seed lost a day. [d⁻¹]"""
    buried_death: Numbers
    """Buried seed lost a day, undisturbed. [d⁻¹]"""
    buried_death_disturbed: Numbers
    """Buried seed lost a day where the soil is worked. [d⁻¹]"""
    survival_gap: Numbers
    """Seedlings that become plants in a gap. [-]"""
    survival_closed: Numbers
    """Seedlings that become plants in a closed sward. [-]"""
    warmth_tillering: Numbers
    """Emergence to tillering. [°C d]"""
    warmth_heading: Numbers
    """Tillering to first heads. [°C d]"""
    heads: Numbers
    """Heads a plant makes a day at the height of the spring flush. [d⁻¹]"""
    flush_scale: Numbers
    """Its degree-days for the flush against the published ones. [-]"""
    flush_start: Numbers
    """Day of the season on which the count for the flush starts. [d]"""
    autumn_flush: Numbers
    """Autumn flush against the spring one. [-]"""
    background_heads: Numbers
    """Heads between flushes against the spring flush. [-]"""
    mown_heads: Numbers
    """Heads in a sward that is mown against one left to grow. [-]"""
    seeds_per_head: Numbers
    """Seeds a head can ripen in mown turf. [-]"""
    ripe_left: BinShares
    """Viable share of a head left standing. [-]"""
    ripe_cut: BinShares
    """Share that ends viable in a head cut and left lying. [-]"""
    shedding: Numbers
    """Ripe seed shed a day at 12 °C. [d⁻¹]"""
    lying_release: Numbers
    """Seed that falls a day from heads left lying. [d⁻¹]"""
    odds_above: Numbers
    """Odds that a head stands above a blade at 25 mm. [-]"""
    lift: Numbers
    """Heads below the blade that one lifting pass raises. [-]"""
    capture: Numbers
    """Cut heads that a box takes. [-]"""
    plant_death: Numbers
    """Plants lost a day. [d⁻¹]"""
    drought_death: Numbers
    """How many times more are lost without water. [-]"""
    drought_loss: Numbers
    """Cover lost a day without water, besides that of plants that die. [d⁻¹]"""
    wear: Numbers
    """Cover lost to wear, against red fescue. [-]"""
    crowding: Numbers
    """Plants lost a day where they have no room at all. [d⁻¹]"""
    creeping: Numbers
    """Part of a dying plant's cover that lives on in rooted shoots. [-]"""
    typical_area: Numbers
    """Ground of a plant that heads at the stated rate; a larger one heads more. [m²]"""
    first_area: Numbers
    """Ground a plant holds when it starts to tiller. [m²]"""
    largest_area: Numbers
    """Ground a plant can hold. [m²]"""
    growth: Numbers
    """Rate of spreading into gaps. [(°C d)⁻¹]"""
    power: Numbers
    """Pressing power against the sown grass, April to September. [-]"""
    winter_power: Numbers
    """What is added to it October to March. [-]"""
    best_height: Numbers
    """Height of cut that suits it best. [mm]"""
    height_width: Numbers
    """Change of height that costs it one unit of power. [mm]"""
    nitrogen_gain: Numbers
    """Change of its log-odds in the sward for each gram of nitrogen taken up. [m² g⁻¹]"""
    verticut_loss: Numbers
    """Cover it loses to a verticut against the sown grass. [-]"""
    verticut_kill: Numbers
    """Plants killed in ground that a pass opens. [-]"""
    stood_up_loss: Numbers
    """Cover lost if all of it is stood up and cut the same day. [-]"""
    detect_leafy: Numbers
    """Plants without heads found in one pass. [-]"""
    detect_heading: Numbers
    """Plants with heads found in one pass. [-]"""
    kill: Numbers
    """Found plants that a pull or dig kills. [-]"""
    handling: Numbers
    """Time for one plant found. [h]"""
    hole: Numbers
    """Hole that one plant leaves, beyond its own cover. [m²]"""
    immigration: Numbers
    """Seed that comes from around. [m⁻² d⁻¹]"""
    seed_on_tools: Numbers
    """Seed that one visit of a machine brings. [m⁻²]"""


class ZoneParameters(NamedTuple):
    """The ground and the sward as a whole."""

    seedbed_capacity: Numbers
    """Water the top 15 mm holds above air-dry. [mm]"""
    root_capacity: Numbers
    """Water the root zone holds for grass. [mm]"""
    depletion: Numbers
    """Share of it that can be used before grass feels it. [-]"""
    seedling_depletion: Numbers
    """The same of the top 15 mm, for what is young and roots there. [-]"""
    crop_factor: Numbers
    """Water use of a full sward against the reference. [-]"""
    bare_factor: Numbers
    """Evaporation of wet bare soil against the reference. [-]"""
    soil_lag: Numbers
    """How far the soil follows the air in a day. [d⁻¹]"""
    height_growth: Numbers
    """Growth in height at its best. [mm d⁻¹]"""
    growth_base: Numbers
    """Air temperature at which growth in height starts. [°C]"""
    growth_full: Numbers
    """Air temperature at which it is at its best. [°C]"""
    light_enough: Numbers
    """Daily light above which growth does not wait for light. [MJ m⁻² d⁻¹]"""
    nitrogen_half: Numbers
    """Available nitrogen at half growth. [g m⁻²]"""
    nitrogen_supply: Numbers
    """Nitrogen the soil frees a degree-day. [g m⁻² (°C d)⁻¹]"""
    nitrogen_in_leaf: Numbers
    """Nitrogen in a millimetre of growth. [g m⁻² mm⁻¹]"""
    nitrogen_returned: Numbers
    """Nitrogen in clippings left lying that comes back. [-]"""
    nitrogen_loss: Numbers
    """Available nitrogen lost a day. [d⁻¹]"""
    thinning: Numbers
    """Cover lost a day to worms, small mishaps and a little walking. [d⁻¹]"""
    wear_summer: Numbers
    """Cover lost a day to the zone's use, April to September, by a grass of factor 1. [d⁻¹]"""
    wear_winter: Numbers
    """The same October to March. [d⁻¹]"""
    gap_open: Numbers
    """Bare share above which gaps fill at the speed of open ground. [-]"""
    pressing: Numbers
    """Speed of pressing a unit of power at best growth. [d⁻¹]"""
    below_comfort: Numbers
    """Power lost when cut at half the lowest comfortable height. [-]"""
    take_seedbed: Numbers
    """Viable seed that takes in a seedbed. [-]"""
    take_slit: Numbers
    """Viable seed that takes when slit in. [-]"""
    take_scarified: Numbers
    """Viable seed that takes broadcast on a scarified sward. [-]"""
    take_sward: Numbers
    """Viable seed that takes broadcast on a sward. [-]"""
    gap_tips: Numbers
    """Gap added by a verticut with the tips above the soil. [-]"""
    gap_blade: Numbers
    """Gap added by one 1 to 2 mm below the height of cut. [-]"""
    gap_soil: Numbers
    """Gap added by one that touches the soil. [-]"""
    gap_scarify: Numbers
    """Gap added by a scarifying pass. [-]"""
    gap_tine: Numbers
    """Gap added by a hollow tining. [-]"""
    brush_lift: Numbers
    """Lift of a brush or rake against that of a verticut. [-]"""
    search: Numbers
    """Time to search a square metre. [h m⁻²]"""
    disturbance_fade: Numbers
    """Disturbance that heals a day. [d⁻¹]"""


class SownParameterSet(NamedTuple):
    """The four slots for sown components."""

    a: SownParameters
    b: SownParameters
    c: SownParameters
    d: SownParameters


class Parameters(NamedTuple):
    """Every constant of one draw."""

    sown: SownParameterSet
    weeds: tuple[WeedParameters, ...]
    """Each weed grass of the zone, the usual ones first."""
    zone: ZoneParameters
