"""Where templates are rendered: a sandbox where nothing runs and all text is escaped; a cook's own come first."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from difflib import get_close_matches
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from cookbook.errors import ERROR, FileError, Place, Problem

if TYPE_CHECKING:
    from jinja2 import Environment, StrictUndefined
    from jinja2.sandbox import SandboxedEnvironment

FOLDER = Path(__file__).parent / "templates"
OWN = "templates"
"""The folder below a kitchen's `shared/` whose templates win over those of the program."""


@cache
def environment(own: Path | None = None) -> SandboxedEnvironment:
    """Where the templates are rendered, those in the folder `own` first."""
    from jinja2 import FileSystemLoader
    from jinja2.sandbox import ImmutableSandboxedEnvironment

    class Inside(FileSystemLoader):
        """Templates of the kitchen and of the program, none that a link brings from elsewhere."""

        def get_source(self, environment: Environment, template: str) -> tuple[str, str, Callable[[], bool]]:
            text, file, fresh = super().get_source(environment, template)
            refuse_outside(own, Path(file))
            mine = own / template if own is not None else None
            if mine is None or mine == Path(file):
                return text, file, fresh
            return text, file, lambda: fresh() and not mine.is_file()  # one of one's own may come meanwhile

    places = [FOLDER] if own is None else [own, FOLDER]
    return ImmutableSandboxedEnvironment(
        loader=Inside(places),
        autoescape=True,
        undefined=_missing(),
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )


@cache
def _missing() -> type[StrictUndefined]:
    """What stands for a name that a template asks for and nobody knows: it fails where it is used, with what is
    known instead."""
    from jinja2 import StrictUndefined, UndefinedError
    from jinja2.utils import missing

    class Missing(StrictUndefined):
        def __init__(self, *given: Any, **named: Any) -> None:
            super().__init__(*given, **named)
            self._undefined_exception = self._asked  # type: ignore[assignment]  # Called with the message, as a class is.

        def _asked(self, message: str | None = None) -> UndefinedError:
            of = self._undefined_obj
            fault = UndefinedError(message)
            if self._undefined_hint is None and isinstance(self._undefined_name, str):
                known = None if of is missing else [*of] if isinstance(of, Mapping) else [
                    name for name in dir(of) if name[0] != "_"]
                fault.asked = Asked(self._undefined_name, known, of is None)  # type: ignore[attr-defined]  # Ours.
            return fault

    return Missing


class Asked(NamedTuple):
    """The name that a template asks for; what its owner has, or None where any name may stand; whether its owner is
    nothing at all."""

    name: str
    known: list[str] | None
    nothing: bool


def refuse_outside(own: Path | None, path: Path) -> None:
    """Raises FileError for a template of the kitchen's that lies outside of it, by a link."""
    if own is not None and path.is_relative_to(own) and not path.resolve().is_relative_to(own.parents[1].resolve()):
        place = Place(path.relative_to(own.parents[1]).as_posix(), 1, 1)
        mend = "keep what is published inside the kitchen"
        raise FileError([Problem(ERROR, "outside", "this template leads out of the kitchen", place, mend)])


def own_templates(root: Path) -> Path:
    """The folder of a kitchen's own templates; it may not be there."""
    return root / "shared" / OWN


def rendered(name: str, root: Path | None = None, /, **values: Any) -> str:
    """A template with these values. Raises FileError with file, line and the name that is missing."""
    from jinja2 import TemplateError

    found = environment(own_templates(root) if root is not None else None)
    return _told(lambda: found.get_template(name).render(**values), name, root, TemplateError, list(values))


def plain(name: str, root: Path | None = None) -> str:
    """A template's text as it stands, such as a script or a style."""
    own = own_templates(root) / name if root is not None else None
    if root is None or own is None or not own.is_file():
        return (FOLDER / name).read_text(encoding="utf-8")
    refuse_outside(own_templates(root), own)
    return source(own, own.relative_to(root).as_posix())


def source(path: Path, shown: str) -> str:
    """The text of a template of one's own. Raises FileError where it can't be read as UTF-8."""
    try:
        data = path.read_bytes()
        return data.decode("utf-8").replace("\r\n", "\n")
    except UnicodeDecodeError as fault:
        line = data.count(b"\n", 0, fault.start) + 1
        column = len(data[data.rfind(b"\n", 0, fault.start) + 1 : fault.start].decode("utf-8")) + 1
        said, mend = f"the byte {data[fault.start]:#04x} is not UTF-8", "save the file as UTF-8"
        raise FileError([Problem(ERROR, "template", said, Place(shown, line, column), mend)]) from None
    except OSError as fault:
        said = f"this template can't be read: {fault.strerror or fault}"
        raise FileError([Problem(ERROR, "template", said, Place(shown, 1, 1), _OWN_INSTEAD)]) from None


def _told(render: Callable[[], str], name: str, root: Path | None, kinds: type[Exception], given: list[str]) -> str:
    try:
        return render()
    except (kinds, TypeError, ValueError, ZeroDivisionError, AttributeError, LookupError, OverflowError) as fault:
        file, line = _place(fault, name)
        path = Path(file)
        try:
            shown = path.relative_to(root).as_posix() if root is not None else path.name
        except ValueError:
            shown = path.name
        raise FileError([problem_of(fault, path, shown, line, given)]) from fault


def problem_of(fault: Exception, path: Path, shown: str, line: int, given: list[str]) -> Problem:
    """A template's fault with its place; `given` are the names that it may ask for."""
    said, asked, mend = _said(fault, given)
    return Problem(ERROR, "template", said, _where(path, shown, line, asked), mend)


_OWN_INSTEAD = "mend it, or remove it: the program's own takes its place"


def _said(fault: Exception, given: list[str]) -> tuple[str, str, str]:
    """What is wrong with a template, the name it asked for, and the mend."""
    from jinja2 import TemplateNotFound

    asked: Asked | None = getattr(fault, "asked", None)
    unknown = re.fullmatch(r"No (filter|test) named '(.*)'\.", str(getattr(fault, "message", "") or ""))
    if unknown is not None:
        kind, name = unknown.groups()
        near = get_close_matches(name, getattr(environment(), f"{kind}s"), 2, 0.5)
        mend = f"did you mean {' or '.join(f'`{one}`' for one in near)}?" if near else _OWN_INSTEAD
        return f"this template asks for a {kind} `{name}`, which is not known", name, mend
    if isinstance(fault, TemplateNotFound) and fault.name:
        return f"no template is called `{fault.name}`", str(fault.name), _OWN_INSTEAD
    if asked is None:
        said = getattr(fault, "message", None) or str(fault) or type(fault).__name__
        return f"this template can't be rendered: {said}", "", _OWN_INSTEAD
    if asked.nothing:
        return (f"this template asks for `{asked.name}` of something that this card doesn't have", asked.name,
                "put `{% if … %}` around it")
    near = get_close_matches(asked.name, given if asked.known is None else asked.known, 2, 0.7)
    mend = f"did you mean {' or '.join(f'`{one}`' for one in near)}?" if near else _OWN_INSTEAD
    return f"this template asks for `{asked.name}`, which is not known here", asked.name, mend


def _where(path: Path, shown: str, line: int, asked: str) -> Place:
    """The place of a name in its line; its beginning where the name doesn't stand there."""
    with suppress(OSError, UnicodeDecodeError, IndexError):
        source = path.read_text(encoding="utf-8").splitlines()[line - 1]
        if asked and (found := re.search(rf"(?<!\w){re.escape(asked)}(?!\w)", source)):
            return Place(shown, line, found.start() + 1, len(asked), source)
        bare = source.lstrip()
        return Place(shown, line, len(source) - len(bare) + 1, max(1, len(bare)), source)
    return Place(shown, line, 1)


def _place(fault: Exception, name: str) -> tuple[str, int]:
    """File and line of the fault: where its syntax breaks, else the innermost line of a template that was running."""
    line = getattr(fault, "lineno", None)
    if line is not None:
        return getattr(fault, "filename", None) or name, int(line)
    places = [(file, number) for file, number in _frames(fault) if file.endswith((".j2", ".css", ".js", ".typ"))]
    return places[-1] if places else (name, 1)


def _frames(fault: Exception) -> Iterator[tuple[str, int]]:
    trace = fault.__traceback__
    while trace is not None:
        yield trace.tb_frame.f_code.co_filename, trace.tb_lineno
        trace = trace.tb_next
