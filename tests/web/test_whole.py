"""Numbers and units that stay together on pages."""

from __future__ import annotations

import pytest
from django.test import Client

from swardbook.web.whole import FIRM, kept_whole


@pytest.mark.parametrize(
    ("sent", "read"),
    [
        ("<p>819.2 m², cut at 11 mm.</p>", "<p>819.2_m², cut at 11_mm.</p>"),
        ("<p>12 to 18 g/m², 2 g N/m²</p>", "<p>12 to 18_g/m², 2_g_N/m²</p>"),
        ("<td>10 %</td><td>bare 13% now</td>", "<td>10_%</td><td>bare 13_% now</td>"),
        ("34 °C d of warmth", "34_°C_d of warmth"),
        ("<b>6 UK gal</b> or 1 1/2 in", "<b>6_UK_gal</b> or 1 1/2_in"),
        ("<b>3 plots, 4 men, 2 days</b>", "<b>3 plots, 4 men, 2 days</b>"),
        ('<input value="8 mm"> 8 mm', '<input value="8 mm"> 8_mm'),
        ('<a href="/at/a%20b/?d=5%">5%</a>', '<a href="/at/a%20b/?d=5%">5_%</a>'),
        (
            "<textarea>8 mm</textarea><code>8 mm</code>",
            "<textarea>8 mm</textarea><code>8 mm</code>",
        ),
        ("<svg><text>8 mm</text></svg><p>8 mm", "<svg><text>8 mm</text></svg><p>8_mm"),
    ],
)
def test_a_number_and_its_unit_stay_on_one_line(sent: str, read: str) -> None:
    assert kept_whole(sent) == read.replace("_", FIRM)
    assert kept_whole(kept_whole(sent)) == kept_whole(sent)


def test_pages_break_no_number_from_its_unit_and_json_keeps_ordinary_spaces(
    client: Client,
) -> None:
    page = client.get("/ground/Main court/").content.decode()
    assert f"819.2{FIRM}m², cut at" in page
    answer = client.get("/api/ask/morning/")
    assert answer.status_code == 200
    assert FIRM not in answer.content.decode()
