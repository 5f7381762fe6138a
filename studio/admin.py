"""Django's admin for stewards: raw tables, for what no page covers yet."""

from typing import Any, ClassVar

from django.contrib import admin
from django.http import HttpRequest

from studio.models import Beam, BeamRound, Briefing, Loom, Member, Reed, Station, StudioRules
from studio.people.forms import AdminSignInForm

admin.site.login_form = AdminSignInForm


class ReadOnly:
    """Can be read, not changed: the pages' actions check what a raw table cannot, and keep the day beside a figure."""

    def has_add_permission(self, request: HttpRequest, obj: object = None) -> bool:
        return False

    def has_change_permission(self, request: HttpRequest, obj: object = None) -> bool:
        return False

    def has_delete_permission(self, request: HttpRequest, obj: object = None) -> bool:
        return False


class ReadOnlyAdmin(ReadOnly, admin.ModelAdmin[Any]):
    """A list that can be read and searched."""


class BeamInline(ReadOnly, admin.TabularInline[Beam, Loom]):
    model = Beam


@admin.register(Loom)
class LoomAdmin(admin.ModelAdmin[Loom]):
    list_display = ("number", "nickname", "weaving_width_cm", "shafts", "retired")
    list_filter = ("retired",)
    search_fields = ("nickname", "notes")
    inlines: ClassVar = [BeamInline]

    def has_delete_permission(self, request: HttpRequest, obj: object = None) -> bool:
        """Looms are removed on their own page, which refuses while warps refer to them."""
        return False


@admin.register(BeamRound)
class BeamRoundAdmin(ReadOnlyAdmin):
    list_display = ("beam", "circumference_cm", "measured_on", "measured_by")
    list_select_related = ("beam__loom", "measured_by")


@admin.register(Reed)
class ReedAdmin(admin.ModelAdmin[Reed]):
    list_display = ("__str__", "reed_length_cm", "kept_with", "retired")
    list_select_related = ("kept_with",)


@admin.register(Station)
class StationAdmin(admin.ModelAdmin[Station]):
    list_display = ("name", "kind", "training_needed", "retired")
    list_filter = ("kind",)


@admin.register(Member)
class MemberAdmin(ReadOnlyAdmin):
    list_display = ("name", "role", "units", "paper")
    list_filter = ("role",)
    search_fields = ("name",)


@admin.register(Briefing)
class BriefingAdmin(admin.ModelAdmin[Briefing]):
    list_display = ("member", "tool", "done_on", "given_by")
    list_select_related = ("member", "given_by")


@admin.register(StudioRules)
class StudioRulesAdmin(ReadOnlyAdmin):
    list_display = ("name", "units")
