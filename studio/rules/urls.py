"""Addresses of the rules."""

from django.urls import URLPattern, path

from studio.rules import views

urlpatterns: list[URLPattern] = [
    path("rules/", views.rules, name="rules"),
    path("rules/reserving/", views.booking_rules_page, name="booking-rules"),
]
