"""Coverage-guided fuzzing of one reader with atheris, for whoever has it: `python -m tests.fuzz recipe`.

Begins with the corpus that is committed; what comes behind the reader's name goes to the fuzzer, and
`-max_total_time=60` or `-runs=100000` ends it. Not part of the test run: `test_corpora.py` feeds the same readers.
"""

from __future__ import annotations

import importlib
import sys
import tempfile
from pathlib import Path


def main() -> None:
    """Hand a reader to the fuzzer."""
    try:
        atheris = importlib.import_module("atheris")
    except ModuleNotFoundError:
        sys.exit("atheris is not installed here; the corpora of test_corpora.py need nothing")
    with atheris.instrument_imports(include=["cookbook"]):
        from tests.fuzz.corpora import CORPORA
        from tests.fuzz.readers import fed
    reader = sys.argv[1] if len(sys.argv) > 1 else ""
    if reader not in CORPORA:
        sys.exit(f"which reader? {', '.join(CORPORA)}")
    corpus = Path(tempfile.mkdtemp())
    for number, text in enumerate(CORPORA[reader].values()):
        (corpus / str(number)).write_bytes(text)
    atheris.Setup([sys.argv[0], *sys.argv[2:], str(corpus)], lambda data: fed(reader, data))
    atheris.Fuzz()


if __name__ == "__main__":
    main()
