"""Started and stopped as a cook does it."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
from pathlib import Path
from urllib.request import urlopen

import pytest

from cookbook.cli import main
from cookbook.page.serving import banner
from cookbook.page.setting import Setting
from tests.page.visiting import ROOT, Visitor


@pytest.mark.skipif(sys.platform == "win32", reason="signals are sent otherwise there")
def test_it_serves_until_it_is_interrupted(small: Visitor) -> None:
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-m", "cookbook", "page", "--port", str(free_port())]
    page = subprocess.Popen(command, cwd=small.root, stdout=subprocess.PIPE, text=True, env=env)
    try:
        assert page.stdout is not None
        home = page.stdout.readline().split()[-1]
        with urlopen(home, timeout=10) as answer:
            assert b"Walnut and thyme paste" in answer.read()
        page.send_signal(signal.SIGTERM)
        page.wait(10)
        assert "Ctrl-C" in page.stdout.read()
        page.stdout.close()
    finally:
        page.kill()
        page.wait(10)


def free_port() -> int:
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return int(one.getsockname()[1])


def test_a_port_that_is_taken_is_said(small: Visitor, capsys: pytest.CaptureFixture[str]) -> None:
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        one.listen()
        assert main(["page", "--kitchen", str(small.root), "--port", str(one.getsockname()[1])]) == 2
    told = capsys.readouterr().err
    assert "is not to be had" in told
    assert "--port" in told


def test_an_empty_folder_or_one_to_come_is_served_and_one_with_other_things_is_not(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    served: list[object] = []
    monkeypatch.setattr("cookbook.page.serve", lambda kitchen, *_, **__: served.append(kitchen))
    monkeypatch.chdir(tmp_path)
    assert main(["page"]) == 0
    assert served == [Path()]
    (tmp_path / "letter.txt").write_text("dear")
    assert main(["page"]) == 2
    assert main(["page", "--kitchen", str(tmp_path / "no" / "where")]) == 2
    assert main(["page", "--kitchen", str(tmp_path / "letter.txt")]) == 2
    assert len(served) == 1
    assert main(["page", "--kitchen", str(tmp_path / "my-kitchen")]) == 0
    assert served[1:] == [tmp_path / "my-kitchen"]
    assert not (tmp_path / "my-kitchen").exists()
    assert main(["page", "--read-only", "--kitchen", str(tmp_path / "my-kitchen")]) == 2


@pytest.mark.parametrize("port", ["0", "65536", "http", "-1"])
def test_a_port_that_is_none_is_refused(small: Visitor, port: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["page", "--kitchen", str(small.root), "--port", port]) == 2
    assert "mend" in capsys.readouterr().err


def test_in_the_house_s_net_it_says_address_code_and_that_anybody_can_listen() -> None:
    said = banner(Setting(Path(), 8417, ("192.168.1.5",)), "ABCD2345")
    assert "http://192.168.1.5:8417" in said
    assert "ABCD 2345" in said
    assert "█" in said
    assert said.count("plain http") == 1
    alone = banner(Setting(Path("loft"), 8417), "")
    assert "its kitchen is loft" in alone
    assert "code" not in alone
    assert "127.0.0.1:8417" in alone
