"""Addresses of the calendar: looms by days, seats and tools by hours, the queue, and the rules of reserving."""

from django.urls import URLPattern, path

from studio.deeds_of_looms import DEEDS
from studio.views import reservations, waiting, weeks

urlpatterns: list[URLPattern] = [
    path("looms/week/", weeks.week, name="week"),
    path("looms/month/", weeks.month, name="month"),
    path("looms/free/", weeks.free, name="free-looms"),
    path("looms/<int:pk>/reserve/", reservations.reserve, name="reserve"),
    path("looms/<int:pk>/wait/", waiting.queue_join, name="queue-join"),
    path("queue/<int:pk>/leave/", waiting.queue_leave, name="queue-leave"),
    path("reservations/<int:pk>/", reservations.occupancy, name="occupancy"),
    path("reservations/<int:pk>/step/", reservations.step, name="occupancy-step"),
    path("reservations/<int:pk>/take-up/", reservations.take_up, name="occupancy-take-up"),
    path("reservations/<int:pk>/offer/", reservations.offer, name="occupancy-offer"),
    *(
        path(f"reservations/<int:pk>/{word}/", reservations.deed, {"word": word}, name=f"occupancy-{word}")
        for word in DEEDS
    ),
    path("reservations/<int:pk>/seats/", reservations.seat_book, name="seat-book"),
    path("seats/<int:pk>/cancel/", reservations.seat_cancel, name="seat-cancel"),
    path("stations/week/", weeks.tools, name="tools-week"),
    path("stations/book/", waiting.tool_book, name="tool-book"),
    path("tool-bookings/<int:pk>/cancel/", waiting.tool_cancel, name="tool-cancel"),
    path("rules/reserving/", waiting.booking_rules_page, name="booking-rules"),
]
