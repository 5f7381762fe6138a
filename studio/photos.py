"""Photos that members send: made anew, kept under names of our own, and given out again.

Nothing of the file that came in is kept. The picture is read, turned upright, made no larger than a page needs, and
written anew as JPEG; so where it was taken, with what, and whatever else was hidden in the file is gone.
"""

from __future__ import annotations

import re
import struct
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path
from typing import IO
from uuid import uuid4

from django.conf import settings
from django.http import Http404, HttpResponse
from PIL import Image, ImageOps

from studio.errors import StudioError

KINDS = ("JPEG", "PNG", "WEBP")
MOST_BYTES = 12 * 2**20
MOST_PIXELS = 50_000_000
"""A few bytes can claim to be a picture of billions of pixels; the size is read and refused before the picture is."""
LONGEST_SIDE = 1600
QUALITY = 82
NAME = re.compile(r"[0-9a-f]{32}\.jpg")
PAPER = (255, 255, 255)
NOT_READABLE = (OSError, SyntaxError, ValueError, ArithmeticError, LookupError, TypeError, struct.error, zlib.error)
"""What a broken picture can raise inside the library that reads it."""


class PhotoRefused(StudioError):
    """The file is no photo that can be kept; the message says why and what would do."""


def made_anew(file: IO[bytes], size: int) -> bytes:
    """Read a photo and write it anew, upright, as JPEG and without anything but the picture.

    Raises
    ------
    PhotoRefused
        If it is too large, or no JPEG, PNG or WebP picture that can be read.
    """
    if size > MOST_BYTES:
        raise PhotoRefused(
            "photo_too_large", f"This photo is larger than {MOST_BYTES // 2**20} MB. Send a smaller one."
        )
    try:
        with Image.open(file, formats=KINDS) as opened:
            if opened.width * opened.height > MOST_PIXELS:
                raise _too_many_pixels()
            opened.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))  # a JPEG is read at the size wanted, not at its own
            return _written(_upright(opened))
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as bomb:
        raise _too_many_pixels() from bomb
    except NOT_READABLE as trouble:
        said = "This is no photo that can be read. Send a JPEG, PNG or WebP picture."
        raise PhotoRefused("no_photo", said) from trouble


def _too_many_pixels() -> PhotoRefused:
    said = f"This photo has more than {MOST_PIXELS // 1_000_000} million pixels. Send a smaller one."
    return PhotoRefused("photo_too_large", said)


def _upright(opened: Image.Image) -> Image.Image:
    """Turn a picture the way its camera was held, small enough, and on white paper where one could see through it."""
    opened.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    upright = ImageOps.exif_transpose(opened)
    if not upright.has_transparency_data:
        return upright.convert("RGB")
    seen_through = upright.convert("RGBA")
    paper = Image.new("RGB", seen_through.size, PAPER)
    paper.paste(seen_through, mask=seen_through.getchannel("A"))
    return paper


def _written(picture: Image.Image) -> bytes:
    bare = Image.new("RGB", picture.size)
    bare.paste(picture)
    out = BytesIO()
    bare.save(out, "JPEG", quality=QUALITY, optimize=True)
    return out.getvalue()


def folder() -> Path:
    """Give the folder of photos, in the studio's data folder; no server gives it out by itself."""
    path = Path(settings.MEDIA_ROOT) / "photos"
    path.mkdir(parents=True, exist_ok=True)
    return path


@contextmanager
def kept(photo: bytes | None) -> Iterator[str]:
    """Keep a photo that was made anew and give its name, no name for none; gone again if what follows fails.

    Examples
    --------
    In a service, around the write: ``with photos.kept(photo) as name: fault.photo = name; fault.save()``.
    """
    if not photo:
        yield ""
        return
    name = f"{uuid4().hex}.jpg"
    path = folder() / name
    path.write_bytes(photo)
    try:
        yield name
    except BaseException:
        path.unlink(missing_ok=True)
        raise


def answer_photo(name: str) -> HttpResponse:
    """Give a kept photo to a browser; the view has asked who is there. What is not there is not found."""
    path = folder() / name
    if not NAME.fullmatch(name) or not path.is_file():
        raise Http404("There is no such photo.")
    answer = HttpResponse(path.read_bytes(), content_type="image/jpeg")
    answer["Cache-Control"] = "private, max-age=86400"
    answer["X-Content-Type-Options"] = "nosniff"
    answer["X-Robots-Tag"] = "noindex"
    return answer
