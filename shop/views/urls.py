"""Every address of the screens."""

from django.urls import URLPattern, path, re_path

from shop.views import facts, finding, home, items, mixes, orders, prints, quotes, shelf, sign_in, workings

NUMBER = r"(?P<number>[0-9]{1,15}[A-Z])"
CODE = r"(?P<code>[A-Za-z0-9][A-Za-z0-9._-]*)"
DEED = r"(?P<deed>[a-z-]+)"

urlpatterns: list[URLPattern] = [
    path("", home.home, name="home"),
    path("sign-in/", sign_in.sign_in, name="sign_in"),
    path("sign-out/", sign_in.sign_out, name="sign_out"),
    path("stay/", sign_in.stay, name="stay"),
    path("password/", sign_in.password, name="password"),
    path("find/", finding.find, name="find"),
    path("quotes/", quotes.listing, name="quotes"),
    re_path(rf"^quotes/{NUMBER}/$", quotes.page, name="quote"),
    re_path(rf"^quotes/{NUMBER}/{DEED}/$", quotes.deed, name="quote_deed"),
    path("orders/", orders.listing, name="orders"),
    re_path(rf"^orders/{NUMBER}/$", orders.page, name="order"),
    re_path(rf"^orders/{NUMBER}/{DEED}/$", orders.deed, name="order_deed"),
    path("prints/", prints.listing, name="prints"),
    path("prints/order/", prints.order, name="print_order"),
    path("prints/<int:pk>/", prints.one, name="print"),
    path("prints/<int:pk>/<slug:deed>/", prints.deed, name="print_deed"),
    path("workings/", workings.listing, name="workings"),
    re_path(r"^workings/(?P<name>[a-z_]+\.[a-z_0-9]+)/$", workings.one, name="working"),
    path("facts/", facts.listing, name="all_facts"),
    re_path(r"^facts/(?P<kind>[a-z]+)/$", facts.listing, name="facts"),
    re_path(rf"^facts/(?P<kind>[a-z]+)/{CODE}/$", facts.one, name="fact"),
    path("shelf/", shelf.listing, name="shelf"),
    re_path(rf"^shelf/{CODE}/$", items.page, name="item"),
    re_path(rf"^shelf/{CODE}/{DEED}/$", items.deed, name="item_deed"),
    path("mixes/", mixes.listing, name="mixes"),
    re_path(rf"^mixes/{CODE}/$", mixes.page, name="mix"),
]
