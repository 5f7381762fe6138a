"""All settings in one place. DEVELOPERS.md ("Settings") lists every name that can be set from outside.

Three ways to run: in a studio (every value is the steward's), in the demo (WARPROOM_DEMO, own data
folder, plain http on this computer), and in the tests (pytest tells by PYTEST_VERSION).
"""

import atexit
import os
import secrets
import shutil
import tempfile
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import django_stubs_ext
from django.contrib.messages import ERROR, INFO, SUCCESS, WARNING

from studio.env import YES, Environment, database, folder_of_package, mail

# Lets `ModelAdmin[Loom]` and its like, which the types ask for, also run.
django_stubs_ext.monkeypatch()

BASE_DIR = Path(__file__).resolve().parent.parent
VERSION = (BASE_DIR / "CHANGELOG.md").read_text(encoding="utf-8").splitlines()[0].split()[2]

TESTS = "PYTEST_VERSION" in os.environ
NOT_IN_DEMO = {f"WARPROOM_{name}" for name in ("DATA_DIR", "SECRET_KEY", "SECRET_KEY_FILE", "HTTPS", "EMAIL_URL")}
DEMO = not TESTS and os.environ.get("WARPROOM_DEMO", "").lower() in YES


def _demo_defaults() -> dict[str, str]:
    """Give what the demo needs to run on this computer alone, with a key of its own kept between starts."""
    folder = BASE_DIR / ".demo"
    folder.mkdir(exist_ok=True)
    key = folder / "secret_key"
    if not key.exists():
        key.touch(mode=0o600)
        key.write_text(secrets.token_urlsafe(50), encoding="utf-8")
    return {
        "SECRET_KEY_FILE": str(key),
        "DATA_DIR": str(folder),
        "BASE_URL": "http://127.0.0.1:8000",
        "ALLOWED_HOSTS": "127.0.0.1,localhost,[::1]",
        "HTTPS": "off",
        "EMAIL_URL": "console:",
    }


def _test_defaults() -> dict[str, str]:
    """Give what the tests need, in a folder that goes when they end, so that two runs never meet."""
    folder = tempfile.mkdtemp(prefix="warproom-tests-")
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return {
        "SECRET_KEY": secrets.token_urlsafe(50),
        "DATA_DIR": folder,
        "BASE_URL": "http://testserver",
        "ALLOWED_HOSTS": "testserver,127.0.0.1,localhost",
        "HTTPS": "off",
    }


def _environment() -> Environment:
    """Give the steward's values; the demo never looks at a real database, the tests at no value but that."""
    if TESTS:
        return Environment({}, _test_defaults())
    if DEMO:
        kept = {name: value for name, value in os.environ.items() if name not in NOT_IN_DEMO}
        return Environment(kept, _demo_defaults())
    return Environment(os.environ)


def _database() -> dict[str, Any]:
    """Give the one database; the tests use a file too, so that locks behave as they do in a studio."""
    address = "" if DEMO else os.environ.get("DATABASE_URL", "")
    chosen = database(address or f"sqlite:///{DATA_DIR}/warproom.sqlite3")
    if TESTS and chosen["ENGINE"] == "django.db.backends.sqlite3":
        chosen["TEST"] = {"NAME": f"{DATA_DIR}/test.sqlite3"}
    return chosen


_env = _environment()
_env.flag("DEMO", default=False)

DEBUG = _env.flag("DEBUG", default=False)
HTTPS = _env.flag("HTTPS", default=True)
SECRET_KEY = _env.secret_key()
DATA_DIR = _env.folder("DATA_DIR")
BASE_URL = _env.base_url(https=HTTPS)
ALLOWED_HOSTS = _env.words("ALLOWED_HOSTS", [urlsplit(BASE_URL).hostname or ""])
CSRF_TRUSTED_ORIGINS = _env.words("CSRF_TRUSTED_ORIGINS", [BASE_URL])
TIME_ZONE = _env.time_zone()
_mail_address = _env.text("EMAIL_URL", "")
MAIL_IS_SET_UP = bool(_mail_address)
DEFAULT_FROM_EMAIL = _env.sender(urlsplit(BASE_URL).hostname or "")
_env.refuse_unknown()

DATABASES = {"default": _database()}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

INSTALLED_APPS = [
    "studio",
    "inventory",
    "planner",
    "django.contrib.admin",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "rest_framework",
    "django_htmx",
    "csp",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    # Pages carry secrets, yet may be pressed together: Django masks the CSRF token anew in each answer and pads each
    # pressed answer with random bytes, against guessing by length (BREACH).
    "django.middleware.gzip.GZipMiddleware",
    "csp.middleware.CSPMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
]

ROOT_URLCONF = "studio.urls"
WSGI_APPLICATION = "studio.wsgi.application"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "planner.today.views.chrome",
            ],
        },
    },
]

# Accounts.
LOGIN_URL = "sign-in"
LOGIN_REDIRECT_URL = "today"
LOGOUT_REDIRECT_URL = "sign-in"
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"django.contrib.auth.password_validation.{name}"}
    for name in (
        "UserAttributeSimilarityValidator",
        "MinimumLengthValidator",
        "CommonPasswordValidator",
        "NumericPasswordValidator",
    )
]
if TESTS:  # A slow hash guards nothing here, and every test signs somebody in.
    PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]

# Mail: the words of Django's settings for it, such as EMAIL_HOST.
globals().update(mail(_mail_address))

# Messages by the classes of the style sheet.
MESSAGE_TAGS = {INFO: "", SUCCESS: "notice-ok", WARNING: "notice-warn", ERROR: "notice-stop"}

# Words, dates and times.
LANGUAGE_CODE = "en-gb"
USE_I18N = True
USE_TZ = True

# Files. Fonts come with their packages, so a card breaks its lines alike on every computer.
FONT_PACKAGES = ("fontpkg_atkinson_hyperlegible", "fontpkg_source_sans_3")
_collected = not (DEMO or TESTS or DEBUG)
STATIC_URL = "/static/"
STATIC_ROOT = DATA_DIR / "static" if _collected else None
STATICFILES_DIRS = [("fonts", folder_of_package(name) / "files") for name in FONT_PACKAGES]
MEDIA_URL = "/media/"
MEDIA_ROOT = DATA_DIR / "media"
_static_storage = (
    "whitenoise.storage.CompressedManifestStaticFilesStorage"
    if _collected
    else "django.contrib.staticfiles.storage.StaticFilesStorage"
)
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": _static_storage},
}
# Without `collectstatic`, files are found where they lie: at once for the demo, when asked for in the tests.
WHITENOISE_USE_FINDERS = not _collected
WHITENOISE_AUTOREFRESH = DEBUG or TESTS

# Limits on what may be sent.
DATA_UPLOAD_MAX_MEMORY_SIZE = 2_621_440
FILE_UPLOAD_MAX_MEMORY_SIZE = 2_621_440
DATA_UPLOAD_MAX_NUMBER_FIELDS = 2_000

# Safety. Nothing may load from elsewhere, and no script or style may stand inside a page.
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": ["'self'"],
        "img-src": ["'self'", "data:"],
        "style-src": ["'self'"],
        "script-src": ["'self'"],
        "font-src": ["'self'"],
        "frame-ancestors": ["'none'"],
        "form-action": ["'self'"],
        "base-uri": ["'self'"],
        "object-src": ["'none'"],
    },
}
SESSION_COOKIE_SECURE = HTTPS
CSRF_COOKIE_SECURE = HTTPS
SECURE_SSL_REDIRECT = HTTPS
SECURE_HSTS_SECONDS = 31_536_000 if HTTPS else 0
# We promise https for our own host only: neighbours under the same name are not ours to bind.
SILENCED_SYSTEM_CHECKS = ["security.W005", "security.W021"]

REST_FRAMEWORK = {
    "DEFAULT_RENDERER_CLASSES": ["rest_framework.renderers.JSONRenderer"],
    "DEFAULT_PARSER_CLASSES": ["rest_framework.parsers.JSONParser"],
    # Pages ask by their session; programs by a key, which no foreign page can send, so it needs no token of a form.
    "DEFAULT_AUTHENTICATION_CLASSES": [
        "rest_framework.authentication.SessionAuthentication",
        "studio.people.keys.KeyAuthentication",
    ],
    "DEFAULT_PERMISSION_CLASSES": ["rest_framework.permissions.IsAuthenticated"],
    "EXCEPTION_HANDLER": "studio.api_errors.answer",
    "TEST_REQUEST_DEFAULT_FORMAT": "json",
}

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"format": "{asctime} {levelname} {name}: {message}", "style": "{"}},
    "handlers": {"stderr": {"class": "logging.StreamHandler", "formatter": "line"}},
    "root": {"handlers": ["stderr"], "level": "INFO"},
    # Django's own handlers would print a second time, and send mail that nobody set up.
    "loggers": {
        "django": {"handlers": [], "level": "INFO", "propagate": True},
        # Ten lines of progress for each card would bury what matters.
        "weasyprint": {"level": "WARNING"},
        "fontTools": {"level": "WARNING"},
    },
}
