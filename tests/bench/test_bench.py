"""The benchmarks run, meet on the page that shows them, and draw what they found."""

import json
from pathlib import Path
from xml.etree import ElementTree

import pytest

ROOT = Path(__file__).parents[2]
BENCH = Path(__file__).parent
PAGE = ROOT / "docs" / "performance.md"


@pytest.fixture
def bench(monkeypatch):
    """The folder of the benchmarks on the path, as their command has it."""
    for folder in (BENCH, BENCH.parent / "browser"):
        monkeypatch.syspath_prepend(str(folder))


def test_pushes_are_compared_with_bare_inserts(bench, tmp_path):
    import push_bench

    found = push_bench.compare(tmp_path, entries=20, runs=1)

    assert found.keys() == {"log", "bare"}
    assert min(found.values()) > 0


def test_a_long_log_is_sound_and_as_long_as_asked(bench, tmp_path):
    import long_log

    from webapp.shoplog.full_check import check_all

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
    import judged
    import run

    found = json.loads(run.KEPT.read_text("utf-8"))
    page = PAGE.read_text("utf-8")

    for what, words, shown, _, met in judged.budgets(found):
        [row] = [line for line in page.splitlines() if line.startswith(f"| {what} |")]
        assert row.startswith(f"| {what} | {words} | {shown} |")
        assert ("not met" in row) is not met
    assert all(f"{int(size):,}" in page for size in found["growth"])


@pytest.fixture
def found(bench):
    """The figures of a whole run: the last ones, with what later runs take beside them."""
    import run

    kept = json.loads(run.KEPT.read_text("utf-8"))
    history = {"10": {"vehicle page": 20.0, "job page": 9.0}, "200": {"vehicle page": 40.0}}
    history["200"]["job page"] = 30.0
    return {**kept, "runs": 9, "long runs": 3, "history": history}


def with_curve(found, name, *values):
    """The figures with other ones for a curve."""
    sizes = zip(found["growth"].items(), values, strict=True)
    return {**found, "growth": {size: {**at, name: value} for (size, at), value in sizes}}


@pytest.mark.parametrize(
    ("name", "values", "tenfold", "met"),
    [
        ("vehicle page", (20, 20, 20, 20), 1, True),
        ("vehicle page", (20, 24, 31, 38), 1.24, True),
        ("vehicle page", (20, 26, 34, 45), 1.31, False),
        ("search", (4, 4, 8, 16), 1.61, False),
        ("check", (50, 400, 4_000, 40_000), 9.36, True),
        ("check", (50, 800, 12_000, 200_000), 15.9, False),
    ],
)
def test_a_curve_is_held_to_its_nature(found, name, values, tenfold, met):
    import judged
    import run

    figures = with_curve(found, name, *values)
    [rise] = [each for each in judged.growths(figures) if each.name == name]

    assert rise.tenfold == pytest.approx(tenfold, rel=0.02)
    assert rise.met is met
    assert run.is_well(figures, None) <= met
    [row] = [line for line in run.growth_table(figures) if line.startswith(f"| {name} |")]
    assert ("not met" in row) is not met


def test_a_list_is_judged_where_it_is_full(bench):
    import judged

    curve = [(1_000, 10.0), (10_000, 40.0), (100_000, 40.0), (1_000_000, 44.0)]

    assert judged.tenfold(curve, 10_000) == pytest.approx(1.05, abs=0.01)
    assert judged.tenfold(curve, 0) > judged.FLAT_MOST
    assert judged.tenfold(curve[:2], 10_000) == pytest.approx(4)


def test_a_figure_that_is_slower_than_noise_explains_is_named(found):
    import judged
    import run

    slower = {**found, "assess": judged.NOISE * found["assess"] * 1.02}
    noisy = {**found, "assess": judged.NOISE * found["assess"] * 0.98}
    elsewhere = {**found, "machine": "another one"}

    [says] = judged.worse(slower, found)
    assert says == "findings of a full sheet, Python: 1.53 times the run before."
    assert says in run.apart(slower, found)[0]
    assert not run.is_well(slower, found)
    for other, before in ((noisy, found), (found, slower), (slower, elsewhere), (slower, None)):
        assert judged.worse(other, before) == []
        assert "none is." in run.apart(other, before)[0]


def test_a_long_history_is_held_to_three_times_a_short_one(found):
    import judged

    rows = {each.what: each for each in judged.budgets(found)}
    vehicle, job = (
        rows[f"{page} page, 200 accepted jobs of the vehicle beside 10"]
        for page in ("vehicle", "job")
    )

    assert (vehicle.figure, vehicle.met) == ("2 ×", True)
    assert (job.figure, job.met) == ("3.33 ×", False)


def test_the_written_part_says_how_each_figure_was_taken_and_what_it_is_held_to(found):
    import run

    before = {key: value for key, value in found.items() if key != "history"}
    text = run.section(found, before)

    assert "medians of 9 runs" in text and "are medians of 3;" in text
    assert (
        "| vehicle page, 200 accepted jobs of the vehicle beside 10 | 3 × | 2 × | none yet |"
        in text
    )
    assert "| accepted jobs of one vehicle | 10 | 200 |" in text
    assert "without the headers of the answers" in text and "headers too |" in text
    for name in ("pending list", "check"):
        [row] = [line for line in text.splitlines() if line.startswith(f"| {name} |")]
        assert row.count(" × ") == 2


def test_findings_are_timed_by_a_median(bench, monkeypatch):
    import bench_assess

    ends = iter([end for taken in [9.0] * 7 + [2.0] * 8 for end in (0.0, taken / 1000)])
    monkeypatch.setattr(bench_assess.time, "process_time", lambda: next(ends))

    assert bench_assess.median_ms(lambda: None) == pytest.approx(2.0)


def test_a_vehicle_comes_again_as_often_as_asked(bench, tmp_path):
    import history
    import long_log

    from webapp.shoplog import ShopLog
    from webapp.shoplog.full_check import check_all

    long_log.begin(tmp_path, 1000)
    with ShopLog(tmp_path) as log:
        about = history.Again(log).up_to(6)
        again = history.Again(log).up_to(8)
        accepted = log.jobs(vehicle=about["vehicle"], state="accepted")

        assert again["vehicle"] == about["vehicle"]
        assert len(accepted) == 8
        assert log.jobs(vehicle=about["vehicle"], most=1)[0]["id"] == again["job"]
        assert log.job(again["job"])["state"] == "pending"
        filed = [e["body"].get("from_job") for e in log.entries_of_vehicle(about["vehicle"])]
        assert {job["id"] for job in accepted} <= set(filed)
    assert check_all(tmp_path) == []
