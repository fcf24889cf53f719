"""Every address of the API."""

from django.urls import URLPattern, path, re_path
from drf_spectacular.views import SpectacularAPIView

from shop.api import (
    documents,
    facts,
    house,
    items,
    lots,
    mixes,
    orders,
    plans,
    prints,
    quotes,
    sign_in,
    standard_kits,
    stock,
    workings,
)
from shop.api.nowhere import Nowhere
from shop.api.schema import SchemaPage

CODE = r"(?P<code>[A-Za-z0-9][A-Za-z0-9._-]*)"
JOB = r"(?P<pk>[0-9]{1,15})"
NAME = r"(?P<name>[a-z0-9_.]+)"
KIND = r"(?P<kind>[a-z]+)"
FIELD = r"(?P<field>[A-Za-z0-9_]+)"
NUMBER = r"(?P<number>[0-9]{1,15}[A-Z])"

urlpatterns: list[URLPattern] = [
    path("", SchemaPage.as_view(url_name="api-schema"), name="api"),
    path("schema/", SpectacularAPIView.as_view(), name="api-schema"),
    path("sign-in/", sign_in.SignIn.as_view()),
    path("sign-out/", sign_in.SignOut.as_view()),
    path("password/", sign_in.Password.as_view()),
    path("me/", sign_in.Me.as_view()),
    path("house/", house.OneHouse.as_view()),
    path("plans/", plans.Plans.as_view()),
    path("quotes/", quotes.Quotes.as_view()),
    re_path(rf"^quotes/{NUMBER}/$", quotes.OneQuote.as_view()),
    re_path(rf"^quotes/{NUMBER}/hold/$", quotes.QuoteHold.as_view()),
    re_path(rf"^quotes/{NUMBER}/release/$", quotes.QuoteRelease.as_view()),
    re_path(rf"^quotes/{NUMBER}/accept/$", quotes.QuoteAccept.as_view()),
    re_path(rf"^quotes/{NUMBER}/withdraw/$", quotes.QuoteWithdraw.as_view()),
    re_path(rf"^quotes/{NUMBER}/discount/$", quotes.QuoteDiscount.as_view()),
    re_path(rf"^quotes/{NUMBER}/build-sheet\.pdf$", documents.QuoteBuildSheet.as_view()),
    re_path(rf"^quotes/{NUMBER}/quote\.pdf$", documents.QuotePaper.as_view()),
    re_path(rf"^quotes/{NUMBER}/kit-label\.pdf$", documents.QuoteKitLabel.as_view()),
    re_path(rf"^quotes/{NUMBER}/calendar\.ics$", documents.QuoteCalendar.as_view()),
    path("orders/", orders.Orders.as_view()),
    re_path(rf"^orders/{NUMBER}/$", orders.OneOrder.as_view()),
    re_path(rf"^orders/{NUMBER}/hold/$", orders.OrderHold.as_view()),
    re_path(rf"^orders/{NUMBER}/hand-over/$", orders.HandOver.as_view()),
    re_path(rf"^orders/{NUMBER}/return/$", orders.Return.as_view()),
    re_path(rf"^orders/{NUMBER}/cancel/$", orders.Cancel.as_view()),
    path("items/", items.Items.as_view()),
    re_path(rf"^items/{CODE}/$", items.OneItem.as_view()),
    re_path(rf"^items/{CODE}/label\.pdf$", documents.ItemLabel.as_view()),
    re_path(rf"^facts/{KIND}/$", facts.Facts.as_view()),
    re_path(rf"^facts/{KIND}/{CODE}/$", facts.OneFactSheet.as_view()),
    re_path(rf"^facts/{KIND}/{CODE}/{FIELD}/$", facts.OneFigure.as_view()),
    path("receipts/", stock.Receipts.as_view()),
    path("adjustments/", stock.Adjustments.as_view()),
    path("counts/", stock.Counts.as_view()),
    path("moves/", stock.Moves.as_view()),
    re_path(rf"^lots/{CODE}/trace/$", lots.LotTrace.as_view()),
    re_path(rf"^lots/{CODE}/quarantine/$", lots.LotQuarantine.as_view()),
    re_path(rf"^lots/{CODE}/release/$", lots.LotRelease.as_view()),
    path("mixes/", mixes.Mixes.as_view()),
    path("mixes/design/", mixes.MixDesigns.as_view()),
    re_path(rf"^mixes/{CODE}/$", mixes.OneMix.as_view()),
    path("print-jobs/", prints.PrintJobs.as_view()),
    re_path(rf"^print-jobs/{JOB}/$", prints.OnePrintJob.as_view()),
    re_path(rf"^print-jobs/{JOB}/cancel/$", prints.PrintJobCancel.as_view()),
    re_path(rf"^print-jobs/{JOB}/resume/$", prints.PrintJobResume.as_view()),
    re_path(rf"^print-jobs/{JOB}/print\.pdf$", prints.PrintJobFile.as_view()),
    path("standard-kits/", standard_kits.StandardKits.as_view()),
    re_path(rf"^standard-kits/{CODE}/$", standard_kits.OneStandardKit.as_view()),
    path("workings/", workings.Workings.as_view()),
    re_path(rf"^workings/{NAME}/$", workings.OneWorking.as_view()),
    re_path(r"^.*$", Nowhere.as_view()),
]
