"""Coverage-guided fuzzing of the readers with atheris, for whoever has it: `python -m tests.quantity.fuzzing`.

Not part of the test run: `test_fuzz.py` covers the same ground with seeded texts. Ends by itself with
`-runs=1000000`.
"""

from __future__ import annotations

import importlib
import sys

from tests.quantity.test_fuzz import checked


def one_input(data: bytes) -> None:
    """One input of the fuzzer."""
    checked(data.decode("utf-8", "replace"))


def main() -> None:
    """Hand the readers to the fuzzer."""
    try:
        atheris = importlib.import_module("atheris")
    except ModuleNotFoundError:
        sys.exit("atheris is not installed here; the seeded texts of test_fuzz.py need nothing")
    atheris.instrument_all()
    atheris.Setup(sys.argv, one_input)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
