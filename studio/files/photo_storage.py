"""Photos that members send: made anew, kept under names of our own, and given out again."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO
from uuid import uuid4

from django.conf import settings
from django.http import Http404, HttpResponse

from studio.files import image_cleaning
from studio.files.image_cleaning import MOST_BYTES, TOO_HEAVY, PictureRefused

NAME = re.compile(r"[0-9a-f]{32}\.jpg")


def made_anew(file: BinaryIO, size: int) -> bytes:
    """Read a photo and write it anew, upright, as JPEG and without anything but the picture.

    Raises
    ------
    PictureRefused
        If it is too large, or no JPEG, PNG or WebP picture that can be read.
    """
    if size > MOST_BYTES:
        raise PictureRefused("too_heavy", TOO_HEAVY)
    return image_cleaning.made_anew(file).large


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
