"""The words that old records use for jobs, and for clippings boxed or left."""

from __future__ import annotations

import re
from itertools import pairwise

JOBS: dict[str, tuple[str, ...]] = {
    "sow": (
        "sow", "sown", "sowed", "sowing", "seeded", "seeding", "oversown", "oversowed", "oversow",
        "oversowing", "overseeded", "reseeded", "resown",
    ),
    "cut": ("cut", "cuts", "cutting", "mow", "mown", "mowed", "mowing", "topped", "trimmed"),
    "count": ("count", "counted", "counts", "quadrat", "quadrats", "survey"),
    "feed": ("feed", "fed", "feeding", "fertilised", "fertilized", "fertiliser", "fertilizer"),
    "verticut": ("verticut", "verticutting", "verti-cut"),
    "scarify": ("scarify", "scarified", "scarifying", "raked out"),
    "tine": ("tine", "tined", "tining", "hollow-tined", "spiked", "spiking", "slit", "aerated"),
    "dress": ("dress", "dressed", "dressing", "topdressed", "top-dressed", "topdressing"),
    "brush": ("brush", "brushed", "brushing", "swept", "switched"),
    "roll": ("roll", "rolled", "rolling"),
    "water": ("water", "watered", "watering", "irrigated"),
    "pull": ("pull", "pulled", "pulling", "weeded", "hand-weeded", "weeding"),
    "note": ("note", "remark", "remarks"),
}  # fmt: skip
_KINDS = {word: kind for kind, words in JOBS.items() for word in words}
_BOXED = re.compile(
    r"\b(?:box(?:ed)? off|unboxed|not boxed|(?:clippings )?(?:left|returned|let fly)|mulched)\b"
    r"|\b(boxed|box on|box(?=[,.;]|$)|collected|picked up|taken off)",
    re.IGNORECASE,
)


def job_of(words: str) -> str:
    """Give the kind of entry that the words of a job name; empty if they name none.

    Parameters
    ----------
    words : str
        A cell or a line: ``mowed``, ``Cut and boxed``.
    """
    found = re.findall(r"[a-z]+(?:-[a-z]+)*", words.casefold())
    pairs = [" ".join(pair) for pair in pairwise(found)]
    return next((_KINDS[each] for each in (*pairs, *found) if each in _KINDS), "")


def boxed_of(words: str) -> bool | None:
    """Tell whether clippings were boxed; None if the words do not say."""
    found = _BOXED.search(words)
    return None if found is None else found[1] is not None
