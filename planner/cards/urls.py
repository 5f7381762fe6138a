"""Addresses of cards; the short one is what the QR code on a card holds."""

from django.urls import path

from planner.cards import views

urlpatterns = [
    path("warps/<int:pk>/cards/", views.issue, name="cards-issue"),
    path("cards/<int:number>/", views.card, name="card"),
    path("cards/<int:number>/card.pdf", views.card_pdf, name="card-pdf"),
    path("cards/<int:number>/print/", views.card_print, name="card-print"),
]
