"""Every reader over its corpus and over small damages to it: an answer, problems or a CookbookError, and in time."""

from __future__ import annotations

import random
import time

import pytest

from tests.fuzz.corpora import CORPORA
from tests.fuzz.readers import fed

INPUTS = [(reader, name) for reader, corpus in CORPORA.items() for name in corpus]
SIGNS = (b"\n", b": ", b"- ", b"{", b"]", b'"', b"#", b"0", b"-", b"\xff", b"\0", b",", "½".encode())
SLOWEST_S = 6.0


@pytest.mark.parametrize(("reader", "name"), INPUTS, ids=[f"{reader}-{name[:40]!a}" for reader, name in INPUTS])
def test_nothing_that_lies_in_a_file_is_more_than_a_problem(reader: str, name: str) -> None:
    begun = time.process_time()
    fed(reader, CORPORA[reader][name])
    assert time.process_time() - begun < SLOWEST_S


def damaged(data: bytes, other: bytes, chance: random.Random) -> bytes:
    """The bytes with a few of them changed, taken out, doubled, or with a stretch of another input put in."""
    found = bytearray(data[:20_000])
    for _ in range(chance.randint(1, 4)):
        begin = chance.randrange(len(found) + 1)
        end = min(len(found), begin + chance.choice((0, 1, 1, 2, 8, 40)))
        piece = chance.randrange(len(other) + 1)
        found[begin:end] = chance.choice((
            b"", bytes(found[begin:end]) * 2, bytes([chance.randrange(256)]), other[piece:piece + 30],
            chance.choice(SIGNS),
        ))
    return bytes(found)


def check_damaged(reader: str, rounds: int, seed: int) -> None:
    """Feed so many damaged inputs."""
    chance = random.Random(f"{reader} {seed}")
    inputs = [one for one in CORPORA[reader].values() if len(one) < 20_000]
    for _ in range(rounds):
        data = damaged(chance.choice(inputs), chance.choice(inputs), chance)
        try:
            fed(reader, data)
        except Exception as fault:
            fault.add_note(f"the input was {data!r}")
            raise


@pytest.mark.parametrize("reader", CORPORA)
def test_what_is_damaged_is_a_problem_too(reader: str) -> None:
    check_damaged(reader, 8, 0)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(1, 11))
@pytest.mark.parametrize("reader", CORPORA)
def test_thousands_that_are_damaged(reader: str, seed: int) -> None:
    check_damaged(reader, 1000, seed)
