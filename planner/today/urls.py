"""Addresses of the pages that see the whole house."""

from django.urls import path

from planner.today import views

urlpatterns = [
    path("", views.today, name="today"),
    path("search/", views.search, name="search"),
]
