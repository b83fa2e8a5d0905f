"""Pictures: upright, without metadata, and told in words where they cannot be shown."""

import io
from pathlib import Path

import pytest
from PIL import Image

from workbench.report.pictures import (
    MOST_PIXELS,
    PictureError,
    draw_png,
    fitted,
    prepare_bytes,
    prepare_photo,
)

GPS, ORIENTATION, MODEL = 0x8825, 0x0112, 0x0110


def jpeg(size: tuple[int, int] = (60, 40), mode: str = "RGB", *, orientation: int = 1) -> bytes:
    exif = Image.Exif()
    exif[ORIENTATION], exif[MODEL] = orientation, "camera"
    exif.get_ifd(GPS)[2] = (51.0, 30.0, 0.0)
    out = io.BytesIO()
    Image.new(mode, size, 90).save(out, "JPEG", exif=exif.tobytes(), comment=b"private words")
    return out.getvalue()


def opened(blob: bytes) -> Image.Image:
    return Image.open(io.BytesIO(blob))


def test_place_camera_and_comments_do_not_leave_the_house() -> None:
    blob = jpeg()
    assert b"camera" in blob
    assert b"private words" in blob
    prepared = prepare_bytes(blob)
    assert not opened(prepared.blob).getexif()
    assert b"camera" not in prepared.blob
    assert b"private words" not in prepared.blob


def test_a_photograph_that_needs_no_change_loses_no_pixel() -> None:
    blob = jpeg()
    prepared = prepare_bytes(blob)
    assert prepared.done == ()
    assert list(opened(prepared.blob).tobytes()) == list(opened(blob).tobytes())


def test_a_photograph_taken_on_its_side_stands_upright_and_says_so() -> None:
    prepared = prepare_bytes(jpeg((60, 40), orientation=6))
    assert opened(prepared.blob).size == (40, 60)
    assert prepared.done == ("turned upright",)


def test_a_large_photograph_is_scaled_and_says_so() -> None:
    prepared = prepare_bytes(jpeg((4000, 3000)), longest=1000)
    assert max(opened(prepared.blob).size) <= 1000
    assert prepared.done == ("scaled from 4000 × 3000 pixels",)


@pytest.mark.parametrize("kind", ["WEBP", "TIFF", "PPM", "BMP", "GIF", "JPEG2000"])
def test_kinds_that_word_refuses_are_taken_over(kind: str) -> None:
    out = io.BytesIO()
    Image.new("RGB", (30, 20), "red").save(out, kind)
    prepared = prepare_bytes(out.getvalue())
    assert opened(prepared.blob).format in ("JPEG", "PNG")


def test_a_jpeg_in_printing_colours_becomes_one_that_word_shows() -> None:
    prepared = prepare_bytes(jpeg(mode="CMYK"))
    assert opened(prepared.blob).mode == "RGB"


def test_the_first_segment_of_every_jpeg_says_jfif() -> None:
    bare = jpeg()
    assert prepare_bytes(bare).blob[2:4] == b"\xff\xe0"
    assert prepare_bytes(bare).blob[6:10] == b"JFIF"


def test_a_truncated_photograph_is_told(tmp_path: Path) -> None:
    path = tmp_path / "half.jpg"
    path.write_bytes(jpeg((800, 600))[:700])
    with pytest.raises(PictureError, match="damaged"):
        prepare_photo(path)


def test_a_text_called_a_photograph_is_told(tmp_path: Path) -> None:
    path = tmp_path / "notes.jpg"
    path.write_text("not a picture")
    with pytest.raises(PictureError, match="not a picture"):
        prepare_photo(path)


def test_a_picture_that_would_fill_the_memory_is_refused() -> None:
    out = io.BytesIO()
    side = int(MOST_PIXELS**0.5) + 50
    Image.new("1", (side, side)).save(out, "PNG")
    with pytest.raises(PictureError, match="too large"):
        prepare_bytes(out.getvalue())


def test_a_missing_file_is_told(tmp_path: Path) -> None:
    with pytest.raises(PictureError, match="cannot be read"):
        prepare_photo(tmp_path / "none.jpg")


def test_a_picture_of_one_pixel_is_not_blown_up() -> None:
    out = io.BytesIO()
    Image.new("RGB", (1, 1)).save(out, "PNG")
    prepared = prepare_bytes(out.getvalue())
    assert max(fitted(prepared.size_px, (76, 62))) <= 6


def test_a_picture_keeps_its_proportions_and_stays_in_its_box() -> None:
    width, height = fitted((1600, 1200), (76, 62))
    assert width / height == pytest.approx(4 / 3)
    assert (width, height) <= (76.01, 62.01)


def test_a_figure_is_drawn_to_the_same_bytes_each_time() -> None:
    one, two = (draw_png(lambda f: f.add_subplot().plot([1, 2]), (80, 50)) for _ in range(2))
    assert one.blob == two.blob
    assert opened(one.blob).size == one.size_px == (629, 393)
