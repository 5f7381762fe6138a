"""Pages of the yarn room: the shelf, one yarn, and the forms for yarns and packages."""

from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.cache import patch_vary_headers

from inventory.ledger.services import MoveResult
from inventory.models import Package, Yarn
from inventory.shelf.drawings import shelf_bar, stock_lines
from inventory.shelf.filters import ShelfFilter
from inventory.shelf.forms import PackageForm, YarnForm
from inventory.shelf.selectors import fineness_of, packages_of, shelf, yarns_matching
from inventory.shelf.services import PackageFacts, YarnFacts, correct_package, keep_yarn, receive_package
from inventory.shelf.stock import narrowed, with_enough
from studio.access import FormPage, act_required, answer_form, member_of, member_required, posted, submit
from studio.rights import Act, may

ROWS_ON_A_PAGE = 50


@member_required
def yarn_room(request: HttpRequest) -> HttpResponse:
    """Show what is on the shelf; a changed filter fetches the rows alone."""
    member = member_of(request)
    form = ShelfFilter(request.GET, units=member.reads_in)
    one_lot = with_enough(form.enough) if form.enough is not None else None
    yarns = narrowed(yarns_matching(**form.criteria()), low=form.wants_low, among=one_lot)
    page = Paginator(yarns, ROWS_ON_A_PAGE).get_page(request.GET.get("page"))
    context = {
        "form": form,
        "page": page,
        "lines": stock_lines(shelf(page.object_list), one_lot),
        "enough": form.enough,
        "units": member.reads_in,
        "may_edit": may(member.role, Act.EDIT_YARN),
        "asked": any(form.criteria().values()) or form.wants_low or form.enough is not None,
    }
    part = "_shelf" if request.headers.get("HX-Target") == "shelf" else "yarn_room"
    response = render(request, f"inventory/shelf/{part}.html", context)
    patch_vary_headers(response, ["HX-Target"])
    return response


@member_required
def yarn_page(request: HttpRequest, pk: int) -> HttpResponse:
    """Show one yarn: what its label says, its packages, and what they hold."""
    member = member_of(request)
    yarn = get_object_or_404(Yarn, pk=pk)
    packages = packages_of(yarn)
    context = {
        "yarn": yarn,
        "fineness": fineness_of(yarn),
        "on_shelf": shelf([yarn])[0],
        "packages": packages,
        "bar": shelf_bar(packages),
        "units": member.reads_in,
        "may_edit": may(member.role, Act.EDIT_YARN),
    }
    return render(request, "inventory/shelf/yarn.html", context)


@act_required(Act.EDIT_YARN)
def yarn_new(request: HttpRequest) -> HttpResponse:
    """Write a new yarn into the book, and go on to its packages."""
    form = YarnForm(posted(request), units=member_of(request).reads_in)
    yarn = submit(form, lambda values: keep_yarn(facts=YarnFacts(**values))) if form.is_bound else None
    if yarn is not None:
        messages.success(request, "The yarn is in the book. Now put its packages on the shelf.")
        return redirect(yarn)
    page = FormPage(title="New yarn", button="Save", cancel_url=reverse("yarn-room"), done="")
    status = 422 if form.is_bound else 200
    return render(request, "inventory/shelf/yarn_form.html", {"form": form, "page": page}, status=status)


@act_required(Act.EDIT_YARN)
def yarn_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Change what is known about a yarn."""
    yarn = get_object_or_404(Yarn, pk=pk)
    page = FormPage(
        title=str(yarn),
        button="Save",
        cancel_url=yarn.get_absolute_url(),
        done="The yarn is changed.",
        template="inventory/shelf/yarn_form.html",
    )
    form = YarnForm(posted(request), instance=yarn, units=member_of(request).reads_in)
    return answer_form(request, form, page, lambda values: keep_yarn(facts=YarnFacts(**values), yarn=yarn))


@act_required(Act.EDIT_YARN)
def package_new(request: HttpRequest, pk: int) -> HttpResponse:
    """Put a package of a yarn on the shelf."""
    yarn = get_object_or_404(Yarn, pk=pk)
    page = FormPage(
        title="New package",
        button="Add package",
        cancel_url=yarn.get_absolute_url(),
        done="The package is on the shelf.",
        lede=str(yarn),
        template="inventory/shelf/package_form.html",
    )
    form = PackageForm(posted(request), units=member_of(request).reads_in)
    by = member_of(request)
    return answer_form(
        request, form, page, lambda values: receive_package(yarn=yarn, facts=PackageFacts(**values), by=by)
    )


@act_required(Act.EDIT_YARN)
def package_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Weigh a package again, or put right what was written about it."""
    package = get_object_or_404(Package.objects.select_related("yarn"), pk=pk)
    page = FormPage(
        title=f"{package.get_kind_display().capitalize()} {package.pk}",
        button="Save",
        cancel_url=package.yarn.get_absolute_url(),
        done="The package is changed.",
        lede=str(package.yarn),
        template="inventory/shelf/package_form.html",
    )
    by = member_of(request)
    form = PackageForm(posted(request), instance=package, units=by.reads_in)

    def correct(values: dict[str, Any]) -> MoveResult:
        corrected = correct_package(package=package, facts=PackageFacts(**values), by=by)
        if corrected.cut:
            messages.warning(request, corrected.cut_words(by.reads_in))
        return corrected

    return answer_form(request, form, page, correct)
