"""Addresses of the planner's API."""

from django.urls import path

from planner.api import PlanView

urlpatterns = [
    path("api/plan/", PlanView.as_view(), name="api-plan"),
]
