"""Addresses of the ledger."""

from django.urls import path

from inventory.ledger import statement_views, views

urlpatterns = [
    path("yarn/statement/", statement_views.my_statement, name="my-yarn-statement"),
    path("yarn/statement/<int:pk>/", statement_views.statement, name="yarn-statement"),
    path("yarn/ledger/<int:pk>/", views.package_history, name="package-history"),
    path("yarn/ledger/moves/<int:pk>/reverse/", views.move_reverse, name="move-reverse"),
]
