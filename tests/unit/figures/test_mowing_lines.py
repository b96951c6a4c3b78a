"""Lines to follow, drawn to scale, to be seen in grey and heard."""

import re
from xml.etree import ElementTree as ET

from swardbook.figures.mowing_lines import LinesDrawn, picture_of_lines
from swardbook.figures.picture import INK, PALE, QUIET, TEXT, Picture
from swardbook.husbandry.passes import over_oblong

SVG = "{http://www.w3.org/2000/svg}"


def drawn(line: float = 20.0, last: float | None = 0.0) -> Picture:
    mown = over_oblong((32, 25.6), 0.51, 0.05, line, 1)
    shown = LinesDrawn("Main court", (32, 25.6), mown.passes, 0.51, line, 1, last)
    return picture_of_lines(shown, "Made-up ground.")


def test_it_is_one_image_with_a_title_and_a_description_to_be_heard() -> None:
    picture = drawn()
    image = ET.fromstring(picture.svg)
    assert image.attrib["role"] == "img"
    assert image[0].text == picture.sentence
    assert image[1].text is not None
    assert image[1].text.startswith(picture.key)
    assert all(cell in image[1].text for row in picture.tables[0].rows for cell in row)
    ids = [each.attrib["id"] for each in image.iter() if "id" in each.attrib]
    assert len(ids) == len(set(ids))
    assert set(re.findall(r"url\(#([^)]+)\)", picture.svg)) <= set(ids)


def test_it_is_drawn_in_greys_with_no_small_text() -> None:
    image = ET.fromstring(drawn().svg)
    used = {each.attrib[name] for each in image.iter() for name in ("fill", "stroke")
            if name in each.attrib}  # fmt: skip
    assert used <= {INK, QUIET, PALE, "white", "none"}
    sizes = [float(each.attrib["font-size"]) for each in image.iter(f"{SVG}text")]
    assert min(sizes) >= TEXT


def test_every_second_pass_is_shaded_and_the_last_line_dashed() -> None:
    picture = drawn()
    shaded = re.findall(rf'stroke="{PALE}"', picture.svg)
    assert len(shaded) == len(picture.tables[0].rows) // 2
    assert picture.svg.count("stroke-dasharray") == 1
    assert "Dashed: the last line, 0°." in picture.key
    assert "stroke-dasharray" not in drawn(last=None).svg


def test_strokes_are_as_wide_as_the_machine_on_the_scale_of_the_sides() -> None:
    width = re.search(rf'stroke="{PALE}" stroke-width="([\d.]+)"', drawn().svg)
    assert width is not None
    assert abs(float(width[1]) - 0.51 * 640 / 32) < 0.06


def test_the_same_values_give_the_same_bytes_and_others_do_not() -> None:
    assert drawn().svg == drawn().svg
    assert drawn(45.0).svg != drawn().svg
