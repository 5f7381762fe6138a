"""A picture is made anew: upright, small, with nothing beside it; and what is no picture is refused with a sentence."""

import struct
import zlib
from io import BytesIO

import pytest
from PIL import Image, ImageFile

from studio.files import image_cleaning as pictures
from studio.files.image_cleaning import PictureRefused, made_anew
from tests.inventory.photos import GPS, a_phones_photo, a_photo

MADDER, WELD = (0xA9, 0x48, 0x3C), (0xD8, 0xB1, 0x3F)


def opened(data):
    return Image.open(BytesIO(data))


def near(colour, wanted, most=6):
    return all(abs(one - other) <= most for one, other in zip(colour, wanted, strict=True))


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_each_kind_that_is_read_becomes_a_jpeg(kind):
    made = made_anew(BytesIO(a_photo(kind=kind)))
    assert [opened(data).format for data in (made.large, made.small)] == ["JPEG", "JPEG"]
    assert near(opened(made.large).getpixel((100, 300)), MADDER)
    assert near(opened(made.large).getpixel((700, 300)), WELD)


def test_where_it_was_taken_and_with_what_is_left_behind():
    # Exif 2.32 (CIPA DC-008), tag 34853: the pointer to where a picture was taken.
    sent = a_phones_photo()
    assert opened(sent).getexif().get_ifd(GPS)
    for data in (made_anew(BytesIO(sent)).large, made_anew(BytesIO(sent)).small):
        kept = opened(data)
        assert not kept.getexif()
        assert {"exif", "comment", "icc_profile", "xmp"} & kept.info.keys() == set()
        assert b"somebody" not in data
        assert b"at home" not in data


def test_it_stands_upright():
    # Orientation 6: what is on the left as stored is on top as seen.
    made = made_anew(BytesIO(a_phones_photo(wide=800, high=600)))
    assert (made.width, made.height) == (600, 800)
    upright = opened(made.large)
    assert near(upright.getpixel((300, 50)), MADDER)
    assert near(upright.getpixel((300, 750)), WELD)


@pytest.mark.parametrize(
    ("wide", "high", "kept"), [(4000, 3000, (1280, 960)), (900, 3600, (320, 1280)), (40, 30, (40, 30))]
)
def test_it_is_no_longer_than_1280_pixels_and_never_made_larger(wide, high, kept):
    made = made_anew(BytesIO(a_photo(wide, high)))
    assert (made.width, made.height) == kept == opened(made.large).size
    assert max(opened(made.small).size) == min(320, max(kept))


def test_what_is_see_through_lies_on_white():
    glass = Image.new("RGBA", (50, 50), (255, 0, 0, 0))
    made = BytesIO()
    glass.save(made, "PNG")
    assert near(opened(made_anew(BytesIO(made.getvalue())).large).getpixel((25, 25)), (255, 255, 255))


@pytest.mark.parametrize("mode", ["L", "CMYK", "1"])
def test_grey_and_printers_colours_are_read(mode):
    made = BytesIO()
    Image.new(mode, (30, 30)).save(made, "JPEG" if mode != "1" else "PNG")
    assert opened(made_anew(BytesIO(made.getvalue())).large).mode == "RGB"


def test_a_broken_colour_profile_is_no_reason_to_refuse_it():
    assert made_anew(BytesIO(a_photo(icc_profile=b"no profile at all"))).width == 800


def test_a_sound_colour_profile_is_taken_into_the_colours():
    from PIL import ImageCms  # noqa: PLC0415

    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    made = made_anew(BytesIO(a_photo(icc_profile=profile)))
    assert near(opened(made.large).getpixel((100, 300)), MADDER)


def a_png_that_says(wide, high):
    """Give a PNG of a few bytes that claims to be so large (PNG, ISO/IEC 15948, 11.2.2: the head of a picture)."""
    head = struct.pack(">IIBBBBB", wide, high, 8, 2, 0, 0, 0)
    parts = ((b"IHDR", head), (b"IDAT", zlib.compress(b"\x00" * 100)), (b"IEND", b""))
    body = b"".join(
        struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data)) for name, data in parts
    )
    return b"\x89PNG\r\n\x1a\n" + body


HEIC = b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic" + b"\x00" * 100
BAD = {
    "nothing": (b"", "no_picture"),
    "words": (b"a letter, not a picture", "no_picture"),
    "a page": (b"<html><script>alert(1)</script></html>", "no_picture"),
    "a drawing with a script": (b'<svg xmlns="http://www.w3.org/2000/svg"><script/></svg>', "no_picture"),
    "half a JPEG": (a_photo()[:700], "no_picture"),
    "a JPEG's first bytes alone": (b"\xff\xd8\xff\xe0", "no_picture"),
    "a GIF": (a_photo(kind="GIF"), "no_picture"),
    "a TIFF": (a_photo(kind="TIFF"), "no_picture"),
    "an archive": (b"PK\x03\x04" + b"\x00" * 100, "no_picture"),
    "a phone's own kind": (HEIC, "phones_own"),
    "a bomb of a billion points": (a_png_that_says(40_000, 40_000), "too_many_pixels"),
    "a claim beyond all bounds": (a_png_that_says(2**31 - 1, 2**31 - 1), "too_many_pixels"),
    "one point too many": (a_png_that_says(30_000, 1_001), "too_many_pixels"),
    "a picture that breaks off": (a_png_that_says(1000, 1000), "no_picture"),
}


def test_a_picture_that_breaks_off_is_refused_after_a_pdf_was_drawn_too(monkeypatch):
    """WeasyPrint lets such pictures pass, and says so to the library for the whole process."""
    monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", True)
    data, code = BAD["half a JPEG"]
    with pytest.raises(PictureRefused) as refused:
        made_anew(BytesIO(data))
    assert (refused.value.code, ImageFile.LOAD_TRUNCATED_IMAGES) == (code, True)


@pytest.mark.parametrize(("data", "code"), BAD.values(), ids=BAD.keys())
def test_what_is_no_photo_is_refused_with_a_sentence(data, code):
    with pytest.raises(PictureRefused) as refused:
        made_anew(BytesIO(data))
    assert refused.value.code == code
    assert refused.value.message.endswith(".")


def test_one_of_more_than_twelve_megabytes_is_not_even_read(monkeypatch):
    monkeypatch.setattr(pictures, "MOST_BYTES", 1000)
    with pytest.raises(PictureRefused, match="larger than 12 MB"):
        made_anew(BytesIO(a_photo()))
