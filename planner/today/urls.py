"""Addresses of the pages that read from every package."""

from django.urls import path

from planner.today import views

urlpatterns = [
    path("", views.today, name="today"),
    path("search/", views.search, name="search"),
]
