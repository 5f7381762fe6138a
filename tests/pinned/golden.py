"""Golden files: compared by the tests, written anew with PIN=write.

What is large is kept as marks of its text: one of the numbers in it and one of all its words, so that a page whose
words were changed on purpose still has to show the same figures. To read what differs, run the tests in a work tree of
each side with PIN_TEXTS naming a folder each, and compare the folders.
"""

import hashlib
import json
import os
import re
from pathlib import Path

HERE = Path(__file__).parent
WRITE, TEXTS = "PIN", "PIN_TEXTS"
FILES = HERE / "golden"


def writing():
    return os.environ.get(WRITE) == "write"


def canonical(thing, **how):
    return json.dumps(thing, sort_keys=True, ensure_ascii=False, **how)


def mark(text):
    """Give the beginning of the SHA-256 of a text: enough to tell it from any other."""
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def numbers(text):
    return mark(" ".join(re.findall(r"\d+", text)))


def kept(name, text):
    """Give a text back; where a folder is named for it, put it there to be read."""
    if folder := os.environ.get(TEXTS):
        Path(folder).mkdir(parents=True, exist_ok=True)
        (Path(folder) / f"{re.sub('[^A-Za-z0-9]+', '-', name)[:80]}.{mark(name)[:6]}.txt").write_text(text)
    return text


def agree(file, now):
    """Hold a dict against its golden file, entry by entry, and name those that differ."""
    path, now = FILES / file, json.loads(canonical(now))
    if writing():
        lines = (f"{json.dumps(key)}: {canonical(value)}" for key, value in sorted(now.items()))
        path.write_text("{\n" + ",\n".join(lines) + "\n}\n", encoding="utf-8")
    pinned = json.loads(path.read_text(encoding="utf-8"))
    differ = [
        f"{key}: {_parts(pinned.get(key), now.get(key))}"
        for key in sorted(pinned.keys() | now.keys())
        if pinned.get(key) != now.get(key)
    ]
    assert not differ, f"{len(differ)} of {len(pinned)} in {file} differ:\n" + "\n".join(differ)


def _parts(was, is_now):
    """Name the parts of an entry that differ, or show both where it has no parts."""
    if isinstance(was, dict) and isinstance(is_now, dict):
        return ", ".join(sorted(key for key in was.keys() | is_now.keys() if was.get(key) != is_now.get(key)))
    return f"{was} is now {is_now}"
