"""Addresses of the yarn room."""

from django.urls import path

from inventory import api, ledger_api, ledger_views, scale_views, views

urlpatterns = [
    path("yarn/", views.yarn_room, name="yarn-room"),
    path("yarn/new/", views.yarn_new, name="yarn-new"),
    path("yarn/<int:pk>/", views.yarn_page, name="yarn"),
    path("yarn/<int:pk>/edit/", views.yarn_edit, name="yarn-edit"),
    path("yarn/<int:pk>/packages/new/", views.package_new, name="package-new"),
    path("yarn/packages/<int:pk>/", views.package_edit, name="package-edit"),
    path("yarn/ledger/<int:pk>/", ledger_views.package_history, name="package-history"),
    path("yarn/ledger/moves/<int:pk>/reverse/", ledger_views.move_reverse, name="move-reverse"),
    path("yarn/scale/", scale_views.scale, name="scale"),
    path("yarn/scale/<int:pk>/", scale_views.package_scale, name="package-scale"),
    path("api/yarns/", api.yarns, name="api-yarns"),
    path("api/yarns/<int:pk>/", api.yarn, name="api-yarn"),
    path("api/packages/<int:pk>/", ledger_api.package, name="api-package"),
    path("api/packages/<int:pk>/moves/", ledger_api.moves, name="api-moves"),
    path("api/moves/<int:pk>/reverse/", ledger_api.reversal, name="api-move-reverse"),
]
