"""Every address of the screens."""

from django.urls import URLPattern, path

from shop.views import finding, home, sign_in

urlpatterns: list[URLPattern] = [
    path("", home.home, name="home"),
    path("sign-in/", sign_in.sign_in, name="sign_in"),
    path("sign-out/", sign_in.sign_out, name="sign_out"),
    path("stay/", sign_in.stay, name="stay"),
    path("password/", sign_in.password, name="password"),
    path("find/", finding.find, name="find"),
]
