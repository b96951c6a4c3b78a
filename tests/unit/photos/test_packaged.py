"""Pictures that packages ship are read from their files, to the end, without a fault of ours."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image

from swardbook.photos.opening import look_at
from swardbook.photos.reading import read_photo
from tests.support.pixels import the_pass

NAMES = ("grass", "gravel", "brick", "coffee", "astronaut", "rocket")


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize(
    ("form", "quality"), [("JPEG", 35), ("JPEG", 95), ("PNG", 0), ("WEBP", 80)]
)
def test_a_packaged_picture_is_read_as_a_picture_without_cards(
    name: str, form: str, quality: int
) -> None:
    from skimage import data

    picture = getattr(data, name)()
    pixels = picture if picture.ndim == 3 else np.stack([picture] * 3, -1)
    made = io.BytesIO()
    Image.fromarray(pixels).save(made, form, quality=quality)
    found = read_photo(look_at(made.getvalue(), name), the_pass())
    covering = found.covering
    assert covering.cover + covering.pale + covering.bare == pytest.approx(1)
    assert min(covering.cover, covering.pale, covering.bare) >= 0
    assert not found.cover_stands  # without cards nobody knows where the plot ends
    assert "cards missing" in {each.name for each in found.faults}


@pytest.mark.parametrize("name", NAMES[:3])
def test_grey_textures_have_no_green_cover(name: str) -> None:
    from skimage import data

    pixels = np.stack([getattr(data, name)()] * 3, -1)
    made = io.BytesIO()
    Image.fromarray(pixels).save(made, "JPEG", quality=90)
    found = read_photo(look_at(made.getvalue(), name), the_pass(), cards=False)
    assert found.covering.cover == pytest.approx(0, abs=0.01)
    assert found.covering.colour_index is None
