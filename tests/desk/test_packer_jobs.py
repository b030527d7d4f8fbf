"""The packer's work without a server: what is ticked, weighed and logged, and how a package is turned."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from layouts.front.desk.packer import Station, _turned
from layouts.front.desk.reply import Reply
from layouts.front.desk.ticks import DONE
from marks.reading import digest, read_record
from tests.desk.asking import get, post, words
from tests.desk.conftest import RECORD, ROOT


def test_without_a_record_the_way_leads_to_the_first_page(place: Path) -> None:
    for job in ("packer", "trainer", "quiz"):
        assert get(place, job).headers == (("location", "/"),), job


def test_a_record_that_cannot_be_decided_is_not_packed(place: Path) -> None:
    (place / "short.yaml").write_text("record: sixface/1\nreference: A\n", "utf-8")
    found = get(place, "packer", record="short.yaml", package="A")
    assert found.status == 422 and "short.yaml" in words(found)
    found = post(place, "packer_tick", record="short.yaml", package="A")
    assert found.status == 404 and "short.yaml has no such package" in words(found)


def test_a_refused_package_is_not_packed(place: Path) -> None:
    name = "drain-cleaner-refused.yaml"
    shutil.copy(ROOT / "examples" / name, place)
    refused = words(get(place, "packer", record=name, package="B"))
    assert "refused" in refused.casefold() or "may not go" in refused.casefold()
    assert not re.search(r'name="seen"', get(place, "packer", record=name, package="B").body.decode())


def ticked(place: Path, *on: str, **more: str) -> Reply:
    mark = digest(read_record(place / more.get("record", RECORD)))[:16]
    form = {"record": RECORD, "package": "A", "digest": mark} | more
    return post(place, "packer_tick", *(("on", key) for key in on), *form.items())


def log(place: Path) -> list[list[str]]:
    path = place / RECORD.replace(".yaml", ".packing.log")
    return [line.split("\t")[4:6] for line in path.read_text("utf-8").splitlines()] if path.exists() else []


def test_a_tick_on_a_record_that_has_changed_is_not_logged(place: Path) -> None:
    found = ticked(place, "pack.1", seen="pack.1", digest="0" * 16)
    assert found.status == 409 and "nothing was ticked" in words(found) and log(place) == []


def test_only_what_is_there_and_differs_is_logged(place: Path) -> None:
    assert ticked(place, "pack.1", "pack.99", "mark.99", seen="pack.1").status == 303
    assert ticked(place, "pack.1", seen="pack.1").status == 303
    assert ticked(place, "pack.99", seen="pack.99").status == 303
    assert log(place) == [["pack.1", DONE]]


def test_a_mass_weighed_is_a_mass_and_more_than_the_record_s_is_said(place: Path) -> None:
    for wrong in ("17", "12 L", "heavy"):
        found = ticked(place, weighed=wrong)
        assert found.status == 422 and "is no mass; write it with its unit" in words(found), wrong
    assert log(place) == []
    assert ticked(place, weighed="17.1 kg").status == 303
    assert "More than the record says" not in words(get(place, "packer", record=RECORD, package="A"))
    assert ticked(place, weighed="17.3 kg").status == 303
    assert ticked(place, weighed="17.3 kg").status == 303  # said again, logged once
    assert "17.3 kg weighed, 17.2 kg in the record" in words(get(place, "packer", record=RECORD, package="A"))
    assert log(place) == [["weighed", "weighed"]] * 2


def test_an_overpack_is_packed_as_a_package_is(place: Path) -> None:
    name = "solvents-overpack.yaml"
    shutil.copy(ROOT / "examples" / name, place)
    overpack = re.search(r"- overpack: (\w+)", (place / name).read_text("utf-8"))
    assert overpack
    assert post(place, "packer_tick", record=name, overpack=overpack[1], weighed="500 kg",
                digest=digest(read_record(place / name))[:16]).status == 303  # fmt: skip
    found = words(get(place, "packer", record=name, overpack=overpack[1], copy="x"))
    assert f"overpack {overpack[1]}".casefold() in found.casefold()
    assert "More than the record says" not in found  # a record has no mass for it


def test_the_last_of_those_alike_is_the_last(place: Path) -> None:
    found = get(place, "packer", record=RECORD, package="A", copy="99")
    assert "2 of 2" in words(found)
    assert found.body == get(place, "packer", record=RECORD, package="A", copy="2").body


@pytest.mark.parametrize(
    "faces, says",
    [("front", "Stand before its front."), ("front right", "Turn the package a quarter: its right now faces you."),
     ("front back", "Turn the package half way round: its back now faces you."), ("front left", "a quarter"),
     ("right back left", "a quarter"), ("top", "Look at its top from above"), ("front tag", "Take its tag in your hand."),
     ("tag front", "Stand before its front."), ("front bottom", "Look at its bottom."), ("front end", ""), ("", "")],
)  # fmt: skip
def test_how_a_package_is_turned(faces: str, says: str) -> None:
    """Seen from above, front, right, back and left follow each other round."""
    stations = [Station(key, key, "", 0, 0, False) for key in ("pack", *faces.split())]
    found = _turned(stations, len(stations) - 1)
    assert says in found and bool(says) == bool(found)
