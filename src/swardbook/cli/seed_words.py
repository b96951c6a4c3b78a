"""Words and payloads about seed that `mixture` and `lot` share."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from swardbook.cli.chosen import in_chosen
from swardbook.cli.output import table
from swardbook.cli.wrapping import text_width
from swardbook.handbook.species import find_species

if TYPE_CHECKING:
    from swardbook.book.seed import MixtureAnswer
    from swardbook.foundation.provenance import Sourced
    from swardbook.seed import Comfort, Gate, MixtureByNumber, Order, PartByNumber, WeedSeeds

WIDTH = 48
"""A phone held upright."""
PROPER = ("Chewings", "Yorkshire", "Italian")


def told(*sentences: str) -> list[str]:
    """Break sentences into lines that fit a phone."""
    held = (in_chosen(each).replace(" %", "\N{NO-BREAK SPACE}%") for each in sentences if each)
    room = min(WIDTH, text_width())
    return [line.replace("\N{NO-BREAK SPACE}", " ") for each in held for line in wrap(each, room)]


def english(species: str) -> str:
    """Give a species by its English name."""
    return find_species(species).english


def in_text(species: str) -> str:
    """Give a species as it stands inside a sentence."""
    name = english(species)
    return name if name.startswith(PROPER) else name[0].lower() + name[1:]


def about(number: float) -> str:
    """Say a seed number to three figures; it is not known better."""
    return f"{float(f'{number:.3g}'):,.0f}"


def percent(share: float) -> str:
    """Say a share in whole percent; a small one to one figure."""
    return f"{100 * share:.0f} %" if share >= 0.01 or share == 0 else f"{100 * share:.1g} %"


def shares_lines(mixture: MixtureByNumber) -> list[str]:
    """Lay weight and number side by side, and say which leads."""
    rows = [
        (_row_name(p, mixture), percent(p.component.share_by_weight),
         percent(p.share_by_number))
        for p in mixture.parts
    ]  # fmt: skip
    if mixture.others_by_weight:
        rows.append(("Others", percent(mixture.others_by_weight), "not known"))
    lines = table(("", "by weight", "by number"), rows)
    if len({part.component.species for part in mixture.parts}) == 1:
        return lines
    many = max(mixture.parts, key=lambda part: part.share_by_number)
    low, high = percent(many.share_low), percent(many.share_high)
    return [
        *lines,
        "",
        *told(
            f"{english(many.component.species)} is"
            f" {percent(many.component.share_by_weight)} of the weight and"
            f" {percent(many.share_by_number)} of the seeds"
            + (f" ({low} to {high}, as varieties differ)." if low != high else ".")
        ),
    ]


def _row_name(part: PartByNumber, mixture: MixtureByNumber) -> str:
    seed = part.component
    twins = [each for each in mixture.parts if each.component.species == seed.species]
    return f"{english(seed.species)}, {seed.cultivar}" if len(twins) > 1 else english(seed.species)


def seeds_sentence(mixture: MixtureByNumber) -> str:
    """Say how many seeds a gram holds, with the range where seed weights are not given."""
    low, high = about(mixture.seeds_per_g_low), about(mixture.seeds_per_g_high)
    spread = f" ({low} to {high})" if low != high else ""
    return f"{about(mixture.seeds_per_g)} seeds a gram{spread}."


def shares_payload(mixture: MixtureByNumber, rate_g_m2: float | None) -> dict[str, Any]:
    """Give a mixture by number, per gram and at a rate."""
    payload: dict[str, Any] = {
        "seeds_per_g": round(mixture.seeds_per_g, 3),
        "seeds_per_g_low": round(mixture.seeds_per_g_low, 3),
        "seeds_per_g_high": round(mixture.seeds_per_g_high, 3),
        "viable_seeds_per_g": round(mixture.viable_seeds_per_g, 3),
        "others_by_weight": mixture.others_by_weight,
        "parts": [],
    }
    for part in mixture.parts:
        seed = part.component
        row = {
            "species": seed.species,
            "latin": find_species(seed.species).latin,
            "cultivar": seed.cultivar,
            "share_by_weight": round(seed.share_by_weight, 6),
            "share_by_number": round(part.share_by_number, 6),
            "share_by_number_low": round(part.share_low, 6),
            "share_by_number_high": round(part.share_high, 6),
            "share_of_viable_seeds": round(part.share_of_viable, 6),
            "seeds_per_g_of_mixture": round(part.seeds_per_g, 3),
            "thousand_seed_weight_g": number_payload(seed.thousand_seed_weight),
            "purity": number_payload(seed.purity),
            "germination": number_payload(seed.germination),
        }
        if rate_g_m2 is not None:
            row["seeds_per_m2"] = round(rate_g_m2 * part.seeds_per_g, 1)
            row["viable_seeds_per_m2"] = round(rate_g_m2 * part.viable_seeds_per_g, 1)
        payload["parts"].append(row)
    return payload


def number_payload(number: Sourced) -> dict[str, Any]:
    """Give a number with its range, grade and source."""
    return {
        "value": number.value,
        "low": number.low,
        "high": number.high,
        "grade": number.grade.value,
        "source": number.source,
    }


def quality_sentence(mixture: MixtureByNumber) -> str:
    """Say where purity and germination come from."""
    numbers = [n for p in mixture.parts for n in (p.component.purity, p.component.germination)]
    sources = {number.source for number in numbers}
    if sources == {"label"}:
        return "Purity and germination as given."
    words = []
    if "seed_annex_2016" in sources:
        words.append("the statutory minimum where none is given")
    if "judged" in sources:
        words.append("assumed where no minimum applies (ask for a test report)")
    start = "as given, else " if "label" in sources else ""
    if not mixture.is_tested:
        return f"Purity and germination: {start}{', and '.join(words)}."
    purity = f"{start}{', and '.join(words)}" if words else "as given"
    return f"Germination by your own test, which goes before the label; purity {purity}."


def viable_by(mixture: MixtureByNumber) -> str:
    """Say in a word what the seed that can come up is reckoned by."""
    if mixture.is_tested:
        return "germination test"
    sources = {part.component.germination.source for part in mixture.parts}
    return "label" if sources == {"label"} else "least allowed or assumed, in part or whole"


def viable_words(mixture: MixtureByNumber, times: float) -> str:
    """Say how much seed can come up, with the range of a test where there is one."""
    told = about(times * mixture.viable_seeds_per_g)
    if not mixture.is_tested:
        return told
    low, high = (about(times * each) for each in mixture.viable_range)
    return f"{told} ({low} to {high}, by your own test)"


def weeds_payload(weeds: Sequence[WeedSeeds]) -> dict[str, Any]:
    """Give the weed seeds a bag may bring, by species."""
    return {
        each.species: {
            "value": round(each.seeds_m2, 3),
            "standard": each.standard.value,
            "meaning": "at most, if the lot holds no more of it than the standard allows",
            "limits": [
                {
                    "component": limit.species,
                    "limit": limit.limit.value,
                    "unit": limit.limit.unit,
                    "standard": limit.standard.value,
                    "seeds_per_m2": round(limit.seeds_m2, 3),
                }
                for limit in each.limits
            ],
            "components_without_limit": list(each.without_limit),
        }
        for each in weeds
    }


def weeds_lines(weeds: Sequence[WeedSeeds]) -> list[str]:
    """Say what weed grasses the bag may bring."""
    if not weeds:
        return told("Weed grasses in the bag: no limit is listed for these components.")
    rows = [
        (find_species(each.species).both_names, about(each.seeds_m2), each.standard.value)
        for each in weeds
    ]
    unknown = sorted({in_text(name) for each in weeds for name in each.without_limit})
    return [
        *told("Weed grasses the bag may bring, at most, seeds/m²:"),
        *(f"  {name}\n    {most}, {standard}" for name, most, standard in rows),
        *told(
            "Each alone, by what certified seed may hold. Most lots hold far less; ask for the"
            " analysis.",
            f"No limit listed for {', '.join(unknown)}: not in these figures." if unknown else "",
        ),
    ]  # fmt: skip


def gates_payload(found: Sequence[Gate]) -> list[dict[str, Any]]:
    """Give each gate with its state."""
    return [
        {
            "species": gate.species,
            "what": gate.what,
            "standard": gate.standard.value,
            "least": None if gate.limit is None else gate.limit.value,
            "found": gate.found,
            "state": gate.state,
        }
        for gate in found
    ]


def gates_summary(found: Sequence[Gate]) -> list[str]:
    """Say in a line that a label passes, or name each figure that does not."""
    held = [gate for gate in found if gate.passed is not None]
    if not held:
        return []
    failing = [
        f"{english(gate.species)}: {gate.what} {100 * (gate.found or 0):g} % fails the"
        f" {gate.standard.value} {100 * gate.limit.value:g} %."
        for gate in held
        if gate.limit is not None and not gate.passed
    ]
    return told(*(failing or ["Purity and germination pass every limit there is for them."]))


def gates_lines(found: Sequence[Gate]) -> list[str]:
    """Lay out each figure of a label with its limit and whether it passes."""
    lines: list[str] = []
    species = ""
    for gate in found:
        if gate.limit is None or gate.found is None:
            continue
        if gate.species != species:
            lines.append(english(gate.species))
            species = gate.species
        lines.append(
            f"  {gate.what} {100 * gate.found:g} %: {gate.state}"
            f" ({gate.standard.value} {100 * gate.limit.value:g} %)"
        )
    return lines


def tidy(lines: Sequence[str]) -> list[str]:
    """Leave one blank line where there are several, and none at the end."""
    kept: list[str] = []
    for line in lines:
        if line or (kept and kept[-1]):
            kept.append(line)
    return kept if not kept or kept[-1] else kept[:-1]


def comfort_payload(found: Comfort) -> dict[str, Any]:
    """Give a mixture against its height of cut."""
    return {
        "height_mm": found.height_mm,
        "strain_mm": round(found.strain_mm, 3),
        "will_not_last": found.will_not_last,
        "caution": bool(found.below) or found.will_not_last,
        "parts": [
            {
                "species": part.species,
                "share_by_weight": part.share_by_weight,
                "comfort_low_mm": part.comfort.low if part.comfort else None,
                "comfort_high_mm": part.comfort.high if part.comfort else None,
                "below_mm": part.below_mm,
                "above_mm": part.above_mm,
            }
            for part in found.parts
        ],
    }


def comfort_lines(found: Comfort) -> list[str]:
    """Say which components the height of cut strains."""
    sentences = []
    for part in found.below:
        low = f"{part.comfort.low:g}" if part.comfort else "?"
        sentences.append(
            f"Caution: at {found.height_mm:g} mm {in_text(part.species)}"
            f" ({percent(part.share_by_weight)} by weight) is cut {part.below_mm:g} mm below the"
            f" {low} mm it lives with. Come down over several cuts, or choose another mixture."
        )
    if found.will_not_last:
        sentences.append(f"Pure ryegrass at {found.height_mm:g} mm will not last.")
    for part in found.above:
        high = f"{part.comfort.high:g}" if part.comfort else "?"
        sentences.append(
            f"Note: {in_text(part.species)} is usually kept at {high} mm or less; longer is fine."
        )
    return told(*(sentences or [f"Every component lives with {found.height_mm:g} mm."]))


def order_payload(found: Order) -> dict[str, Any]:
    """Give an order in kilograms; money as decimal text."""
    return {
        "sown_kg": round(found.sown_g / 1000, 4),
        "spare_kg": round(found.spare_g / 1000, 4),
        "needed_kg": round(found.needed_g / 1000, 4),
        "bags": found.bags,
        "bought_kg": round(found.bought_g / 1000, 4),
        "cost_per_m2": None if found.per_m2 is None else str(found.per_m2),
        "cost_total": None if found.total is None else str(found.total),
    }


def order_lines(answer: MixtureAnswer) -> list[str]:
    """Say how much to buy."""
    found, asked = answer.order, answer.question
    if found is None:
        return []
    bags = ""
    if found.bags is not None and asked.bag_g is not None:
        bags = f" Buy {found.bags} × {asked.bag_g / 1000:g} kg = {found.bought_g / 1000:g} kg."
    cost = ""
    if found.total is not None:
        cost = f" Seed sown costs {found.per_m2} a m²; {found.total} in all."
    return told(
        f"For {asked.area_m2:g} m²: {found.sown_g / 1000:.3g} kg to sow, and"
        f" {found.spare_g / 1000:.2g} kg kept of the same lot for refills:"
        f" {found.needed_g / 1000:.3g} kg.{bags}{cost}"
    )
