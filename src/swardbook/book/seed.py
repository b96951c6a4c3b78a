"""Work out a mixture: by weight and number, what comes up, what else is in the bag, how much."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from swardbook.foundation.quantities import require
from swardbook.foundation.workings import Input, Workings
from swardbook.handbook.species import find_species
from swardbook.seed import (
    Comfort,
    Gate,
    Germination,
    LotPart,
    Method,
    MixtureByNumber,
    Order,
    Range,
    SeedLot,
    Standard,
    WeedSeeds,
    as_tested,
    by_number,
    expected_plants,
    gates,
    seed_order,
    usual_rate,
    weed_seeds,
    weigh_comfort,
)

if TYPE_CHECKING:
    from swardbook.book.opening import Book


@dataclass(frozen=True, slots=True)
class MixtureQuestion:
    """What is asked of a mixture; None takes what is customary, or leaves that answer out.

    Parameters
    ----------
    parts : tuple of LotPart
        The label.
    rate_g_m2 : float or None
        Rate; None takes the usual one for these components. [g m⁻²]
    area_m2 : float or None
        Area to sow; None leaves the order out. [m²]
    height_mm : float or None
        Height of cut wanted; None leaves the comfort out. [mm]
    standard : Standard
        What the seed is known to be certified to.
    method : Method
        How it is put down.
    spare : float or None
        Part kept of the same lot. [-]
    bag_g : float or None
        Weight of one bag. [g]
    price_per_kg : Decimal or None
        Price. [currency kg⁻¹]
    test : Germination or None
        A germination test of it, which goes before the label.
    """

    parts: tuple[LotPart, ...]
    rate_g_m2: float | None = None
    area_m2: float | None = None
    height_mm: float | None = None
    standard: Standard = Standard.STATUTORY
    method: Method = Method.SEEDBED
    spare: float | None = None
    bag_g: float | None = None
    price_per_kg: Decimal | None = None
    test: Germination | None = None

    @property
    def known_parts(self) -> tuple[LotPart, ...]:
        """The label with the germination that the test found, where there is one."""
        return as_tested(self.parts, self.test)


@dataclass(frozen=True, slots=True)
class MixtureAnswer:
    """What a mixture comes to.

    Parameters
    ----------
    question : MixtureQuestion
        What was asked.
    mixture : MixtureByNumber
        By number of seeds.
    rate_g_m2 : float
        Rate asked or usual. [g m⁻²]
    usual : Range
        The customary rate with its reason. [g m⁻²]
    seeds_m2, viable_m2 : float
        Seeds, and seeds that can come up. [seeds m⁻²]
    plants : Range
        Plants to expect. [plants m⁻²]
    weeds : tuple of WeedSeeds
        Weed-grass seeds the bag may bring, at most. [seeds m⁻²]
    gates : tuple of Gate
        The label against the limits.
    comfort : Comfort or None
        Against the height of cut.
    order : Order or None
        What to buy.
    hard_to_undo : bool
        Whether it puts ryegrass beside fine fescue or bent.
    """

    question: MixtureQuestion
    mixture: MixtureByNumber
    rate_g_m2: float
    usual: Range
    seeds_m2: float
    viable_m2: float
    plants: Range
    weeds: tuple[WeedSeeds, ...]
    gates: tuple[Gate, ...]
    comfort: Comfort | None
    order: Order | None
    hard_to_undo: bool

    @property
    def rate_is_usual(self) -> bool:
        """Whether the rate was chosen here and not asked for."""
        return self.question.rate_g_m2 is None


def work_out(question: MixtureQuestion) -> MixtureAnswer:
    """Work out a mixture; needs no book.

    Parameters
    ----------
    question : MixtureQuestion
        What is asked.

    Returns
    -------
    MixtureAnswer
        Shares, seeds, plants, weeds in the bag, gates, comfort and the order.

    Raises
    ------
    BadInputError
        If the parts do not add up.
    OutOfRangeError
        If a number has no meaning.
    """
    mixture = by_number(question.parts, question.test)
    usual = usual_rate(question.parts, question.method)
    rate = usual.middle if question.rate_g_m2 is None else question.rate_g_m2
    require("rate", rate, 0.01, 1000, "g/m2")
    viable = rate * mixture.viable_seeds_per_g
    return MixtureAnswer(
        question=question,
        mixture=mixture,
        rate_g_m2=rate,
        usual=usual,
        seeds_m2=rate * mixture.seeds_per_g,
        viable_m2=viable,
        plants=expected_plants(viable, question.method),
        weeds=weed_seeds(question.parts, rate, question.standard),
        gates=gates(question.parts),
        comfort=weigh_comfort(question.parts, question.height_mm) if question.height_mm else None,
        order=_order(question, rate),
        hard_to_undo=_is_hard_to_undo(mixture),
    )


def question_of_lot(book: Book, code: str) -> tuple[SeedLot, MixtureQuestion]:
    """Ask of a lot what would be asked of its mixture.

    Parameters
    ----------
    book : Book
        The opened book.
    code : str
        The lot number.

    Returns
    -------
    tuple of SeedLot and MixtureQuestion
        The lot, and the question with its label, its latest germination test and its price.

    Raises
    ------
    UnknownNameError
        If there is no such lot.
    """
    from swardbook.husbandry.tested import latest_test

    ground = book.ground()
    lot = ground.lot(code)
    standard = Standard.STATUTORY if lot.statutory_only else Standard.VOLUNTARY
    price = Decimal(lot.price_per_kg) if lot.price_per_kg else None
    found = latest_test(ground, lot)
    return lot, MixtureQuestion(
        lot.parts, standard=standard, price_per_kg=price, test=found.test if found else None
    )


def mixture_workings(answer: MixtureAnswer) -> Workings:
    """Show how the seeds that can come up were reached, component by component.

    Parameters
    ----------
    answer : MixtureAnswer
        What was worked out.

    Returns
    -------
    Workings
        Formula, inputs with their sources, and the arithmetic.
    """
    rate = answer.rate_g_m2
    inputs = [Input("rate", rate, "g/m2", source="usual" if answer.rate_is_usual else "asked")]
    arithmetic = []
    for part in answer.mixture.parts:
        seed = part.component
        name = find_species(seed.species).english
        inputs += [
            Input(f"{name}: share by weight", seed.share_by_weight, "-", source="label"),
            Input.of(f"{name}: weight of 1000 seeds", seed.thousand_seed_weight),
            Input.of(f"{name}: purity", seed.purity),
            Input.of(f"{name}: germination", seed.germination),
        ]
        arithmetic.append(
            f"{name}: {rate:g} × {seed.share_by_weight:g} × 1000 / "
            f"{seed.thousand_seed_weight.value:.3g} × {seed.purity.value:.4g} × "
            f"{seed.germination.value:.4g} = {rate * part.viable_seeds_per_g:,.0f}"
        )
    return Workings(
        question="seeds that can come up, per square metre",
        answer=f"{answer.viable_m2:,.0f}",
        formula="rate × share × 1000 / weight of 1000 seeds × purity × germination",
        inputs=tuple(inputs),
        arithmetic=tuple(arithmetic),
        assumptions=("Varieties differ by a fifth in seed weight: good to about a quarter.",),
    )


def _order(question: MixtureQuestion, rate_g_m2: float) -> Order | None:
    if question.area_m2 is None:
        return None
    return seed_order(
        question.area_m2, rate_g_m2, question.spare, question.bag_g, question.price_per_kg
    )


def _is_hard_to_undo(mixture: MixtureByNumber) -> bool:
    groups = {find_species(part.component.species).group for part in mixture.parts}
    return "ryegrass" in groups and bool(groups & {"fine fescue", "bent"})
