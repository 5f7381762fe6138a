"""Addresses of a warp's yarn."""

from django.urls import path

from planner import account_views, enough_views, shelf_views

urlpatterns = [
    path("warps/<int:pk>/yarn/", shelf_views.warp_yarn, name="warp-yarn"),
    path("warps/<int:pk>/yarn/back/", shelf_views.warp_yarn_back, name="warp-yarn-back"),
    path("warps/enough/", enough_views.warps_enough, name="warps-enough"),
    path("warps/<int:pk>/yarn/enough/", enough_views.warp_enough, name="warp-enough"),
    path("warps/<int:pk>/yarn/want/", shelf_views.warp_yarn_want, name="warp-yarn-want"),
    path("warps/<int:pk>/yarn/account/", account_views.warp_account, name="warp-account"),
    path("warps/<int:pk>/yarn/account/close/", account_views.warp_account_close, name="warp-account-close"),
]
