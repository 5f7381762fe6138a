"""Addresses of import and export."""

from django.urls import path

from inventory.files import views

urlpatterns = [
    path("yarn/file/", views.yarn_file, name="yarn-file"),
    path("yarn/file/packages.csv", views.yarn_file_down, {"kind": "csv"}, name="yarn-file-csv"),
    path("yarn/file/packages.xlsx", views.yarn_file_down, {"kind": "xlsx"}, name="yarn-file-xlsx"),
    path("yarn/file/<slug:key>/", views.yarn_file_seen, name="yarn-file-seen"),
]
