"""The work behind every address, done in a worker: what was asked in, a reply out."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from importlib import import_module
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Any

from layouts.front.desk.folder import Folder, FolderError
from layouts.front.desk.reply import Asked, Draw, Reply, page

if TYPE_CHECKING:
    from jinja2 import Environment

Job = Callable[[Folder, Asked, Draw], Reply]

#: The function of every job and its module, which is loaded when the job is first asked for.
JOBS = {
    "start": "start.start",
    "scan": "start.scan",
    "clerk": "clerk.open_record",
    "clerk_answer": "clerk.answer",
    "clerk_read": "clerk.read",
    "clerk_save": "clerk.save",
    "entries": "clerk.entries",
    "sheets": "printing.sheets",
    "packer": "packer.show",
    "packer_tick": "packer.tick",
    "trainer": "trainer.show",
    "quiz": "quiz.quiz",
}


def answer(place: Path, job: str, asked: Asked) -> Reply:
    """Do one job. A folder that does not give what was asked for is told on a page."""
    try:
        return _job(job)(Folder(place), asked, draw)
    except FolderError as error:
        return page(draw("trouble.html", said=str(error)), 404)


def _job(name: str) -> Job:
    module, _, function = JOBS[name].partition(".")
    found: Job = getattr(import_module(f"layouts.front.desk.{module}"), function)
    return found


def draw(template: str, **values: Any) -> str:
    """A page from its template; every value is escaped but those made of our own drawings."""
    return _environment().get_template(template).render(**values)


@cache
def _environment() -> Environment:
    from jinja2 import DictLoader, Environment, StrictUndefined
    from markupsafe import Markup

    from marks.tables import editions

    folder = files("layouts.front.desk").joinpath("templates")
    texts = {one.name: one.read_text("utf-8") for one in folder.iterdir() if one.name.endswith(".html")}
    made = Environment(
        loader=DictLoader(texts), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    made.filters["drawing"] = Markup
    made.globals["held"] = {
        mode: edition.name for mode, edition in editions().items()
    }  # said at the foot of every page
    return made


def warmed() -> None:
    """Load what the first answers need, while nobody waits."""
    from layouts.front.desk import clerk, packer, printing, quiz, trainer  # noqa: F401
    from layouts.front.desk.consider import consider

    line = {"un": "1219", "name": "ISOPROPANOL", "inner": {"count": "1", "holds": "1 L", "of": "glass bottle"}}
    size = {"length": "400 mm", "width": "300 mm", "height": "330 mm"}
    package = {"package": "A", "packaging": "4G", "size": size, "gross_mass": "5 kg", "goods": [line]}
    consider({"date": "2026-11-25", "modes": ["road", "sea", "air"], "packages": [package]}, "record")
    clerk.entries(Folder(Path()), Asked((("q", "paint"),)), draw)
    for name in ("clerk.html", "packer.html", "trainer.html"):
        _environment().get_template(name)
