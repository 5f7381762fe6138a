"""Addresses of a warp's yarn and of the wanted list."""

from django.urls import path

from planner.yarn import account_views, enough_views, views, wanted_views

urlpatterns = [
    path("warps/<int:pk>/yarn/", views.warp_yarn, name="warp-yarn"),
    path("warps/<int:pk>/yarn/back/", views.warp_yarn_back, name="warp-yarn-back"),
    path("warps/enough/", enough_views.warps_enough, name="warps-enough"),
    path("warps/<int:pk>/yarn/enough/", enough_views.warp_enough, name="warp-enough"),
    path("warps/<int:pk>/yarn/want/", views.warp_yarn_want, name="warp-yarn-want"),
    path("warps/<int:pk>/yarn/account/", account_views.warp_account, name="warp-account"),
    path("warps/<int:pk>/yarn/account/close/", account_views.warp_account_close, name="warp-account-close"),
    path("warps/wanted/", wanted_views.wanted, name="wanted"),
    path("warps/wanted/<int:pk>/", wanted_views.wanted_change, name="wanted-change"),
]
