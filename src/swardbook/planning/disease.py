"""Disease and pests: look or leave; at most one look a week, and never a product."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from swardbook.foundation.dates import say
from swardbook.handbook.parameters import parameter, value
from swardbook.handbook.troubles import trouble_called
from swardbook.husbandry.happenings import Disease
from swardbook.planning.checks_sward import active_diseases, active_pests
from swardbook.planning.situation import Situation
from swardbook.planning.sowings import setting_age
from swardbook.planning.trouble_weather import is_hungry, is_late_nitrogen, wet_days
from swardbook.planning.troubles import GRUBS


@dataclass(frozen=True, slots=True)
class Watch:
    """Whether to look for disease or pests.

    Parameters
    ----------
    look : bool
        Whether a look is worth it this week.
    likelihood : str
        ``likely``, ``possible``, ``unlikely`` or ``don't know``.
    for_what : str
        What to look for first.
    because : str
        The reason.
    do : str
        What helps without any product.
    """

    look: bool
    likelihood: str
    for_what: str
    because: str
    do: str


def disease_watch(sit: Situation) -> Watch:
    """Say whether to look for disease or pests in a zone this week, and for what.

    Without humidity the likelihood is don't know; one look a week at most.
    """
    looked = sit.latest(Disease, within_days=value("look_days") - 1)
    active, pests = active_diseases(sit), active_pests(sit)
    if active:
        name = active[-1].what.name or "the disease"
        return Watch(
            looked is None, "likely", name, f"noted as active on {say(active[-1].day)}",
            _remedy(name),
        )  # fmt: skip
    if pests and looked is None:
        name = pests[-1].what.name
        told = f"noted on {say(pests[-1].day)}; count again before you act"
        return Watch(True, "likely", name, told, _remedy(name))
    name, because, likelihood = _by_weather(sit)
    return Watch(looked is None and bool(name), likelihood, name, because, _remedy(name))


def _by_weather(sit: Situation) -> tuple[str, str, str]:
    weather = sit.weather
    if weather is None or weather.last != sit.today or len(weather) < 3:
        return "", "no weather to tell it by", "don't know"
    last = weather.between(sit.today - timedelta(days=2), sit.today)
    warm = float(last.tmean.mean())
    sowing = setting_age(sit)
    young = sowing is not None and sit.age(sowing.day) <= value("new_sward_days")
    wet = wet_days(sit)
    likelihood = _likelihood(wet)
    if young and float(last.tmin.mean()) >= value("damping_night"):
        return "damping-off", "warm nights on crowded seedlings", likelihood
    cool = value("patch_mean_low") <= warm <= value("patch_mean_high")
    if (
        cool
        and (young or is_late_nitrogen(sit))
        and not sit.is_between(value("patch_off_from"), value("patch_off_to"))
    ):
        why = "a young sward" if young else "nitrogen late in the year"
        return "Microdochium patch", f"cool days and {why}", likelihood
    if young:
        told = "first weeks: also birds, slugs, frit fly, casts, cats, leaves, wash-off"
        return "damping-off", told, likelihood
    if value("red_thread_low") <= warm <= value("red_thread_high") and is_hungry(sit):
        return "red thread", "mild weather on hungry fescue or ryegrass", likelihood
    return "", "nothing points to it", "unlikely" if wet is not None else "don't know"


def _likelihood(wet: int | None) -> str:
    if wet is None:
        return "don't know"
    return "likely" if wet >= value("patch_days") else "possible"


def _remedy(name: str) -> str:
    """Say what helps, without a product; grubs are counted before anybody acts."""
    if not name:
        return ""
    found = trouble_called(name)
    if found is None:
        return "knock the dew off, let air in, drain; no nitrogen while it is active"
    if found.key in GRUBS:
        many = parameter(GRUBS[found.key])
        told = f"{found.check} {many.low:.0f} to {many.high:.0f} a m² is worth acting on"
    elif found.kind == "disease":
        told = f"{found.do} {found.not_do}"
    else:
        told = found.do
    return f"{told[0].lower()}{told[1:]}".rstrip(".")
