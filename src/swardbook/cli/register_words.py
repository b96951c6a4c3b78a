"""Words and payloads that the registers of clumps and refills share."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.planning.clump_register import Share, TwoShares


def share_words(share: Share, did: str) -> str:
    """Say a share with its interval, in whole numbers."""
    if share.interval is None:
        return f"{share.name}: none looked at."
    low, high = (round(100 * each) for each in share.interval)
    return f"{share.name}: {share.hits} of {share.looked} {did} ({low} to {high} %)."


def verdict_lines(two: TwoShares, what: str) -> list[str]:
    """Say what two shares let one say."""
    if two.difference is None or two.interval is None:
        from swardbook.handbook.parameters import value

        least = f"{value('register_least'):.0f}"
        return under("", f"{what}: {two.verdict}; {least} looked at in each are wanted.", 0)
    points = round(100 * two.difference)
    low, high = (round(100 * each) for each in two.interval)
    way = "more" if points >= 0 else "fewer"
    if points < 0:
        points, low, high = -points, -high, -low
    told = (
        f"{what}: {two.verdict}. {two.one.name.capitalize()} it was {points} points {way} than"
        f" {two.other.name} ({low} to {high})."
        " Places, days and hands differ too, so the cause is not shown."
    )
    return under("", told, 0)


def share_payload(share: Share) -> dict[str, Any]:
    """Give a share as plain values."""
    return {
        "which": share.name, "hits": share.hits, "looked": share.looked,
        "low_share": None if share.interval is None else round(share.interval.low, 4),
        "high_share": None if share.interval is None else round(share.interval.high, 4),
    }  # fmt: skip


def two_payload(two: TwoShares) -> dict[str, Any]:
    """Give a comparison as plain values."""
    return {
        "verdict": two.verdict.value,
        "first": share_payload(two.one),
        "second": share_payload(two.other),
        "difference_points": None if two.difference is None else round(100 * two.difference, 1),
        "low_points": None if two.interval is None else round(100 * two.interval.low, 1),
        "high_points": None if two.interval is None else round(100 * two.interval.high, 1),
    }
