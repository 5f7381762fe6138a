"""Pictures from strangers' phones, made anew: upright, small, a plain JPEG, and nothing in it but the picture.

What a phone writes beside the picture (where, when and by which phone) is left behind, since only the points of light
are copied. Whatever is not a picture is refused with a sentence; the file as sent is never kept.
"""

from __future__ import annotations

import warnings
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from io import BytesIO
from threading import Lock
from types import MappingProxyType
from typing import BinaryIO

from PIL import Image, ImageCms, ImageFile, ImageOps, JpegImagePlugin, PngImagePlugin, WebPImagePlugin

from studio.errors import StudioError

MOST_BYTES = 12_000_000
LONGEST_SIDE, SMALL_SIDE = 1280, 320
QUALITY = 82
MOST_PIXELS: Mapping[str, int] = MappingProxyType({"JPEG": 80_000_000, "MPO": 80_000_000})
"""A JPEG is read at a fraction of its size; other kinds must be unpacked whole."""
MOST_PIXELS_WHOLE = 30_000_000
KINDS = tuple(
    kind.format for kind in (JpegImagePlugin.JpegImageFile, PngImagePlugin.PngImageFile, WebPImagePlugin.WebPImageFile)
)
"""Only these are tried; asked for by their readers, so that each is there before the first photo comes."""
PHONE_KINDS = (b"heic", b"heix", b"hevc", b"heim", b"heis", b"mif1", b"msf1", b"avif", b"avis")
TOO_HEAVY = "That photo is larger than 12 MB. Take it again with a smaller size, or send it without one."
NO_PICTURE = "That is no photo that can be read here. Send a JPEG, PNG or WebP."
PHONES_OWN = (
    "That photo is in a phone’s own format (HEIC or AVIF), which cannot be read here. Take it with this page’s own "
    "button, or set the camera to JPEG (“most compatible”)."
)
TOO_MANY_PIXELS = "That picture is too large to be a photo of a cone. Send one of at most 30 megapixels."


_ONE_AT_A_TIME = Lock()


class PictureRefused(StudioError):
    """What was sent is no picture, or not one that can be kept."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture as it is kept: a large JPEG, a small one, and the size of the large one in pixels."""

    large: bytes
    small: bytes
    width: int
    height: int


def made_anew(sent: BinaryIO) -> Picture:
    """Read what was sent, and give a picture of ours.

    Raises
    ------
    PictureRefused
        If it is too large, no picture, or of a kind that is not read; the message says which.
    """
    data = sent.read(MOST_BYTES + 1)
    if len(data) > MOST_BYTES:
        raise PictureRefused("too_heavy", TOO_HEAVY)
    if data[4:8] == b"ftyp" and data[8:12] in PHONE_KINDS:
        raise PictureRefused("phones_own", PHONES_OWN)
    try:
        with _whole_or_not_at_all(), warnings.catch_warnings():
            warnings.simplefilter("ignore")  # its own bound on pixels is ours below, and a sentence
            upright = _upright(data)
    except StudioError:
        raise
    except Image.DecompressionBombError as bomb:
        raise PictureRefused("too_many_pixels", TOO_MANY_PIXELS) from bomb
    except Exception as trouble:  # a reader of strangers' bytes may stop with anything
        raise PictureRefused("no_picture", NO_PICTURE) from trouble
    large, small = (_bounded(upright, side) for side in (LONGEST_SIDE, SMALL_SIDE))
    return Picture(_jpeg(large), _jpeg(small), *large.size)


@contextmanager
def _whole_or_not_at_all() -> Iterator[None]:
    """Refuse a picture that breaks off. Whoever draws PDFs lets such ones pass for the whole process."""
    with _ONE_AT_A_TIME:
        before = ImageFile.LOAD_TRUNCATED_IMAGES
        ImageFile.LOAD_TRUNCATED_IMAGES = False
        try:
            yield
        finally:
            ImageFile.LOAD_TRUNCATED_IMAGES = before


def _upright(data: bytes) -> Image.Image:
    with Image.open(BytesIO(data), formats=KINDS) as opened:
        wide, high = opened.size
        if wide * high > MOST_PIXELS.get(opened.format or "", MOST_PIXELS_WHOLE):
            raise PictureRefused("too_many_pixels", TOO_MANY_PIXELS)
        opened.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
        profile = opened.info.get("icc_profile")
        turned = ImageOps.exif_transpose(opened)
        return _in_usual_colours(_on_white(turned), profile if opened.mode == "RGB" else None)


def _on_white(picture: Image.Image) -> Image.Image:
    """Lay what is see-through on white; a JPEG knows no see-through."""
    if picture.mode not in {"RGBA", "LA", "P", "PA"}:
        return picture.convert("RGB")
    layer = picture.convert("RGBA")
    ground = Image.new("RGBA", layer.size, "white")
    return Image.alpha_composite(ground, layer).convert("RGB")


def _in_usual_colours(picture: Image.Image, profile: bytes | None) -> Image.Image:
    """Bring a phone's wide colours to those every screen shows, so that madder stays madder without its profile."""
    if not profile:
        return picture
    try:
        theirs = ImageCms.ImageCmsProfile(BytesIO(profile))
        turned = ImageCms.profileToProfile(picture, theirs, ImageCms.createProfile("sRGB"), outputMode="RGB")
    except (ImageCms.PyCMSError, OSError, ValueError):  # a broken profile: the colours as they are
        return picture
    return picture if turned is None else turned


def _bounded(picture: Image.Image, side: int) -> Image.Image:
    """Give a copy no longer than so many pixels, on a sheet of its own that carries no words along."""
    small = picture.copy()
    small.thumbnail((side, side))
    sheet = Image.new("RGB", small.size)
    sheet.paste(small)
    return sheet


def _jpeg(picture: Image.Image) -> bytes:
    buffer = BytesIO()
    picture.save(buffer, "JPEG", quality=QUALITY, optimize=True)
    return buffer.getvalue()
