"""The clerk's page: a record is written, read, answered, saved and printed."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import parse_qsl, quote

from layouts.choices import ARROWS, EXCEPTED, SYMBOLS
from layouts.front.desk.answer import VERDICTS, answers_of
from layouts.front.desk.consider import Considered, consider, consider_text, too_much
from layouts.front.desk.entries import offers
from layouts.front.desk.fields import Field, Group, part_at
from layouts.front.desk.folder import Folder, FolderError, state
from layouts.front.desk.forms import form_of
from layouts.front.desk.options import options_of
from layouts.front.desk.prints import PRINTS, STOCKS, USUAL
from layouts.front.desk.reply import Asked, Draw, Reply, elsewhere, page
from layouts.front.desk.tree import MOST, Tree, Unfit, for_form, from_form, steps_of, to_text, value_at
from layouts.output import stem_of
from marks.reading import NOTATIONS
from marks.source import parse
from marks.terms import VerdictWord


@dataclass
class Desk:
    """What the clerk's page holds between two requests: all of it travels with the form. tree: as in a file, or None
    while the text is none. view: form or text. file: the record it was read from; was: that file's state then."""

    tree: Tree
    text: str
    view: str = "form"
    file: str = ""
    was: str = ""
    notation: str = "yaml"
    told: str = ""
    name_fault: str = ""
    save_as: str = ""
    opened: tuple[str, ...] = ()
    focus: str = ""
    printing: dict[str, str] = field(default_factory=lambda: dict(USUAL))

    @property
    def name(self) -> str:
        """What faults call the file."""
        return self.file or "record"

    def considered(self) -> Considered:
        if self.view == "form":
            return consider(self.tree, self.name)
        return consider_text(self.text, self.name, self.tree, self.notation)


def new() -> Desk:
    """An empty record: one package with one line of goods."""
    tree = {"packages": [{"package": "A", "goods": [{}]}]}
    return Desk(tree, to_text(tree))


def open_record(folder: Folder, asked: Asked, draw: Draw) -> Reply:
    """GET /clerk: an empty record, or ``record`` of the folder."""
    name = asked.one("record")
    if not name:
        return _page(new(), folder, draw)
    data = folder.read(name)
    told = "Saved." if asked.one("saved") else ""
    return _page(_from_file(data, name, state(data), told), folder, draw)


def read(folder: Folder, asked: Asked, draw: Draw) -> Reply:
    """POST /clerk/read: a file from elsewhere, or a text."""
    data = asked.upload or asked.one("text").encode()
    suffix = Path(asked.upload_name).suffix.lower()
    notation = NOTATIONS.get(suffix, "json" if data.lstrip().startswith(b"{") else "yaml")
    name = f"record.{'json' if notation == 'json' else 'yaml'}"
    return _page(_from_file(data, name, "", "Read.", notation, file=""), folder, draw)


def _from_file(
    data: bytes, name: str, was: str, told: str, notation: str | None = None, file: str | None = None
) -> Desk:
    notation = notation or NOTATIONS[Path(name).suffix.lower()]
    text = data.decode("utf-8-sig", "replace")
    tree, fits = _tree_of(data, notation)
    desk = Desk(tree, text, "text", name if file is None else file, was, notation, told)
    if fits:
        desk.view = "form"
    return desk


def _tree_of(data: bytes | str, notation: str) -> tuple[Tree, bool]:
    """The tree of a text, and whether the form can show it."""
    root, faults = parse(data, notation)
    tree = root.plain() if root is not None and isinstance(root.value, dict) else None
    if faults or tree is None:
        return tree, False
    try:
        for_form(tree)
    except Unfit:
        return tree, False
    return tree, True


def answer(folder: Folder, asked: Asked, draw: Draw) -> Reply:
    """POST /clerk/answer: the page as the form now stands."""
    return _page(desk_of(asked), folder, draw)


def desk_of(asked: Asked) -> Desk:
    """The page's state of a form that was sent, its button pressed."""
    do, _, about = asked.one("do").partition(" ")
    notation = "json" if asked.one("notation") == "json" else "yaml"
    common: dict[str, Any] = {
        "file": asked.one("file"), "was": asked.one("was"), "opened": asked.every("open"), "focus": asked.one("focus"),
        "save_as": asked.one("save_as"),
        "printing": {key: asked.one(f"print.{key}", usual) for key, usual in USUAL.items()},
    }  # fmt: skip
    if asked.one("view") == "text":
        text = asked.one("text").replace("\r\n", "\n")
        tree, fits = _tree_of(text, notation)
        view = "form" if do == "form" and fits else "text"
        told = "" if do != "form" or fits else "The form can't show this; mend what is said below first."
        return Desk(tree, text, view, notation=notation, told=told, **common)
    tree = from_form(asked.form)
    _forget_other_entries(tree, asked.every("known"))
    desk = Desk(tree, "", **common)
    if do in ("add", "remove", "more"):
        _change(desk, do, about, asked)
    elif do == "entry":
        _choose_entry(desk, about)
    desk.text = to_text(desk.tree)
    if do == "text":
        desk.view = "text"
    return desk


def _forget_other_entries(tree: Tree, known: tuple[str, ...]) -> None:
    """A goods line whose number was changed loses what told apart the entries of the old one."""
    for one in known:
        name, _, before = one.partition(" ")
        steps = steps_of(name)
        line = value_at(tree, steps[:-1]) if steps else None
        if isinstance(line, dict) and before and line.get("un") != before:
            for key in ("name", "packing_group", "line"):
                line.pop(key, None)


def _change(desk: Desk, do: str, about: str, asked: Asked) -> None:
    """A row added or taken away, a detail added."""
    name = asked.one(f"more:{about}") if do == "more" else about
    steps = steps_of(name)
    part = part_at(steps) if steps else None
    if steps is None or part is None:
        return
    here = desk.tree
    for i, step in enumerate(steps[:-1]):
        if isinstance(here, list):
            here = here[step] if isinstance(step, int) and step < len(here) else None
        else:
            here = here.setdefault(step, [] if isinstance(steps[i + 1], int) else {})
        if not isinstance(here, dict | list):
            return
    last = steps[-1]
    if do == "remove":
        if isinstance(last, int) and isinstance(here, list) and last < len(here):
            here.pop(last)
            desk.opened = ()
    elif isinstance(part, Group) and part.many and isinstance(here, dict):
        rows = here.setdefault(str(last), [])
        if isinstance(rows, list) and len(rows) < MOST:
            rows.append(_row(part, rows))
    elif do == "more":
        desk.opened = (*desk.opened, name)


def _choose_entry(desk: Desk, about: str) -> None:
    """A goods line means another entry: its number, and what else tells it apart."""
    name, _, keys = about.partition(" ")
    steps = steps_of(name)
    line = value_at(desk.tree, steps) if steps else None
    if steps and isinstance(part_at(steps), Group) and steps[-2:-1] == ("goods",) and isinstance(line, dict):
        for key in ("un", "name", "packing_group", "line"):
            line.pop(key, None)
        chosen = {key: value for key, value in parse_qsl(keys) if key in ("un", "name", "packing_group", "line")}
        rest = dict(line)
        line.clear()
        line.update(chosen | rest)


def _row(group: Group, rows: list[Tree]) -> Tree:
    """A new member of a list; a package gets the next letter and a line of goods."""
    if group.key != "packages":
        return {}
    letters = [one.get("package") for one in rows if isinstance(one, dict)]
    free = (letter for letter in "ABCDEFGHIJKLMNOPQRSTUVWXYZ" if letter not in letters)
    return {"package": next(free, str(len(rows) + 1)), "goods": [{}]}


def _page(desk: Desk, folder: Folder, draw: Draw, status: int = 200) -> Reply:
    if too_much(desk.tree):
        desk.view = "text"  # a form of it would take as long as its plan
    considered = desk.considered()
    form = None
    if desk.view == "form":
        form = form_of(for_form(desk.tree), considered, desk.opened, desk.focus)
    reference = value_at(desk.tree, ("reference",))
    planned = considered.planned
    return page(
        draw(
            "clerk.html",
            desk=desk,
            form=form,
            considered=considered,
            answers=answers_of(considered),
            verdict=VERDICTS[planned.verdict] if planned else "",
            refused=planned is not None and planned.verdict is VerdictWord.REFUSE,
            suggested=desk.save_as or _yaml_name(desk.file, reference),
            stocks=STOCKS,
            choices={"symbols": SYMBOLS, "excepted": EXCEPTED, "arrows": ARROWS},
            print=desk.printing,
            prints=PRINTS,
            codes=options_of(Field("packaging", "", "code"), None, ""),
        ),
        status,
    )


def _yaml_name(file: str, reference: Any) -> str:
    if file:
        return f"{Path(file).stem}.yaml"
    return f"{stem_of(reference)}.yaml" if isinstance(reference, str) else ""


# --- saving ---------------------------------------------------------------------------------------------------------


def save(folder: Folder, asked: Asked, draw: Draw) -> Reply:
    """POST /clerk/save: the record into the folder, faults and all; the page then shows what was saved."""
    desk = desk_of(asked)
    name = asked.one("save_as").strip()
    name = name if Path(name).suffix else f"{name}.yaml"
    text = desk.text
    try:
        if desk.view == "form" and desk.file:
            text = _opening_words(folder, desk.file) + text
        was = desk.was if name == desk.file else ""
        folder.save(name, text, was, asked.one("replace") == "yes")
    except FolderError as error:
        desk.name_fault = str(error)
        return _page(desk, folder, draw, 409)
    return elsewhere(f"/clerk?record={quote(name)}&saved=yes")


def _opening_words(folder: Folder, name: str) -> str:
    """The lines of comment a file begins with: they are kept, those further down are not."""
    try:
        lines = folder.read(name).decode("utf-8", "replace").splitlines(keepends=True)
    except FolderError:
        return ""
    kept = []
    for line in lines:
        if not line.startswith("#"):
            break
        kept.append(line)
    return "".join(kept) if Path(name).suffix.lower() != ".json" else ""


# --- entries ------------------------------------------------------------------------------------------------------


def entries(folder: Folder, asked: Asked, draw: Draw) -> Reply:
    """GET /entries: what fits ``q``, as options of a list."""
    return page(draw("entries.html", offers=offers(asked.one("q"))))
