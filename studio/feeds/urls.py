"""Addresses of private calendars."""

from django.urls import URLPattern, path

from studio.feeds import views

urlpatterns: list[URLPattern] = [
    path("me/calendars/", views.feeds, name="my-feeds"),
    path("me/calendars/<int:pk>/take-back/", views.feed_revoke, name="feed-revoke"),
    path("calendars/<str:secret>.ics", views.feed, name="feed"),
]
