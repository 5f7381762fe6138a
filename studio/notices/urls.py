"""Addresses of notices."""

from django.urls import URLPattern, path

from studio.notices import views

urlpatterns: list[URLPattern] = [
    path("me/notices/", views.my_notices, name="my-notices"),
    path("notices/", views.notices, name="notices"),
    path("notices/seen/", views.all_seen, name="notices-seen"),
    path("notices/<int:pk>/seen/", views.notice_seen, name="notice-seen"),
]
