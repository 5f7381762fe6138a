"""Addresses of the wanted list."""

from django.urls import path

from planner import wanted_views

urlpatterns = [
    path("warps/wanted/", wanted_views.wanted, name="wanted"),
    path("warps/wanted/<int:pk>/", wanted_views.wanted_change, name="wanted-change"),
]
