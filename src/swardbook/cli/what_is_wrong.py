"""`swardbook what-is-wrong`: likely causes in order, the check that parts them, what not to do."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options, entry_options, zone_told
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.book.troubles import TroubleAnswer
    from swardbook.planning.troubles import Cause, Grubs


@click.command()
@click.option("--seen", "-s", multiple=True, metavar="SIGN", help="A sign that is there.")
@click.option("--not-seen", multiple=True, metavar="SIGN", help="A sign looked for in vain.")
@click.option("--signs", "list_signs", is_flag=True, help="List the signs there are.")
@click.option(
    "--grubs",
    type=click.Choice(["leatherjackets", "chafers"]),
    default=None,
    help="Which grubs were counted in squares.",
)
@click.option("--found", type=int, default=None, help="Grubs in all squares together.")
@click.option("--squares", type=int, default=4, show_default=True, help="Squares cut.")
@click.option("--side-mm", type=float, default=150.0, show_default=True, help="Side of a square.")
@click.option("--keep", is_flag=True, help="Keep what was found in the diary.")
@zone_told("needed")
@entry_options
@door_options
def command(
    door: Door, seen: tuple[str, ...], not_seen: tuple[str, ...], list_signs: bool,
    grubs: str | None, found: int | None, squares: int, side_mm: float, keep: bool, **said: Any,
) -> None:  # fmt: skip
    """Order what may be wrong in a zone: disease, pest, weather or care, from signs and weather.

    Without humidity in the book nothing that hangs on wet leaves is called likely. No product is
    named: the label, the register and licensed practice decide.
    """
    from swardbook.book.troubles import keep_trouble, known_signs, what_is_wrong

    if list_signs:
        lines = [part for name, words in known_signs() for part in under("-", f"{name}: {words}")]
        told = [{"sign": name, "words": words} for name, words in known_signs()]
        door.show({"signs": told}, lines)
        return
    if not said["zone"]:
        raise click.UsageError("Which zone? Say --zone NAME; --signs lists the signs.")
    book = door.book()
    answer = what_is_wrong(book, said["zone"], seen, not_seen, grubs or "", found, squares, side_mm)
    payload, lines = _payload(answer), _lines(answer)
    if keep:
        entry = keep_trouble(book, answer, said["when"], said["who"], said["note"])
        from swardbook.cli.keeping import kept_lines
        from swardbook.cli.telling import short_id, tell

        payload = {**payload, "kept": {"short_id": short_id(entry), "words": tell(entry)}}
        lines += ["", *kept_lines(book, entry)]
    door.show(payload, lines, book)


def _lines(answer: TroubleAnswer) -> list[str]:
    found = answer.diagnosis
    lines = under("", f"{answer.zone}. {found.sentence}", 0)
    for each in found.causes:
        lines += ["", *_cause(each, answer.waits_with_feed(each))]
    lines += ["", f"Something else: {100 * found.other_share:.0f} % by the same weighing."]
    if found.next_sign:
        from swardbook.book.troubles import known_signs

        words = dict(known_signs())[found.next_sign]
        lines += under("Look next:", f"{found.next_sign} ({words}).", 0)
    if answer.grubs is not None:
        lines += ["", *under("", _grubs(answer.grubs), 0)]
    lines += [""]
    for caution in answer.cautions:
        lines += under("Mind:", caution.cited, 0)
    return lines


def _cause(each: Cause, waits: str) -> list[str]:
    name = each.trouble.english[0].upper() + each.trouble.english[1:]
    lines = [f"{name}: {each.likelihood}."]
    if each.speaks_for:
        lines += under("-", f"Seen: {', '.join(each.speaks_for)}.")
    for fit in (*each.weather, *each.favours):
        lines += under(fit.state.shape, f"{fit.name}: {fit.because}.")
    lines += under("-", f"Check: {each.trouble.check}")
    lines += under("-", f"Do: {each.trouble.do} {waits}".rstrip())
    lines += under("-", f"Not: {each.trouble.not_do}")
    return lines


def _grubs(found: Grubs) -> str:
    low, high = found.threshold.low, found.threshold.high
    return (
        f"{found.kind[0].upper()}{found.kind[1:]}: {found.per_m2:.0f} a m²"
        f" ({found.low:.0f} to {found.high:.0f}) against {low:.0f} to {high:.0f} from which poor"
        f" turf suffers [{found.threshold.grade.value}: {found.threshold.source}]: {found.verdict}."
    )


def _payload(answer: TroubleAnswer) -> dict[str, Any]:
    found = answer.diagnosis
    return {
        "zone": answer.zone,
        "seen": list(found.signs.seen),
        "not_seen": list(found.signs.not_seen),
        "sentence": found.sentence,
        "causes": [_told(each, answer.waits_with_feed(each)) for each in found.causes],
        "something_else_percent": round(100 * found.other_share, 1),
        "look_next_for": found.next_sign or None,
        "grubs": None if answer.grubs is None else _counted(answer.grubs),
        "cautions": [
            {"says": each.text, "source": each.source, "grade": each.grade.value}
            for each in answer.cautions
        ],
    }


def _told(each: Cause, waits: str) -> dict[str, Any]:
    return {
        "cause": each.trouble.english,
        "kind": each.trouble.kind,
        "likelihood": each.likelihood,
        "share_percent": round(100 * each.share, 1),
        "speaks_for": list(each.speaks_for),
        "weather": [
            {"name": fit.name, "state": fit.state.value, "because": fit.because}
            for fit in each.weather
        ],
        "favours": [
            {"name": fit.name, "state": fit.state.value, "because": fit.because}
            for fit in each.favours
        ],
        "check": each.trouble.check,
        "do": each.trouble.do,
        "feed_waits": waits or None,
        "not_do": each.trouble.not_do,
        "source": each.trouble.source,
        "grade": each.trouble.grade.value,
    }


def _counted(found: Grubs) -> dict[str, Any]:
    return {
        "kind": found.kind,
        "per_m2": round(found.per_m2, 1),
        "low_per_m2": round(found.low, 1),
        "high_per_m2": round(found.high, 1),
        "threshold_low_per_m2": found.threshold.low,
        "threshold_high_per_m2": found.threshold.high,
        "threshold_source": found.threshold.source,
        "threshold_grade": found.threshold.grade.value,
        "verdict": found.verdict,
    }
