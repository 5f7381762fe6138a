"""Addresses of the scale, for people and programs."""

from django.urls import path

from inventory.scale import api, views

urlpatterns = [
    path("yarn/scale/", views.scale, name="scale"),
    path("yarn/scale/<int:pk>/", views.package_scale, name="package-scale"),
    path("api/packages/<int:pk>/", api.package, name="api-package"),
    path("api/packages/<int:pk>/moves/", api.moves, name="api-moves"),
    path("api/moves/<int:pk>/reverse/", api.reversal, name="api-move-reverse"),
]
