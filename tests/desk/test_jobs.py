"""The desk's work without a server: what it says where a request, a record or the folder is not as its pages make them."""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest

from layouts.front.desk.entries import goods_entry, offers
from layouts.front.desk.fields import Field
from layouts.front.desk.folder import Folder, FolderError, state
from layouts.front.desk.jobs import answer
from layouts.front.desk.options import options_of
from layouts.front.desk.reply import MOST_BYTES, Asked, Reply
from layouts.front.desk.tree import Unfit, for_form, from_form
from marks.reading import digest, read_record
from tests.desk.asking import get, post, value, words
from tests.desk.conftest import RECORD, ROOT


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
