"""What the log answers to a batch, and what it then holds."""

import itertools
from datetime import datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kit.entries import (
    BODIES,
    HIRED,
    JOB,
    VEHICLE,
    a_whole_job,
    decision,
    hire,
    make_entry,
    new_id,
    reading,
    stored_ids,
    strike,
    verdicts,
)

from webapp.reckon.log.fold import standing
from webapp.shoplog import NotFound, ShopLog
from webapp.shoplog.people import utc_now


def test_a_stored_entry_is_handed_out_as_it_was_made_with_what_the_log_added(shop, crew):
    entry = make_entry(crew.phone, typed="8 3/4")

    [answer] = shop.append(crew.phone, [entry])
    [pulled] = shop.pull(0, 10)["entries"]

    assert answer == {"id": entry["id"], "verdict": "stored", "seq": HIRED + 1, "reason": None}
    assert pulled.pop("received_at") <= utc_now()
    assert pulled == {**entry, "seq": HIRED + 1, "person": crew.technician}


def test_an_unknown_phone_cannot_append(shop):
    stranger = new_id()

    with pytest.raises(NotFound, match="does not know that phone"):
        shop.append(stranger, [make_entry(stranger)])


def test_f26_a_batch_sent_again_and_again_is_stored_once(shop, crew):
    batch = [make_entry(crew.phone) for _ in range(4)]

    answers = [shop.append(crew.phone, batch) for _ in range(5)]

    assert [verdicts(each) for each in answers] == [["stored"] * 4] + [["already"] * 4] * 4
    assert [answer["seq"] for answer in answers[4]] == [HIRED + number for number in range(1, 5)]
    assert stored_ids(shop) == [entry["id"] for entry in batch]


def test_f26_an_entry_twice_in_one_batch_is_stored_once(shop, crew):
    entry = make_entry(crew.phone)

    assert verdicts(shop.append(crew.phone, [entry, entry])) == ["stored", "already"]


def test_f26_a_decision_stays_acknowledged_when_its_lead_is_no_lead_any_more(shop, crew):
    [hand_in] = shop.append(crew.phone, [make_entry(crew.phone, "hand_in")])
    accepted = decision(crew.leads_phone, hand_in["id"])
    shop.append(crew.leads_phone, [accepted])
    shop.change_person(crew.lead, "Bram", "technician")

    assert verdicts(shop.append(crew.leads_phone, [accepted])) == ["already"]


def test_f27_one_invalid_and_one_clashing_entry_do_not_hold_up_the_other_48(log_folder):
    with ShopLog(log_folder) as shop:
        crew = hire(shop)
        first = make_entry(crew.phone)
        shop.append(crew.phone, [first])
        batch = [make_entry(crew.phone) for _ in range(50)]
        batch[20] = {**batch[20], "made_at": "just now"}
        batch[30] = {**first, "typed": "another text"}
        answers = shop.append(crew.phone, batch)
    with ShopLog(log_folder) as shop:
        kept = stored_ids(shop)
        aside = shop.quarantined()

    assert verdicts(answers) == (
        ["stored"] * 20 + ["refused"] + ["stored"] * 9 + ["differs"] + ["stored"] * 19
    )
    assert "with its offset from UTC" in answers[20]["reason"]
    assert "already has an entry with this ID but different content" in answers[30]["reason"]
    assert kept == [e["id"] for e in [first, *batch[:20], *batch[21:30], *batch[31:]]]
    assert [each["entry"] for each in aside] == [batch[30]]


def test_f33_a_wrong_clock_skips_nothing_and_doubles_nothing(shop, crew):
    clocks = ["2026-11-25T10:00:00+01:00", "1970-01-01T00:00:00Z", "2040-06-01T12:00:00+02:00"]
    batch = [make_entry(crew.phone, made_at=at) for at in clocks * 3]
    for entry in batch:
        shop.append(crew.phone, [entry])

    pulled, since = [], 0
    while (page := shop.pull(since, 2))["entries"]:
        pulled += page["entries"]
        since = page["next"]

    assert [(e["id"], e["made_at"]) for e in pulled] == [(e["id"], e["made_at"]) for e in batch]
    assert all(entry["received_at"] <= utc_now() for entry in pulled)


def test_f34_the_first_content_of_an_id_stands_and_the_second_is_kept_aside(shop, crew):
    first = reading(crew.phone, 221.5)
    second = reading(crew.phone, 212.5, id=first["id"])
    shop.append(crew.phone, [first])

    answers = [shop.append(crew.phone, [second]) for _ in range(3)]

    assert [verdicts(each) for each in answers] == [["differs"]] * 3
    assert answers[0][0]["seq"] is None
    assert shop.entry(first["id"])["body"]["value"] == 221.5
    [aside] = shop.quarantined()
    assert aside["entry"] == second
    assert aside["phone"] == crew.phone


@pytest.mark.parametrize(
    "wrong",
    [
        {"id": None},
        {"id": 17},
        {"local_no": None},
        {"local_no": "1"},
        {"local_no": -1},
        {"kind": None},
        {"vehicle": 5},
        {"round": 1},
        {"body": "text"},
        {"made_at": None},
        {"body": {**BODIES["reading"], "value": "wide"}},
        {"body": {**BODIES["reading"], "value": 1e9}},
    ],
)
def test_f35_null_wrong_type_and_out_of_range_are_refused_not_swallowed(shop, crew, wrong):
    good = make_entry(crew.phone)

    answers = shop.append(crew.phone, [{**make_entry(crew.phone), **wrong}, good])

    assert verdicts(answers) == ["refused", "stored"]
    assert answers[0]["reason"]
    assert stored_ids(shop) == [good["id"]]


@given(pushes=st.lists(st.tuples(st.sampled_from("nnnncr"), st.integers(1, 7)), max_size=25))
def test_f36_every_device_ends_with_what_the_log_holds(long_log, long_crew, pushes):
    """n: new entries, c: a clash with an earlier one, r: an earlier one sent again."""
    start = long_log.high_water()
    devices = [Device(long_log, start) for _ in range(3)]
    sent = []
    for turn, (push, size) in enumerate(pushes):
        batch = [make_entry(long_crew.phone) for _ in range(size)] if push == "n" else sent[:size]
        changed = {"typed": "changed"} if push == "c" else {}
        long_log.append(long_crew.phone, [{**entry, **changed} for entry in batch])
        sent += batch if push == "n" else []
        devices[turn % 3].pull(most=size)
    for device in devices:
        device.pull_all(most=4)

    for device in devices:
        assert device.ids == [entry["id"] for entry in sent]


class Device:
    """A phone that pulls: what it holds, and how far it has come."""

    def __init__(self, shop, since):
        self.shop = shop
        self.since = since
        self.ids = []

    def pull(self, most, recent_until=0):
        """One page; whether there is more."""
        page = self.shop.pull(self.since, most, recent_until)
        self.ids += [entry["id"] for entry in page["entries"]]
        self.since = page["next"]
        return page["more"]

    def pull_all(self, most, recent_until=0):
        """Page after page to the end."""
        while self.pull(most, recent_until):
            pass


def test_f36_a_sequence_number_is_never_used_again(shop, crew):
    shop.append(crew.phone, [make_entry(crew.phone) for _ in range(3)])
    with shop.writing() as db:
        db.execute("DROP TRIGGER entries_never_go")
        db.execute("DELETE FROM entries WHERE seq = ?", [HIRED + 3])

    [answer] = shop.append(crew.phone, [make_entry(crew.phone)])

    assert answer["seq"] == HIRED + 4
    assert [entry["seq"] for entry in shop.pull(0, 10)["entries"]] == [
        HIRED + number for number in (1, 2, 4)
    ]


def test_pull_beyond_the_end_of_the_log_stays_where_it_is(shop, crew):
    shop.append(crew.phone, [make_entry(crew.phone)])

    assert shop.pull(9, 10) == {"entries": [], "next": 9, "more": False, "high_water": HIRED + 1}


@pytest.mark.parametrize("devices", list(itertools.product("ab", repeat=3)))
def test_f38_a_strike_may_come_before_its_target_from_any_device(long_log, long_crew, devices):
    phones = {"a": long_crew.phone, "b": long_crew.leads_phone}
    results = set()
    for order in itertools.permutations(range(3)):
        job = new_id()
        entries = row_correction_and_strike([phones[each] for each in devices], job)
        for place in order:
            [answer] = long_log.append(entries[place]["phone"], [entries[place]])
            assert answer["verdict"] == "stored"
        stand = {entry["id"] for entry in standing(long_log.entries_of_job(job))}
        results.add(tuple(entry["id"] in stand for entry in entries))

    assert results == {(True, False, True)}


def row_correction_and_strike(phones, job):
    """A reading, a correction of it, and a strike of the correction, so that the reading stands."""
    row = reading(phones[0], 221.5, job=job)
    body = {**BODIES["reading"], "value": 212.5, "replaces": row["id"]}
    correction = make_entry(phones[1], body=body, job=job)
    return row, correction, strike(phones[2], correction["id"], job=job)


def test_an_entry_replaces_only_its_own_kind(shop, crew):
    [hand_in] = shop.append(crew.phone, [make_entry(crew.phone, "hand_in")])
    body = {**BODIES["reading"], "replaces": hand_in["id"]}
    other = make_entry(crew.phone, "hand_in", body={**BODIES["hand_in"], "replaces": hand_in["id"]})

    answers = shop.append(crew.phone, [make_entry(crew.phone, body=body), other])

    assert verdicts(answers) == ["refused", "refused"]
    assert "strike the other one" in answers[0]["reason"]


def handed_in(shop, phone, job=JOB):
    """The id of the hand-in of a job that this phone opened and measured."""
    return shop.append(phone, a_whole_job(phone, job))[-1]["id"]


def test_a_lead_accepts_somebody_elses_job(shop, crew):
    verdict = decision(crew.leads_phone, handed_in(shop, crew.phone))

    assert verdicts(shop.append(crew.leads_phone, [verdict])) == ["stored"]
    assert shop.job(JOB)["state"] == "accepted"
    assert shop.job(JOB)["decided_by"] == crew.lead


def test_a_technician_decides_nothing(shop, crew):
    verdict = decision(crew.phone, handed_in(shop, crew.leads_phone))

    [answer] = shop.append(crew.phone, [verdict])

    assert answer["verdict"] == "refused"
    assert "Only a lead can make or strike a decision" in answer["reason"]
    assert shop.job(JOB)["state"] == "pending"


def another_lead(shop, name):
    """The id of one more lead, who can sign in."""
    person = shop.add_person(name, "lead")["id"]
    shop.set_passphrase(person, "a hash")
    return person


@pytest.mark.parametrize("part", ["job", "reading", "tick", "pick", "change", "hand_in"])
def test_a_lead_does_not_decide_on_a_job_with_a_part_of_their_own(shop, crew, part):
    another_lead(shop, "Uma")
    hand_in = handed_in(shop, crew.phone)
    shop.append(crew.leads_phone, [make_entry(crew.leads_phone, part)])

    [answer] = shop.append(crew.leads_phone, [decision(crew.leads_phone, hand_in)])

    assert answer["verdict"] == "refused"
    assert "let another lead decide, such as Uma." in answer["reason"]


def test_a_lead_who_only_wrote_a_note_may_decide(shop, crew):
    hand_in = handed_in(shop, crew.phone)
    batch = [make_entry(crew.leads_phone, "note"), decision(crew.leads_phone, hand_in)]

    assert verdicts(shop.append(crew.leads_phone, batch)) == ["stored", "stored"]


def test_a_decision_is_not_taken_back_by_a_strike_that_is_filed_elsewhere(shop, crew):
    """The lead who did the work strikes what another lead sent back, from another job or none."""
    other = shop.add_person("Ines", "lead")["id"]
    others_phone = shop.add_phone(other, "a phone", "hash of Ines")["id"]
    job, measured, hand_in = a_whole_job(crew.leads_phone, JOB)
    shop.append(crew.leads_phone, [job, measured, hand_in])
    back = decision(others_phone, hand_in["id"], "sent_back")
    shop.append(others_phone, [back])

    for place in ({"job": new_id()}, {"job": None}, {"job": None, "vehicle": None}, {"job": JOB}):
        shop.append(crew.leads_phone, [strike(crew.leads_phone, back["id"], **place)])
        assert shop.job(JOB)["state"] == "sent_back", place


def test_a_lead_whose_role_was_taken_decides_nothing_more(shop, crew):
    job, measured, hand_in = a_whole_job(crew.phone, JOB)
    shop.append(crew.phone, [job, measured, hand_in])
    shop.change_person(crew.lead, "Bram", "technician")

    [answer] = shop.append(crew.leads_phone, [decision(crew.leads_phone, hand_in["id"])])

    assert answer["verdict"] == "refused"
    assert shop.job(JOB)["state"] == "pending"


def test_another_ones_name_makes_nobody_else_of_a_lead(shop, crew):
    other = another_lead(shop, "Ines")
    job, measured, hand_in = a_whole_job(crew.leads_phone, JOB)
    shop.append(crew.leads_phone, [job, measured, hand_in])
    shop.change_person(other, "Ines the first", "lead")
    shop.change_person(crew.lead, "Ines", "lead")

    [answer] = shop.append(crew.leads_phone, [decision(crew.leads_phone, hand_in["id"])])

    assert answer["verdict"] == "refused"


def test_second_of_in_an_own_reading_does_not_make_it_anothers(shop, crew):
    another_lead(shop, "Uma")
    hand_in = handed_in(shop, crew.phone)
    own = make_entry(crew.leads_phone, body={**BODIES["reading"], "second_of": JOB})
    shop.append(crew.leads_phone, [own])

    assert verdicts(shop.append(crew.leads_phone, [decision(crew.leads_phone, hand_in)])) == [
        "refused"
    ]


def test_a_decision_pushed_before_the_hand_in_it_names_accepts_nothing(shop, crew):
    phone, hand_in = crew.leads_phone, new_id()
    opened, read, handed = a_whole_job(phone, JOB)
    early = decision(phone, hand_in)
    shop.append(phone, [early, opened, read, {**handed, "id": hand_in}])

    assert shop.job(JOB)["state"] == "pending"


# How another lead comes in; a lead who has none of these decides nothing.
PASSKEY = {"id": "a key", "name": "a PC", "credential": b"c", "sign_count": 0, "added_at": "2026"}
WAYS_IN = {
    "passkey": lambda shop, lead: shop.add_passkey({**PASSKEY, "person": lead}),
    "passphrase": lambda shop, lead: shop.set_passphrase(lead, "a hash"),
    "phone": lambda shop, lead: shop.add_phone(lead, "a phone", "another hash"),
}
NO_WAY_IN = {
    "alone": None,
    "never set one": lambda _shop, _lead: None,
    "none any more": lambda shop, lead: shop.set_passphrase(lead, None),
    "revoked phone": lambda shop, lead: shop.revoke_phone(
        shop.add_phone(lead, "a phone", "another hash")["id"]
    ),
}


def own_job_of_a_lead(shop, other):
    """The verdicts of deciding on an own job without a reason and with one."""
    person = shop.add_person("Bram", "lead")["id"]
    phone = shop.add_phone(person, "a phone", "hash")["id"]
    shop.add_person("Orla", "technician")
    if other is not None:
        other(shop, shop.add_person("Uma", "lead")["id"])
    hand_in = handed_in(shop, phone)
    bare, reasoned = decision(phone, hand_in), decision(phone, hand_in)
    reasoned["body"]["own_reason"] = "Nobody else is here."
    return verdicts(shop.append(phone, [bare, reasoned]))


@pytest.mark.parametrize("other", NO_WAY_IN)
def test_where_nobody_else_can_decide_an_own_job_is_accepted_with_a_reason(shop, other):
    assert own_job_of_a_lead(shop, NO_WAY_IN[other]) == ["refused", "stored"]
    assert shop.job(JOB)["state"] == "accepted"


@pytest.mark.parametrize("way", WAYS_IN)
def test_a_lead_who_can_come_in_decides_on_the_job_of_another(shop, way):
    assert own_job_of_a_lead(shop, WAYS_IN[way]) == ["refused", "refused"]
    assert shop.job(JOB)["state"] == "pending"


def test_a_technician_does_not_cross_out_a_decision_or_bring_one_back(shop, crew):
    hand_in = handed_in(shop, crew.phone)
    accepted = decision(crew.leads_phone, hand_in)
    struck = strike(crew.leads_phone, accepted["id"])
    shop.append(crew.leads_phone, [accepted])
    refused = shop.append(crew.phone, [strike(crew.phone, accepted["id"])])
    shop.append(crew.leads_phone, [struck])
    refused += shop.append(crew.phone, [strike(crew.phone, struck["id"])])

    assert verdicts(refused) == ["refused", "refused"]
    assert shop.job(JOB)["state"] == "pending"


def test_a_ring_of_strikes_is_kept_without_end_or_harm(shop, crew):
    one, other = new_id(), new_id()
    batch = [strike(crew.phone, other, id=one), strike(crew.phone, one, id=other)]
    batch.append(strike(crew.phone, one))

    assert verdicts(shop.append(crew.phone, batch)) == ["stored"] * 3


def test_house_limits_are_the_leads(shop, crew):
    [refused] = shop.append(crew.phone, [make_entry(crew.phone, "limit")])
    limit = make_entry(crew.leads_phone, "limit")
    shop.append(
        crew.leads_phone, [limit, strike(crew.leads_phone, limit["id"], vehicle=None, job=None)]
    )

    assert "Only a lead" in refused["reason"]
    assert [entry["kind"] for entry in shop.limit_entries()] == ["limit", "strike"]


def test_what_a_phone_says_of_itself_is_kept(shop, crew):
    said = {"build": "cafe", "pending_count": 3, "oldest_pending_at": "2026-11-25T10:00:00+01:00"}
    shop.append(crew.phone, [make_entry(crew.phone, local_no=7)], {**said, "last_local_no": 9})
    shop.append(crew.phone, [], {"pending_count": 0, "last_local_no": 8})

    phone = shop.phone(crew.phone)

    assert (phone["build"], phone["pending_count"], phone["last_local_no"]) == ("cafe", 0, 9)
    assert phone["oldest_pending_at"] is None
    assert phone["last_contact"] <= utc_now()


def test_a_batch_without_a_report_leaves_what_the_phone_said_before(shop, crew):
    shop.append(crew.phone, [], {"pending_count": 3, "oldest_pending_at": "2026-11-25T10:00:00Z"})
    shop.append(crew.phone, [make_entry(crew.phone)])

    phone = shop.phone(crew.phone)

    assert (phone["pending_count"], phone["oldest_pending_at"]) == (3, "2026-11-25T10:00:00Z")


@pytest.mark.parametrize("nonsense", [-1, 2**70, 1.5, True, "many", [], "\ud83d", "x" * 65])
def test_a_nonsensical_report_does_not_hold_up_the_batch(shop, crew, nonsense):
    said = ("build", "pending_count", "oldest_pending_at", "last_local_no")

    answers = shop.append(crew.phone, [make_entry(crew.phone)], dict.fromkeys(said, nonsense))

    assert verdicts(answers) == ["stored"]
    assert shop.phone(crew.phone)["pending_count"] is None


def test_the_desk_writes_for_a_person_under_its_own_running_number(shop, crew):
    hand_in = handed_in(shop, crew.phone)
    body = {"hand_in": hand_in, "verdict": "sent_back", "reason": "measure again"}
    draft = {"kind": "decision", "vehicle": VEHICLE, "job": JOB, "body": body}
    limit = {"kind": "limit", "body": BODIES["limit"]}

    answers = shop.write_at_desk(crew.lead, [draft, limit], build="cafe")
    answers += shop.write_at_desk(crew.lead, [limit], build="cafe")

    assert verdicts(answers) == ["stored"] * 3
    written = [shop.entry(answer["id"]) for answer in answers]
    assert [(e["local_no"], e["person"]) for e in written] == [(no, crew.lead) for no in (1, 2, 3)]
    assert shop.job(JOB)["state"] == "sent_back"


def test_a_desk_draft_of_a_technician_is_held_to_the_same_rules(shop, crew):
    [answer] = shop.write_at_desk(
        crew.technician, [{"kind": "limit", "body": BODIES["limit"]}], "b"
    )

    assert answer["verdict"] == "refused"


def test_a_missing_entry_is_not_found(shop):
    with pytest.raises(NotFound):
        shop.entry(new_id())


def test_entries_from_elsewhere_keep_the_time_they_were_received(shop, crew):
    """A sample or an imported log says when its entries came; the log keeps that, in UTC."""
    came = datetime(2026, 2, 3, 10, 15, tzinfo=timezone(timedelta(hours=1)))
    shop.append(crew.phone, [make_entry(crew.phone)], received_at=came)
    [row] = shop.pull(0, 10)["entries"]
    assert row["received_at"] == "2026-02-03T09:15:00.000+00:00"
    assert shop.check() == []
