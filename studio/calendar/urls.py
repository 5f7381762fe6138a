"""Addresses of the calendar: looms by days, seats and tools by hours, and the waiting list."""

from django.urls import URLPattern, path

from studio.calendar import views, waiting_views, week_views
from studio.calendar.actions import LOOM_ACTIONS

urlpatterns: list[URLPattern] = [
    path("looms/week/", week_views.week, name="week"),
    path("looms/month/", week_views.month, name="month"),
    path("looms/free/", week_views.free, name="free-looms"),
    path("looms/<int:pk>/reserve/", views.reserve, name="reserve"),
    path("looms/<int:pk>/wait/", waiting_views.queue_join, name="queue-join"),
    path("queue/<int:pk>/leave/", waiting_views.queue_leave, name="queue-leave"),
    path("reservations/<int:pk>/", views.reservation, name="occupancy"),
    path("reservations/<int:pk>/step/", views.step, name="occupancy-step"),
    path("reservations/<int:pk>/take-up/", views.take_up, name="occupancy-take-up"),
    path("reservations/<int:pk>/offer/", views.offer, name="occupancy-offer"),
    *(
        path(f"reservations/<int:pk>/{word}/", views.loom_action, {"word": word}, name=f"occupancy-{word}")
        for word in LOOM_ACTIONS
    ),
    path("reservations/<int:pk>/seats/", views.seat_book, name="seat-book"),
    path("seats/<int:pk>/cancel/", views.seat_cancel, name="seat-cancel"),
    path("stations/week/", week_views.tools, name="tools-week"),
    path("stations/book/", waiting_views.tool_book, name="tool-book"),
    path("tool-bookings/<int:pk>/cancel/", waiting_views.tool_cancel, name="tool-cancel"),
]
