"""Warps and cards for the steward: to look, not to change. Changes go through the sheet, which keeps the sums right."""

from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.http import HttpRequest

from planner.models import IssuedCard, Project


class LookOnly(admin.ModelAdmin[Any]):
    """A list that can be read and searched."""

    def has_add_permission(self, request: HttpRequest) -> bool:
        """Nothing is added behind the sheet's back."""
        return False

    def has_change_permission(self, request: HttpRequest, obj: object = None) -> bool:
        """Nothing is changed behind the sheet's back."""
        return False

    def has_delete_permission(self, request: HttpRequest, obj: object = None) -> bool:
        """Nothing is deleted behind the sheet's back."""
        return False


@admin.register(Project)
class ProjectAdmin(LookOnly):
    """Warps."""

    list_display = ("title", "owner", "loom", "ends", "version", "archived", "changed_at")
    list_filter = ("archived",)
    list_select_related = ("owner", "loom")
    search_fields = ("title", "owner__name", "loom__nickname")


@admin.register(IssuedCard)
class IssuedCardAdmin(LookOnly):
    """Cards."""

    list_display = ("number", "project", "loom_name", "version", "issued_by", "issued_at")
    list_select_related = ("project", "issued_by")
    search_fields = ("number", "project__title", "loom_name")
    exclude = ("html", "pdf", "plan", "brief")
