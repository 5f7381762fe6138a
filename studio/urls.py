"""Every address of the site. Each package owns its own; this only includes them."""

from django.contrib import admin
from django.urls import URLPattern, URLResolver, include, path
from django.views.generic import TemplateView

from studio.looms import api

SUBJECTS = (
    "planner.today",
    *(f"studio.{name}" for name in ("people", "rules", "looms", "care", "calendar", "feeds", "notices")),
    *(f"inventory.{name}" for name in ("shelf", "labels", "ledger", "scale", "intake", "files")),
    *(f"planner.{name}" for name in ("sheet", "yarn", "loom_search", "cards", "calibration", "handbook")),
)

urlpatterns: list[URLPattern | URLResolver] = [
    *(path("", include(f"{name}.urls")) for name in SUBJECTS),
    path("style/", TemplateView.as_view(template_name="styleguide.html"), name="styleguide"),
    path("api/<path:rest>", api.not_here),
    path("admin/", admin.site.urls),
]
