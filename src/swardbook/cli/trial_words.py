"""A trial's plan in lines and as one object: the plots, what it can show, what would spoil it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.output import table
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.book.opening import Book
    from swardbook.book.set_out import TrialSetOut
    from swardbook.trials.layout import Laid
    from swardbook.trials.power import Shown

_MARKS = {"spoils": "✗", "mind": "○", "don't know": "?", "fine": "✓"}
_FIRM = "\N{NO-BREAK SPACE}"

papers_option = click.option(
    "--pdf", type=click.Path(path_type=Path), default=None, metavar="FILE.pdf",
    help="Write peg plan, bags, tally sheets and labels to print.",
)  # fmt: skip


def check_papers_place(path: Path | None) -> None:
    """Refuse a place where no papers should go, before anything is worked out."""
    if path is not None:
        from swardbook.book.trial_pictures import check_papers

        check_papers(path)


def with_papers(
    path: Path | None, book: Book, found: TrialSetOut, payload: dict[str, Any], lines: list[str]
) -> tuple[dict[str, Any], list[str]]:
    """Write the papers if they are wanted, and say so in one line."""
    if path is None:
        return payload, lines
    from swardbook.book.trial_pictures import save_papers

    save_papers(book, found, path)
    return {**payload, "pdf": str(path)}, [*lines, "", f"Papers: {path}"]


def trial_lines(found: TrialSetOut) -> list[str]:
    """Tell a plan in lines."""
    lines = under("", f"{found.title}; {_drawn_words(found)}", 0)
    lines += [part for told in found.odd for part in under("?", told)]
    lines += ["", *_plan_lines(found)]
    if found.moves:
        lines += ["", *_move_lines(found)]
    elif found.laid is not None:
        lines += ["", *_ground_lines(found)]
    lines += ["", "Seed:", *_seed_lines(found)]
    lines += ["", *_shown_lines(found)]
    return [*lines, "", "What would spoil it:", *_look_lines(found)]


def _drawn_words(found: TrialSetOut) -> str:
    drawn = found.drawn
    if not drawn.is_shuffled:
        return "chosen, not shuffled."
    if drawn.seed is None:
        return "its seed is not in the book."
    again = f", draw {drawn.draws}" if drawn.draws > 1 else ""
    efficient = f" A-efficiency {drawn.efficiency:.2f}." if drawn.efficiency < 0.9999 else ""
    return f"shuffled by seed {drawn.seed}{again}.{efficient}"


def _plan_lines(found: TrialSetOut) -> list[str]:
    rows = []
    slots = found.drawn.slots
    for block in dict.fromkeys(slot.block for slot in slots):
        own = [slot for slot in slots if slot.block == block]
        for row in dict.fromkeys(slot.row for slot in own):
            told = [
                f"{slot.block}-{slot.number:02d} {slot.entry}"
                + (f" {slot.treatment}" if slot.treatment else "")
                for slot in own if slot.row == row
            ]  # fmt: skip
            rows.append((f"block {block}" if row == own[0].row else "", told))
    lines = []
    for name, told in rows:
        if name:
            lines.append("places:" if found.moves else f"{name}:")
        whole = ", ".join(each.replace(" ", _FIRM) for each in told)
        lines += [line.replace(_FIRM, " ") for line in under("", whole)]
    return lines


def _move_lines(found: TrialSetOut) -> list[str]:
    from swardbook.handbook.parameters import value

    days = value("trial.tub_move_days")
    lines = under("", f"Every {days:.0f} days tubs change places, so that none keeps the best one."
                      " In the order of the places:", 0)  # fmt: skip
    for number, tubs in enumerate(found.moves, 1):
        lines += under(f"move {number}:", " ".join(tubs))
    return lines


def _ground_lines(found: TrialSetOut) -> list[str]:
    laid = found.laid
    assert laid is not None
    size = laid.size
    passes = ""
    if size.passes:
        number = f"{size.passes} pass{'es' * (size.passes > 1)}"
        passes = f", {number} that overlap by {size.overlap_m * 1000:.0f} mm"
    inner = " by ".join(f"{side:.2f}" for side in size.counted_m)
    lines = under("", f"Plots {size.width_m:.2f} by {size.length_m:.2f} m{passes}; count the inner"
                      f" {inner} m.", 0)  # fmt: skip
    return lines + under("", f"All of it, with {laid.guard_m:g} m guard and {laid.path_m:g} m"
                             f" paths: {laid.length_m:g} m from the first end, {laid.width_m:g} m"
                             f" wide; both diagonals {laid.diagonal_m:.2f} m.", 0)  # fmt: skip


def _seed_lines(found: TrialSetOut) -> list[str]:
    sown = [each for each in found.weighed if not each.entry.is_control]
    if not sown:
        return under("", "Grams need the size of a plot, which this plan does not keep.")
    rows = [
        (each.entry.name, each.entry.lot or "-", _grams(each.each_g), f"{each.plots}",
         _grams(each.total_g), _grams(each.spare_g),
         f"{each.entry.rate_g_m2:.3g} g/m²{', usual' if each.entry.rate_is_usual else ''}")
        for each in sown
    ]  # fmt: skip
    heads = ("mixture", "lot", "g a plot", "plots", "g in all", "keep g", "rate")
    total = sum(each.total_g for each in sown)
    return [*table(heads, rows), f"In all {total:,.0f} g, without what is kept for gaps."]


def _shown_lines(found: TrialSetOut) -> list[str]:
    measure, shown = found.measure, found.shown
    if shown is None:
        return under("✗", "Nothing is left to judge a difference by: it can be described, not"
                          " ranked.", 0)  # fmt: skip
    say = measure.words

    def spread(sd: float) -> str:
        return f"{sd:.2g} log" if measure.trait.is_log else say(sd)

    level = "" if measure.low is None else f", from {100 * measure.low:.0f} % upward"
    things = "plots of a block" if shown.sd_whole is None else "parts of a plot"
    lines = under("", f"What it can show in {measure.name}{level}, where {things} spread by"
                      f" {spread(shown.sd)} ({measure.sd_from}):", 0)  # fmt: skip
    if shown.sd_whole is not None:
        lines += under("-", f"Whole plots spread by {spread(shown.sd_whole)} beyond their parts, so"
                            " mixtures are compared less sharply than what stands within"
                            " them.")  # fmt: skip
    lines += under("-", f"A pair planned beforehand must differ by about {say(shown.pair)}, any"
                        f" pair picked after looking by about {say(shown.any_pair)}.")  # fmt: skip
    lines += under("-", f"A true gap of {say(shown.gap)} is found in {_in_ten(shown.chance_pair)}"
                        f" as a planned pair, in {_in_ten(shown.chance_any)} as any"
                        " pair.")  # fmt: skip
    lines += under("-", f"To find it {100 * shown.power:.0f} % of the time:"
                        f" {_repeats(shown.repeats)} for a planned pair,"
                        f" {_repeats(shown.repeats_any)} for any pair.")  # fmt: skip
    if found.within is not None:
        lines += under("-", f"Within a mixture, heights or feeds need about"
                            f" {say(found.within.pair)} as a planned pair.")  # fmt: skip
    if found.once is not None:
        lines += under("-", f"A mixture that stands once needs about {say(found.once.to_check)}"
                            f" against a check, {say(found.once.to_other)} against another of its"
                            " kind.")  # fmt: skip
    return lines


def _repeats(number: int | None) -> str:
    return "more than 60 repeats" if number is None else f"{number} repeats"


def _in_ten(chance: float) -> str:
    if chance > 0.985:
        return "nearly all trials"
    if chance < 0.075:
        return "hardly any"
    return f"{100 * chance:.0f} % of trials"


def _look_lines(found: TrialSetOut) -> list[str]:
    lines = []
    for each in found.looks:
        if each.answer.value != "fine":
            lines += under(_MARKS[each.answer.value], f"{each.words} {each.mend}".strip())
    fine = [each.words for each in found.looks if each.answer.value == "fine"]
    for words in fine:
        lines += under(_MARKS["fine"], words)
    return lines


def _grams(number: float) -> str:
    return f"{number:,.0f}" if number >= 20 or number == int(number) else f"{number:.1f}"


def trial_payload(found: TrialSetOut) -> dict[str, Any]:
    """Give a plan as one object."""
    drawn = found.drawn
    design = drawn.design
    return {
        "zone": found.zone,
        "design": design.kind.value,
        "entries": [
            {"name": e.name, "lot": e.lot, "rate_g_m2": round(e.rate_g_m2, 3),
             "rate_is_usual": e.rate_is_usual, "control": e.is_control,
             "once": e.name in design.new}
            for e in found.entries.values()
        ],
        "within": list(design.levels),
        "blocks": design.blocks,
        "seed": drawn.seed,
        "draws": drawn.draws,
        "shuffled": drawn.is_shuffled,
        "a_efficiency": round(drawn.efficiency, 4),
        "plots": _plots(found),
        "tub_moves": [list(tubs) for tubs in found.moves],
        "ground": None if found.laid is None else _ground(found.laid),
        "seed_to_weigh": _weighed(found),
        "trait": found.measure.name,
        "unit": "log ratio" if found.measure.trait.is_log else found.measure.trait.unit,
        "spread_from": found.measure.sd_from,
        "supposed_level_percent": None if found.measure.low is None
        else round(100 * found.measure.low, 3),
        "shows": _shown(found.shown),
        "shows_within": _shown(found.within),
        "shows_once": None if found.once is None else {
            "needed_gap_against_check": round(found.once.to_check, 4),
            "needed_gap_against_another": round(found.once.to_other, 4),
        },
        "spoils": [
            {"what": each.what, "answer": each.answer.value, "words": each.words,
             "mend": each.mend}
            for each in found.looks
        ],
        "notes": list(found.odd),
    }  # fmt: skip


def _weighed(found: TrialSetOut) -> list[dict[str, Any]]:
    return [
        {"name": each.entry.name, "lot": each.entry.lot, "plots": each.plots,
         "each_g": each.each_g, "total_g": each.total_g, "spare_g": each.spare_g}
        for each in found.weighed
    ]  # fmt: skip


def _ground(laid: Laid) -> dict[str, Any]:
    return {
        "plot_width_m": laid.size.width_m, "plot_length_m": laid.size.length_m,
        "passes": laid.size.passes, "overlap_mm": round(1000 * laid.size.overlap_m, 1),
        "whole_passes": laid.size.is_whole,
        "counted_width_m": round(laid.size.counted_m[0], 3),
        "counted_length_m": round(laid.size.counted_m[1], 3),
        "path_m": laid.path_m, "guard_m": laid.guard_m, "width_m": laid.width_m,
        "length_m": laid.length_m, "diagonal_m": round(laid.diagonal_m, 3),
        "marks_across_m": list(laid.across_m), "marks_along_m": list(laid.along_m),
    }  # fmt: skip


def _plots(found: TrialSetOut) -> list[dict[str, Any]]:
    placed = {} if found.laid is None else {plot.slot: plot for plot in found.laid.plots}
    weights = {bag.plot.slot: bag.grams for bag in found.bags}
    return [
        {"name": f"{slot.block}-{slot.number:02d}", "block": slot.block, "number": slot.number,
         "mixture": slot.entry, "treatment": slot.treatment,
         "row": placed[slot].row if slot in placed else None,
         "column": placed[slot].column if slot in placed else None,
         "from_left_m": placed[slot].corner_m[0] if slot in placed else None,
         "from_first_end_m": placed[slot].corner_m[1] if slot in placed else None,
         "seed_g": weights.get(slot)}
        for slot in found.drawn.slots
    ]  # fmt: skip


def _shown(shown: Shown | None) -> dict[str, Any] | None:
    if shown is None:
        return None
    return {
        "sd": round(shown.sd, 4),
        "sd_whole": None if shown.sd_whole is None else round(shown.sd_whole, 4),
        "sed": round(shown.sed, 4), "error_df": shown.df,
        "needed_gap_planned_pair": round(shown.pair, 4),
        "needed_gap_any_pair": round(shown.any_pair, 4), "gap": round(shown.gap, 4),
        "chance_planned_pair": round(shown.chance_pair, 4),
        "chance_any_pair": round(shown.chance_any, 4), "power": shown.power,
        "repeats_planned_pair": shown.repeats, "repeats_any_pair": shown.repeats_any,
    }  # fmt: skip
