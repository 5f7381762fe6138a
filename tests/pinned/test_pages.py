"""Every page for everybody: its status, its figures and its words. The addresses stand in `golden/pages.json`."""

import json
from collections import Counter
from urllib.parse import parse_qs, urldefrag, urljoin, urlsplit

import pytest
from django.db import transaction
from django.urls import Resolver404, get_resolver, resolve

from tests.pinned.conftest import browser_of
from tests.pinned.golden import FILES, agree, kept, mark, numbers, writing
from tests.pinned.seen import RANDOM, Seen

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("studio"), pytest.mark.slow]

WHO = ("nobody", "student", "member", "trained-c", "teacher", "steward")
FINDERS = ("steward", "trained-c")
"""Who sees every address: one reads inches, the other centimetres. All see the first two of a kind."""

OF_A_KIND, WIDE = 2, 60
WIDELY = ("warps/<int:pk>/", "cards/<int:number>/print/", "how/<slug:name>/", "how/ask/<slug:key>/")
LEFT_OUT = ("/admin/", "/static/", "/media/", "/api/", "/sign-out/")
WITHOUT = {
    "sign-out/", "calendars/<str:secret>.ics", "yarn/labels/labels.pdf", "cards/<int:number>/card.pdf",
    "yarn/photos/<slug:name>/", "yarn/file/<slug:key>/",
}  # fmt: skip
"""Routes that are not looked at: paper, and what stands under a random name."""

IN_A_ROUTE = {"<int:pk>": "1", "<int:loom_pk>": "1", "<int:beam_pk>": "1", "<str:moment>": "begin"}


def kind_of(url):
    """Give the pattern of an address, with the names of what is asked for; None where it is left out."""
    parts = urlsplit(url)
    if parts.netloc or RANDOM.search(parts.path) or parts.path.startswith(LEFT_OUT) or parts.path.endswith(".pdf"):
        return None
    try:
        return resolve(parts.path).route, *sorted(parse_qs(parts.query))
    except Resolver404:
        return None


def routes(within, before=""):
    for part in within.url_patterns:
        route = before + str(part.pattern)
        yield from routes(part, route) if hasattr(part, "url_patterns") else [route]


def filled(route):
    for part, value in IN_A_ROUTE.items():
        route = route.replace(part, value)
    return f"/{route}"


class Crawl:
    """Follows the links of all pages, so many of a kind; `found` says who is to see each address."""

    def __init__(self):
        self.found, self.of_a_kind = {}, Counter()
        self.browsers = {who: browser_of(who) for who in FINDERS}
        self.follow(filled(route) for route in sorted(routes(get_resolver())) if "<" not in route)
        met = {kind_of(url)[0] for url in self.found}
        self.follow(url for url in map(filled, sorted(set(routes(get_resolver())) - met)) if "<" not in url)

    def follow(self, urls):
        waiting = list(urls)
        while waiting:
            url = urldefrag(waiting.pop(0)).url
            kind = kind_of(url)
            most = WIDE if kind and kind[0] in WIDELY and len(kind) == 1 else OF_A_KIND
            if kind is None or url in self.found or self.of_a_kind[kind] >= most:
                continue
            self.found[url] = WHO if self.of_a_kind[kind] < OF_A_KIND else FINDERS
            self.of_a_kind[kind] += 1
            for browser in self.browsers.values():
                page = browser.get(url)
                if page.status_code == 200 and "html" in page["Content-Type"]:
                    waiting += [urljoin(url, link) for link in Seen(page.content.decode()).links]


def crawled():
    """Crawl, and leave no trace of it: a page looked at may write, such as the first row of a list."""
    with transaction.atomic():
        found = Crawl().found
        transaction.set_rollback(True)
    return found


def shown(who, url, browser):
    """Give a page in one line: its status, then its marks or where it leads."""
    page = browser.get(url)
    if page.status_code in {301, 302}:
        return f"{page.status_code} {page['Location']}"
    if page.streaming or not page["Content-Type"].startswith(("text/", "application/json")):
        return f"{page.status_code} {page['Content-Type']}"
    body = page.content.decode()
    text = Seen(body).text if "html" in page["Content-Type"] else RANDOM.sub("(random)", body)
    kept(f"{who} {url}", text)
    return f"{page.status_code} {numbers(text)} {mark(text)}"


def test_every_page_is_as_it_was_for_everybody():
    pinned = crawled() if writing() else json.loads((FILES / "pages.json").read_text(encoding="utf-8"))
    browsers = {who: browser_of(None if who == "nobody" else who) for who in WHO}
    agree(
        "pages.json",
        {
            url: {who: shown(who, url, browsers[who]) for who in WHO if who in seen}
            for url, seen in sorted(pinned.items())
        },
    )
    met = {resolve(urlsplit(url).path).route for url in pinned}
    pages = {route for route in routes(get_resolver()) if not f"/{route}".startswith(LEFT_OUT)}
    assert pages - WITHOUT <= met, "a page could change unseen: write the golden files anew"
