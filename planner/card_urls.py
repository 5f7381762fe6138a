"""Addresses of cards; the short one is what the QR code on a card holds."""

from django.urls import path

from planner import card_views

urlpatterns = [
    path("warps/<int:pk>/cards/", card_views.issue, name="cards-issue"),
    path("cards/<int:number>/", card_views.card, name="card"),
    path("cards/<int:number>/card.pdf", card_views.card_pdf, name="card-pdf"),
    path("cards/<int:number>/print/", card_views.card_print, name="card-print"),
]
