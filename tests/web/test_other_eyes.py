"""Charts and pages for eyes that see other colours, or none: nothing is lost to them."""

from __future__ import annotations

import io
from collections.abc import Iterator

import numpy as np
import numpy.typing as npt
import pytest
from PIL import Image
from playwright.sync_api import Browser, Page

from tests.support.addresses import html_addresses, slow_addresses
from tests.web.conftest import needs_chromium
from tests.web.lawn import PATIENT, go

pytestmark = needs_chromium
EYES = ("protanopia", "deuteranopia", "tritanopia", "achromatopsia")
CORE = ("/better-or-worse/Main court/",)
ALL = pytest.param("all", marks=pytest.mark.long)
DRAWN = "figure.picture svg, figure.picture img, .plan svg"
SEEN = 0.2
"""Change of lightness that is seen, of 1 between black and white."""
LOST, STRONG = 0.002, 0.35
"""Share of a drawing that may change so; least span of lightness that it keeps."""


def lightness(held: bytes) -> npt.NDArray[np.float64]:
    """Give the lightness of each pixel, from 0 to 1."""
    with Image.open(io.BytesIO(held)) as seen:
        return np.asarray(seen.convert("L"), dtype=np.float64) / 255


def drawings(page: Page, address: str) -> Iterator[bytes]:
    """Give each drawing of a page as it is seen."""
    for each in page.locator(DRAWN).all():
        if each.is_visible():
            yield each.screenshot()


@pytest.mark.long
@pytest.mark.parametrize("which", ["core", ALL])
def test_no_drawing_loses_anything_to_eyes_that_see_other_colours(
    site: str, browser: Browser, which: str
) -> None:
    page = browser.new_page(viewport={"width": 1000, "height": 900})
    page.set_default_timeout(PATIENT)
    session = page.context.new_cdp_session(page)
    looked = 0
    for address in CORE if which == "core" else (*html_addresses(), *slow_addresses()):
        go(page, site + address)
        session.send("Emulation.setEmulatedVisionDeficiency", {"type": "none"})
        plain = [lightness(each) for each in drawings(page, address)]
        for eyes in EYES if plain else ():
            session.send("Emulation.setEmulatedVisionDeficiency", {"type": eyes})
            for before, held in zip(plain, drawings(page, address), strict=True):
                seen = lightness(held)
                assert np.mean(np.abs(seen - before) > SEEN) <= LOST, (address, eyes)
                assert np.ptp(seen) >= STRONG, (address, eyes)
                looked += 1
    page.close()
    assert looked
