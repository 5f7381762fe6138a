"""Addresses of finding a loom for a warp."""

from django.urls import path

from planner.loom_search import views

urlpatterns = [
    path("warps/<int:pk>/looms/", views.find_loom, name="warp-looms"),
    path("warps/<int:pk>/looms/<int:beam_pk>/", views.reserve_loom, name="warp-reserve-loom"),
]
