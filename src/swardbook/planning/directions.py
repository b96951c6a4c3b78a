"""The direction of the next cut: never along the last one."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from swardbook.handbook.parameters import value
from swardbook.husbandry.happenings import Cut, Verticut
from swardbook.husbandry.passes import between_lines
from swardbook.planning.situation import Happened, Situation


@dataclass(frozen=True, slots=True)
class CutLine:
    """The direction of the next cut.

    Parameters
    ----------
    line_deg : float
        Against the long side. [°]
    last_deg : float or None
        Of the last cut that noted one. [°]
    last_day : date or None
        Its day.
    because : str
        Why this one.
    """

    line_deg: float
    last_deg: float | None
    last_day: date | None
    because: str


def next_line(sit: Situation) -> CutLine:
    """Choose the direction of the next cut: never the last line, the one left longest first.

    Parameters
    ----------
    sit : Situation
        The zone on its day; lines of verticuts count as well.
    """
    turn = value("mowing.line_turn")
    round_ = sorted((n * turn for n in range(round(180 / turn))), key=_plain_first)
    seen = lines_cut(sit)
    if not seen:
        told = "no line noted yet: take another than the stripes that show, and note it"
        return CutLine(round_[0], None, None, told)
    last_day, last = seen[-1]
    open_ = [each for each in round_ if between_lines(each, last) >= turn / 2]
    when = {each: _last_on(each, seen, turn) for each in open_}
    best = min(open_, key=lambda each: when[each] or date.min)
    since = when[best]
    told = "not cut lately" if since is None else f"last cut {(sit.today - since).days} days ago"
    return CutLine(best if best <= 90 else best - 180, last, last_day, told)


def lines_cut(sit: Situation) -> list[tuple[date, float]]:
    """List the lines of the last cuts and verticuts that noted one, oldest first [°]."""
    memory = value("mowing.line_memory_days")
    done: list[Happened[Cut] | Happened[Verticut]] = [
        *sit.happened(Cut, memory), *sit.happened(Verticut, memory)
    ]  # fmt: skip
    return sorted(
        (each.day, each.what.line_deg)
        for each in done
        if each.is_dated and each.what.line_deg is not None
    )


def _last_on(line: float, seen: list[tuple[date, float]], turn: float) -> date | None:
    return max((day for day, deg in seen if between_lines(deg, line) < turn / 2), default=None)


def _plain_first(line: float) -> tuple[bool, float]:
    """Along and across before the diagonals."""
    return line % 90 != 0, line
