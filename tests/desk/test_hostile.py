"""Hostile text in any field is text: in the page, in SVG, in PDF."""

from __future__ import annotations

import io
import re
import zipfile
from typing import Any
from urllib.parse import quote, urlencode
from xml.etree import ElementTree

from pypdf import PdfReader

from tests.desk.conftest import Desk
from tests.desk.wire import ask

HOSTILE = "\"'><script>alert(1)</script><svg onload=alert(2)>{{7*7}}"


def hostile_form() -> list[tuple[str, str]]:
    """A record in which every text is hostile and the rest is sound; labels take what their letters can draw."""
    return [
        ("view", "form"), ("reference", "<b>x</b>'\""), ("date", "2026-11-25"), ("modes", "road"), ("modes", "air"),
        ("shipper.name", HOSTILE), ("shipper.address", f"<img src=x onerror=alert(3)>\n{HOSTILE[:40]}"), ("shipper.country", "NO"),
        ("consignee.name", "</text></svg><script>alert(4)</script>"), ("consignee.address", "javascript:alert(5)"),
        ("consignee.country", "DE"), ("packages.0.package", "<i>A</i>"), ("packages.0.packaging", "4G"),
        ("packages.0.size.length", "600 mm"), ("packages.0.size.width", "500 mm"), ("packages.0.size.height", "500 mm"),
        ("packages.0.gross_mass", "6 kg"), ("packages.0.spec_mark", "4G/Y24/S/26/N/NP-2207"),
        ("packages.0.goods.0.un", "1993"), ("packages.0.goods.0.packing_group", "III"), ("packages.0.goods.0.line", "4"),
        ("packages.0.goods.0.technical_name", HOSTILE), ("packages.0.goods.0.inner.count", "4"),
        ("packages.0.goods.0.inner.holds", "1 L"), ("packages.0.goods.0.inner.of", HOSTILE[:60]), ("file", HOSTILE),
        ("packages.0.keep_clear.0.face", "back"), ("packages.0.keep_clear.0.x", "0 mm"), ("packages.0.keep_clear.0.y", "0 mm"),
        ("packages.0.keep_clear.0.width", "90 mm"), ("packages.0.keep_clear.0.height", "90 mm"),
        ("packages.0.keep_clear.0.why", HOSTILE[:50]),
    ]  # fmt: skip


def test_hostile_text_is_inert_in_the_page(browser: Any, desk: Desk) -> None:
    """Each text comes back as text, in every view; no script runs, no element of it is made."""
    status = ask(desk, "POST", "/clerk/answer", urlencode(hostile_form()))[0]
    assert status == 200
    saved = urlencode([*hostile_form(), ("save_as", "hostile.yaml")])
    assert ask(desk, "POST", "/clerk/save", saved)[0] == 303
    context = browser.new_context(base_url=desk.url)
    tab = context.new_page()
    told: list[str] = []
    tab.on("dialog", lambda dialog: (told.append(dialog.message), dialog.dismiss()))
    tab.on("console", lambda said: told.append(said.text) if "Content Security" in said.text else None)
    tab.on("pageerror", lambda error: told.append(str(error)))
    for path in ("/", "/clerk?record=hostile.yaml", "/packer?record=hostile.yaml", "/trainer?record=hostile.yaml",
                 "/packer?record=hostile.yaml&package=%3Ci%3EA%3C%2Fi%3E&at=front", "/quiz?record=hostile.yaml"):  # fmt: skip
        tab.goto(path)
        tab.wait_for_load_state()
        made = tab.evaluate("document.querySelectorAll('main script, main img, main i, [onload], [onerror]').length")
        assert made == 0, path
        assert "49" not in tab.locator("h1").inner_text()
    tab.goto("/clerk?record=hostile.yaml")
    assert tab.get_by_role("group", name="Shipper").get_by_label("Name").input_value() == HOSTILE
    tab.goto("/entries?q=" + quote(HOSTILE))
    context.close()
    assert told == []


def test_hostile_text_is_inert_in_what_is_printed(desk: Desk) -> None:
    form = [*hostile_form(), ("print.allow_refused", "yes")]
    status, headers, body = ask(desk, "POST", "/sheets", urlencode([*form, ("print.what", "svg")]))
    assert status == 200, body[:500]
    assert re.fullmatch(r'attachment; filename="[\w.-]+"', headers["content-disposition"])
    bundle = zipfile.ZipFile(io.BytesIO(body))
    for name in bundle.namelist():
        assert re.fullmatch(r"[\w.-]+\.svg", name)
        for element in ElementTree.fromstring(bundle.read(name)).iter():
            tag = element.tag.rpartition("}")[2].lower()
            assert tag in (
                "svg",
                "g",
                "path",
                "title",
                "defs",
                "desc",
                "text",
                "tspan",
                "use",
                "symbol",
                "clippath",
                "rect",
            )
            assert not [key for key in element.attrib if key.lower().startswith("on")]
            assert all(value.startswith("#") for key, value in element.attrib.items() if "href" in key.lower())
    status, _, body = ask(desk, "POST", "/sheets", urlencode([*form, ("print.what", "packing")]))
    assert status == 200
    reader = PdfReader(io.BytesIO(body))
    assert "<script>" in "".join(page.extract_text() for page in reader.pages)  # it is there, as letters
    root = reader.trailer["/Root"]
    assert "/OpenAction" not in root and "/AA" not in root and not reader.get_fields()
    assert not any(key in body for key in (b"/JavaScript", b"/JS ", b"/Launch", b"/SubmitForm", b"/URI"))
