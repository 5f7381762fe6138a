#!/usr/bin/env python3
"""Renew the hashes in both lists of packages: put a new version on its line, then type `python3 .ci/pins.py`.

Asks pip which wheels it would take for each computer and Python below, which takes some minutes. A package that comes
along and is pinned nowhere stops it. Take out by hand what nothing brings in any longer.
"""

import json
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
LISTS = [ROOT / "requirements.txt", ROOT / "tests" / "requirements.txt"]
PYTHONS = ["3.11", "3.12", "3.13", "3.14"]
# Debian 12 has glibc 2.36. The Mac is for looking at the demo.
GLIBCS = [*(f"_2_{minor}" for minor in range(36, 16, -1)), "2014"]
COMPUTERS = [
    *([f"manylinux{glibc}_{processor}" for glibc in GLIBCS] for processor in ("x86_64", "aarch64")),
    ["macosx_14_0_arm64"],
]
PIN = re.compile(r"^([\w.-]+)(?:\[\w+\])?==[\w.]+", re.MULTILINE)
HASHES = re.compile(r" \\\n +--hash=\S+")


def main() -> None:
    """Rewrite both lists; everything but the hashes stays."""
    texts = {path: HASHES.sub("", path.read_text(encoding="utf-8")) for path in LISTS}
    pins = [pin for text in texts.values() for pin in PIN.finditer(text)]
    hashes: dict[str, set[str]] = {plain(pin[1]): set() for pin in pins}
    for python in PYTHONS:
        for computer in COMPUTERS:
            for wheel in wheels_for(python, computer, [pin[0] for pin in pins]):
                name = plain(wheel["metadata"]["name"])
                if name not in hashes:
                    sys.exit(f"Comes along and is not pinned: {name}=={wheel['metadata']['version']}")
                hashes[name].add(wheel["download_info"]["archive_info"]["hashes"]["sha256"])

    def with_hashes(pin: re.Match[str]) -> str:
        return " \\\n".join([pin[0], *(f"    --hash=sha256:{one}" for one in sorted(hashes[plain(pin[1])]))])

    for path, text in texts.items():
        path.write_text(PIN.sub(with_hashes, text), encoding="utf-8")


def plain(name: str) -> str:
    """Write a package's name as all its spellings are compared."""
    return re.sub(r"[-_.]+", "-", name).lower()


def wheels_for(python: str, computer: list[str], pins: list[str]) -> list[dict[str, Any]]:
    """Give pip's own account of what it would install."""
    how = [
        "--dry-run",
        "--ignore-installed",
        "--only-binary",
        ":all:",
        "--target",
        "nowhere",
        "--quiet",
        "--report",
        "-",
    ]
    asked = ["--python-version", python, *(word for tag in computer for word in ("--platform", tag))]
    command = [sys.executable, "-m", "pip", "install", *how, *asked, *pins]
    return list(json.loads(subprocess.run(command, check=True, stdout=subprocess.PIPE).stdout)["install"])


if __name__ == "__main__":
    main()
