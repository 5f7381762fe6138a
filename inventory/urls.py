"""Addresses of the yarn room."""

from django.urls import path

from inventory import api, file_views, intake_views, ledger_views, photo_views, scale_views, views

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
    path("yarn/intake/", intake_views.intake, name="intake"),
    path("yarn/intake/waiting/", intake_views.not_named, name="not-named"),
    path("yarn/intake/name/", intake_views.name_them, name="name-them"),
    path("yarn/intake/<int:pk>/out/", intake_views.arrival_out, name="arrival-out"),
    path("yarn/intake/empties/", intake_views.empties, name="empties"),
    path("yarn/intake/empties/<int:pk>/", intake_views.weighing_left_out, name="weighing-left-out"),
    path("yarn/photos/<slug:name>/", photo_views.photo, name="photo"),
    path("yarn/packages/<int:pk>/photo/", photo_views.package_photo, name="package-photo"),
    path("yarn/file/", file_views.yarn_file, name="yarn-file"),
    path("yarn/file/packages.csv", file_views.yarn_file_down, {"kind": "csv"}, name="yarn-file-csv"),
    path("yarn/file/packages.xlsx", file_views.yarn_file_down, {"kind": "xlsx"}, name="yarn-file-xlsx"),
    path("yarn/file/<slug:key>/", file_views.yarn_file_seen, name="yarn-file-seen"),
    path("api/yarns/", api.yarns, name="api-yarns"),
    path("api/yarns/<int:pk>/", api.yarn, name="api-yarn"),
]
