"""Tags: codes, the sheet of labels, and what their QR codes say."""

import re

import numpy
import pytest
from kit.desk_pages import GRID, QR, VEHICLE, Job, at_desk, drawn_qr, qr_texts, seen, text_of

from webapp.desk.tags.codes import LETTERS
from webapp.desk.tags.labels import Grid, name_lines

CODE = re.compile(rf"[{LETTERS}]{{4}}-[{LETTERS}]{{4}}")


@pytest.fixture
def vehicle(phone):
    """A vehicle on file without a tag."""
    job = Job(phone)
    job.file_vehicle()
    job.send()
    return VEHICLE


def make(lead, **changed):
    return lead.post("/desk/tags", data={**GRID, **changed})


def test_a_vehicle_without_a_tag_is_given_a_code(lead, vehicle, log):
    answer = make(lead, vehicles=[vehicle])

    [(kind, number, _, about, job, body)] = at_desk(log)
    assert (kind, number, about, job) == ("tag", 1, vehicle, None)
    assert CODE.fullmatch(body["code"])
    assert answer.status_code == 303 and f"tag={body['code']}" in answer.location
    assert log.vehicle_by_tag(body["code"])["id"] == vehicle


def test_a_vehicle_with_a_tag_keeps_its_code(lead, vehicle, log, phone):
    job = Job(phone)
    job.write("tag", {"code": "K7RM-4TQX"}, job=None)
    job.send()

    answer = make(lead, vehicles=[vehicle])

    assert "tag=K7RM-4TQX" in answer.location
    assert at_desk(log) == []


def put_on_file(log, numbers):
    """Vehicles on file in one go: their ids."""
    boss = next(row["id"] for row in log.people() if row["role"] == "lead")
    named = {f"{VEHICLE[:-3]}{number:03}": f"Truck {number:03}" for number in numbers}
    drafts = [
        {"kind": "vehicle", "vehicle": each, "body": {"name": name}} for each, name in named.items()
    ]
    log.write_at_desk(boss, drafts, "0123456789ab")
    return list(named)


@pytest.fixture
def many(log):
    """201 vehicles on file: one more than the form lists."""
    return put_on_file(log, range(201))


def test_the_tag_of_a_vehicle_beyond_the_listed_ones_is_printed(lead, log, many):
    page = lead.get(f"/desk/tags?vehicle={many[200]}")

    answer = make(lead, vehicles=[many[200]])

    assert "There are more vehicles than are listed here" in text_of(page)
    assert re.search(rf'<input checked[^>]*value="{many[200]}"', page.text)
    assert answer.status_code == 303
    assert log.vehicle(many[200])["tags"] == re.findall(r"tag=([^&]+)", answer.location)


def test_a_search_finds_further_vehicles_and_keeps_what_was_chosen_and_typed(lead, log, many):
    held = log.high_water()
    page = make(lead, find="yes", q="truck 200", vehicles=[many[3]], rows="9")

    boxes = re.findall(r'<input[^>]*name="vehicles"[^>]*>', page.text)
    assert page.status_code == 200 and log.high_water() == held
    assert [("checked" in box, re.findall(r'value="([^"]+)"', box)) for box in boxes] == [
        (True, [many[3]]),
        (False, [many[200]]),
    ]
    assert 'value="truck 200"' in page.text and re.search(r'name="rows"[^>]*value="9"', page.text)
    assert "There are more vehicles" not in text_of(page)


def test_a_search_that_finds_no_vehicle_says_so(lead, vehicle):
    says = text_of(make(lead, find="yes", q="<crane>"))

    assert "No vehicle has “<crane>” in its name, note or tag code." in says


def test_more_tags_than_a_sheet_takes_are_refused_before_any_code_is_given(lead, log, many):
    chosen = many + put_on_file(log, range(201, 400))
    held = log.high_water()

    answer = make(lead, vehicles=chosen, blank=1)

    assert "That is 401 tags: print at most 400 at once." in text_of(answer)
    assert log.high_water() == held


def test_a_vehicle_that_the_log_does_not_know_is_refused(lead, log):
    answer = make(lead, vehicles=[VEHICLE])

    assert answer.status_code == 400 and at_desk(log) == []


def test_blank_tags_have_codes_that_lead_nowhere(lead, log):
    answer = make(lead, blank=5)

    codes = re.findall(r"tag=([^&]+)", answer.location)
    assert len(set(codes)) == 5 and all(CODE.fullmatch(code) for code in codes)
    assert at_desk(log) == []


def test_the_sheet_shows_name_and_code(lead, vehicle):
    page = lead.get(make(lead, vehicles=[vehicle]).location)

    labels = re.findall(r"<text [^>]*>([^<]+)</text>", page.text)
    assert labels[0] == "Gray hauler" and CODE.fullmatch(labels[1])


def test_the_qr_codes_lead_to_the_service_and_the_codes(lead, vehicle):
    location = make(lead, vehicles=[vehicle], blank=2).location

    codes = re.findall(r"tag=([^&]+)", location)
    assert qr_texts(lead.get(location)) == [f"http://localhost/t/{code}" for code in codes]


def test_the_qr_codes_hold_the_address_that_is_set(client, app):
    app.config["ADDRESS"] = "https://shop-pc.local:8443/"
    there = {"base_url": "https://shop-pc.local:8443"}
    client.post("/door/demo/lead", **there)

    location = client.post("/desk/tags", data={**GRID, "blank": 1}, **there).location

    page = client.get(location, **there)
    assert qr_texts(page)[0].startswith("https://shop-pc.local:8443/t/")


# Common sheets: columns, rows, side, top, gaps; the last has labels with a QR code of 20 mm.
SHEETS = [
    (3, 8, 0, 4.5, 0, 0),
    (2, 5, 4, 12, 2.5, 0),
    (4, 10, 8, 13, 2.5, 2.5),
    (4, 11, 7, 10, 1, 1),
]


@pytest.mark.parametrize("sheet", SHEETS)
def test_every_label_of_every_sheet_is_read_by_an_independent_reader(lead, sheet):
    grid = dict(zip(("columns", "rows", "side", "top", "across", "down"), sheet, strict=True))
    location = make(lead, blank=sheet[0] * sheet[1], **grid).location

    codes = re.findall(r"tag=([^&]+)", location)
    assert qr_texts(lead.get(location)) == [f"http://localhost/t/{code}" for code in codes]


def dirty(picture, seed):
    """The picture with specks of grease and chalk on it, a thumb's smear, and gray light."""
    draw = numpy.random.default_rng(seed)
    spoiled = picture.astype(float) * 0.6 + 40
    side = len(picture)
    for shade in (20, 200):
        for _ in range(12):
            x, y = draw.integers(0, side - 6, 2)
            spoiled[y : y + 4, x : x + 4] = shade
    spoiled[side // 2 : side // 2 + side // 24, side // 3 : side // 2] = 110
    return (spoiled + draw.normal(0, 8, spoiled.shape)).clip(0, 255).astype(numpy.uint8)


@pytest.mark.parametrize("seed", range(6))
def test_a_tag_of_20_mm_is_read_with_dirt_on_it(lead, app, seed):
    """At 20 mm a phone's camera, 150 mm away, has about 10 dots a millimeter."""
    page = lead.get(make(lead, blank=1).location)
    [(size, path)] = QR.findall(page.text)
    picture = drawn_qr(int(size), path, 200 // int(size))

    assert seen(dirty(picture, seed)) == qr_texts(page)[0]


def test_an_address_of_this_pc_alone_is_warned_about(lead, app):
    location = make(lead, blank=1).location

    assert "which only this PC can reach" in text_of(lead.get(location))
    app.config["ADDRESS"] = "http://192.168.7.20:8000"
    assert "which only this PC can reach" not in text_of(lead.get(location))


def test_the_labels_fill_pages_of_the_grid(lead):
    page = lead.get(make(lead, blank=25, skip=19).location).text

    sheets = page.split('class="label-sheet"')[1:]
    assert [sheet.count('class="qr"') for sheet in sheets] == [2, 21, 2]


@pytest.mark.parametrize(
    ("changed", "says"),
    [
        ({}, "Choose a vehicle, or enter how many blank tags to print."),
        ({"blank": 61}, "Blank tags: enter a whole number from 0 to 60."),
        ({"columns": 0, "blank": 1}, "Columns: enter a whole number from 1 to 8."),
        ({"rows": "many", "blank": 1}, "Rows: enter a whole number from 1 to 20."),
        ({"rows": "2,5", "blank": 1}, "Rows: enter a whole number from 1 to 20."),
        ({"down": "1.000,5", "blank": 1}, "Gap down: enter a number from 0 to 20."),
        ({"across": "nan", "blank": 1}, "Gap across: enter a number from 0 to 20."),
        ({"side": "", "blank": 1}, "Edge: enter a number from 0 to 50."),
        ({"columns": 8, "blank": 1}, "Use fewer columns or rows."),
        ({"paper": "a0", "blank": 1}, "Not a valid choice"),
    ],
)
def test_a_sheet_that_cannot_be_made_says_why_and_writes_nothing(lead, vehicle, log, changed, says):
    answer = make(lead, **changed)

    assert answer.status_code == 400
    assert says in text_of(answer)
    assert at_desk(log) == []


@pytest.mark.parametrize("wrong", ["columns=0", "tag=<script>", "side=x", "columns=8&rows=20"])
def test_an_address_that_is_no_sheet_is_refused_in_a_sentence(lead, wrong):
    grid = "&".join(f"{name}={value}" for name, value in GRID.items() if name not in wrong)

    answer = lead.get(f"/desk/tags/sheet?{wrong}&{grid}")

    assert answer.status_code == 400
    assert "This could not be saved" in text_of(answer)


# Die-cut sheets with a gap across and none down: the form, the label, and where three of them lie.
A4 = {"paper": "a4", "side": "7.25", "top": "15.15", "across": "2.5"}
LETTER = {"paper": "letter", "rows": 10, "side": "4.76", "top": "12.7", "across": "3.175"}
DIE_CUT = [
    (A4, (63.5, 38.1), {0: (7.25, 15.15), 4: (73.25, 53.25), 20: (139.25, 243.75)}),
    (LETTER, (66.68, 25.4), {0: (4.76, 12.7), 4: (74.61, 38.1), 29: (144.46, 241.3)}),
]


@pytest.mark.parametrize(("form", "size", "places"), DIE_CUT, ids=["A4", "Letter"])
def test_the_labels_of_die_cut_sheets_lie_where_they_are_cut(lead, form, size, places):
    page = lead.get(make(lead, blank=30, **form).location)

    sheet = page.text.split('class="label-sheet"')[1]
    corners = re.findall(r"translate\(([\d.]+) ([\d.]+)\)", sheet)
    cut = re.findall(r'class="cut" width="([\d.]+)" height="([\d.]+)"', sheet)
    assert len(cut) > 20
    for each in cut:
        assert tuple(map(float, each)) == pytest.approx(size, abs=0.01)
    for number, place in places.items():
        assert tuple(map(float, corners[number])) == pytest.approx(place, abs=0.01)


def test_the_form_begins_with_a_sheet_of_21_labels(lead):
    fields = dict(re.findall(r'name="(\w+)"[^>]* value="([^"]*)"', lead.get("/desk/tags").text))

    assert {name: float(fields[name]) for name in ("columns", "rows", "across", "down")} == {
        "columns": 3, "rows": 7, "across": 2.5, "down": 0,
    }  # fmt: skip
    assert (fields["side"], fields["top"]) == ("7.25", "15.15")


def test_a_decimal_comma_is_understood(lead):
    location = make(lead, blank=1, side="7,25", top="15,15", across="2,5").location

    assert "side=7.25&top=15.15&across=2.5&down=0.0" in location
    assert "Labels are 63.5 by 38.1 mm." in text_of(lead.get(location))


def test_a_grid_places_labels_row_by_row_inside_its_edges():
    grid = Grid("a4", 3, 7, 7, 15, 2.5, 1)

    assert grid.place(0) == (7, 15)
    assert grid.place(4) == pytest.approx((7 + grid.width + 2.5, 15 + grid.height + 1))
    x, y = grid.place(20)
    assert (x + grid.width, y + grid.height) == pytest.approx((210 - 7, 297 - 15))


def test_a_long_name_is_cut_with_a_mark():
    lines = name_lines("Forwarder support truck number eleven of the north yard", 14, 3)

    assert lines == ["Forwarder", "support truck", "number …"]
