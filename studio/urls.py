"""Every address of the site. The apps own their pages; this only says where they hang."""

from django.contrib import admin
from django.urls import URLPattern, URLResolver, include, path
from django.views.generic import TemplateView

from studio import api, home

urlpatterns: list[URLPattern | URLResolver] = [
    path("", home.today, name="today"),
    path("search/", home.search, name="search"),
    path("", include("studio.house_urls")),
    path("", include("studio.reservation_urls")),
    path("", include("inventory.urls")),
    path("", include("planner.urls")),
    path("style/", TemplateView.as_view(template_name="styleguide.html"), name="styleguide"),
    path("api/<path:rest>", api.not_here),
    path("admin/", admin.site.urls),
]
