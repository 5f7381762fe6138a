"""Services of photos: keep one, put it to a package, take it away with its files.

A file is written before the row that names it, and goes again when the service fails: a file nobody names costs room, a
row without a file costs a broken page.
"""

from __future__ import annotations

import secrets
from datetime import timedelta

from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db import transaction
from django.utils import timezone

from inventory.ledger.services import lock_package
from inventory.models import Arrival, Package, PackagePhoto, Photo
from studio.files.image_cleaning import Picture
from studio.models import Member

SIZES = ("large", "small")
KEPT_UNSHOWN = timedelta(days=1)
SWEPT_AT_ONCE = 20


def file_of(name: str, size: str) -> str:
    """Give where a photo lies under the folder of media."""
    return f"photos/{name[:2]}/{name}-{size}.jpg"


def keep_photo(*, picture: Picture, by: Member) -> Photo:
    """Keep a picture under a random name. Shown by nothing it is swept away after a day."""
    photo = Photo(name=secrets.token_hex(16), width=picture.width, height=picture.height, made_by=by)
    try:
        _write_files(photo.name, picture)
        photo.full_clean()
        photo.save()
    except BaseException:
        discard_files(photo.name)
        raise
    return photo


@transaction.atomic
def sweep_photos() -> int:
    """Delete photos that nothing shows, such as those of forms that were never sent again; a few at a time."""
    unshown_long = Photo.objects.filter(of_packages=None, of_arrivals=None, made_at__lt=timezone.now() - KEPT_UNSHOWN)
    unshown = list(unshown_long[:SWEPT_AT_ONCE])
    for photo in unshown:
        forget_unshown(photo)
    return len(unshown)


def _write_files(name: str, picture: Picture) -> None:
    for size, data in zip(SIZES, (picture.large, picture.small), strict=True):
        default_storage.save(file_of(name, size), ContentFile(data))


def discard_files(name: str) -> None:
    """Delete the files of a photo; those that are gone already are no trouble."""
    for size in SIZES:
        default_storage.delete(file_of(name, size))


@transaction.atomic
def picture_package(*, package: Package, photo: Photo) -> None:
    """Put a photo to a package, in the place of the one it had."""
    locked = lock_package(package)
    shown_before = PackagePhoto.objects.select_related("photo").filter(package=locked).first()
    PackagePhoto.objects.update_or_create(package=locked, defaults={"photo": photo})
    if shown_before is not None and shown_before.photo_id != photo.pk:
        _forget_of(locked, shown_before.photo)


@transaction.atomic
def unpicture_package(*, package: Package) -> None:
    """Take the photo of a package away; its files go where nothing else shows them."""
    locked = lock_package(package)
    shown_before = PackagePhoto.objects.select_related("photo").filter(package=locked).first()
    if shown_before is not None:
        shown_before.delete()
        _forget_of(locked, shown_before.photo)


def _forget_of(package: Package, photo: Photo) -> None:
    """Let a photo go that a package had, from when it arrived too."""
    Arrival.objects.filter(package=package, photo=photo).update(photo=None)
    forget_unshown(photo)


def forget_unshown(photo: Photo) -> None:
    """Delete a photo that nothing shows any more, its files once that is written."""
    locked = Photo.objects.select_for_update().filter(pk=photo.pk).first()
    if locked is None or locked.of_packages.exists() or locked.of_arrivals.exists():
        return
    locked.delete()
    transaction.on_commit(lambda: discard_files(locked.name))
