"""The yarn room behind the counter: for stewards who mend what no page reaches. The ledger is only read here."""

from dataclasses import fields
from typing import Any

from django.contrib import admin
from django.forms import ModelForm
from django.http import HttpRequest

from inventory.models import Arrival, FileSent, Move, Package, Photo, SetAside, Tare, TareWeighing, Yarn
from inventory.shelf.services import PackageFacts, receive_package
from studio.admin import ReadOnlyAdmin


@admin.register(Yarn)
class YarnAdmin(admin.ModelAdmin):  # type: ignore[type-arg]  # Django itself takes no type here
    list_display = ("name", "colour_name", "fibre", "count_text", "grist_text", "retired")
    list_filter = ("fibre", "retired")
    search_fields = ("name", "colour_name", "count_text")
    readonly_fields = ("tex", "colour_family", "wall_place", "keep_at_least_ug")


@admin.register(Package)
class PackageAdmin(admin.ModelAdmin):  # type: ignore[type-arg]  # Django itself takes no type here
    """Weights of a package that is there change on its page, where each reading is a move of the ledger."""

    list_display = ("pk", "yarn", "kind", "gross_text", "tare_text", "dye_lot", "bin_name", "owner", "quarantined")
    list_filter = ("kind", "source", "quarantined")
    list_select_related = ("yarn", "owner")
    autocomplete_fields = ("yarn", "owner")
    search_fields = ("dye_lot", "bin_name", "yarn__name", "yarn__colour_name")
    readonly_fields = ("gross_g", "tare_g", "on_hand_ug", "promised_ug", "quarantined")

    def get_readonly_fields(self, request: HttpRequest, obj: Package | None = None) -> tuple[str, ...]:
        """Let the words of the scale be typed once, when the package comes in."""
        return self.readonly_fields if obj is None else (*self.readonly_fields, "gross_text", "tare_text")

    def save_model(self, request: HttpRequest, obj: Package, form: ModelForm[Package], change: bool) -> None:  # noqa: FBT001
        """Receive a new package as its page does, with its first move."""
        if change:
            super().save_model(request, obj, form, change)
            return
        facts: dict[str, Any] = {fact.name: getattr(obj, fact.name) for fact in fields(PackageFacts)}
        by = getattr(request.user, "member", None)
        obj.pk = receive_package(yarn=obj.yarn, facts=PackageFacts(**facts), by=by).pk


@admin.register(Move)
class MoveAdmin(ReadOnlyAdmin):
    list_display = ("pk", "package_id", "kind", "on_hand_ug", "promised_ug", "made_by", "made_at", "said_why")
    list_filter = ("kind",)
    list_select_related = ("made_by",)
    search_fields = ("said_why", "package__yarn__name", "package__dye_lot")


@admin.register(SetAside)
class SetAsideAdmin(ReadOnlyAdmin):
    list_display = ("title", "for_member", "made_at", "closed_at")
    list_select_related = ("for_member",)
    search_fields = ("title", "for_member__name")


@admin.register(Arrival)
class ArrivalAdmin(ReadOnlyAdmin):
    list_display = ("__str__", "kind", "gross_text", "tare_text", "bin_name", "received_on", "package_id", "why_out")
    list_filter = ("kind", "source")
    search_fields = ("bin_name", "dye_lot", "notes", "why_out")


@admin.register(Tare)
class TareAdmin(ReadOnlyAdmin):
    list_display = ("name", "kind")
    list_filter = ("kind",)
    search_fields = ("name",)


@admin.register(TareWeighing)
class TareWeighingAdmin(ReadOnlyAdmin):
    list_display = ("tare", "weight_text", "left_out", "made_by", "made_at")
    list_select_related = ("tare", "made_by")


@admin.register(Photo)
class PhotoAdmin(ReadOnlyAdmin):
    list_display = ("name", "width", "height", "made_by", "made_at")
    list_select_related = ("made_by",)


@admin.register(FileSent)
class FileSentAdmin(ReadOnlyAdmin):
    """What was kept of which file; the file itself is its member's alone."""

    list_display = ("name", "member", "sent_at", "kept_at", "said")
    list_select_related = ("member",)
    fields = ("name", "member", "kind", "sent_at", "kept_at", "said")
