"""What the phone's store makes of entries, answers and pulls, in a real Chromium."""

import json

import pytest
from chrome import prepare
from playwright.sync_api import Browser, Page
from shelf import Shelf
from store_counts import counts

pytestmark = pytest.mark.browser


def test_f58_ids_are_made_without_random_uuid(page: Page) -> None:
    made = page.evaluate("""async () => {
      Object.defineProperty(crypto, 'randomUUID', {value: undefined});
      const {uuid} = await use('store/entries');
      const ids = Array.from({length: 100000}, () => uuid());
      const good = /^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;
      return [new Set(ids).size, ids.filter((id) => !good.test(id))];
    }""")
    assert made == [100_000, []]


def test_f58_without_any_randomness_no_id_is_made(page: Page) -> None:
    says = page.evaluate("""async () => {
      Object.defineProperty(globalThis, 'crypto', {value: undefined});
      const {uuid} = await use('store/entries');
      try { return uuid(); } catch (error) { return error.message; }
    }""")
    assert says == "This browser cannot create IDs, so nothing can be saved."


@pytest.mark.parametrize(
    ("zone", "text"),
    [
        ("Europe/Zurich", "2026-11-25T10:42:07.120+01:00"),
        ("America/St_Johns", "2026-11-25T06:12:07.120-03:30"),
        ("Asia/Kathmandu", "2026-11-25T15:27:07.120+05:45"),
        ("UTC", "2026-11-25T09:42:07.120+00:00"),
    ],
)
def test_made_at_carries_the_offset_of_the_phone(
    browser: Browser, shelf: Shelf, zone: str, text: str
) -> None:
    context = prepare(browser.new_context(timezone_id=zone), shelf.build)
    page = context.new_page()
    page.goto(f"{shelf.origin}/blank")

    made = "use('store/entries').then(({madeAt}) => madeAt(new Date('2026-11-25T09:42:07.120Z')))"

    assert page.evaluate(made) == text
    context.close()


def test_entries_get_running_numbers_of_their_phone(page: Page) -> None:
    numbers = page.evaluate("""async () => {
      const store = await phoneStore();
      const kept = await store.keep([await reading(1), await reading(2)]);
      await store.setFact('phone', {id: '44444444-4444-4444-8444-444444444444'});
      kept.push(...await store.keep([await reading(3)]));
      return kept.map(({local_no}) => local_no);
    }""")
    assert numbers == [1, 2, 1]


def test_keeping_the_same_entry_twice_keeps_it_once(page: Page) -> None:
    numbers = page.evaluate("""async () => {
      const store = await phoneStore();
      const entry = await reading(1);
      const twice = await Promise.all([store.keep([entry]), store.keep([entry])]);
      return twice.map(([{local_no}]) => local_no);
    }""")
    assert numbers == [1, 1]
    assert counts(page)["onPhoneOnly"] == 1


def test_f33_order_is_by_the_log_and_never_by_the_clock(page: Page) -> None:
    values = page.evaluate("""async () => {
      const store = await phoneStore();
      const made = await Promise.all([1, 2, 3, 4].map((value) => reading(value)));
      const [first, second, third, fourth] = made;
      [2040, 1970, 2026, 1999].forEach((year, index) => { made[index].made_at = `${year}-01-01`; });
      await store.keep([first, second]);
      await store.takeAnswers([{id: second.id, verdict: 'stored', seq: 8}]);
      const entries = [{...third, seq: 7}, {...fourth, seq: 9}];
      await store.takePull({entries, next: 9, people: {}});
      return (await store.entriesOf({job: first.job})).map(({body}) => body.value);
    }""")
    assert values == [3, 2, 4, 1]


ANSWERS = """async (answers) => {
  const store = await phoneStore();
  const entries = await Promise.all(answers.map((_, value) => reading(value)));
  await store.keep(entries);
  await store.takeAnswers(answers.map((answer, index) => ({id: entries[index].id, ...answer})));
  const kept = await store.entriesOf({job: entries[0].job});
  const records = entries.map(({id}) => kept.find((record) => record.id === id));
  const states = records.map(({state, reason}) => [state, reason ?? null]);
  return {states, counts: await store.counts()};
}"""


def test_no_answer_removes_an_entry(page: Page) -> None:
    after = page.evaluate(
        ANSWERS,
        [
            {"verdict": "stored", "seq": 1},
            {"verdict": "already", "seq": 2},
            {"verdict": "differs", "reason": "another text"},
            {"verdict": "refused", "reason": "no such kind"},
        ],
    )
    assert after["states"] == [
        ["stored", None],
        ["stored", None],
        ["needs_you", "another text"],
        ["needs_you", "no such kind"],
    ]
    assert after["counts"] == {"onPhoneOnly": 0, "photos": 0, "oldest": None, "needYou": 2}


def test_an_entry_that_needs_the_person_is_offered_again_or_set_aside(page: Page) -> None:
    page.evaluate(ANSWERS, [{"verdict": "refused", "reason": "no"}] * 2)

    after = page.evaluate("""async () => {
      const store = await phoneStore();
      const [first, second] = await store.needYou();
      await store.offerAgain(first.id);
      await store.setAside(second.id);
      return [(await store.unsent()).map(({id}) => id === first.id), await store.counts()];
    }""")
    assert after[0] == [True]
    assert (after[1]["onPhoneOnly"], after[1]["needYou"]) == (1, 0)


def test_f37_offering_again_makes_every_own_entry_unsent(page: Page) -> None:
    after = page.evaluate("""async () => {
      const store = await phoneStore();
      const [own, other] = [await reading(1), await reading(2)];
      await store.keep([own]);
      await store.takeAnswers([{id: own.id, verdict: 'stored', seq: 1}]);
      await store.takePull({entries: [{...other, seq: 2}], next: 2, people: {}});
      await store.reoffer(2);
      const {epoch, cursor} = await store.facts();
      return {unsent: (await store.unsent()).map(({id}) => id === own.id), epoch, cursor};
    }""")
    assert after == {"unsent": [True], "epoch": 2, "cursor": 0}


def test_f37_answers_from_before_a_restore_count_for_nothing(page: Page) -> None:
    after = page.evaluate("""async () => {
      const store = await phoneStore();
      const [own, other] = [await reading(1), await reading(2)];
      await store.keep([own]);
      await store.reoffer(2);
      await store.takeAnswers([{id: own.id, verdict: 'stored', seq: 1}], {epoch: 1});
      await store.takePull({epoch: 1, entries: [{...other, seq: 2}], next: 2, people: {}});
      const states = (await store.entriesOf({job: own.job})).map(({state}) => state);
      return [states, await store.fact('cursor')];
    }""")
    assert after == [["kept"], 0]


def test_f39_what_a_later_version_adds_to_an_entry_is_handed_on(page: Page) -> None:
    line = page.evaluate("""async () => {
      const store = await phoneStore();
      await store.keep([{...await reading(1), weather: 'dry'}]);
      return (await store.exportUnsent()).text();
    }""")
    entry = json.loads(line)
    assert entry["weather"] == "dry"
    assert entry["local_no"] == 1
    assert not {"state", "kept_no", "seq"} & set(entry)


def test_a_pull_names_the_vehicles_whose_summaries_are_behind(page: Page) -> None:
    touched = page.evaluate("""async () => {
      const store = await phoneStore();
      const entry = await reading(1);
      const pulled = await store.takePull({entries: [{...entry, seq: 1}], next: 1, people: {}});
      const before = await store.touched();
      await store.putVehicles([{id: entry.vehicle, tags: ['K7RM-4TQX'], name: 'Blue one'}]);
      await store.setFact('leads', {'K7RM-4TQX': entry.vehicle});
      const found = await store.vehicleByTag('K7RM-4TQX');
      return {same: pulled[0] === before[0], after: await store.touched(), name: found.name};
    }""")
    assert touched == {"same": True, "after": [], "name": "Blue one"}


def test_other_tabs_hear_of_a_change(page: Page, shelf: Shelf) -> None:
    page.evaluate("""async () => {
      globalThis.heard = [];
      (await phoneStore()).onChange((what) => heard.push(what));
    }""")
    other = page.context.new_page()
    other.goto(f"{shelf.origin}/blank")

    other.evaluate("keepReadings(1)")

    page.wait_for_function("heard.includes('entries')")
    assert counts(page)["onPhoneOnly"] == 1
