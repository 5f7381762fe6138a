"""Addresses of the yarn room."""

from django.urls import path

from inventory import api, label_views, ledger_api, ledger_views, scale_views, statement_views, views, wall_views

urlpatterns = [
    path("yarn/", views.yarn_room, name="yarn-room"),
    path("yarn/colours/", wall_views.colours, name="yarn-colours"),
    path("yarn/low/", wall_views.low, name="yarn-low"),
    path("yarn/bins/", wall_views.bin_list, name="yarn-bins"),
    path("yarn/bins/one/", wall_views.bin_page, name="yarn-bin"),
    path("yarn/labels/", label_views.choose, name="yarn-labels"),
    path("yarn/labels/labels.pdf", label_views.labels_pdf, name="yarn-labels-pdf"),
    path("yarn/labels/print/", label_views.labels_print, name="yarn-labels-print"),
    path("yarn/statement/", statement_views.my_statement, name="my-yarn-statement"),
    path("yarn/statement/<int:pk>/", statement_views.statement, name="yarn-statement"),
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
