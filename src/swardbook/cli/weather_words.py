"""Findings and forecasts as commands about the weather tell them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from swardbook.foundation.dates import say

if TYPE_CHECKING:
    from swardbook.weather.forecast import Forecast
    from swardbook.weather.readings import Finding

FINDINGS_SHOWN = 20


def findings_payload(findings: Sequence[Finding]) -> list[dict[str, Any]]:
    """Give findings for programs."""
    return [
        {
            "line": each.line,
            "date": each.day.isoformat() if each.day else None,
            "last_date": each.last.isoformat() if each.last else None,
            "read": each.read,
            "likely": each.likely,
        }
        for each in findings
    ]


def listed(title: str, texts: Sequence[str], most: int = FINDINGS_SHOWN) -> list[str]:
    """List texts under a title, the first of them."""
    if not texts:
        return []
    left = len(texts) - most
    more = [f"- and {left} more; all of them with --json"] if left > 0 else []
    return ["", title, *(f"- {text}" for text in texts[:most]), *more]


def forecast_payload(told: Forecast | None) -> dict[str, Any] | None:
    """Give a forecast for programs."""
    if told is None:
        return None
    return {
        "first": told.weather.first.isoformat(),
        "last": told.weather.last.isoformat(),
        "days": len(told.weather),
        "made_on": told.made_on and told.made_on.isoformat(),
        "courses": len(told.members),
        "fetched_from": told.source and told.source.host,
    }


def forecast_line(told: Forecast | None) -> list[str]:
    """Tell a forecast in a line; none without one."""
    if told is None:
        return []
    days = len(told.weather)
    made = f"made on {say(told.made_on)}" if told.made_on else "nobody wrote down when it was made"
    if told.source is not None:
        made = f"fetched from {told.source.host} on {say(told.source.fetched_at.date())}"
    if told.members:
        made += f", {len(told.members)} courses"
    return [
        f"Forecast, no record: {days} {'day' if days == 1 else 'days'},"
        f" {say(told.weather.first)} to {say(told.weather.last)}; {made}."
    ]


def age(hours: float) -> str:
    """Say how old something is, in hours or days."""
    if hours < 48:
        whole = max(round(hours), 0)
        return f"{whole} {'hour' if whole == 1 else 'hours'}"
    return f"{round(hours / 24)} days"
