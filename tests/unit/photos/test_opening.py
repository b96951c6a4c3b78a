import io
import struct
import zlib
from datetime import datetime

import cv2
import numpy as np
import pytest
from PIL import Image

from swardbook.foundation.errors import BadInputError
from swardbook.photos.exif import CameraFacts
from swardbook.photos.opening import Photo, decode, look_at, upright

PICTURE = np.random.default_rng(3).integers(0, 256, (340, 420, 3), np.uint8)
PLACE = {1: "N", 2: (52.0, 7.0, 30.0), 3: "W", 4: (1.0, 2.0, 3.0)}


def file(form: str = "JPEG", orientation: int = 1, **more: object) -> bytes:
    tags = Image.Exif()
    tags[0x0112], tags[0x010F], tags[0x0110] = orientation, "Fen", "Fen Two"
    tags.get_ifd(0x8769)[0x9003] = "2011:06:04 10:20:30"
    tags.get_ifd(0x8825).update(PLACE)
    made = io.BytesIO()
    Image.fromarray(PICTURE).save(made, form, exif=tags, **more)
    return made.getvalue()


def png_header(wide: int, high: int) -> bytes:
    body = b"IHDR" + struct.pack(">IIBBBBB", wide, high, 8, 2, 0, 0, 0)
    chunk = struct.pack(">I", 13) + body + struct.pack(">I", zlib.crc32(body))
    return b"\x89PNG\r\n\x1a\n" + chunk + b"\x00\x00\x00\x00IEND\xaeB`\x82"


def facts_of(held: bytes) -> CameraFacts:
    return look_at(held, "a.jpg").facts


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_what_the_camera_wrote_is_read(form: str) -> None:
    found = facts_of(file(form))
    assert found.taken == datetime.fromisoformat("2011-06-04T10:20:30")
    assert found.camera == "Fen Two"
    assert found.has_place


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_the_copy_to_share_has_no_place_and_no_camera_and_the_same_picture(form: str) -> None:
    held = file(form, lossless=True) if form == "WEBP" else file(form)
    photo = look_at(held, "a")
    again = look_at(photo.to_share, "b")
    assert not again.facts.has_place
    assert again.facts.camera == ""
    assert again.facts.taken == photo.facts.taken
    assert (decode(again) == decode(photo)).all()
    assert photo.held == held


def test_no_note_of_any_kind_stays_in_the_copy_to_share() -> None:
    held = file(comment=b"at 52.0 N 1.0 W")
    xmp = b"http://ns.adobe.com/xap/1.0/\x00<x exif:GPSLatitude='52,0N'/>"
    held = held[:2] + b"\xff\xe1" + (len(xmp) + 2).to_bytes(2, "big") + xmp + held[2:]
    shared = look_at(held + b"more than a picture, GPS", "a").to_share
    assert b"GPS" not in shared
    assert b"52.0 N" not in shared
    assert not facts_of(shared).has_place


@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_picture_is_turned_upright_as_another_library_does(orientation: int) -> None:
    from PIL import ImageOps

    tags = Image.Exif()
    tags[0x0112] = orientation
    image = Image.fromarray(PICTURE)
    image.getexif()[0x0112] = orientation
    theirs = np.asarray(ImageOps.exif_transpose(image))
    assert (upright(PICTURE, orientation) == theirs).all()


def test_both_decoders_give_the_same_bits(monkeypatch: pytest.MonkeyPatch) -> None:
    photo = look_at(file(quality=85, subsampling=2), "a.jpg")
    quick = decode(photo)
    monkeypatch.setattr("swardbook.photos.opening._quickly", lambda held: None)
    assert (decode(photo) == quick).all()


@pytest.mark.parametrize("kept", [0.02, 0.3, 0.7, 0.98])
@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_a_file_that_breaks_off_is_refused(form: str, kept: float) -> None:
    held = file(form)
    with pytest.raises(BadInputError, match=r"breaks off|damage|without a picture"):
        look_at(held[: int(kept * len(held))], "cut")


def test_a_picture_of_a_hundred_thousand_pixels_a_side_is_refused_unopened() -> None:
    with pytest.raises(BadInputError, match="100,000 × 100,000 pixels"):
        look_at(png_header(100_000, 100_000), "huge.png")
    held = bytearray(file())
    at = held.index(b"\xff\xc0")
    held[at + 5 : at + 9] = struct.pack(">HH", 65_000, 65_000)
    with pytest.raises(BadInputError, match=r"65,?000 × 65,?000"):
        look_at(bytes(held), "huge.jpg")


@pytest.mark.parametrize(
    ("begins", "told"),
    [
        (b"\x00\x00\x00\x18ftypheic", "HEIC"),
        (b"\x00\x00\x00\x18ftypmp42", "film"),
        (b"GIF89a", "GIF"),
        (b"%PDF-1.7", "PDF"),
        (b"II*\x00", "TIFF"),
        (b"hello, this is text", "no picture"),
        (b"", "empty"),
    ],
)
def test_a_file_of_another_kind_is_named_and_refused(begins: bytes, told: str) -> None:
    with pytest.raises(BadInputError, match=told):
        look_at(begins + b"\x00" * 600 * bool(begins), "other")


@pytest.mark.parametrize("form", ["PNG", "WEBP"])
def test_an_animated_picture_is_refused(form: str) -> None:
    made = io.BytesIO()
    frames = [Image.fromarray(PICTURE), Image.fromarray(255 - PICTURE)]
    frames[0].save(made, form, save_all=True, append_images=frames[1:])
    with pytest.raises(BadInputError, match="animated picture of 2 frames"):
        look_at(made.getvalue(), "a.png")


def test_a_huge_exif_is_refused() -> None:
    tags = Image.Exif()
    tags[0x010E] = "x" * 2_000_000
    made = io.BytesIO()
    Image.fromarray(PICTURE).save(made, "PNG", exif=tags)
    with pytest.raises(BadInputError, match="camera notes"):
        look_at(made.getvalue(), "a.png")


def test_a_picture_without_colour_is_refused() -> None:
    made = io.BytesIO()
    Image.fromarray(PICTURE[..., 0]).save(made, "JPEG")
    with pytest.raises(BadInputError, match="without colour"):
        look_at(made.getvalue(), "grey.jpg")


def test_a_thumbnail_is_refused() -> None:
    done, held = cv2.imencode(".jpg", PICTURE[:100, :120])
    assert done
    with pytest.raises(BadInputError, match="Send the picture itself"):
        look_at(held.tobytes(), "small.jpg")


def test_bytes_at_random_after_a_true_beginning_never_bring_it_down() -> None:
    draw = np.random.default_rng(9)
    held = file()
    for _ in range(60):
        broken = bytearray(held)
        for at in draw.integers(2, len(held), 12):
            broken[at] = draw.integers(0, 256)
        try:
            photo = look_at(bytes(broken), "odd.jpg")
        except BadInputError:
            continue
        try:
            assert decode(photo).ndim == 3
        except BadInputError:
            continue


def test_a_picture_is_known_again_by_its_bytes() -> None:
    one: Photo = look_at(file(), "a.jpg")
    assert one.mark == look_at(file(), "b.jpg").mark
    assert one.mark != look_at(file(quality=60), "a.jpg").mark


def test_a_huge_exif_in_a_jpeg_is_refused_too() -> None:
    note = b"Exif\x00\x00MM\x00*\x00\x00\x00\x08" + bytes(65_000)
    segment = b"\xff\xe1" + (len(note) + 2).to_bytes(2, "big") + note
    held = file()
    with pytest.raises(BadInputError, match=r"camera notes|damage"):
        look_at(held[:2] + segment * 12 + held[2:], "a.jpg")


def test_a_film_of_motion_after_a_phone_picture_is_left_out_of_the_copy_to_share() -> None:
    held = file()
    photo = look_at(held + b"\x00\x00\x00\x18ftypmp42" + b"52.125 N" * 50_000, "motion.jpg")
    assert (decode(photo) == decode(look_at(held, "a"))).all()
    assert b"52.125 N" not in photo.to_share


def test_a_picture_that_unpacks_to_far_more_than_it_is_long_is_refused_unopened() -> None:
    made = io.BytesIO()
    Image.new("1", (19_000, 9_000)).save(made, "PNG")
    assert len(made.getvalue()) < 100_000
    with pytest.raises(BadInputError, match="million pixels"):
        look_at(made.getvalue(), "bomb.png")


def test_an_original_is_never_altered_by_reading_it() -> None:
    held = file(quality=85, subsampling=2)
    before = bytes(bytearray(held))
    photo = look_at(held, "a.jpg")
    decode(photo)
    assert held == before
    assert photo.held is held
