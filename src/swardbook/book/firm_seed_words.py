"""What the seed of a firm says in sentences, for the command and the page."""

from __future__ import annotations

from swardbook.book.firm_seed import LotAcross, Shed
from swardbook.book.lot_trace import LotTrace, weight


def left_of_lot(each: LotAcross) -> str:
    """Say what is left of a lot, and what of that is not certain."""
    if each.left_g is None:
        return "what was bought is not noted"
    if each.left_g < 0:
        return f"{weight(-each.left_g)} more went out than was bought: put one of them right"
    return f"{weight(each.left_g)} left by the book"


def plan_of_lot(each: LotAcross) -> str:
    """Say what is planned of a lot and whether it reaches; empty where nothing is."""
    if not each.planned:
        return ""
    zones = len(each.planned)
    told = f"{weight(each.planned_g)} planned in {zones} zone{'s' * (zones != 1)}"
    if each.short_g is None:
        return f"{told}; whether it reaches is not known"
    return f"{told}, {weight(each.short_g)} short" if each.short_g > 0 else f"{told}, enough"


def age_of_lot(each: LotAcross) -> str:
    """Say how old what is known of a lot's germination is."""
    told = []
    if each.test is not None:
        share = f"{100 * each.test.germinated / each.test.seeds:.0f} %"
        told.append(f"{share} germinated {each.test_age_days} days ago")
    if each.age_days is not None:
        told.append(f"closed or tested {each.age_days} days ago")
    if not told:
        return "germination not dated: test a hundred seeds"
    return "; ".join(told) + ("; old, test a hundred seeds" if each.is_old else "")


def doubts_of_lot(each: LotAcross) -> tuple[str, ...]:
    """Say what the sums of a lot rest on and what is not known."""
    told = []
    many = len(each.lawns)
    if each.at_yard and many:
        told.append(f"The yard's label counts; {many} lawn{'s' * (many != 1)} have a copy.")
    elif each.is_one_bag is None:
        told.append(f"{many} lawns have this label: counted as a bag each. If it is one bag, record"
                    " its label at the yard.")  # fmt: skip
    elif not each.is_one_bag:
        told.append(f"{many} lawns have this label: a bag each, for more went out than one holds.")
    if each.labels_differ:
        told.append("The labels under this number are not the same: look.")
    if each.unweighed:
        told.append(f"Not weighed: {each.unweighed} time{'s' * (each.unweighed != 1)}.")
    return tuple(told)


def shed_notes(shed: Shed) -> tuple[str, ...]:
    """Say what the whole rests on."""
    told = []
    if not shed.yard:
        told.append("No yard is named: each lawn's labels are added up.")
    if shed.without_label:
        codes = ", ".join(shed.without_label)
        told.append(f"Sown, and no label is kept of it: {codes}.")
    told.append("Planned is what was weighed out and kept, as seed by bay or as soil and seed for"
                " holes, until it is sown.")  # fmt: skip
    return tuple(told)


def trace_head(found: LotTrace) -> str:
    """Say in a sentence where a lot went."""
    lawns = f"{found.lawns} lawn{'s' * (found.lawns != 1)}"
    times = f"{len(found.sown)} time{'s' * (len(found.sown) != 1)}"
    unknown = sum(each.grams is None for each in found.sown)
    more = f", and {unknown} not weighed" if unknown else ""
    return f"{weight(found.grams)} on {lawns} in all, {times}{more}."
