"""Addresses of finding a loom for a warp."""

from django.urls import path

from planner import loom_search_views

urlpatterns = [
    path("warps/<int:pk>/looms/", loom_search_views.find_loom, name="warp-looms"),
    path("warps/<int:pk>/looms/<int:beam_pk>/", loom_search_views.hold_loom, name="warp-hold-loom"),
]
