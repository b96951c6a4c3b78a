"""Blades into the sward: heads and shoots lifted, gaps opened."""

from __future__ import annotations

from swardbook.model.fixed import MOST_A_PASS
from swardbook.model.numbers import Numbers, least


def lifted(lift: Numbers, passes: Numbers, brushes: Numbers, brush_lift: Numbers) -> Numbers:
    """Share of the heads below the blade that is raised for the next cut."""
    return least(lift * (passes + brush_lift * brushes), MOST_A_PASS)


def opened(work: Numbers, gap_each: Numbers, other_work: Numbers, other_gap: Numbers) -> Numbers:
    """Ground opened by two kinds of pass."""
    return work * gap_each + other_work * other_gap


def loss_share(opened: Numbers, against_sown: Numbers, stripped: Numbers) -> Numbers:
    """Share of a cover lost to the day's passes and to stripping."""
    return 1.0 - (1.0 - least(opened * against_sown, MOST_A_PASS)) * (1.0 - stripped)


def cut_stood_up(lifted: Numbers, is_cut: Numbers, loss: Numbers) -> Numbers:
    """Share of a cover lost because its shoots were stood up and cut on the same day.

    `lifted` is the share stood up today, `loss` what is lost where all of it is.
    """
    return lifted * is_cut * loss


def fading(before: Numbers, fade: Numbers, opened: Numbers) -> Numbers:
    """Disturbed share of the surface tomorrow."""
    return least(before * (1.0 - fade) + opened, 1.0)
