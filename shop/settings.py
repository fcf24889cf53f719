"""All settings of Kitwright, each with a default that is safe for one machine.

docker/env.example explains those that the environment can set. Nothing has to be set: without an
environment the data folder's embedded servers are used, and keys and passwords are made there once.
"""

import os
import sys
from pathlib import Path
from typing import Any
from urllib.parse import quote, unquote

from csp.constants import NONE, SELF

from shop.runtime import postgres, valkey
from shop.runtime.folder import data_folder
from shop.runtime.surroundings import Surroundings

# Before it loads: the drawing library would check every attribute of every shape, a quarter of its time.
os.environ.setdefault("RL_shapeChecking", "0")

env = Surroundings()

BASE_DIR = Path(__file__).resolve().parent.parent
DATA = data_folder()
TESTING = "pytest" in sys.modules

DEBUG = env.switch("KITWRIGHT_DEBUG", default=False)
SECRET_KEY = env.str("KITWRIGHT_SECRET_KEY", default="") or DATA.secret("django-secret-key")
ALLOWED_HOSTS = env.list("KITWRIGHT_HOSTS", default=["localhost", "127.0.0.1", "[::1]"])
CSRF_TRUSTED_ORIGINS = env.list("KITWRIGHT_ORIGINS", default=[])

INSTALLED_APPS = [
    "shop",
    "kits",
    "inventory",
    "django.contrib.admin",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.messages",
    "django.contrib.postgres",
    "django.contrib.sessions",
    "django.contrib.staticfiles",
    "rest_framework",
    "rest_framework.authtoken",
    "drf_spectacular",
    "drf_spectacular_sidecar",
    "axes",
    "django_htmx",
    "template_partials",
    *(["zeal"] if TESTING else []),  # Finds a query per row; part of the test extra only.
]

MIDDLEWARE = [
    "shop.middleware.RequestId",
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "csp.middleware.CSPMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.locale.LocaleMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "shop.middleware.PagePolicies",
    "shop.middleware.SessionClock",
    "axes.middleware.AxesMiddleware",
    *(["zeal.middleware.zeal_middleware"] if TESTING else []),
]

ROOT_URLCONF = "shop.urls"
WSGI_APPLICATION = "shop.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "shop.views.frame.frame",
            ],
        },
    },
]


def _database() -> dict[str, Any]:
    if os.environ.get("DATABASE_URL") or os.environ.get("DATABASE_URL_FILE"):
        found = env.database("DATABASE_URL")
        return found | {
            "HOST": unquote(found["HOST"])
        }  # A socket's folder stands there as %2Frun%2Fpostgresql.
    return {
        "ENGINE": "django.db.backends.postgresql",
        "NAME": postgres.DATABASE,
        "USER": postgres.USER,
        "PASSWORD": DATA.secret("database-password"),
        "HOST": str(DATA.sockets),
        "PORT": str(postgres.PORT),
    }


EMBEDDED_DATABASE = not (os.environ.get("DATABASE_URL") or os.environ.get("DATABASE_URL_FILE"))
DATABASES = {"default": _database() | {"CONN_MAX_AGE": 600, "CONN_HEALTH_CHECKS": True}}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

EMBEDDED_BROKER = not (os.environ.get("REDIS_URL") or os.environ.get("REDIS_URL_FILE"))
REDIS_URL = env.str("REDIS_URL", default="")
if EMBEDDED_BROKER:
    _password = quote(DATA.secret("valkey-password"), safe="")
    REDIS_URL = f"unix://:{_password}@{DATA.sockets / valkey.SOCKET}"
CELERY_BROKER_URL = REDIS_URL.replace("unix://", "redis+socket://", 1)
CELERY_BROKER_TRANSPORT_OPTIONS = {
    "visibility_timeout": 600
}  # A task of a killed worker comes back after it.
CELERY_BROKER_CONNECTION_RETRY_ON_STARTUP = True
CELERY_TASK_ACKS_LATE = True
CELERY_TASK_REJECT_ON_WORKER_LOST = True
CELERY_TASK_IGNORE_RESULT = True
CELERY_WORKER_PREFETCH_MULTIPLIER = 1
CELERY_WORKER_HIJACK_ROOT_LOGGER = False
CELERY_TASK_TIME_LIMIT = 600
CELERY_TIMEZONE = "UTC"
CELERY_BEAT_SCHEDULE: dict[str, dict[str, Any]] = {
    "heartbeat": {"task": "shop.tasks.heartbeat", "schedule": 10.0},
    "nightly-backup": {"task": "shop.tasks.back_up_nightly", "schedule": 900.0},
    "lapse-holds": {"task": "inventory.tasks.lapse_overdue_holds", "schedule": 60.0},
    "send-outbox": {"task": "inventory.tasks.send_outbox", "schedule": 3.0},
    "forget-old-prints": {"task": "shop.tasks.forget_old_prints", "schedule": 3600.0},
    "lapse-quotes": {"task": "shop.tasks.lapse_quotes", "schedule": 60.0},
    "expire-lots": {"task": "inventory.tasks.expire_lots", "schedule": 3600.0},
    "forget-old-sign-ins": {"task": "shop.tasks.forget_old_sign_ins", "schedule": 86400.0},
    "forget-old-sessions": {"task": "shop.tasks.forget_old_sessions", "schedule": 86400.0},
    "forget-old-messages": {"task": "inventory.tasks.forget_old_messages", "schedule": 3600.0},
}

START_EMPTY = env.switch("KITWRIGHT_EMPTY", default=False)  # A new database gets no demo shop.

# Which task hears of which event that the stock ledger tells (topic -> task name).
OUTBOX_HANDLERS = {
    "hold.shortened": "shop.tasks.look_after_demand",
    "hold.lapsed": "shop.tasks.look_after_demand",
    "want.filled": "shop.tasks.look_after_demand",
    "print.ordered": "shop.tasks.draw_print",
}

SHOP_DAY = "shop.selectors.house.shop_date"  # Best-before days end with the shop's day, not with UTC's.

BACKUP_FOLDER = Path(env.str("KITWRIGHT_BACKUPS", default="") or DATA.path / "backups")
BACKUPS_KEPT = env.int("KITWRIGHT_BACKUPS_KEPT", default=14)
BACKUP_HOURS = 24

AUTH_USER_MODEL = "shop.StaffMember"
AUTHENTICATION_BACKENDS = ["axes.backends.AxesStandaloneBackend", "shop.backends.StaffBackend"]
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.Argon2PasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"django.contrib.auth.password_validation.{name}"}
    for name in (
        "UserAttributeSimilarityValidator",
        "MinimumLengthValidator",
        "CommonPasswordValidator",
        "NumericPasswordValidator",
    )
]
LOGIN_URL = "/sign-in/"
CSRF_FAILURE_VIEW = "shop.views.door.out_of_date"
AXES_FAILURE_LIMIT = 8
AXES_COOLOFF_TIME = 0.25  # hours
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_RESET_ON_SUCCESS = True
AXES_VERBOSE = False
AXES_RESET_COOL_OFF_ON_FAILURE_DURING_LOCKOUT = False  # The time that a person was told stays true.
AXES_LOCKOUT_CALLABLE = "shop.lockouts.answer"

LANGUAGE_CODE = "en"
LANGUAGES = [("en", "English")]  # A translation is one more row here and its django.mo in shop/locale.
LOCALE_PATHS = [BASE_DIR / "shop" / "locale"]
TIME_ZONE = "UTC"  # Stored and computed in UTC; the shop's own zone is a setting of the house.
USE_I18N = True
USE_TZ = True

STATIC_URL = "/static/"
STATIC_ROOT = Path(env.str("KITWRIGHT_STATIC", default="") or DATA.path / "static")
WHITENOISE_USE_FINDERS = True
WHITENOISE_AUTOREFRESH = DEBUG or TESTING  # A test has no collected files to index.

# The shop's own page of a kit, e.g. https://shop.example/kit/{number}: printed as a QR code when it is HTTPS.
CUSTOMER_PAGE = env.str("KITWRIGHT_CUSTOMER_PAGE", default="")
PRINT_FOLDER = Path(env.str("KITWRIGHT_PRINTS", default="") or DATA.path / "prints")

HTTPS = env.switch("KITWRIGHT_HTTPS", default=False)
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if HTTPS else None
SECURE_SSL_REDIRECT = HTTPS
SECURE_REDIRECT_EXEMPT = [r"^healthz$"]
SECURE_HSTS_SECONDS = 31_536_000 if HTTPS else 0
SESSION_COOKIE_SECURE = HTTPS
CSRF_COOKIE_SECURE = HTTPS
SESSION_COOKIE_SAMESITE = "Lax"
SESSION_COOKIE_AGE = env.int("KITWRIGHT_SESSION_MINUTES", default=12 * 60) * 60
SESSION_COOKIE_HTTPONLY = True
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [SELF],
        "script-src": [SELF],
        "style-src": [SELF],
        "connect-src": [SELF],
        "object-src": [NONE],
        "base-uri": [NONE],
        "frame-ancestors": [NONE],
        "form-action": [SELF],
        "img-src": [SELF, "data:"],
    },
}
DATA_UPLOAD_MAX_MEMORY_SIZE = 5 * 1024 * 1024

REST_FRAMEWORK: dict[str, Any] = {
    "DEFAULT_SCHEMA_CLASS": "drf_spectacular.openapi.AutoSchema",
    "DEFAULT_AUTHENTICATION_CLASSES": [
        "shop.api.authentication.ProgramToken",
        "shop.api.authentication.SignedIn",
    ],
    "DEFAULT_PERMISSION_CLASSES": ["rest_framework.permissions.IsAuthenticated"],
    "DEFAULT_RENDERER_CLASSES": ["rest_framework.renderers.JSONRenderer"],
    "DEFAULT_PARSER_CLASSES": ["shop.api.parsers.StrictJSONParser"],
    "EXCEPTION_HANDLER": "shop.api.problems.handle",
    "URL_FORMAT_OVERRIDE": None,  # `?format=` would choose a renderer that is not there.
}
SPECTACULAR_SETTINGS: dict[str, Any] = {
    "TITLE": "Kitwright",
    "DESCRIPTION": "From a build spec to a plan, a quote, held stock and goods handed over.",
    "VERSION": "0.1.0",
    "OAS_VERSION": "3.1.0",
    "SWAGGER_UI_DIST": "SIDECAR",
    "SWAGGER_UI_FAVICON_HREF": "SIDECAR",
    "REDOC_DIST": "SIDECAR",
    "SERVE_INCLUDE_SCHEMA": False,
    "COMPONENT_SPLIT_REQUEST": True,
    "ENUM_NAME_OVERRIDES": {
        "PrintState": ["queued", "running", "done", "cancelled", "failed"],
        "QuoteState": ["open", "accepted", "lapsed", "withdrawn"],
        "OrderState": ["held", "picking", "packed", "sent", "collected", "cancelled"],
        "LotState": ["good", "quarantined", "expired", "spent"],
    },
}

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "filters": {"request_id": {"()": "shop.middleware.RequestIdFilter"}},
    "formatters": {"line": {"format": "%(asctime)s %(levelname)s %(name)s %(request_id)s %(message)s"}},
    "handlers": {
        "stderr": {"class": "logging.StreamHandler", "formatter": "line", "filters": ["request_id"]}
    },
    "root": {"handlers": ["stderr"], "level": env.str("KITWRIGHT_LOG_LEVEL", default="WARNING")},
}

# Session and person are read once for each request, and the house's one row by whoever needs a setting
# of it; a deed on a quote reads its version before and after. None of that is a query per row.
ZEAL_ALLOWLIST = [
    {"model": name, "field": "get()"}
    for name in ("sessions.Session", "shop.StaffMember", "shop.House", "shop.QuoteVersion")
]
