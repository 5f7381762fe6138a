"""Addresses of yarn coming in, and its photos."""

from django.urls import path

from inventory.intake import photo_views, views

urlpatterns = [
    path("yarn/intake/", views.intake, name="intake"),
    path("yarn/intake/waiting/", views.not_named, name="not-named"),
    path("yarn/intake/name/", views.name_them, name="name-them"),
    path("yarn/intake/<int:pk>/out/", views.arrival_out, name="arrival-out"),
    path("yarn/intake/empties/", views.empties, name="empties"),
    path("yarn/intake/empties/<int:pk>/", views.weighing_left_out, name="weighing-left-out"),
    path("yarn/photos/<slug:name>/", photo_views.photo, name="photo"),
    path("yarn/packages/<int:pk>/photo/", photo_views.package_photo, name="package-photo"),
]
