"""Addresses of warps, their sheets, and the plan by the API."""

from django.urls import path

from planner.sheet import views
from planner.sheet.api import PlanView

urlpatterns = [
    path("warps/", views.warps, name="warps"),
    path("warps/new/", views.warp_new, name="warp-new"),
    path("warps/plan/", views.plan, name="warp-plan"),
    path("warps/<int:pk>/", views.warp, name="warp"),
    path("warps/<int:pk>/copy/", views.warp_copy, name="warp-copy"),
    path("warps/<int:pk>/other-beam/", views.warp_other_beam, name="warp-other-beam"),
    path("warps/<int:pk>/archive/", views.warp_archive, name="warp-archive"),
    path("warps/<int:pk>/delete/", views.warp_delete, name="warp-delete"),
    path("api/plan/", PlanView.as_view(), name="api-plan"),
]
