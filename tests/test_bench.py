"""The benchmarks run, meet on the page that shows them, and draw what they found."""

import json
from pathlib import Path
from xml.etree import ElementTree

import pytest

ROOT = Path(__file__).parent.parent
BENCH = Path(__file__).parent / "bench"
PAGE = ROOT / "docs" / "performance.md"


@pytest.fixture
def bench(monkeypatch):
    """The folder of the benchmarks on the path, as their command has it."""
    for folder in (BENCH, Path(__file__).parent / "browser"):
        monkeypatch.syspath_prepend(str(folder))


def test_pushes_are_compared_with_bare_inserts(bench, tmp_path):
    import push_bench

    found = push_bench.compare(tmp_path, entries=20, runs=1)

    assert found.keys() == {"log", "bare"}
    assert min(found.values()) > 0


def test_a_long_log_is_sound_and_as_long_as_asked(bench, tmp_path):
    import long_log

    from webapp.shoplog.checkup import check_all

    long_log.begin(tmp_path, 200)
    made = long_log.extend(tmp_path, 600)

    assert 600 <= made < 900
    assert check_all(tmp_path) == []


def test_curves_end_in_their_names_and_rise_to_the_right(bench):
    import plot

    picture = ElementTree.fromstring(
        plot.plot({"check": [(1e3, 2), (1e6, 2000)], "pull": [(1e3, 5), (1e6, 5)]}, "entries", "ms")
    )

    named = {each.text for each in picture.iter() if each.tag.endswith("text")}
    assert {"check", "pull", "1,000", "1,000,000", "entries", "ms"} <= named
    lines = [each.get("points") for each in picture.iter() if each.tag.endswith("polyline")]
    check, pull = [[point.split(",") for point in line.split()] for line in lines]
    assert float(check[0][1]) > float(check[1][1])
    assert pull[0][1] == pull[1][1]


def test_the_page_shows_each_budget_with_its_last_figure(bench):
    import run

    found = json.loads(run.KEPT.read_text("utf-8"))
    page = PAGE.read_text("utf-8")

    for what, words, shown, _, met in run.budgets(found):
        [row] = [line for line in page.splitlines() if line.startswith(f"| {what} |")]
        assert row.startswith(f"| {what} | {words} | {shown} |")
        assert ("not met" in row) is not met
    assert all(f"{int(size):,}" in page for size in found["growth"])
