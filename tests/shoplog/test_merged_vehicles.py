"""A tag scanned for the first time by phones that know less than the log ends as one vehicle."""

from itertools import combinations

import pytest
from kit.entries import hire, make_entry, new_id, strike

from webapp.shoplog import NotFound, ShopLog

CODE = "K7RM-4TQX"


def first_scan(phone, vehicle, name):
    """What a phone makes of a blank tag, and a job on the vehicle."""
    record = {"name": name, "units": "in", "driving_side": "left", "axles": ["front"]}
    return [
        make_entry(phone, "vehicle", vehicle=vehicle, body=record),
        make_entry(phone, "tag", vehicle=vehicle, body={"code": CODE, "first": True}),
        make_entry(phone, "job", vehicle=vehicle, job=new_id()),
    ]


def given_before(phone, vehicle):
    """A vehicle that the desk gave the tag to."""
    return [
        make_entry(phone, "vehicle", vehicle=vehicle, body={"name": "Plow 4"}),
        make_entry(phone, "tag", vehicle=vehicle, body={"code": CODE}),
    ]


def orders(ours, theirs):
    """Every order in which the log can meet the entries of two phones, each in its own order."""
    for places in combinations(range(len(ours) + len(theirs)), len(ours)):
        mine, other = iter(ours), iter(theirs)
        yield [
            next(mine) if place in places else next(other)
            for place in range(len(ours) + len(theirs))
        ]


def tables(shop):
    """Where tags lead, who is merged, and the vehicle of each job."""
    with shop.reading() as db:
        queries = ("SELECT * FROM tags", "SELECT * FROM merged", "SELECT id, vehicle FROM jobs")
        return [sorted(map(tuple, db.execute(query))) for query in queries]


def take(shop, entries):
    """Store entries one by one, each from the phone that made it."""
    for entry in entries:
        [answer] = shop.append(entry["phone"], [entry])
        assert answer["verdict"] == "stored"


@pytest.mark.parametrize("same_id", [True, False], ids=["one id", "two ids"])
def test_two_phones_make_one_vehicle_of_a_blank_tag_in_every_order(tmp_path, same_id):
    one, two = new_id(), new_id()
    for number in range(20):
        with ShopLog(tmp_path / str(number)) as shop:
            crew = hire(shop)
            ours = first_scan(crew.phone, one, "Plow 4")
            theirs = first_scan(crew.leads_phone, one if same_id else two, "plow four")
            take(shop, list(orders(ours, theirs))[number])

            [vehicle] = shop.vehicles()
            assert vehicle["tags"] == [CODE]
            assert shop.vehicle_by_tag(CODE)["id"] == vehicle["id"]
            jobs = {row["id"] for row in shop.jobs(vehicle=vehicle["id"])}
            assert jobs == {ours[-1]["job"], theirs[-1]["job"]}
            kept_up = tables(shop)
            shop.rebuild()
            assert tables(shop) == kept_up


def test_a_tag_given_before_makes_the_first_scan_part_of_its_vehicle(shop, crew):
    truck, new = new_id(), new_id()
    scanned = first_scan(crew.phone, new, "Plow, I think")
    take(shop, [*given_before(crew.leads_phone, truck), *scanned])

    assert [row["id"] for row in shop.vehicles()] == [truck]
    assert shop.vehicle(new) == shop.vehicle(truck)
    assert shop.vehicle(truck)["name"] == "Plow 4"
    assert shop.vehicle(truck)["record"]["axles"] == ["front"]
    assert shop.job(scanned[-1]["job"])["vehicle"] == truck
    assert [entry["vehicle"] for entry in shop.entries_of_vehicle(truck)] == [new] * 2 + [truck] * 2


def test_what_comes_later_under_the_merged_id_belongs_to_the_vehicle_too(shop, crew):
    truck, new = new_id(), new_id()
    take(shop, [*given_before(crew.leads_phone, truck), *first_scan(crew.phone, new, "?")])
    late = make_entry(crew.phone, "job", vehicle=new, job=new_id())
    take(shop, [late, make_entry(crew.phone, "vehicle", vehicle=new, body={"note": "loud"})])

    assert shop.job(late["job"])["vehicle"] == truck
    assert shop.vehicle(truck)["record"]["note"] == "loud"
    assert [row["id"] for row in shop.vehicles("loud")] == [truck]


def test_striking_the_first_scan_parts_the_vehicles(shop, crew):
    truck, new = new_id(), new_id()
    scanned = first_scan(crew.phone, new, "Tender")
    take(shop, [*given_before(crew.leads_phone, truck), *scanned])
    take(shop, [strike(crew.phone, scanned[1]["id"], vehicle=new, job=None)])

    assert {row["id"] for row in shop.vehicles()} == {truck, new}
    assert shop.job(scanned[-1]["job"])["vehicle"] == new
    assert shop.vehicle_by_tag(CODE)["id"] == truck


def test_a_blank_tag_leads_nowhere_until_it_is_scanned(shop):
    with pytest.raises(NotFound):
        shop.vehicle_by_tag(CODE)


def test_tags_are_found_without_reading_the_whole_log(shop):
    from webapp.shoplog.views.merged_vehicles import TAG_LINES

    with shop.reading() as db:
        [plan] = [row["detail"] for row in db.execute(f"EXPLAIN QUERY PLAN {TAG_LINES}")]

    assert "USING INDEX tag_lines" in plan
