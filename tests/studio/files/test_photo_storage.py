"""Photos are made anew: what they hid is gone, and what is no photo is refused."""

import io
import struct
import zlib

import pytest
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import Http404
from PIL import Image

from studio.fields import PhotoField
from studio.files import photo_storage as photos
from studio.files.image_cleaning import LONGEST_SIDE, MOST_BYTES, PictureRefused
from studio.files.photo_storage import answer_photo, kept, made_anew

ORIENTATION, GPS = 0x0112, 0x8825  # tags of Exif 2.32 (CIPA DC-008), 4.6.4 and 4.6.3
SIDEWAYS = 6  # the camera was turned: the 0th row is the right-hand side


def a_photo(kind="JPEG", size=(60, 40), mode="RGB", colour=(160, 60, 40), **options):
    """Give the bytes of a picture of one colour."""
    out = io.BytesIO()
    Image.new(mode, size, colour).save(out, kind, **options)
    return out.getvalue()


def with_secrets():
    exif = Image.Exif()
    exif[ORIENTATION] = SIDEWAYS
    exif[0x010E] = "secret words"  # ImageDescription
    exif.get_ifd(GPS)[1] = "N"
    exif.get_ifd(GPS)[2] = (51.0, 30.0, 0.0)
    return a_photo(exif=exif, comment=b"secret words")


def anew(data):
    return Image.open(io.BytesIO(made_anew(io.BytesIO(data), len(data))))


@pytest.fixture
def shelf(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    return tmp_path / "photos"


def test_nothing_but_the_picture_is_kept():
    before = with_secrets()
    assert b"secret words" in before
    after = anew(before)
    assert (dict(after.getexif()), after.info.get("comment"), after.info.get("icc_profile")) == ({}, None, None)
    assert b"secret words" not in made_anew(io.BytesIO(before), len(before))


def test_no_segment_but_those_of_the_picture_is_left():
    # JPEG (ITU-T T.81, annex B): APP1 to APP15 and COM carry what is not picture; APP0 is the plain JFIF head.
    data = with_secrets()
    written, markers, at = made_anew(io.BytesIO(data), len(data)), [], 2
    while written[at : at + 1] == b"\xff" and written[at + 1] != 0xDA:
        markers.append(written[at + 1])
        at += 2 + int.from_bytes(written[at + 2 : at + 4], "big")
    assert [marker for marker in markers if 0xE1 <= marker <= 0xEF or marker == 0xFE] == []
    assert 0xE0 in markers


def test_a_photo_is_turned_upright():
    assert anew(with_secrets()).size == (40, 60)


def test_a_large_photo_is_made_small_and_keeps_its_shape():
    assert anew(a_photo(size=(4000, 3000))).size == (LONGEST_SIDE, LONGEST_SIDE * 3 // 4)


def test_a_small_photo_is_not_blown_up():
    assert anew(a_photo()).size == (60, 40)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_the_three_usual_kinds_become_jpeg(kind):
    after = anew(a_photo(kind))
    assert (after.format, after.mode) == ("JPEG", "RGB")
    assert max(abs(a - b) for a, b in zip(after.getpixel((30, 20)), (160, 60, 40), strict=True)) <= 3


@pytest.mark.parametrize(("mode", "colour"), [("L", 90), ("P", 3), ("1", 1), ("I;16", 900), ("LA", (90, 10))])
def test_other_colour_modes_are_read(mode, colour):
    assert anew(a_photo("PNG", mode=mode, colour=colour)).mode == "RGB"


def test_a_jpeg_in_printers_colours_is_read():
    assert anew(a_photo(mode="CMYK", colour=(10, 20, 30, 40))).mode == "RGB"


def test_what_one_could_see_through_lies_on_white():
    assert anew(a_photo("PNG", mode="RGBA", colour=(0, 0, 0, 0))).getpixel((5, 5)) == (255, 255, 255)


def chunk(kind, data):
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def a_bomb(side):
    """Give a PNG of some hundred bytes that claims to be that wide and high (PNG, ISO/IEC 15948, 11.2.2)."""
    head = struct.pack(">IIBBBBB", side, side, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(bytes(500))) + chunk(b"IEND", b"")


@pytest.mark.parametrize("side", [8_000, 10_000, 60_000, 2_000_000_000])
def test_a_bomb_is_refused_before_it_is_read(side):
    with pytest.raises(PictureRefused):
        anew(a_bomb(side))


HOSTILE = {
    "nothing": b"",
    "text": b"this is no picture",
    "a page": b"<html><script>alert(1)</script>",
    "a drawing": b'<svg xmlns="http://www.w3.org/2000/svg"><script/></svg>',
    "a GIF": a_photo("GIF"),
    "a TIFF": a_photo("TIFF"),
    "a BMP": a_photo("BMP"),
    "a photo cut short": a_photo(size=(400, 300), quality=95)[:700],
    "a PNG cut short": a_photo("PNG")[:60],
    "a head alone": b"\xff\xd8\xff\xe0",
    "PostScript": b"%!PS-Adobe-3.0 EPSF-3.0\n",
}


@pytest.mark.parametrize("data", HOSTILE.values(), ids=HOSTILE.keys())
def test_what_is_no_photo_is_refused_with_what_would_do(data):
    with pytest.raises(PictureRefused, match="Send a JPEG, PNG or WebP"):
        anew(data)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_spoilt_photo_is_refused_or_read_and_never_a_fault(kind):
    whole = a_photo(kind, size=(64, 64))
    for place in range(0, len(whole), max(1, len(whole) // 150)):
        spoilt = bytearray(whole)
        spoilt[place] ^= 0xFF
        try:
            assert anew(bytes(spoilt)).format == "JPEG"
        except PictureRefused as refused:
            assert refused.message  # noqa: PT017 - either is right, a fault is not


def test_too_many_bytes_are_refused_unread():
    with pytest.raises(PictureRefused, match="larger than 12 MB"):
        made_anew(io.BytesIO(b""), MOST_BYTES + 1)


def test_a_kept_photo_is_given_out_as_a_picture_only(shelf):
    with kept(b"jpeg") as name:
        pass
    page = answer_photo(name)
    assert (page.content, page["Content-Type"], page["X-Content-Type-Options"]) == (b"jpeg", "image/jpeg", "nosniff")
    assert page["Cache-Control"].startswith("private")


def test_without_a_photo_no_name_is_given(shelf):
    with kept(None) as name:
        assert name == ""


def test_a_photo_goes_when_what_follows_fails(shelf):
    with pytest.raises(ValueError, match="no"), kept(b"jpeg"):
        raise ValueError("no")
    assert list(shelf.iterdir()) == []


@pytest.mark.parametrize(
    "name", ["", "../secret_key", "a" * 32 + ".jpg", "x.jpg", "/etc/passwd", "\x00", "A" * 32 + ".jpg\n"]
)
def test_no_other_file_is_given_out(shelf, name):
    photos.folder().parent.joinpath("secret_key").write_text("secret")
    with pytest.raises(Http404):
        answer_photo(name)


def test_the_box_gives_bytes_or_nothing():
    box = PhotoField()
    sent = SimpleUploadedFile("../../x.php", a_photo("PNG"), content_type="text/html")
    assert box.clean(None) is None
    assert Image.open(io.BytesIO(box.clean(sent))).format == "JPEG"


def test_the_box_says_what_is_wrong():
    with pytest.raises(ValidationError, match="That is no photo"):
        PhotoField().clean(SimpleUploadedFile("x.jpg", b"no"))
