"""Drawings as part of a page."""

from __future__ import annotations

import pytest

from swardbook.web.drawing import as_part_of_page

DRAWN = (
    '<svg xmlns="http://www.w3.org/2000/svg" aria-labelledby="p-t"><title id="p-t">Cover</title>'
    '<clipPath id="c1"></clipPath><g clip-path="url(#c1)"></g></svg>'
)


def test_two_drawings_on_a_page_never_share_a_name() -> None:
    one, other = as_part_of_page(DRAWN), as_part_of_page(DRAWN.replace("Cover", "Gaps"))
    assert "-p-t" in one
    assert "(#" in one
    names = {each.split('id="')[1].split('"')[0] for each in (one, other)}
    assert len(names) == 2
    assert one.count(next(iter({one.split('clipPath id="')[1].split('"')[0]}))) == 2


@pytest.mark.parametrize(
    "held",
    ["<script>1</script>", '<g style="x"/>', '<g onload="x"/>', '<a href="//x">', "<style/>"],
)
def test_what_the_policy_would_not_show_is_never_part_of_the_page(held: str) -> None:
    made = as_part_of_page(DRAWN.replace("</svg>", f"{held}</svg>"))
    assert made.startswith("<img src=")
    assert held not in made
