"""The addresses of the desk: each is a job that a worker does; files of the page itself are read from the package."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING
from urllib.parse import parse_qsl

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from layouts.front.desk.reply import MOST_BYTES, Asked, Pairs, Reply

if TYPE_CHECKING:
    from layouts.front.desk.pool import Pool

#: Address and method of every job.
JOBS = {
    "/": ("GET", "start"),
    "/scan": ("POST", "scan"),
    "/clerk": ("GET", "clerk"),
    "/clerk/answer": ("POST", "clerk_answer"),
    "/clerk/read": ("POST", "clerk_read"),
    "/clerk/save": ("POST", "clerk_save"),
    "/entries": ("GET", "entries"),
    "/sheets": ("POST", "sheets"),
    "/packer": ("GET", "packer"),
    "/packer/tick": ("POST", "packer_tick"),
    "/trainer": ("GET", "trainer"),
    "/trainer/answer": ("POST", "trainer"),
    "/quiz": ("GET", "quiz"),
    "/quiz/answer": ("POST", "quiz"),
}
#: Files of the page, by name: package, file, content type. Nothing else is served.
FILES = {
    **{
        name: ("layouts.front.desk", f"static/{name}", kind)
        for name, kind in (
            ("desk.css", "text/css"),
            ("live.js", "text/javascript"),
            ("entry.js", "text/javascript"),
            ("desk.svg", "image/svg+xml"),
        )
    },
    "regular.ttf": ("fontpkg_fira_sans", "files/FiraSans-Regular.ttf", "font/ttf"),
    "bold.ttf": ("fontpkg_fira_sans", "files/FiraSans-Bold.ttf", "font/ttf"),
    "condensed.ttf": ("fontpkg_fira_sans_condensed", "files/FiraSansCondensed-Bold.ttf", "font/ttf"),
    "condensed-regular.ttf": ("fontpkg_fira_sans_condensed", "files/FiraSansCondensed-Regular.ttf", "font/ttf"),
}
#: So many fields a form has at most.
_FIELDS = 5000


def make_app(pool: Pool) -> Starlette:
    """The application without its guard. pool: does the work."""

    def endpoint(job: str) -> object:
        async def answer(request: Request) -> Response:
            return _response(await pool.run(job, await _asked(request)))

        return answer

    routes = [Route(path, endpoint(job), methods=[method]) for path, (method, job) in JOBS.items()]  # type: ignore[arg-type]
    return Starlette(routes=[*routes, Route("/page/{name}", _file, methods=["GET"])])


async def _asked(request: Request) -> Asked:
    """What the request says. HTTPException 400 where it cannot be read."""
    query = _pairs(request.url.query)
    if request.method != "POST":
        return Asked(query)
    kind = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    if kind == "application/x-www-form-urlencoded":
        return Asked(query, _pairs((await request.body()).decode("ascii", "replace")))
    if kind == "multipart/form-data":
        async with request.form(max_files=1, max_fields=20, max_part_size=MOST_BYTES) as form:
            texts = tuple((name, value) for name, value in form.multi_items() if isinstance(value, str))
            for value in form.values():
                if not isinstance(value, str):
                    return Asked(query, texts, await value.read(), value.filename or "")
            return Asked(query, texts)
    raise HTTPException(415, "a form is sent as a form")


def _pairs(text: str) -> Pairs:
    try:
        return tuple(parse_qsl(text, keep_blank_values=True, errors="strict", max_num_fields=_FIELDS))
    except ValueError:
        raise HTTPException(400, f"a form has at most {_FIELDS} fields, in UTF-8") from None


def _response(reply: Reply) -> Response:
    return Response(reply.body, reply.status, dict(reply.headers), reply.kind)


@cache
def _content(name: str) -> bytes:
    package, path, _ = FILES[name]
    return files(package).joinpath(path).read_bytes()


async def _file(request: Request) -> Response:
    name = request.path_params["name"]
    if name not in FILES:
        raise HTTPException(404)
    return Response(_content(name), media_type=FILES[name][2])
