"""Addresses of the yarn room."""

from django.urls import path

from inventory.shelf import api, views, wall_views

urlpatterns = [
    path("yarn/", views.yarn_room, name="yarn-room"),
    path("yarn/colours/", wall_views.colours, name="yarn-colours"),
    path("yarn/low/", wall_views.low, name="yarn-low"),
    path("yarn/bins/", wall_views.bin_list, name="yarn-bins"),
    path("yarn/bins/one/", wall_views.bin_page, name="yarn-bin"),
    path("yarn/new/", views.yarn_new, name="yarn-new"),
    path("yarn/<int:pk>/", views.yarn_page, name="yarn"),
    path("yarn/<int:pk>/edit/", views.yarn_edit, name="yarn-edit"),
    path("yarn/<int:pk>/packages/new/", views.package_new, name="package-new"),
    path("yarn/packages/<int:pk>/", views.package_edit, name="package-edit"),
    path("api/yarns/", api.yarns, name="api-yarns"),
    path("api/yarns/<int:pk>/", api.yarn, name="api-yarn"),
]
