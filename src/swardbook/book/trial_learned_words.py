"""What a trial taught the model, in sentences and as workings."""

from __future__ import annotations

from swardbook.book.advice import plain_name
from swardbook.book.trial_learning import TrialLearned
from swardbook.foundation.dates import say
from swardbook.foundation.provenance import Grade
from swardbook.foundation.workings import Input, Workings
from swardbook.handbook.parameters import parameter
from swardbook.model.draws import MeasuredRange
from swardbook.model.narrowing import range_of


def learned_sentences(found: TrialLearned) -> tuple[str, ...]:
    """Say what a look-ahead or a choice leans on of a trial; empty where there is no trial."""
    if not found.zone:
        return ()
    if found.why_not:
        return (f"The trial in {found.zone} is not leaned on. {found.why_not}",)
    if not found.ranges:
        return (f"{_trial(found)} says nothing that the handbook's ranges do not say already.",)
    number = len(found.ranges)
    lead = (
        f"Leans on {_trial(found)[0].lower()}{_trial(found)[1:]}: measured here, it moved"
        f" {number} range{'s' * (number > 1)} of sown grasses."
    )
    return (lead, *(range_words(each) for each in found.ranges))


def range_words(narrowed: MeasuredRange) -> str:
    """Tell one range: the handbook's, and the one that is left."""
    number = parameter(narrowed.key)
    low, _, high = range_of(narrowed.key)
    lower, _, higher = range_of(narrowed.key, narrowed)
    unit = "" if number.unit == "-" else f" {number.unit}"
    name = plain_name(narrowed.key)
    return (
        f"{name[0].upper()}{name[1:]}: {low:.3g} to {high:.3g}{unit} in the handbook"
        f" ({number.grade.value}), {lower:.3g} to {higher:.3g} as measured here."
    )


def learned_workings(found: TrialLearned) -> Workings:
    """Give how a trial narrowed the ranges, to be done again by hand or looked up."""
    answer = " ".join(learned_sentences(found)) or "No trial with plots is in the book."
    if not found.ranges:
        return Workings("what the trial teaches the model", answer)
    record = f"the trial in {found.zone}"
    inputs = [
        Input("mixtures grown", found.mixtures, "", Grade.MEASURED, record),
        Input("plots", found.plots, "", Grade.MEASURED, record),
        Input("counts", found.counts, "", Grade.MEASURED, record),
        Input("draws", found.draws, "", Grade.JUDGED, "judged"),
        Input.of("misreading", parameter("learning.share_discrepancy")),
        Input.of("least share of draws", parameter("trial.learn_least_share")),
    ]
    inputs += [Input.of(plain_name(each.key), parameter(each.key)) for each in found.ranges]
    return Workings(
        "what the trial teaches the model", answer,
        "weight of a draw = exp(-½ Σ over things counted of the mean over their days of m' V⁻¹ m);"
        " m: logit of the adjusted mean less logit of what the draw had; V: error of the mean, the"
        " misreading once for each mixture, and once for all of them",
        tuple(inputs),
        (f"{found.effective:.0f} of {found.draws:,} draws carry the weight",
         *(f"{plain_name(each.key)}: middle of the scores moves {each.shift:+.2f}, their spread"
           f" goes from 1 to {each.scale:.2f}" for each in found.ranges)),
        ("The days of one thing weigh as one: they tell of the same plots.",
         "Each mixture is grown as sown, under the weather and water it had, and cut as the model"
         " cuts.",
         "What numbers say together is let go: each range is drawn from by itself.",
         f"It holds for ground that is like the trial's: cut at {found.height_mm:g} mm, with its"
         " light."),
    )  # fmt: skip


def _trial(found: TrialLearned) -> str:
    last = "" if found.last is None else f" to {say(found.last)}"
    return (
        f"The trial in {found.zone} ({found.mixtures} mixtures on {found.plots} plots in"
        f" {found.blocks} blocks, {found.counts} count{'s' * (found.counts != 1)}{last}, cut at"
        f" {found.height_mm:g} mm)"
    )
