"""Every address of the worktable."""

from django.urls import URLPattern, path

from shop.views import worktable

urlpatterns: list[URLPattern] = [
    path("", worktable.begin, name="worktable"),
    path("offers/", worktable.offers, name="worktable_offers"),
    path("<int:pk>/", worktable.table, name="table"),
    path("<int:pk>/news/", worktable.news, name="table_news"),
    path("<int:pk>/workings/<slug:figure>/", worktable.working, name="table_working"),
    path("<int:pk>/build-sheet.pdf", worktable.draft_sheet, name="table_sheet"),
]
