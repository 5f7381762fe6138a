"""Addresses of the register of looms, beams, reeds and stations."""

from django.urls import URLPattern, path

from studio.looms import api, beam_views, tool_views, views

urlpatterns: list[URLPattern] = [
    path("looms/", views.loom_list, name="looms"),
    path("looms/new/", views.loom_new, name="loom-new"),
    path("looms/<int:pk>/", views.loom_page, name="loom"),
    path("looms/<int:pk>/change/", views.loom_edit, name="loom-edit"),
    path("looms/<int:pk>/remove/", views.loom_delete, name="loom-delete"),
    path("looms/<int:loom_pk>/beams/new/", beam_views.beam_new, name="beam-new"),
    path("beams/<int:pk>/change/", beam_views.beam_edit, name="beam-edit"),
    path("beams/<int:pk>/measure/", beam_views.beam_measure, name="beam-measure"),
    path("beams/<int:pk>/remove/", beam_views.beam_delete, name="beam-delete"),
    path("reeds/", tool_views.reed_list, name="reeds"),
    path("reeds/new/", tool_views.reed_new, name="reed-new"),
    path("reeds/<int:pk>/change/", tool_views.reed_edit, name="reed-edit"),
    path("stations/", tool_views.station_list, name="stations"),
    path("stations/new/", tool_views.station_new, name="station-new"),
    path("stations/<int:pk>/change/", tool_views.station_edit, name="station-edit"),
    path("api/looms/", api.loom_list, name="api-looms"),
    path("api/looms/<int:pk>/", api.loom_detail, name="api-loom"),
]
