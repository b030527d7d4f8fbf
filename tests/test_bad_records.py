"""Every broken record is refused with file, line, path, cause and cure, all its faults at once."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from marks.errors import RecordError
from marks.fields import Model
from marks.reading import _EXAMPLES, _MODELS, read_record, read_text
from marks.record import Record
from marks.source import MOST_BYTES

FOLDER = Path(__file__).parent / "bad_records"
MESSAGES = [line for line in (FOLDER / "messages.txt").read_text("utf-8").splitlines() if not line.startswith("#")]
FILES = sorted(path for path in FOLDER.iterdir() if path.name != "messages.txt")
FORM = re.compile(r"[\w.-]+:\d+: [\w.\[\]-]+: [^;]+; .+; (?!and ).+")


def faults_of(path: Path) -> RecordError:
    with pytest.raises(RecordError) as refused:
        read_record(path)
    return refused.value


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_the_answer_is_the_one_agreed(path: Path) -> None:
    answer = str(faults_of(path)).replace(str(path), path.name)
    assert answer.splitlines() == [line for line in MESSAGES if line.startswith(f"{path.name}:")]


def test_every_agreed_answer_has_its_file() -> None:
    assert {line.split(":")[0] for line in MESSAGES} == {path.name for path in FILES}


@pytest.mark.parametrize("line", MESSAGES, ids=lambda line: line.split(":")[0])
def test_the_form_of_an_answer(line: str) -> None:
    assert FORM.fullmatch(line)
    assert line.isprintable() or "<U+" in line


def test_lines_are_those_of_the_file() -> None:
    """Wherever a message quotes what it read, the quoted words stand on the line it names (or begin there)."""
    checked = 0
    for path in FILES:
        try:
            lines = path.read_text("utf-8").splitlines()
        except UnicodeDecodeError:
            continue
        for fault in faults_of(path).faults:
            quoted = re.fullmatch(r'"([\w .,:+-]{2,40})"', fault.read)
            if quoted and fault.line:
                checked += 1
                assert any(quoted[1] in line for line in lines[fault.line - 1 : fault.line + 1]), fault
    assert checked > 40


def test_many_faults_at_once_in_the_order_of_lines() -> None:
    faults = faults_of(FOLDER / "many-at-once.yaml").faults
    assert len(faults) == 9
    assert [fault.line for fault in faults] == sorted(fault.line for fault in faults)


@pytest.mark.parametrize(
    ("name", "cause"),
    [
        ("no-such-file.yaml", "the file can't be read: No such file or directory"),
        ("record.txt", "it does not say YAML or JSON"),
        ("record", "it does not say YAML or JSON"),
    ],
)
def test_files_that_cannot_be_read(tmp_path: Path, name: str, cause: str) -> None:
    (fault,) = faults_of(tmp_path / name).faults
    assert (fault.file, fault.line, fault.path, fault.why) == (str(tmp_path / name), 0, "record", cause)


def test_a_folder_is_no_record(tmp_path: Path) -> None:
    (tmp_path / "folder.yaml").mkdir()
    (fault,) = faults_of(tmp_path / "folder.yaml").faults
    assert fault.why.startswith("the file can't be read: ")


def test_a_file_too_large_is_not_read_to_its_end(tmp_path: Path) -> None:
    path = tmp_path / "large.yaml"
    with path.open("wb") as stream:
        stream.truncate(MOST_BYTES * 200)  # a file of holes: 1.6 GB that take no room
    (fault,) = faults_of(path).faults
    assert fault.why == f"a record has at most {MOST_BYTES}"


@pytest.mark.parametrize("notation", ["yaml", "json"])
@pytest.mark.parametrize("sign", ["[", "{", '{"a":', "- ", "? ", "a: [", "[{"])
def test_nested_without_end(notation: str, sign: str) -> None:
    with pytest.raises(RecordError):
        read_text(sign * 100_000, notation=notation)


def test_every_key_that_can_be_missing_has_an_example() -> None:
    asked = {name for model in _MODELS.values() for name, field in model.model_fields.items() if field.is_required()}
    assert asked <= set(_EXAMPLES)


def test_every_model_of_the_record_can_name_its_keys() -> None:
    """An unknown key is answered with the keys there are, in whatever group it stands."""
    found, seek = set(), [Record]
    while seek:
        model = seek.pop()
        found.add(model)
        text = str({name: field.annotation for name, field in model.model_fields.items()})
        seek += [m for m in Model.__subclasses__() if m.__name__ in re.findall(r"\w+", text) and m not in found]
    assert found == set(_MODELS.values())
