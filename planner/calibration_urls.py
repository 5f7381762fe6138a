"""Addresses of what was measured on a beam."""

from django.urls import path

from planner import calibration_views

urlpatterns = [
    path("beams/<int:pk>/depths/", calibration_views.calibrations, name="calibrations"),
    path("beams/<int:pk>/depths/new/", calibration_views.calibration_new, name="calibration-new"),
    path("depths/<int:pk>/take-back/", calibration_views.calibration_remove, name="calibration-remove"),
]
