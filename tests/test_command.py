"""The command line: findings of a sheet, faults in words, and nothing else touched."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from webapp.command import main
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
    "arguments",
    [
        [],
        ["demo", "--port", "0"],
        ["demo", "--port", "x"],
        ["go"],
        ["serve", "--port", "70000"],
        ["serve", "--certificate", "shop.pem"],
        ["passphrase"],
    ],
)
def test_a_wrong_command_says_how_and_exits_2(capsys, arguments):
    with pytest.raises(SystemExit) as left:
        main(arguments)

    assert left.value.code == 2
    assert "usage: axlewright" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--help"], ["examples:", "axlewright demo", "axlewright assess"]),
        (
            ["serve", "--help"],
            [
                "--address",
                "--certificate",
                "which address:",
                "examples:",
                "exit codes: 0",
                "--data",
            ],
        ),
        (["passphrase", "--help"], ["NAME", "opens once", "examples:", "exit codes: 0"]),
        (["demo", "--help"], ["--port", "--host", "--data", "invented"]),
        (["assess", "--help"], ["SHEET.json", "example:", "exit code 2"]),
    ],
)
def test_help_teaches_by_example(capsys, arguments, words):
    with pytest.raises(SystemExit) as left:
        main(arguments)
    shown = " ".join(capsys.readouterr().out.split())

    assert left.value.code == 0
    assert [word for word in words if word not in shown] == []
