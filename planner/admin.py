"""Warps and cards for the steward: to look, not to change. Changes go through the sheet, which keeps the sums right."""

from __future__ import annotations

from django.contrib import admin

from planner.models import Calibration, IssuedCard, Project, Wanted
from studio.admin import ReadOnlyAdmin


@admin.register(Project)
class ProjectAdmin(ReadOnlyAdmin):
    """Warps."""

    list_display = ("title", "owner", "loom", "ends", "version", "archived", "changed_at")
    list_filter = ("archived",)
    list_select_related = ("owner", "loom")
    search_fields = ("title", "owner__name", "loom__nickname")


@admin.register(IssuedCard)
class IssuedCardAdmin(ReadOnlyAdmin):
    """Cards."""

    list_display = ("number", "project", "loom_name", "version", "issued_by", "issued_at")
    list_select_related = ("project", "issued_by")
    search_fields = ("number", "project__title", "loom_name")
    exclude = ("html", "pdf", "plan", "brief")


@admin.register(Calibration)
class CalibrationAdmin(ReadOnlyAdmin):
    """What the tape said about beams."""

    list_display = ("beam", "yarn_name", "turns", "start_cm", "end_cm", "measured_on", "measured_by")
    list_select_related = ("beam__loom", "measured_by")
    search_fields = ("beam__loom__nickname", "yarn_name")


@admin.register(Wanted)
class WantedAdmin(ReadOnlyAdmin):
    """Yarn that warps lack."""

    list_display = ("yarn_name", "project", "state", "expected_on", "asked_by", "asked_at")
    list_filter = ("state",)
    list_select_related = ("project", "asked_by")
    search_fields = ("yarn_name", "project__title")
