"""More targets: trade sight one by one, young swards, banks of seed, the other weed grasses."""

from __future__ import annotations

from datetime import date
from functools import partial

from swardbook.model.calibration import Target
from tools import calibration_trade_runs as runs
from tools.calibration_runs import POA, Measure, meadow_grass_share

P = "model.annual_meadow_grass."
F = "model.yorkshire_fog."
R = "model.rough_stalked_meadow_grass."
B = "model.creeping_bent."
S = "model.sown."
LONG = float("inf")
DUG = (f"{P}buried_death_worked_year", f"{P}unburial", f"{P}emergence_open_year")
HAND = (f"{P}detect_leafy", f"{P}kill", f"{P}handling_seconds")


def seen(
    key: str, what: str, place: str, band: tuple[float, float], told: str,
    informs: tuple[str, ...], *, fair: bool = True,
) -> Target:  # fmt: skip
    """Give a target of trade sight."""
    return Target(key, what, "practice", place, *band, told, informs, independent=fair)


MORE: tuple[tuple[Target, Measure], ...] = (
    (
        Target(
            "ramets", "two-tiller plants of annual meadow-grass alive after 15 months [%]",
            "howe_snaydon_1986", "in ryegrass, 1 to 1½ years; here without drought", 11, 31,
            "21 to 95 over four species, annual meadow-grass the least (21; tolerance 10 judged)",
            (f"{P}plant_death",),
        ),
        partial(runs.ramets_left, weed=POA),
    ),
    (
        Target(
            "ramets rough", "the same of rough-stalked meadow-grass [%]", "howe_snaydon_1986",
            "in ryegrass, 1 to 1½ years; here without drought", 85, 100,
            "the best of the four (95; tolerance 10 judged)", (f"{R}plant_death",),
            independent=False,
        ),
        partial(runs.ramets_left, weed=runs.ROUGH),
    ),
    *(
        (
            Target(
                f"bank {digs} digs", f"yearly loss of a bank, dug {words} [%]",
                "roberts_dawkins_1967", "several weeds in field soil; a dig as two passes, judged;"
                " tolerance 6 judged", loss - 6, loss + 6, f"{loss}", DUG,
            ),
            partial(runs.bank_loss, digs=digs),
        )
        for digs, words, loss in ((0, "never", 22), (2, "twice a year", 30), (4, "four times", 36))
    ),
    (
        Target(
            "stripped bank", "seed in the soil after stripping, against before [%]",
            "brosnan_2020", "25 mm off warm-season turf in June; tolerance 15 judged", 85, 115,
            "no change", (f"{P}seed_bank_surface",),
        ),
        runs.stripped_bank,
    ),
    (
        Target(
            "green seed", "seed formed in a year, nine tenths cover at 5 mm [m⁻²]",
            "lush_1988_plants", "an Australian golf green; here lawn values", 150e3, 650e3,
            "150,000 to 650,000", (f"{P}tillers", f"{P}tillers_heading", f"{P}seeds_per_head"),
        ),
        runs.green_seed,
    ),
    (
        Target(
            "less nitrogen", "cover after two years at 98 over 293 kg N ha⁻¹ a year [%]",
            "branham_gaussoin_1985", "a fairway, clippings off; tolerance 10 judged", 78, 98,
            "-12.2 % with less", (f"{P}nitrogen_gain",), independent=False,
        ),
        runs.nitrogen_ratio,
    ),
    *(
        (
            Target(
                f"emergence {key}", f"days until half of {name} is up at 12.3 °C [d]",
                "lincoln_fields_1996", "five autumn sowings in New Zealand; soil reckoned from the"
                " printed days and degree-days; tolerance 3 judged", days - 3, days + 3, f"{days}",
                (f"{S}field_multiplier", f"{S}{key}.laboratory_warmth"),
            ),
            partial(runs.field_emergence, species=name, share=0.5, soil=runs.AUTUMN_SOIL),
        )
        for key, name, days in (
            ("ryegrass", "perennial ryegrass", 15.5), ("tall_fescue", "tall fescue", 19.4),
            ("slow", "small timothy", 23.6),
        )
    ),
    (
        Target(
            "side by side", "cover a fortnight after sowing ryegrass and meadow-grass [%]",
            "brede_duich_1984a", "some meadow-grass with the ryegrass, how much is not said; here"
            " half of 20,000 seeds each at 21 °C; tolerance 12 judged", 38, 62, "50",
            (f"{S}ryegrass.cover_50", f"{S}meadow_grass.cover_50"),
        ),
        runs.side_by_side,
    ),
    *(
        (
            Target(
                f"oversown {key}", f"annual meadow-grass after oversowing {words} over without [%]",
                "elford_2008", "several weeds of Canadian pitches of smooth-stalked meadow-grass,"
                " worn and not; here one weed, eighteen months on; judged", low, high, told,
                (f"{S}ryegrass.power", f"{P}alpha", f"{P}survival_gap"),
            ),
            partial(runs.oversown, rate=rate, days=days),
        )
        for key, words, rate, days, low, high, told in (
            ("once", "20 g/m² of ryegrass once", 20.0, (151,), 90, 110, "no sure change"),
            ("thrice", "80 g/m² in May, July and September", 80.0, (30, 91, 151), 0, 95,
             "fewer in an ordinary year"),
        )
    ),
    (
        Target(
            "cold spring", "days until a tenth of ryegrass is up, soil from 4.7 °C rising [d]",
            "bentgrass_cold_spring_2021", "up when the soil reached some 10 °C, which is day 14.7;"
            " tolerance 3 judged", 11.7, 17.7, "about 15",
            (f"{S}field_multiplier", f"{S}ryegrass.laboratory_warmth"),
        ),
        partial(runs.field_emergence, species="perennial ryegrass", share=0.1,
                soil=runs.COLD_SPRING),
    ),
    (
        Target(
            "fescue order", "ryegrass before red fescue before hard fescue, 1 if so [-]",
            "purdue_fine_fescues", "order of germination and vigour; here half cover at 16 °C",
            1, 1, "that order", (f"{S}fescue.cover_50", f"{S}hard_fescue.cover_50"),
            independent=False,
        ),
        runs.fescue_order,
    ),
    (
        Target(
            "ryegrass thirst", "ryegrass: days later at 60 % than at 120 % of the water [d]",
            "serena_leinauer_2014", "indifferent; in the heat of New Mexico, here 22 °C", -2, 2,
            "0", (f"{S}ryegrass.potential_slow",),
        ),
        partial(runs.thirst, species="perennial ryegrass"),
    ),
    (
        Target(
            "meadow-grass thirst",
            "smooth-stalked meadow-grass: days later at 60 % than at 120 % [d]",
            "serena_leinauer_2014", "best at 120 %; 1 day or more judged", 1, LONG, "later",
            (f"{S}meadow_grass.potential_slow",),
        ),
        partial(runs.thirst, species="smooth-stalked meadow-grass"),
    ),
    (
        Target(
            "head start", "points gained by smooth-stalked meadow-grass from 35 days' start [%]",
            "larsen_andreasen_2004", "up to 0.08 points a degree-day of 679; 5 judged as the"
            " least that counts", 5, 54, "up to 54", (f"{S}meadow_grass.cover_50",),
        ),
        runs.head_start,
    ),
    (
        Target(
            "meadow-grass worn", "smooth-stalked meadow-grass in October, from 93 % of seed [%]",
            "koeritz_stier_2007", "with ryegrass under football wear in Wisconsin; here sown in"
            " June and worn as for play", 50, 100, "over 50",
            (f"{S}meadow_grass.cover_50", f"{S}meadow_grass.wear", f"{S}ryegrass.wear"),
        ),
        partial(
            meadow_grass_share, last=date(2001, 10, 15), companions=("perennial ryegrass",),
            share=0.93, use="play",
        ),
    ),
    (
        seen(
            "ryegrass tenth", "ryegrass of the sown after a year, from a tenth by weight [%]",
            "handbooks say 5 to 15 % by weight is enough to lead; two fifths judged", (40, 100),
            "leads in the first year", (f"{S}ryegrass.cover_50", f"{S}ryegrass.power"),
        ),
        runs.ryegrass_tenth,
    ),
    (
        seen(
            "crossing", "seed taken away by two crossing passes a cut over one [-]",
            "one rooting point, leaves flat all round: lifting needs more than one direction;"
            " 1.05 judged", (1.05, LONG), "more", (f"{P}lift", f"{P}share_above"),
        ),
        runs.crossing,
    ),
    (
        seen(
            "straight after", "seed returned if the cut follows at once over four days later [%]",
            "cut straight after each pass", (0, 99), "less", (f"{P}lift", f"{P}shedding"),
        ),
        runs.cut_straight_after,
    ),
    (
        seen(
            "seed again", "days after lifting until half as much seed falls a day, 12 °C [d]",
            "fresh heads about every ten days, read as seed; all cut heads taken", (7, 14),
            "about 10",
            (f"{P}ripe_half_days", f"{P}shedding"),
        ),
        runs.seed_again,
    ),
    (
        seen(
            "seeds in a life", "seeds a plant forms in its life, weekly cuts [-]",
            "hundreds of seeds a plant over its life", (100, 1000), "hundreds",
            (f"{P}tillers", f"{P}tillers_heading", f"{P}seeds_per_head", f"{P}plant_death"),
        ),
        runs.seeds_in_a_life,
    ),
    (
        seen(
            "seen by heads", "plants found in flower over plants found without heads [-]",
            "seen by their heads first; 1.5 judged", (1.5, LONG), "more",
            (f"{P}detect_leafy", f"{P}detect_heading"), fair=False,
        ),
        runs.seen_by_heads,
    ),
    (
        seen(
            "thin places", "plants by December, a fifth bare in September over a fiftieth [-]",
            "gaps and thin places of a sward; 2 judged", (2, LONG), "there",
            (f"{P}light_closed", f"{P}survival_gap", f"{P}survival_closed"),
        ),
        runs.thin_places,
    ),
    (
        seen(
            "race lost", "plants after a year of digging over at the start, from 15,000 [%]",
            "four hours a fortnight on 300 m²; beyond some hundreds a losing race", (100, LONG),
            "no fewer", HAND,
        ),
        partial(runs.losing_race, plants=50.0),
    ),
    (
        seen(
            "race won", "plants after a year of digging over at the start, from 150 [%]",
            "the same hours; dig early while plants are few", (0, 50), "few left", HAND,
        ),
        partial(runs.losing_race, plants=0.5),
    ),
    (
        seen(
            "first season", "cover after the first-season programme over plain cuts [%]",
            "light passes two ways a week, boxed, fed, no gaps; four fifths judged", (0, 80),
            "less", (f"{P}lift", f"{P}capture", "model.zone.gap_tips"),
        ),
        runs.first_season,
    ),
    (
        seen(
            "first season seed", "seed returned with that programme over plain cuts [%]",
            "heads taken off the site; half judged", (0, 50), "far less",
            (f"{P}lift", f"{P}capture", f"{P}share_above"),
        ),
        runs.first_season_seed,
    ),
    (
        seen(
            "early cover", "cover a year after full sowing over a quarter of the seed [%]",
            "early full cover is the best weed control; four fifths judged", (0, 80), "less",
            (f"{P}survival_gap", f"{P}light_closed"),
        ),
        runs.early_cover,
    ),
    *(
        (
            seen(
                f"{key} late", f"{name}: days behind {other} to nine tenths cover, 14 °C [d]",
                place, band, "later", (f"{S}{key}.cover_50", f"{S}{key}.cover_50_to_90"),
            ),
            partial(runs.thickening, slow=name, fast=other),
        )
        for key, name, other, place, band in (
            ("fescue", "chewings fescue", "perennial ryegrass",
             "fescues thicken weeks after ryegrass", (7.0, 42.0)),
            ("bent", "browntop bent", "chewings fescue", "bents are the slowest", (1.0, 60.0)),
            ("slow", "wood meadow-grass", "chewings fescue", "with shade mixtures", (1.0, 90.0)),
        )
    ),
    (
        seen(
            "fog stood up", "Yorkshire fog brushed up before each cut for a year over cuts [%]",
            "resents cutting while stood up; nine tenths judged", (0, 90), "less",
            (f"{F}stood_up_loss",), fair=False,
        ),
        runs.fog_stood_up,
    ),
    (
        seen(
            "fog dug", "half a per cent of Yorkshire fog dug for a year over left [%]",
            "hand pulling with root works on few; four hours a fortnight on 300 m²", (0, 50),
            "works", (f"{F}detect_leafy", f"{F}kill", f"{F}handling_seconds"),
        ),
        runs.fog_dug,
    ),
    (
        seen(
            "fog seed", "seed returned for each share of ground, fog over annual meadow-grass [%]",
            "no fast seed cycle in a mown lawn; a twentieth judged", (0, 5), "hardly any",
            (f"{F}mown_heads", f"{F}tillers_heading"), fair=False,
        ),
        runs.fog_seed,
    ),
    (
        Target(
            "rough in drought", "rough-stalked meadow-grass in a dry year, dry over watered [%]",
            "trivialis_ryegrass_nz", "dry weather ended its lead; 2003 here; seven tenths judged",
            0, 70, "far less", (f"{R}drought_loss", f"{R}drought_death"), independent=False,
        ),
        runs.rough_in_drought,
    ),
    (
        Target(
            "rough in winter", "rough-stalked meadow-grass in ryegrass, March over October [%]",
            "trivialis_ryegrass_nz", "led ryegrass in winter and spring however cut", 100, 300,
            "no less", (f"{R}winter_flip", f"{R}alpha"), independent=False,
        ),
        runs.rough_in_winter,
    ),
    (
        Target(
            "bent seedlings", "seedlings of creeping bent that live in a closed sward [%]",
            "cattani_bent", "dense bent; 2 judged", 0, 2, "almost none", (f"{B}survival_closed",),
            independent=False,
        ),
        runs.bent_seedlings,
    ),
    (
        seen(
            "bent close", "creeping bent after a year cut at 10 mm over at 40 mm [%]",
            "close cutting suits it", (105, LONG), "more", (f"{B}best_height",), fair=False,
        ),
        runs.bent_by_height,
    ),
)  # fmt: skip
"""Every further target with its run."""
