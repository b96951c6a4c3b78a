import cv2
import numpy as np
import pytest

from swardbook.foundation.errors import BadInputError, NotEnoughDataError
from swardbook.photos.grain import grain_px
from swardbook.photos.reading import PlotPicture, read_pixels
from swardbook.photos.touching import Touch, cover_by_touch
from tests.support.pixels import the_pass
from tests.support.scenes import plot_between_cards
from tests.support.swards import Camera, Pixels, sward, taken

GROUND = sward(0.6, 12, (640, 800), 9)
SIDES = (400.0, 320.0)


def reading(pixels: Pixels, *, cards: bool = True) -> PlotPicture:
    return read_pixels(np.ascontiguousarray(pixels), the_pass(), cards=cards)


def scene(left_out: str = "", plot: Pixels = GROUND.pixels) -> Pixels:
    return plot_between_cards(plot, SIDES, (1050, 1250), left_out=left_out).pixels


def names(found: PlotPicture) -> set[str]:
    return {fault.name for fault in found.faults}


def test_a_good_picture_has_no_fault_and_its_cover_and_colour_stand() -> None:
    found = reading(taken(scene()))
    assert names(found) == set()
    assert found.cover_stands
    assert found.colour_stands
    assert found.covering.cover == pytest.approx(GROUND.cover, abs=0.02)
    assert found.side_mm == pytest.approx(SIDES, rel=0.01)
    assert found.grain_mm == pytest.approx(2.0, abs=1.2)


@pytest.mark.parametrize("reach", [5, 8])
def test_a_blurred_picture_is_told_to_be_taken_again(reach: int) -> None:
    blurred = np.asarray(cv2.GaussianBlur(scene(), (0, 0), reach), np.uint8)
    found = reading(taken(blurred), cards=False)
    assert "blurred" in names(found)
    assert not found.cover_stands


@pytest.mark.parametrize("blade", [5, 8, 12])
@pytest.mark.parametrize("cover", [0.1, 0.6, 0.95])
def test_a_sharp_picture_is_not_called_blurred(cover: float, blade: float) -> None:
    found = reading(taken(sward(cover, 3, (360, 400), blade).pixels), cards=False)
    assert "blurred" not in names(found)


def test_a_shadow_across_the_plot_is_seen() -> None:
    pixels = scene()
    pixels[:, 620:] = pixels[:, 620:] // 2
    found = reading(taken(pixels))
    assert "shadow" in names(found)
    assert "Shade the whole plot" in " ".join(fault.do for fault in found.faults)


def test_wet_leaves_that_shine_are_seen() -> None:
    draw = np.random.default_rng(4)
    plot = GROUND.pixels.copy()
    for x, y in draw.integers(0, (800, 640), (500, 2)):
        cv2.circle(plot, (int(x), int(y)), 5, (255, 255, 255), -1)
    assert "glare" in names(reading(taken(scene(plot=plot))))


def test_missing_cards_are_named_and_the_white_of_the_others_still_counts() -> None:
    found = reading(taken(scene("C")))
    assert "cards missing" in names(found)
    assert "no card C" in found.faults[0].seen
    assert found.whites is not None
    assert not found.colour_stands
    assert not found.cover_stands


def test_without_any_card_colour_does_not_stand() -> None:
    found = reading(taken(GROUND.pixels))
    assert names(found) == {"cards missing", "no white to go by"}
    assert found.covering.cover == pytest.approx(GROUND.cover, abs=0.02)
    assert found.side_mm is None
    assert names(reading(taken(GROUND.pixels), cards=False)) == {"no white to go by"}


def test_paper_that_is_burnt_out_does_not_put_colour_right() -> None:
    found = reading(taken(scene(), Camera(gains=(1.6, 1.6, 1.6))))
    assert "white burnt out" in names(found)
    assert found.whites is None


def test_a_picture_in_the_dark_is_told_to_be_taken_in_light() -> None:
    found = reading(taken(GROUND.pixels, Camera(gains=(0.02, 0.02, 0.02))), cards=False)
    assert "too dark" in names(found)


def test_coarse_leaves_have_the_larger_grain() -> None:
    grains = [grain_px(taken(sward(0.95, 3, (360, 400), blade).pixels)) for blade in (5, 8, 12)]
    fine, middle, coarse = (each or 0.0 for each in grains)
    assert 1 < fine < middle < coarse
    assert grain_px(np.full((200, 200, 3), 90, np.uint8)) is None


TWO = sward(0.75, 21, (480, 600), 14, leaf=(50, 96, 44), other=(128, 158, 78))
KINDS = ("bare", "sown", "weed")


def touches(each: int, seed: int = 2) -> list[Touch]:
    """Touch places well inside each kind."""
    draw = np.random.default_rng(seed)
    found: list[Touch] = []
    for number, kind in enumerate(KINDS):
        inner = cv2.erode((TWO.classes == number).astype(np.uint8), np.ones((7, 7), np.uint8))
        places = np.argwhere(inner > 0)
        chosen = places[draw.choice(len(places), each, replace=False)]
        found.extend(Touch(kind, float(x), float(y)) for y, x in chosen)
    return found


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_kinds_taught_by_touch_are_within_their_ranges(seed: int) -> None:
    found = cover_by_touch(taken(TWO.pixels), touches(8, seed))
    for number, each in enumerate(found.kinds):
        true = float((TWO.classes == number).mean())
        assert each.low <= true <= each.high, each
        assert each.share == pytest.approx(true, abs=0.12)
    assert found.right >= 20
    assert sum(each.share for each in found.kinds) == pytest.approx(1)


def test_fewer_touches_give_wider_ranges() -> None:
    pixels = taken(TWO.pixels)
    few, many = cover_by_touch(pixels, touches(4)), cover_by_touch(pixels, touches(16))
    width = [sum(each.high - each.low for each in found.kinds) for found in (few, many)]
    assert width[0] > width[1]
    assert few.right_range.high - few.right_range.low > 0.2


def test_kinds_that_look_the_same_are_told_by_their_errors() -> None:
    draw = np.random.default_rng(7)
    alike = [
        Touch("one" if n % 2 else "two", float(x), float(y))
        for n, (x, y) in enumerate(draw.uniform(20, 460, (24, 2)))
    ]
    found = cover_by_touch(taken(GROUND.pixels[:480, :600]), alike)
    assert found.right_range.low < 0.6
    assert all(each.high - each.low > 0.2 for each in found.kinds)


def test_too_few_touches_are_not_enough() -> None:
    with pytest.raises(NotEnoughDataError, match="each touched 4 times"):
        cover_by_touch(TWO.pixels, touches(3))
    with pytest.raises(NotEnoughDataError, match="two kinds"):
        cover_by_touch(TWO.pixels, [each for each in touches(6) if each.kind == "bare"])


def test_a_touch_beside_the_plot_is_refused() -> None:
    with pytest.raises(BadInputError, match="0 to 600 across"):
        cover_by_touch(TWO.pixels, [*touches(4), Touch("bare", 900, 20)])
