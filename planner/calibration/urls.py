"""Addresses of what was measured on a beam."""

from django.urls import path

from planner.calibration import views

urlpatterns = [
    path("beams/<int:pk>/depths/", views.calibrations, name="calibrations"),
    path("beams/<int:pk>/depths/new/", views.calibration_new, name="calibration-new"),
    path("depths/<int:pk>/take-back/", views.calibration_remove, name="calibration-remove"),
]
