"""What stands on a page, without its tags: its words, then what its boxes hold, and where its links lead.

Boxes come by name: the two databases keep the words of a stored sheet in different orders.
"""

import re
from html.parser import HTMLParser

RANDOM = re.compile(r"\b[0-9a-f]{32}\b|\b[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}\b")
UNSEEN = frozenset({"script", "style"})
ALWAYS_NEW = frozenset({"csrfmiddlewaretoken", "stamp"})


class Seen(HTMLParser):
    """Reads one page; `forms` holds what a browser would post of each form, by the form's id."""

    def __init__(self, html):
        super().__init__()
        self.parts, self.boxes, self.links, self.forms = [], [], [], {}
        self.unseen, self.form, self.select, self.area = 0, {}, None, None
        self.feed(html)

    @property
    def text(self):
        return RANDOM.sub("(random)", " ".join(" ".join(self.parts + sorted(self.boxes)).split()))

    def handle_starttag(self, tag, attrs):
        known = dict(attrs)
        self.unseen += tag in UNSEEN
        if tag == "a" and known.get("href"):
            self.links.append(known["href"])
        elif tag == "form":
            self.form = self.forms.setdefault(known.get("id", ""), {})
        elif tag == "input":
            self._box(known)
        elif tag == "select":
            self.select = known.get("name", "")
        elif tag == "option" and self.select is not None and ("selected" in known or self.select not in self.form):
            self._holds(self.select, known.get("value", ""))
        elif tag == "textarea":
            self.area = known.get("name", "")
            self.form[self.area] = ""

    def _box(self, known):
        ticked = known.get("type") not in {"checkbox", "radio"} or "checked" in known
        if ticked and known.get("name") and known.get("type") not in {"submit", "file"}:
            self._holds(known["name"], known.get("value") or "on" * (known.get("type") == "checkbox"))

    def _holds(self, name, value):
        self.form[name] = value
        if name not in ALWAYS_NEW:
            self.boxes.append(f"[{name}: {value}]")

    def handle_endtag(self, tag):
        self.unseen -= tag in UNSEEN
        if tag == "form":
            self.form = {}
        elif tag == "select":
            self.select = None
        elif tag == "textarea":
            self.area = None

    def handle_data(self, data):
        if not self.unseen:
            self.parts.append(data)
        if self.area is not None:
            self.form[self.area] += data.removeprefix("\n")
