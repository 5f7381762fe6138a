"""Addresses of check lists, faults and upkeep."""

from django.urls import URLPattern, path

from studio.care import check_views, views

urlpatterns: list[URLPattern] = [
    path("reservations/<int:pk>/checks/", check_views.checks, name="loom-checks"),
    path("reservations/<int:pk>/checks/<str:moment>/", check_views.check_fill, name="check-fill"),
    path("checks/<int:pk>/photo/", check_views.check_photo, name="check-photo"),
    path("check-lists/", check_views.points, name="check-points"),
    path("check-lists/new/", check_views.point_new, name="check-point-new"),
    path("check-lists/<int:pk>/change/", check_views.point_edit, name="check-point-edit"),
    path("looms/<int:pk>/care/", views.loom_care, name="loom-care"),
    path("looms/<int:pk>/faults/new/", views.fault_new, name="fault-new"),
    path("faults/<int:pk>/mended/", views.fault_mended, name="fault-mended"),
    path("faults/<int:pk>/photo/", views.fault_photo, name="fault-photo"),
    path("looms/<int:pk>/upkeep/new/", views.job_new, name="job-new"),
    path("looms/<int:pk>/upkeep/usual/", views.usual_jobs, name="jobs-usual"),
    path("upkeep/", views.upkeep, name="upkeep"),
    path("upkeep/<int:pk>/change/", views.job_edit, name="job-edit"),
    path("upkeep/<int:pk>/done/", views.job_done, name="job-done"),
]
