"""HTML to PDF. The only place that knows WeasyPrint, and the only one with imports inside functions.

It takes half a second to import, and where Pango is missing everything but the PDF must still work.
"""

from __future__ import annotations

from functools import cache
from importlib.util import find_spec
from mimetypes import guess_type
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

import segno
from django.conf import settings
from django.contrib.staticfiles import finders

from studio.errors import StudioError

SYSTEM_PACKAGES = "libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"
INSTALL_LINE = f"apt-get install --no-install-recommends {SYSTEM_PACKAGES}"
FONT_PACKAGES = ("fontpkg_atkinson_hyperlegible", "fontpkg_source_sans_3")


class PaperUnavailable(StudioError):
    """No PDF can be made on this machine; the message names the command that mends it."""


@cache
def missing_library() -> str:
    """Give what keeps WeasyPrint from loading, or an empty text when PDFs can be made."""
    try:
        import weasyprint  # noqa: F401, PLC0415
    except (ImportError, OSError) as trouble:
        return str(trouble).split(".", maxsplit=1)[0]
    return ""


def paper_ready() -> bool:
    """Say whether PDFs can be made here."""
    return not missing_library()


def font_file(name: str) -> Path | None:
    """Find a font in the installed font packages, by file name; None when there is no such file."""
    for package in FONT_PACKAGES:
        spec = find_spec(package)
        for folder in (spec.submodule_search_locations or ()) if spec else ():
            path = Path(folder) / "files" / name
            if path.is_file():
                return path
    return None


def local_file(url: str) -> Path:
    """Find the file behind a static address of our own; anything else is refused, so paper never calls out."""
    path = unquote(urlsplit(url).path)
    prefix = urlsplit(settings.STATIC_URL).path
    relative = path.removeprefix("/").removeprefix(prefix.removeprefix("/"))
    if relative.startswith("fonts/"):
        file = font_file(relative.removeprefix("fonts/"))
    else:
        place = finders.find(relative)
        file = Path(place) if isinstance(place, str) else None
    if file is None:
        raise ValueError(f"not a file of ours: {url[:80]}")
    return file


@cache
def _fetcher() -> Any:
    """Make the fetcher WeasyPrint asks: data addresses as they are, static files from disk, nothing else."""
    from weasyprint.urls import URLFetcher, URLFetcherResponse  # noqa: PLC0415

    class OwnFilesOnly(URLFetcher):  # type: ignore[misc]
        def fetch(self, url: str, headers: Any = None) -> Any:
            if url.startswith("data:"):
                return super().fetch(url, headers)
            path = local_file(url)
            return URLFetcherResponse(url, path.read_bytes(), {"Content-Type": guess_type(path.name)[0] or "font/ttf"})

    return OwnFilesOnly()


def render_pdf(html: str) -> bytes:
    """Make a tagged PDF of a page of ours.

    Raises
    ------
    PaperUnavailable
        If Pango is missing; the message names the command that installs it.
    """
    if not paper_ready():
        raise PaperUnavailable(
            "paper_unavailable",
            f"This computer cannot make PDFs yet ({missing_library()}). The print page works. "
            f"To fix it, the person who keeps the computer runs: {INSTALL_LINE}",
        )
    from weasyprint import HTML  # noqa: PLC0415

    document = HTML(string=html, base_url="warproom://paper/", url_fetcher=_fetcher())
    pdf: bytes = document.write_pdf(pdf_variant="pdf/ua-1")
    return pdf


def qr_address(url: str) -> str:
    """Give the QR code of an address as an image (ISO/IEC 18004, by segno), forgiving of a creased or rubbed paper."""
    return str(segno.make(url, error="m", micro=False).svg_data_uri(border=2, scale=4))
