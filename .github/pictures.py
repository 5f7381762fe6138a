#!/usr/bin/env python3
"""Take the pictures of the README from the demo studio, as a visitor sees it.

Run by hand after a change that shows: .venv/bin/python .github/pictures.py
It starts a demo of its own from the last commit, in a folder that goes afterwards; the demo in `.demo/` is not
touched. With the address of a demo that already runs, it takes that one. Needs Debian's chromium, poppler-utils.
"""

import os
import shutil
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Literal
from urllib.error import URLError
from urllib.request import urlopen

from PIL import Image
from playwright.sync_api import Browser, Page, sync_playwright

ROOT = Path(__file__).resolve().parent.parent
PICTURES = Path(__file__).resolve().parent / "pictures"
PASSWORD = "quayside-demo"  # noqa: S105 - of people nobody is
WARP, LOOM = "Five striped rugs", "Capstan"

MOST_BYTES = 250_000
COLOURS = (160, 96, 64, 32, 16)
DESK, PHONE, CLOSE = (1440, 1000), (390, 844), (1440, 900)
CARD_DOTS = 100
PATIENCE_S = 60
Scheme = Literal["light", "dark"]


def needed(program: str, package: str) -> str:
    """Find a program, or say what brings it."""
    found = shutil.which(program)
    if found is None:
        sys.exit(f"{program} is missing. Type: sudo apt-get install {package}")
    return found


@contextmanager
def demo() -> Iterator[str]:
    """Run a demo from a clone, and give its address."""
    with socket.socket() as door:
        door.bind(("127.0.0.1", 0))
        port = door.getsockname()[1]
    with tempfile.TemporaryDirectory(prefix="warproom-pictures-") as folder:
        subprocess.run([needed("git", "git"), "clone", "-q", str(ROOT), folder], check=True)
        running = subprocess.Popen(
            [sys.executable, "manage.py", "demo", "--port", str(port)],
            cwd=folder,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,  # each request
        )
        try:
            address = f"http://127.0.0.1:{port}"
            wait_for(address, running)
            yield address
        finally:
            running.terminate()
            running.wait()


def wait_for(address: str, running: subprocess.Popen[bytes]) -> None:
    """Wait until somebody opens the door."""
    until = time.monotonic() + PATIENCE_S
    while time.monotonic() < until and running.poll() is None:
        try:
            urlopen(address).close()  # noqa: S310 - our own address
        except URLError:
            time.sleep(0.3)
        else:
            return
    sys.exit("The demo did not start.")


@contextmanager
def visitor(browser: Browser, address: str, size: tuple[int, int], scheme: Scheme) -> Iterator[Page]:
    """Give a page in which the steward is signed in, on a screen of this size."""
    wide, high = size
    context = browser.new_context(
        base_url=address,
        viewport={"width": wide, "height": high},
        device_scale_factor=1 if size == DESK else 2,
        color_scheme=scheme,
        locale="en-GB",
        reduced_motion="reduce",
    )
    page = context.new_page()
    page.goto("/sign-in/")
    page.fill("[name=username]", "steward")
    page.fill("[name=password]", PASSWORD)
    page.press("[name=password]", "Enter")
    page.wait_for_url(f"{address}/")
    yield page
    context.close()


def open_warp(page: Page) -> None:
    """Find the warp in the list and open its sheet."""
    page.goto("/warps/?whose=all")
    page.get_by_role("link", name=WARP).first.click()
    page.wait_for_load_state("networkidle")


def keep(name: str, picture: bytes | Path, *, grey: bool = False) -> None:
    """Write a picture with as many colours as fit the budget."""
    PICTURES.mkdir(exist_ok=True)
    taken = PICTURES / f"{name}.png"
    if isinstance(picture, bytes):
        taken.write_bytes(picture)
        picture = taken
    with Image.open(picture) as opened:
        opened.load()
    whole = opened.convert("L" if grey else "RGB")
    for colours in COLOURS:
        whole.quantize(colours, dither=Image.Dither.NONE).save(taken, optimize=True)
        if taken.stat().st_size < MOST_BYTES:
            break
    else:
        sys.exit(f"{taken.name} stays over {MOST_BYTES} bytes.")
    sys.stdout.write(f"{taken.name}: {taken.stat().st_size / 1000:.0f} kB, {colours} colours\n")


def take_sheet(browser: Browser, address: str) -> None:
    """Take the warp sheet at a desk and on a phone, by day and by night."""
    schemes: tuple[Scheme, Scheme] = ("light", "dark")
    for size, place in ((DESK, "desk"), (PHONE, "phone")):
        for scheme in schemes:
            with visitor(browser, address, size, scheme) as page:
                open_warp(page)
                if size == PHONE:  # the brief comes first there, and the plan is what one looks at
                    page.get_by_role("link", name="Plan", exact=True).click()
                keep(f"warp-sheet-{place}-{scheme}", page.screenshot())


def take_beam(page: Page) -> None:
    """Take the drawing of a striped warp on its beam."""
    open_warp(page)
    keep("beam", page.locator("figure.only-seat").first.screenshot())


def take_rooms(page: Page) -> None:
    """Take who has which loom, one of them, the yarn room and its colours."""
    page.goto("/looms/week/")
    keep("week", page.screenshot())
    page.goto("/looms/")
    page.get_by_role("link", name=LOOM).first.click()
    page.wait_for_load_state("networkidle")
    keep("loom", page.screenshot())
    page.goto("/yarn/")
    keep("yarn-room", page.screenshot())
    page.goto("/yarn/colours/")
    keep("colour-wall", page.screenshot())


def take_reservation(page: Page) -> None:
    """Take the page of a warp that is on a loom."""
    page.goto("/looms/week/")
    page.locator("a.span").nth(1).click()
    page.wait_for_load_state("networkidle")
    keep("reservation", page.screenshot())


def take_card(page: Page) -> None:
    """Print a card as the button does, and take its first page in colour and as a grey printer gives it."""
    open_warp(page)
    page.get_by_role("button", name="Print card").click()
    page.locator("main form").last.locator("button").last.click()
    page.wait_for_url("**/cards/*/")
    answer = page.request.get(f"{page.url}card.pdf")
    with tempfile.TemporaryDirectory() as folder:
        paper, sheet = Path(folder, "card.pdf"), Path(folder, "card")
        paper.write_bytes(answer.body())
        dots = ["-r", str(CARD_DOTS), "-png", "-singlefile"]
        subprocess.run([needed("pdftoppm", "poppler-utils"), *dots, str(paper), str(sheet)], check=True)
        keep("card", sheet.with_suffix(".png"))
        keep("card-grey", sheet.with_suffix(".png"), grey=True)


def take_all(address: str) -> None:
    """Take every picture from the demo at this address."""
    arguments = ["--no-sandbox"] if os.geteuid() == 0 else []
    with sync_playwright() as playwright:
        program = needed("chromium", "chromium")
        browser = playwright.chromium.launch(executable_path=program, args=arguments)
        take_sheet(browser, address)
        with visitor(browser, address, CLOSE, "light") as page:
            take_beam(page)
        with visitor(browser, address, DESK, "light") as page:
            take_rooms(page)
            take_reservation(page)
            take_card(page)
        browser.close()


def main() -> None:
    """Take them from a demo of our own, or from the one named."""
    if len(sys.argv) > 1:
        take_all(sys.argv[1].rstrip("/"))
        return
    with demo() as address:
        take_all(address)


if __name__ == "__main__":
    main()
