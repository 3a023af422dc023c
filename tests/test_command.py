"""The command line: findings of a sheet, faults in words, and nothing else touched."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from webapp import __version__
from webapp.command import axlewright, main
from webapp.reckon.assess import assess

SAMPLE = Path(__file__).parent / "data" / "sample_sheet.json"


def run(capsys, *arguments):
    code = main([str(argument) for argument in arguments])
    out, err = capsys.readouterr()
    return code, out, err


def sheet(tmp_path, text):
    path = tmp_path / "sheet.json"
    path.write_text(text, "utf-8")
    return path


def test_it_prints_the_findings_of_a_sheet(capsys):
    code, out, err = run(capsys, "assess", SAMPLE)

    assert (code, err) == (0, "")
    assert json.loads(out) == json.loads(json.dumps(assess(json.loads(SAMPLE.read_text("utf-8")))))


def test_an_empty_sheet_has_findings_that_say_so(capsys, tmp_path):
    code, out, _ = run(capsys, "assess", sheet(tmp_path, "{}"))

    assert code == 0
    assert "centering" not in json.loads(out)


def test_each_fault_is_one_line_that_names_the_field(capsys, tmp_path):
    path = sheet(tmp_path, '{"axle": "middle", "centering": {"left": ["x"]}, "color": 1}')

    code, out, err = run(capsys, "assess", path)

    assert (code, out) == (2, "")
    assert {line.split(": ")[0] for line in err.splitlines()} == {
        "axle",
        "centering.left",
        "color",
    }


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "is not JSON"),
        ("{", "is not JSON"),
        ('{"axle": NaN}', "NaN"),
        ('{"limits": {"offset": -Infinity}}', "Infinity"),
        ('{"axle": "front", "axle": "rear"}', "twice"),
        ('{"a": {"b": 1, "b": 1}}', "twice"),
        ('{"axle": "front"} trailing', "is not JSON"),
        ("{'axle': 'front'}", "is not JSON"),
        ("[" * 200_000, "nested too deeply"),
        ("9" * 5000, "is not JSON"),
    ],
)
def test_what_is_not_strict_json_is_one_line_and_exit_2(capsys, tmp_path, text, says):
    code, out, err = run(capsys, "assess", sheet(tmp_path, text))

    assert (code, out) == (2, "")
    assert says in err
    assert len(err.splitlines()) == 1


@pytest.mark.parametrize("text", ["null", "[]", "3", '"text"', "true", "1e999"])
def test_a_value_that_is_no_sheet_is_a_fault(capsys, tmp_path, text):
    code, out, err = run(capsys, "assess", sheet(tmp_path, text))

    assert (code, out) == (2, "")
    assert err.startswith("sheet: ")


def test_what_cannot_be_read_is_one_line_and_exit_2(capsys, tmp_path):
    latin = tmp_path / "latin.json"
    latin.write_bytes(b'{"axle": "\xff"}')

    for path in [tmp_path / "nothing.json", tmp_path, latin]:
        code, out, err = run(capsys, "assess", path)
        assert (code, out) == (2, "")
        assert len(err.splitlines()) == 1
        assert str(path) in err


def test_assess_touches_nothing_else_and_needs_no_service(tmp_path):
    path = sheet(tmp_path, SAMPLE.read_text("utf-8"))
    watch = """
import sys
opened = []
def hook(event, arguments):
    if event.startswith(("socket.", "subprocess.", "os.mkdir", "os.remove")):
        opened.append(event)
    if event == "open" and not str(arguments[0]).endswith((".py", ".pyc")):
        opened.append(str(arguments[0]))
from webapp.command import main
sys.addaudithook(hook)
code = main(["assess", sys.argv[1]])
assert "flask" not in sys.modules and "sqlite3" not in sys.modules, "more than the arithmetic"
assert opened == [sys.argv[1]], opened
sys.exit(code)
"""

    done = subprocess.run([sys.executable, "-c", watch, str(path)], capture_output=True, text=True)

    assert (done.returncode, done.stderr) == (0, "")
    assert sorted(item.name for item in tmp_path.iterdir()) == ["sheet.json"]


def test_the_findings_are_utf_8_whatever_the_terminal_speaks(tmp_path):
    arguments = [sys.executable, "-m", "webapp.command", "assess", str(SAMPLE)]

    done = subprocess.run(arguments, capture_output=True, env={"PYTHONIOENCODING": "ascii"})

    assert done.returncode == 0
    assert "says" in json.loads(done.stdout.decode("utf-8"))


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        ([], "Commands:"),
        (["demo", "--port", "0"], "a port is a whole number from 1 to 65535"),
        (["demo", "--port", "x"], "a port is a whole number from 1 to 65535"),
        (["go"], "No such command"),
        (["serve", "--port", "70000"], "a port is a whole number from 1 to 65535"),
        (["serve", "--certificate", "shop.pem"], "--certificate and --key go together"),
        (["passphrase"], "Missing argument 'NAME'"),
        (["assess"], "Name the sheet to assess, or use --schema"),
        (["assess", str(SAMPLE), "--schema"], "Name the sheet to assess, or use --schema"),
        (["assess", str(SAMPLE), "--format", "xml"], "'xml' is not one of 'json', 'text'"),
    ],
)
def test_a_wrong_command_says_how_and_exits_2(capsys, arguments, says):
    code, out, err = run(capsys, *arguments)

    assert (code, out) == (2, "")
    assert "Usage: axlewright" in err
    assert says in err


@pytest.mark.parametrize(
    ("arguments", "meant"),
    [
        (["asess", str(SAMPLE)], "assess"),
        (["serv"], "serve"),
        (["serve", "--adress", "log.example"], "--address"),
        (["backup", "--allso", "stick"], "--also"),
    ],
)
def test_a_slip_of_the_fingers_is_told_what_was_probably_meant(capsys, arguments, meant):
    code, _, err = run(capsys, *arguments)

    assert code == 2
    assert f"Did you mean '{meant}'?" in err


@pytest.mark.parametrize("option", ["-V", "--version"])
def test_the_version_is_one_line(capsys, option):
    assert run(capsys, option) == (0, f"axlewright {__version__}\n", "")


def test_an_option_may_stand_in_the_environment(capsys, monkeypatch):
    monkeypatch.setenv("AXLEWRIGHT_ASSESS_FORMAT", "text")

    _, out, _ = run(capsys, "assess", SAMPLE)
    _, told, _ = run(capsys, "assess", "--format", "json", SAMPLE)

    assert out.startswith("The axle sits")
    assert "centering" in json.loads(told)


def test_the_data_folder_in_the_environment_counts_for_every_command_but_the_demo(
    capsys, monkeypatch, tmp_path
):
    monkeypatch.setenv("AXLEWRIGHT_DATA", str(tmp_path / "shop"))

    code, _, err = run(capsys, "check")

    assert code == 1
    assert str(tmp_path / "shop") in err
    assert all("data" in names for names in with_shop_folder().values())


def with_shop_folder():
    """The names of the options of each command whose --data is AXLEWRIGHT_DATA."""
    return {
        name: [option.name for option in command.params if option.envvar == "AXLEWRIGHT_DATA"]
        for name, command in axlewright.commands.items()
        if name not in {"demo", "assess"}
    }


def test_ctrl_c_is_one_line_and_exit_130(capsys, monkeypatch):
    def interrupted(*_):
        raise KeyboardInterrupt

    monkeypatch.setattr("webapp.command.findings_of", interrupted)

    code, out, err = run(capsys, "assess", SAMPLE)

    # The empty line before ends the line in which the terminal shows ^C.
    assert (code, out, err) == (130, "", "\nStopped by Ctrl+C.\n")


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such pipes.")
@pytest.mark.parametrize("arguments", [["assess", "--schema"], ["--help"], ["serve", "--help"]])
def test_a_reader_that_goes_away_ends_it_without_a_word(arguments):
    reading, writing = os.pipe()
    os.close(reading)
    command = [sys.executable, "-m", "webapp.command", *arguments]

    with open(writing, "wb") as pipe:
        done = subprocess.run(command, stdout=pipe, stderr=subprocess.PIPE, text=True)

    assert (done.returncode, done.stderr) == (1, "")


def completions(*words):
    """What the Tab key offers after these words."""
    given = {
        "_AXLEWRIGHT_COMPLETE": "bash_complete",
        "COMP_WORDS": " ".join(["axlewright", *words]),
        "COMP_CWORD": str(len(words)),
    }
    command = [sys.executable, "-m", "webapp.command"]
    done = subprocess.run(command, capture_output=True, env={**os.environ, **given}, text=True)
    return [line.partition(",")[2] for line in done.stdout.splitlines()]


def test_the_tab_key_completes_commands_options_and_choices():
    assert completions("re") == ["rekey", "restore"]
    assert completions("serve", "--backup") == ["--backup-every", "--backup-to", "--backup-also"]
    assert completions("assess", "--format", "") == ["json", "text"]


@pytest.mark.parametrize(
    ("command", "words"),
    [
        ("serve", ["--address", "--certificate", "Which address:", "Exit codes: 0", "--data"]),
        ("passphrase", ["NAME", "works once", "Exit codes: 0"]),
        ("setup-link", ["works once, within an hour", "Exit codes: 0"]),
        ("demo", ["--port", "--host", "--data", "made-up"]),
        ("assess", ["SHEET.json", "A sheet:", "exit code 2"]),
    ],
)
def test_help_says_what_there_is_to_know(capsys, command, words):
    code, out, _ = run(capsys, command, "--help")

    assert code == 0
    assert [word for word in words if word not in " ".join(out.split())] == []


@pytest.mark.parametrize("command", [None, *axlewright.commands])
def test_help_teaches_by_example(capsys, command):
    _, out, _ = run(capsys, *([command] if command else []), "--help")

    examples = re.findall(r"^    (axlewright .*)$", out, re.MULTILINE)
    assert examples
    assert all(line.split()[1] == (command or line.split()[1]) for line in examples)
    assert max(map(len, out.splitlines())) <= 100
