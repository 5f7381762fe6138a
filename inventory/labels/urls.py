"""Addresses of yarn labels."""

from django.urls import path

from inventory.labels import views

urlpatterns = [
    path("yarn/labels/", views.choose, name="yarn-labels"),
    path("yarn/labels/labels.pdf", views.labels_pdf, name="yarn-labels-pdf"),
    path("yarn/labels/print/", views.labels_print, name="yarn-labels-print"),
]
