"""Address of the studio's rules."""

from django.urls import URLPattern, path

from studio.rules import views

urlpatterns: list[URLPattern] = [
    path("rules/", views.rules, name="rules"),
]
