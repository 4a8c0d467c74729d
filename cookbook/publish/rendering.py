"""Where templates are rendered: a sandbox where nothing runs and all text is escaped; a cook's own come first."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cookbook.errors import ERROR, FileError, Place, Problem

if TYPE_CHECKING:
    from jinja2 import Environment
    from jinja2.sandbox import SandboxedEnvironment

FOLDER = Path(__file__).parent / "templates"
OWN = "templates"
"""The folder below a kitchen's `shared/` whose templates win over those of the program."""


@cache
def environment(own: Path | None = None) -> SandboxedEnvironment:
    """Where the templates are rendered, those in the folder `own` first."""
    from jinja2 import FileSystemLoader, StrictUndefined
    from jinja2.sandbox import ImmutableSandboxedEnvironment

    class Inside(FileSystemLoader):
        """Templates of the kitchen and of the program, none that a link brings from elsewhere."""

        def get_source(self, environment: Environment, template: str) -> tuple[str, str, Callable[[], bool]]:
            found = super().get_source(environment, template)
            _refuse_outside(own, Path(found[1]))
            return found

    places = ([own] if own is not None and own.is_dir() else []) + [FOLDER]
    return ImmutableSandboxedEnvironment(
        loader=Inside(places),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )


def _refuse_outside(own: Path | None, path: Path) -> None:
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
    return _told(lambda: found.get_template(name).render(**values), name, root, TemplateError)


def plain(name: str, root: Path | None = None) -> str:
    """A template's text as it stands, such as a script or a style."""
    own = own_templates(root) / name if root is not None else None
    if own is None or not own.is_file():
        return (FOLDER / name).read_text(encoding="utf-8")
    _refuse_outside(own.parent, own)
    return own.read_text(encoding="utf-8")


def _told(render: Callable[[], str], name: str, root: Path | None, kinds: type[Exception]) -> str:
    try:
        return render()
    except (kinds, TypeError, ValueError, ZeroDivisionError, AttributeError, LookupError, OverflowError) as fault:
        file, line = _place(fault, name)
        path = Path(file)
        try:
            shown = path.relative_to(root).as_posix() if root is not None else path.name
        except ValueError:
            shown = path.name
        said = getattr(fault, "message", None) or str(fault) or type(fault).__name__
        problem = Problem(
            ERROR,
            "template",
            f"this template can't be rendered: {said}",
            Place(shown, line, 1),
            "mend it, or remove it: the program's own takes its place",
        )
        raise FileError([problem]) from fault


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
