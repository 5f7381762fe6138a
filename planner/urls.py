"""Addresses of the planner: warps, their cards, and the API."""

from django.urls import include, path

from planner import views

urlpatterns = [
    path("warps/", views.warps, name="warps"),
    path("warps/new/", views.warp_new, name="warp-new"),
    path("warps/plan/", views.plan, name="warp-plan"),
    path("warps/<int:pk>/", views.warp, name="warp"),
    path("warps/<int:pk>/copy/", views.warp_copy, name="warp-copy"),
    path("warps/<int:pk>/other-beam/", views.warp_other_beam, name="warp-other-beam"),
    path("warps/<int:pk>/archive/", views.warp_archive, name="warp-archive"),
    path("warps/<int:pk>/delete/", views.warp_delete, name="warp-delete"),
    path("", include("planner.shelf_urls")),
    path("", include("planner.wanted_urls")),
    path("", include("planner.loom_search_urls")),
    path("", include("planner.card_urls")),
    path("", include("planner.calibration_urls")),
    path("", include("planner.how_urls")),
    path("", include("planner.api_urls")),
]
