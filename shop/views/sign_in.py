"""Signing in and out, staying signed in, and choosing a password."""

from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from axes.decorators import axes_dispatch
from django import forms
from django.contrib.auth import authenticate, login, logout, update_session_auth_hash
from django.core import signing
from django.http import HttpRequest, HttpResponse, HttpResponseBase, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST

from inventory.errors import BadInput
from shop.middleware import SessionClock
from shop.models import House, StaffMember
from shop.permissions import actor_for
from shop.services import staff

KEPT_S = 3600  # how long a deed waits for its person to sign in again
KEPT_SALT = "shop.kept-deed"


class SignInForm(forms.Form):
    """Name and password."""

    username = forms.CharField(
        label=lazy("name"),
        max_length=150,
        widget=forms.TextInput(
            attrs={
                "autocomplete": "username",
                "autofocus": True,
                "autocapitalize": "none",
                "spellcheck": "false",
            }
        ),
        error_messages={"required": lazy("Write your name.")},
    )
    password = forms.CharField(
        label=lazy("password"),
        max_length=1000,
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
        error_messages={"required": lazy("Write your password.")},
    )


class PasswordForm(forms.Form):
    """The present password and the one to come."""

    old = forms.CharField(
        label=lazy("present password"),
        max_length=1000,
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
        error_messages={"required": lazy("Write your present password.")},
    )
    new = forms.CharField(
        label=lazy("new password"),
        max_length=1000,
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
        error_messages={"required": lazy("Write the password that you want from now on.")},
    )


def ask(request: HttpRequest) -> HttpResponse:
    """Ask who it is; what was being done is kept: a page to go to, or a deed to do after signing in."""
    if getattr(request, "htmx", False):
        return render(request, "shop/sign_in.html#form", {"form": SignInForm(auto_id="again_%s")}, status=401)
    if request.method == "GET":
        query = QueryDict(mutable=True)
        query["next"] = request.get_full_path()
        return redirect(f"{reverse('sign_in')}?{query.urlencode(safe='/')}")
    return _page(request, SignInForm(), kept=_keep(request), status=401)


@sensitive_post_parameters("password")
@axes_dispatch
@require_http_methods(["GET", "HEAD", "POST"])
def sign_in(request: HttpRequest) -> HttpResponseBase:
    """Open a session, then go to where the person was going."""
    if request.method != "POST":
        return _page(request, SignInForm(), next_page=request.GET.get("next", ""))
    is_fragment = bool(getattr(request, "htmx", False))
    form = SignInForm(request.POST, auto_id="again_%s" if is_fragment else "id_%s")
    if form.is_valid():
        user = authenticate(request, **form.cleaned_data)
        if isinstance(user, StaffMember):
            login(request, user)
            SessionClock.prolong(request)
            return _entered(request, is_fragment=is_fragment)
        form.add_error(None, _("Name and password do not match."))
    return _again(request, form, status=401)


@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """Close the session."""
    logout(request)
    return redirect("sign_in")


@require_POST
def stay(request: HttpRequest) -> HttpResponse:
    """Prolong the session."""
    if not request.user.is_authenticated:
        return HttpResponse(status=401)
    SessionClock.prolong(request)
    return HttpResponse(status=204)


@sensitive_post_parameters("old", "new")
@require_http_methods(["GET", "HEAD", "POST"])
def password(request: HttpRequest) -> HttpResponse:
    """Choose a password of one's own."""
    user = request.user
    if not isinstance(user, StaffMember):
        return ask(request)
    form = PasswordForm(request.POST or None)
    if form.is_valid():
        try:
            changed = staff.change_password(user.get_username(), actor=actor_for(user), **form.cleaned_data)
        except BadInput as refusal:
            for fault in refusal.errors:
                form.add_error(fault.pointer.strip("/"), fault.detail)
        else:
            update_session_auth_hash(request, changed)
            return redirect("home")
    status = 422 if form.errors else 200
    return render(
        request, "shop/password.html", {"form": form, "must": user.must_change_password}, status=status
    )


def locked_out(request: HttpRequest, *, name: str, again_at: datetime) -> HttpResponse:
    """The sign-in page after too many tries: why, and when the next one counts."""
    local = again_at.astimezone(ZoneInfo(House.current().timezone))
    form = SignInForm({"username": name, "password": "-"})
    form.is_valid()
    form.add_error(
        None,
        _("Too many failed tries for this name from this machine. Try again at %(local)s.")
        % {"local": f"{local:%H:%M:%S}"},
    )
    answer = _again(request, form, status=429)
    seconds = (again_at - datetime.now(again_at.tzinfo)).total_seconds()
    answer["Retry-After"] = str(max(int(seconds) + 1, 1))
    return answer


def _entered(request: HttpRequest, *, is_fragment: bool) -> HttpResponse:
    if is_fragment:
        return HttpResponse(status=204)
    if kept := request.POST.get("kept"):
        return _carry_on(request, kept)
    following = request.POST.get("next", "")
    if url_has_allowed_host_and_scheme(following, {request.get_host()}, require_https=request.is_secure()):
        return redirect(following)
    return redirect("home")


def _again(request: HttpRequest, form: SignInForm, *, status: int) -> HttpResponse:
    if getattr(request, "htmx", False):
        return render(request, "shop/sign_in.html#form", {"form": form}, status=status)
    kept, following = request.POST.get("kept", ""), request.POST.get("next", "")
    return _page(request, form, next_page=following, kept=kept, status=status)


def _page(
    request: HttpRequest, form: SignInForm, *, next_page: str = "", kept: str = "", status: int = 200
) -> HttpResponse:
    context = {"form": form, "next": next_page, "kept": kept}
    return render(request, "shop/sign_in.html", context, status=status)


def _keep(request: HttpRequest) -> str:
    fields = [(name, value) for name in request.POST for value in request.POST.getlist(name)]
    kept = [pair for pair in fields if pair[0] != "csrfmiddlewaretoken"]
    return signing.dumps({"to": request.get_full_path(), "fields": kept}, salt=KEPT_SALT, compress=True)


def _carry_on(request: HttpRequest, kept: str) -> HttpResponse:
    try:
        deed: dict[str, Any] = signing.loads(kept, salt=KEPT_SALT, max_age=KEPT_S)
    except signing.BadSignature:
        return redirect("home")
    context = {"address": deed["to"], "fields": deed["fields"], "back": reverse("home")}
    return render(request, "shop/carry_on.html", context)
