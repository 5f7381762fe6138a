"""Pages of photos: the picture itself, for members alone, and the photo of a package."""

from __future__ import annotations

from django.contrib import messages
from django.core.files.storage import default_storage
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_safe

from inventory.intake.forms import PhotoForm
from inventory.intake.photo_services import file_of, keep_photo, picture_package, unpicture_package
from inventory.models import Package, PackagePhoto, Photo
from studio.access import act_required, member_of, member_required, posted, submit
from studio.rights import Act

A_WEEK = 604_800


@member_required
@require_safe
def photo(request: HttpRequest, name: str) -> HttpResponse:
    """Give a photo to whoever is signed in; files are never reached by their own address."""
    shown = get_object_or_404(Photo, name=name)
    size = "small" if request.GET.get("size") == "small" else "large"
    try:
        with default_storage.open(file_of(shown.name, size)) as file:
            picture = file.read()
    except FileNotFoundError as gone:
        raise Http404("The file of this photo is gone.") from gone
    answer = HttpResponse(picture, content_type="image/jpeg")
    answer["X-Content-Type-Options"] = "nosniff"
    answer["Cache-Control"] = f"private, max-age={A_WEEK}"
    answer["Content-Disposition"] = "inline"
    return answer


@act_required(Act.EDIT_YARN)
def package_photo(request: HttpRequest, pk: int) -> HttpResponse:
    """Put a photo to a package, or take it away."""
    package = get_object_or_404(Package.objects.select_related("yarn"), pk=pk)
    if request.method == "POST" and "away" in request.POST:
        unpicture_package(package=package)
        messages.success(request, "The photo is taken away.")
        return redirect(package)
    form = PhotoForm(posted(request), request.FILES if request.method == "POST" else None)
    member = member_of(request)
    kept = submit(form, lambda values: keep_photo(picture=values["photo"], by=member)) if form.is_bound else None
    if kept is not None:
        picture_package(package=package, photo=kept)
        messages.success(request, "The photo is kept.")
        return redirect(package)
    shown = PackagePhoto.objects.select_related("photo").filter(package=package).first()
    context = {"form": form, "package": package, "pictured": shown}
    return render(request, "inventory/intake/package_photo.html", context, status=422 if form.is_bound else 200)
