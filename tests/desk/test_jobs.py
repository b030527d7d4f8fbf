"""The desk's work without a server: what it says where a request, a record or the folder is not as its pages make them."""

from __future__ import annotations

import asyncio
import os
import re
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from decimal import Decimal
from html import unescape
from pathlib import Path

import pytest

from layouts.front.desk import pool
from layouts.front.desk.entries import goods_entry, offers
from layouts.front.desk.fields import Field
from layouts.front.desk.folder import Folder, FolderError, state
from layouts.front.desk.jobs import answer
from layouts.front.desk.options import options_of
from layouts.front.desk.packer import Station, _turned
from layouts.front.desk.quantities import stops
from layouts.front.desk.reply import MOST_BYTES, Asked, Reply, plain
from layouts.front.desk.ticks import DONE
from layouts.front.desk.tree import Unfit, for_form, from_form
from layouts.front.desk.trials import trial
from marks.reading import digest, read_record
from tests.desk.conftest import ROOT
from tests.desk.test_parts import tree_of as plain_tree
from tests.desk.wire import run

pytest.importorskip("jinja2", reason="jinja2 is not installed: the desk is not tested (pip install -e '.[dev]')")

RECORD = "isopropanol-three-modes.yaml"


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """A folder with one record in it."""
    found = tmp_path.resolve() / "records"
    found.mkdir()
    shutil.copy(ROOT / "examples" / RECORD, found)
    return found


def get(place: Path, job: str, **query: str) -> Reply:
    return answer(place, job, Asked(query=tuple(query.items())))


def post(place: Path, job: str, *form: tuple[str, str], **more: str) -> Reply:
    return answer(place, job, Asked(form=(*form, *more.items())))


def words(reply: Reply) -> str:
    """What a person reads of it."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", reply.body.decode())).split())


def value(reply: Reply, name: str) -> str | None:
    """What a field of the page holds."""
    found = re.search(rf'<input[^>]* name="{re.escape(name)}"[^>]*>', reply.body.decode())
    said = re.search(r' value="([^"]*)"', found[0]) if found else None
    return unescape(said[1]) if said else None


# --- the folder -----------------------------------------------------------------------------------------------------


def test_a_folder_that_has_gone_is_told(tmp_path: Path) -> None:
    found = get(tmp_path / "gone", "start")
    assert found.status == 404 and "the folder can't be read: No such file or directory" in words(found)
    with pytest.raises(FolderError, match="No such file"):
        Folder(tmp_path / "gone").save("a.yaml", "x", "", False)
    with pytest.raises(FolderError, match="No such file"):
        Folder(tmp_path / "gone").append_log("a.yaml", ["x"])


def test_a_record_too_large_for_the_desk_is_listed_and_not_read(place: Path) -> None:
    (place / "large.yaml").write_bytes(b"#" * (MOST_BYTES + 1))
    assert "large.yaml" in words(get(place, "start"))
    found = get(place, "clerk", record="large.yaml")
    assert found.status == 404 and "has more than 1048576 bytes; the command line reads it" in words(found)


def test_what_bears_a_record_s_name_and_is_none(place: Path) -> None:
    (place / "folder.yaml").mkdir()
    assert "folder.yaml" not in words(get(place, "start"))
    found = get(place, "clerk", record="folder.yaml")
    assert found.status == 404 and "folder.yaml: Is a directory" in words(found)
    os.mkfifo(place / "pipe.yaml")
    found = get(place, "clerk", record="pipe.yaml")
    assert found.status == 404 and "pipe.yaml is no file" in words(found)
    found = get(place, "packer", record="none.yaml")
    assert found.status == 404 and "No such file" in words(found)


def test_a_log_that_has_grown_too_large_takes_no_line_more(place: Path) -> None:
    log = place / RECORD.replace(".yaml", ".packing.log")
    log.write_bytes(b"x" * (MOST_BYTES + 1))
    with pytest.raises(FolderError, match="put it away and begin a new one"):
        Folder(place).append_log(RECORD, ["a line"])
    assert log.stat().st_size == MOST_BYTES + 1
    log.unlink()
    log.symlink_to(place / RECORD)
    with pytest.raises(FolderError, match=r"packing\.log"):
        Folder(place).read_log(RECORD)


def test_records_are_saved_as_yaml_and_only_over_what_was_opened(place: Path) -> None:
    folder, text = Folder(place), "record: sixface/1\n"
    with pytest.raises(FolderError, match="saved as YAML"):
        folder.save("a.json", text, "", True)
    assert not (place / "a.json").exists()
    with pytest.raises(FolderError, match="is there already"):
        folder.save(RECORD, text, "", False)
    was = state(folder.read(RECORD))
    (place / RECORD).write_text(f"# another hand\n{(place / RECORD).read_text('utf-8')}", "utf-8")
    with pytest.raises(FolderError, match="has changed since it was opened here"):
        folder.save(RECORD, text, was, False)
    folder.save(RECORD, text, state(folder.read(RECORD)), False)
    assert (place / RECORD).read_text("utf-8") == text


# --- the first page: from a sheet's code to its package ---------------------------------------------------------------


def scanned(place: Path, reference: str, mark: str) -> Reply:
    return post(place, "scan", text=f"{reference} package A, 2 pcs record {mark}")


def test_a_code_leads_to_its_package(place: Path) -> None:
    found = scanned(place, "HD-26-0101", digest(read_record(place / RECORD))[:16])
    assert (found.status, found.headers) == (303, (("location", f"/packer?record={RECORD}&package=A"),))


def test_a_code_of_another_state_of_the_record_is_told(place: Path) -> None:
    found = scanned(place, "HD-26-0101", "0" * 16)
    assert found.status == 404 and "was printed from another state of it" in words(found)
    assert "Print the sheets anew, or put the record back." in words(found)


def test_a_code_of_no_record_of_the_folder_is_told(place: Path) -> None:
    """One record bears the words and is broken, one bears them as its shipper: neither is taken for it."""
    (place / "broken.yaml").write_text("reference: HD-26-0999\nmodes: [", "utf-8")
    text = (place / RECORD).read_text("utf-8").replace("Havskar & Datter Kjemiske Verk AS", "HD-26-0999 AS")
    (place / "other.yaml").write_text(text, "utf-8")
    found = scanned(place, "HD-26-0999", "0" * 16)
    assert found.status == 404 and "No record of the folder bears the reference HD-26-0999." in words(found)
    found = post(place, "scan", text="HD-26-0101")
    assert found.status == 422 and "This is not the text of a sheet's code" in words(found)


# --- the clerk ------------------------------------------------------------------------------------------------------


def test_a_text_that_is_no_record_stays_text(place: Path) -> None:
    for text in ("packages: [", "- a\n- b\n", "packagin: 4G\n"):
        found = post(place, "clerk_answer", view="text", do="form", text=text)
        assert "The form can't show this; mend what is said below first." in words(found), text
    found = post(place, "clerk_answer", view="text", do="form", text="reference: A\n")
    assert value(found, "reference") == "A"


def test_a_file_from_elsewhere_is_read_by_its_name_or_its_first_sign(place: Path) -> None:
    for upload, name, form in (
        (b'{"reference": "J-1"}', "a.json", ()),
        (b'{"reference": "J-1"}', "", ()),
        (b"reference: J-1", "a.yml", ()),
        (b"", "", (("text", "reference: J-1"),)),
    ):
        found = answer(place, "clerk_read", Asked(form=form, upload=upload, upload_name=name))
        assert value(found, "reference") == "J-1", name


def test_a_row_is_added_only_where_a_record_has_rows(place: Path) -> None:
    sent = (("packages.0.package", "A"), ("packages.0.goods.0.un", "1219"))
    assert value(post(place, "clerk_answer", *sent, do="add packages"), "packages.1.package") == "B"
    assert value(post(place, "clerk_answer", *sent, do="add overpacks"), "overpacks.0.overpack") == ""
    plain = post(place, "clerk_answer", *sent).body
    for do in ("add", "add reference", "add nothing", "add packages.7.goods", "add Packages", "remove packages.5",
               "remove packages", "more", "remove reference.x", "add packages.0.goods.0.inner"):  # fmt: skip
        assert post(place, "clerk_answer", *sent, do=do).body == plain, do


def test_more_rows_than_the_form_holds_are_not_begun(place: Path) -> None:
    sent = [(f"packages.0.preprinted.{n}.mark", "battery") for n in range(200)]
    full = post(place, "clerk_answer", *sent, do="add packages.0.preprinted")
    assert b'name="packages.0.preprinted.199.mark"' in full.body and b"packages.0.preprinted.200" not in full.body


def test_every_letter_taken_a_package_is_numbered(place: Path) -> None:
    sent = [(f"packages.{n}.package", letter) for n, letter in enumerate("ABCDEFGHIJKLMNOPQRSTUVWXYZ")]
    assert value(post(place, "clerk_answer", *sent, do="add packages"), "packages.26.package") == "27"


def test_an_entry_is_chosen_for_a_line_of_goods_alone(place: Path) -> None:
    sent = (("packages.0.goods.0.un", "1219"), ("packages.0.goods.0.net", "4 L"))
    chosen = post(place, "clerk_answer", *sent, do="entry packages.0.goods.0 un=1263&packing_group=II&net=9+L")
    assert value(chosen, "packages.0.goods.0.un") == "1263" and value(chosen, "packages.0.goods.0.net") == "4 L"
    plain = post(place, "clerk_answer", *sent).body
    for about in ("", "packages.0", "packages.0.goods.4", "Packages un=1263", "packages.0.goods.0.un un=1263"):
        assert post(place, "clerk_answer", *sent, do=f"entry {about}").body == plain, about


def test_a_line_that_gets_another_number_forgets_what_told_the_old_one_s_entries_apart(place: Path) -> None:
    sent = (("packages.0.goods.0.un", "1263"), ("packages.0.goods.0.name", "ISOPROPANOL"))
    kept = post(place, "clerk_answer", *sent, known="packages.0.goods.0.un 1263").body
    assert b"ISOPROPANOL" in kept
    assert b"ISOPROPANOL" not in post(place, "clerk_answer", *sent, known="packages.0.goods.0.un 1219").body
    for known in ("", "packages.0.goods.0.un", "packages.3.goods.0.un 1219", "x..y 1219"):
        assert b"ISOPROPANOL" in post(place, "clerk_answer", *sent, known=known).body, known


def test_a_record_too_large_for_the_desk_is_shown_as_text_with_the_way_out(place: Path) -> None:
    sent = [(f"packages.{n}.package", f"P{n}") for n in range(61)]
    found = post(place, "clerk_answer", *sent)
    assert "61 kinds of package with 0 goods lines: the desk decides 60 and 200 at most" in words(found)
    assert b"<textarea" in found.body and b'name="packages.0.package"' not in found.body
    printed = post(place, "sheets", *sent, ("print.what", "labels"))
    assert printed.status == 422 and b"sixface plan RECORD takes any number" in printed.body


def test_a_saved_text_keeps_every_word_and_a_form_the_file_s_opening_words(place: Path) -> None:
    text = (place / RECORD).read_text("utf-8") + "# a last word\n"
    found = post(place, "clerk_save", view="text", text=text, save_as=" copy ")
    assert found.headers == (("location", "/clerk?record=copy.yaml&saved=yes"),)
    assert (place / "copy.yaml").read_text("utf-8") == text
    (place / "old.json").write_text('{"reference": "J-1"}', "utf-8")
    for file, begins in ((RECORD, "# Twelve litres in glass"), ("old.json", "record:"), ("gone.yaml", "record:")):
        form = (("view", "form"), ("file", file), ("save_as", "new.yaml"), ("reference", "A"), ("replace", "yes"))
        assert post(place, "clerk_save", *form).status == 303
        assert (place / "new.yaml").read_text("utf-8").lstrip("{").startswith(begins), file


def test_of_what_has_no_place_the_least_size_is_told(place: Path) -> None:
    """A package of 60 mm takes no label of 100 mm (UN Model Regulations 5.2.2.2.1.1.2): what is wanted is told all the same."""
    text = (ROOT / "examples" / RECORD).read_text("utf-8")
    small = text.replace("{length: 400 mm, width: 300 mm, height: 330 mm}", "{length: 60 mm, width: 50 mm, height: 40 mm}")
    small = re.sub(r"    keep_clear:\n.*\n", "", small)
    found = words(post(place, "clerk_answer", view="text", text=small))
    assert "no place" in found and "at least 100 × 100 mm" in found and "letters at least" in found and "legible" in found
    assert "Journey" in found  # the placement's finding is none of one mode


# --- what is printed ------------------------------------------------------------------------------------------------


def printed(place: Path, what: str, record: str = RECORD, **more: str) -> Reply:
    text = (ROOT / "examples" / record).read_text("utf-8")
    return post(place, "sheets", ("view", "text"), ("text", text), ("print.what", what), *more.items())


def test_what_is_printed_is_one_of_what_there_is(place: Path) -> None:
    found = printed(place, "poster")
    assert found.status == 400 and found.body.startswith(b"write one of labels, marks, packing, svg, papers, plan, record")


def test_a_stock_that_is_none_is_told(place: Path) -> None:
    found = printed(place, "labels", **{"print.stock_free": "as large as a door"})
    assert found.status == 422 and b"as large as a door" in found.body


def test_of_a_refused_record_there_is_nothing_to_print_and_it_says_why(place: Path) -> None:
    found = printed(place, "labels", "drain-cleaner-refused.yaml")
    assert found.status == 422 and found.body
    text = (ROOT / "examples" / RECORD).read_text("utf-8").replace("un: 1219", "un: 3363").replace("name: ISOPROPANOL", "")
    assert post(place, "sheets", ("view", "text"), ("text", text), ("print.what", "labels")).status == 422


def test_of_a_package_without_coloured_labels_none_are_printed(place: Path) -> None:
    """A limited quantity bears its mark alone: ADR 3.4.7, IMDG 3.4.5; black and white."""
    found = printed(place, "labels", "paint-limited-quantity.yaml")
    assert found.status == 422
    assert found.body == b"There is nothing to print as labels: the packages bear no such mark, or bear it already\n"
    assert printed(place, "marks", "paint-limited-quantity.yaml").body.startswith(b"%PDF")


# --- the packer -----------------------------------------------------------------------------------------------------


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


def test_what_a_field_offers_where_nothing_is_known_yet() -> None:
    """A goods line whose number is none has no names to choose; a number that begins no entry has no offer."""
    name = Field("name", "Name", "choice")
    assert options_of(name, None, "") == options_of(name, goods_entry({"un": "9999"}), "x") == ()
    assert ("ISOPROPANOL", "ISOPROPANOL") in options_of(name, goods_entry({"un": "1219"}), "")
    assert offers("99") == () and {one.entry.un for one in offers("333")} <= {f"333{n}" for n in range(10)}
    assert offers("333")


def test_a_group_that_is_written_as_a_text_cannot_stand_in_the_form() -> None:
    for tree in ("x", {"shipper": "somebody"}, {"packages": [{"size": "large"}]}):
        with pytest.raises(Unfit):
            for_form(tree)
    assert from_form([("packages.0.goods.0.un", "1219"), ("packages.+", "")]) == {"packages": [{"goods": [{"un": "1219"}]}]}


def test_a_slider_of_nothing_has_no_stop() -> None:
    assert stops([Decimal(5)], Decimal(0), "L") == () and stops([], Decimal(-1), "kg") == ()


# --- the trainer ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text", ["packages: [", "- a\n", "packages: []\n", "packages: [{package: A}]\n", "packages: [{package: A, goods: [x]}]\n",
             "packages: [{package: A, goods: [{inner: none}]}]\n", "packages: [{package: [A], goods: [{}]}]\n"]
)  # fmt: skip
def test_a_record_that_is_not_whole_is_sent_to_the_clerk(place: Path, text: str) -> None:
    (place / "odd.yaml").write_text(text, "utf-8")
    for job in ("trainer", "quiz"):
        found = get(place, job, record="odd.yaml")
        assert found.status == 404 and "the clerk's page says what is wrong with it" in words(found), job


def test_a_trial_that_cannot_be_read_or_decided_says_so(place: Path) -> None:
    for sent in ({"count": "0"}, {"holds": "1 pint"}, {"packaging": "9Z"}, {"gross_mass": "x", "gross_follows": "no"}):
        found = post(place, "trainer", ("record", RECORD), *sent.items())
        assert found.status == 422 and next(iter(sent.values())) in words(found), sent
    text = (place / RECORD).read_text("utf-8")
    (place / "later.yaml").write_text(text.replace("2026-11-25", "2049-11-25"), "utf-8")
    found = get(place, "trainer", record="later.yaml")
    assert found.status == 422 and "2049" in words(found)
    assert get(place, "quiz", record="later.yaml").status == 422


def test_a_rung_of_the_ladder_sets_its_control_and_nothing_else(place: Path) -> None:
    assert value(post(place, "trainer", record=RECORD, do="set holds 0.5 L"), "holds") == "0.5 L"
    for do in ("set reference x", "set", "turn"):
        assert value(post(place, "trainer", record=RECORD, do=do), "holds") == "1 L", do


def test_what_is_gone_from_every_mode_is_said_to_vanish(place: Path) -> None:
    before = "road hazard-label 4.3|rail hazard-label 3|sea=refuse|road magnetized-material"
    found = words(post(place, "trainer", record=RECORD, before=before))
    assert "Hazard label 4.3 vanishes: Road" in found and "Magnetized material vanishes: Road" in found
    assert "rail" not in found.casefold()


def test_another_packaging_takes_shape_and_mark_along(place: Path) -> None:
    tree = plain_tree(place / RECORD)
    drum = trial(tree, 0, 0, {"packaging": "1A1"})
    assert drum.tree["packages"][0]["size"] == {"diameter": "300 mm", "height": "330 mm"}
    assert drum.values["spec_mark"].startswith("UN 1A1/") and len(drum.followed) == 2
    box = trial(drum.tree, 0, 0, {"packaging": "4G"})
    assert box.tree["packages"][0]["size"] == {"length": "300 mm", "width": "300 mm", "height": "330 mm"}
    assert "it is taken as a box of 300 mm by 300 mm" in box.followed
    can = trial(tree, 0, 0, {"packaging": "3H1"})
    assert can.tree["packages"][0]["size"] == tree["packages"][0]["size"]  # a can may be as a box is
    tree["packages"][0]["size"] = "large"
    assert trial(tree, 0, 0, {"packaging": "1A1"}).tree["packages"][0]["size"] == "large"


def test_the_gross_mass_stays_where_nothing_tells_what_it_would_be(place: Path) -> None:
    tree = plain_tree(place / RECORD)
    for wanted in ({"holds": "much"}, {"count": "0"}, {"count": "9999999"}, {"count": "x"}, {"holds": "2 m"}, {"count": "12"}):
        assert trial(tree, 0, 0, wanted).values["gross_mass"] == "17.2 kg", wanted
    assert trial(tree, 0, 0, {"gross_follows": "no", "count": "6"}).values["gross_mass"] == "17.2 kg"
    tree["packages"][0]["gross_mass"] = "heavy"
    assert trial(tree, 0, 0, {"count": "6"}).values["gross_mass"] == "heavy"
    tree["packages"][0]["goods"][0]["inner"] = "none"
    assert trial(tree, 0, 0, {"holds": "1 L"}).tree["packages"][0]["goods"][0]["inner"] == "none"


# --- workers --------------------------------------------------------------------------------------------------------


@pytest.fixture
def worker(place: Path) -> Iterator[pool.Worker]:
    found = pool.Worker(str(place))
    yield found
    found.end()


def asks(worker: pool.Worker, job: str) -> Reply | None:
    return worker.ask(job, Asked(), time.monotonic() + 20)


def test_a_worker_outlives_work_it_cannot_do_and_goes_when_it_is_let_go(worker: pool.Worker) -> None:
    assert asks(worker, "nothing") == pool.FAILED
    found = asks(worker, "start")
    assert found is not None and found.status == 200
    worker.leave()
    assert worker._process.exitcode == 0  # of itself: not killed
    assert asks(worker, "start") is None


def test_nothing_is_loaded_by_the_first_answer_that_could_be_loaded_before(place: Path) -> None:
    code = (
        "import sys; from pathlib import Path; from layouts.front.desk.jobs import answer, warmed;"
        "from layouts.front.desk.reply import Asked; warmed(); before = set(sys.modules);"
        f"assert answer(Path({str(place)!r}), 'clerk', Asked((('record', {RECORD!r}),))).status == 200;"
        "new = (n for n in set(sys.modules) - before if n.split('.')[0] in ('marks', 'layouts'));"
        "print([n for n in new if not n.startswith('layouts.artwork.symbols.')])"  # each record has its own
    )
    made = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True)
    assert made.returncode == 0, made.stderr
    assert made.stdout == "[]\n"


def test_a_worker_that_dies_at_its_work_has_no_answer(worker: pool.Worker) -> None:
    assert worker._process.pid is not None
    os.kill(worker._process.pid, 9)
    assert asks(worker, "start") is None




class Slow:
    """In a worker's place: takes a quarter of a second for everything, or gives no answer."""

    def __init__(self, folder: str) -> None:
        self.folder, self.ended, self.left = folder, False, False

    def ask(self, job: str, asked: Asked, until: float) -> Reply | None:
        time.sleep(0.25)
        return None if job == "dies" else plain(job, 200)

    def end(self) -> None:
        self.ended = True

    def leave(self) -> None:
        self.left = True


def test_more_requests_than_wait_are_told_to_come_back(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """While two work, 24 wait: of 30 more six are told so, and none is left without an answer."""
    monkeypatch.setattr(pool, "Worker", Slow)

    async def crowd() -> list[Reply]:
        found = pool.Pool(place)
        first = [asyncio.create_task(found.run("first", Asked())) for _ in range(pool.WORKERS)]
        await asyncio.sleep(0.05)
        replies = await asyncio.gather(*first, *(found.run("more", Asked()) for n in range(30)))
        idle = list(found._idle)
        found.end()
        assert len(idle) == pool.WORKERS and all(one.left for one in idle) and found._idle == []
        return replies

    replies = run(crowd())
    assert [one.body for one in replies].count(b"first") == 2
    assert [one.body for one in replies].count(b"more") == pool.WAITING == 24
    assert replies.count(pool.BUSY) == 6


def test_who_has_waited_too_long_is_told_and_a_dead_worker_is_not_kept(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pool, "Worker", Slow)
    monkeypatch.setattr(pool, "LIMIT", pool._SPARE + 0.1)

    async def three() -> list[Reply]:
        found = pool.Pool(place)
        first = found._idle[0]
        late = await asyncio.gather(*(found.run("dies", Asked()) for _ in range(3)))
        assert first.ended and found._idle == []
        return late

    assert run(three()) == [pool.TOO_LONG, pool.TOO_LONG, pool.BUSY]
