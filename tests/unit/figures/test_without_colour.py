"""Every chart without its colours: what differs differs by dash, shape, size or words."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from itertools import combinations, product
from typing import Any

import numpy as np
import pytest

from swardbook.figures.picture import INK, PALE, QUIET
from tests.support.pictures import KINDS, drawn

COLOURS = {"color", "fill", "stroke", "opacity", "fillOpacity", "strokeOpacity", "tooltip"}
HOLLOW = {"white", "#ffffff", "none", "transparent"}
NAMED = {"white": "#ffffff"}
DATA = {"point", "line", "bar", "rect", "area", "tick", "rule", "trail", "square", "circle"}
SEEN, TOLD_APART = 3.0, 2.0
"""Least ratios of lightness: of a mark to white, and of two inks that are to differ."""
SEES: Mapping[str, Any] = {
    "all colours": np.eye(3),
    "no red": [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216],
               [-0.003882, -0.048116, 1.051998]],
    "no green": [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413],
                 [-0.011820, 0.042940, 0.968881]],
    "no blue": [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602],
                [0.004733, 0.691367, 0.303900]],
    "no colour": [[0.2126, 0.7152, 0.0722]] * 3,
}  # fmt: skip
"""What somebody sees of red, green and blue light: Machado, Oliveira, Fernandes (2009)."""


def views(part: Any) -> Iterator[list[dict[str, Any]]]:
    """Give the parts that are drawn over each other, view by view."""
    if isinstance(part, list):
        for each in part:
            yield from views(each)
    elif isinstance(part, dict):
        if "layer" in part:
            yield list(single(part["layer"]))
        elif "mark" in part:
            yield [part]
        else:
            for each in part.values():
                yield from views(each)


def single(layers: list[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    for each in layers:
        if "layer" in each:
            yield from single(each["layer"])
        else:
            yield each


def mark(part: Mapping[str, Any]) -> dict[str, Any]:
    """Give how a part is drawn."""
    return {"type": part["mark"]} if isinstance(part["mark"], str) else dict(part["mark"])


def as_seen(part: Mapping[str, Any]) -> str:
    """Say how a part looks, and what places it."""
    return json.dumps([mark(part), part.get("encoding", {})], sort_keys=True, default=str)


def without_colour(part: Mapping[str, Any]) -> str:
    """Say how a part looks to somebody who sees no colour, and what places it."""
    drawn_as = mark(part)
    fill = str(drawn_as.get("fill", drawn_as.get("color", "")))
    drawn_as = {name: held for name, held in drawn_as.items() if name not in COLOURS}
    placed = {name: held for name, held in part.get("encoding", {}).items() if name not in COLOURS}
    return json.dumps([drawn_as, fill in HOLLOW, placed], sort_keys=True, default=str)


def luminance(colour: str, sees: Any) -> float:
    code = NAMED.get(colour, colour)
    light = np.array([int(code[at : at + 2], 16) / 255 for at in (1, 3, 5)])
    linear = np.where(light <= 0.04045, light / 12.92, ((light + 0.055) / 1.055) ** 2.4)
    return float(np.clip(np.asarray(sees) @ linear, 0, 1) @ [0.2126, 0.7152, 0.0722])


def ratio(one: str, other: str, sees: Any) -> float:
    dim, bright = sorted((luminance(one, sees), luminance(other, sees)))
    return (bright + 0.05) / (dim + 0.05)


@pytest.mark.parametrize("kind", KINDS)
def test_two_series_of_a_chart_differ_without_their_colours(kind: str) -> None:
    compared = 0
    for view in views(drawn(kind).specification):
        series = [part for part in view if mark(part)["type"] in DATA]
        compared += len(series)
        for one, other in combinations(series, 2):
            if as_seen(one) != as_seen(other):
                assert without_colour(one) != without_colour(other)
    assert compared


@pytest.mark.parametrize("kind", KINDS)
def test_every_mark_stands_off_from_the_paper_for_whoever_sees_it(kind: str) -> None:
    for sees, view in product(SEES, views(drawn(kind).specification)):
        for part in view:
            drawn_as = mark(part)
            inks = [str(drawn_as[name]) for name in ("stroke", "fill", "color") if name in drawn_as]
            strong = [each for each in inks if re.match("#", each)
                      and ratio(each, "white", SEES[sees]) >= SEEN]  # fmt: skip
            on_ink = drawn_as["type"] == "text" and inks == ["white"]
            is_guide = drawn_as["type"] == "rule" and inks == [PALE]
            unseen = drawn_as.get("opacity") == 0
            assert strong or not inks or on_ink or is_guide or unseen, (sees, drawn_as)


@pytest.mark.parametrize("sees", SEES)
def test_the_inks_differ_in_lightness_for_whoever_sees_them(sees: str) -> None:
    for one, other in combinations((INK, QUIET, PALE), 2):
        assert ratio(one, other, SEES[sees]) >= TOLD_APART
