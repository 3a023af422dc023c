"""What is typed is never lost, and nothing is recorded that nobody chose."""

import pytest
from playwright.sync_api import expect
from yard import TAG

TURNED = "Track bar turned"
# The list as it was before the last entries, which were kept and not summed up yet.
LEFT_BEHIND = """async () => {
  const opened = indexedDB.open((await indexedDB.databases())[0].name);
  const database = await new Promise((done) => {
    opened.onsuccess = () => done(opened.result);
  });
  const transaction = database.transaction(['vehicles', 'facts'], 'readwrite');
  const rows = transaction.objectStore('vehicles');
  const asked = rows.getAll();
  asked.onsuccess = () => {
    for (const row of asked.result) rows.put({ ...row, name: 'Older name' });
    const value = asked.result.map(({ id }) => id);
    transaction.objectStore('facts').put({ name: 'touched', value });
  };
  await new Promise((done) => { transaction.oncomplete = done; });
  database.close();
}"""


@pytest.fixture
def job(hands_at_vehicle):
    """A technician in a job, at its first step."""
    hands_at_vehicle.open_job("stiff bar")
    return hands_at_vehicle


def reopened(hands):
    """The app as the phone opens it again from its icon after it ended it."""
    context, address = hands.page.context, f"{hands.url}/app"
    hands.page.close()
    hands.page = context.new_page()
    hands.page.goto(address)


def until_noted(hands, text):
    """Wait until the phone has noted what is being typed."""
    hands.page.evaluate(
        """async (text) => {
          const opened = indexedDB.open((await indexedDB.databases())[0].name);
          const database = await new Promise((done) => {
            opened.onsuccess = () => done(opened.result);
          });
          const read = () => new Promise((done) => {
            const all = database.transaction('drafts').objectStore('drafts').getAll();
            all.onsuccess = () => done(all.result);
          });
          for (let left = 500; left > 0; left -= 1) {
            if ((await read()).some((draft) => draft.text.includes(text))) return database.close();
            await new Promise((go) => setTimeout(go, 20));
          }
          throw new Error('It was never noted.');
        }""",
        text,
    )


def test_an_app_that_the_phone_ended_goes_on_in_the_job_with_what_was_typed(job):
    job.make_ready()
    job.enter("8 3/4")
    until_noted(job, "8 3/4")
    reopened(job)
    expect(job.page.locator(".pad-figure")).to_have_value("8 3/4")


def test_what_came_in_just_before_the_app_was_ended_is_in_the_list(job):
    job.page.evaluate(LEFT_BEHIND)
    job.page.context.set_offline(True)
    reopened(job)
    for _ in range(3):
        job.back()
    expect(job.page.locator(".vehicles")).to_contain_text("Plow 3")


def test_whoever_left_the_job_begins_with_the_list(job):
    job.back()
    job.back()
    job.back()
    expect(job.page.get_by_role("searchbox")).to_be_visible()
    reopened(job)
    expect(job.page.get_by_role("searchbox")).to_be_visible()


def test_a_form_that_was_left_is_there_again_and_the_hand_in_says_that_it_is_not_saved(job):
    job.step("Change")
    job.page.get_by_label(TURNED).click()
    job.page.get_by_label("Turns").fill("2 1/4")
    job.page.get_by_label("in, shorter").check()
    job.page.get_by_label("Details (optional)").fill("jam nut was seized")
    until_noted(job, "seized")
    job.step("Hand in")
    unsaved = job.page.locator(".rows .row", has_text="jam nut was seized")
    expect(job.page.get_by_role("heading", name="Typed, but not saved")).to_be_visible()
    unsaved.click()
    job.page.get_by_label(TURNED).click()
    expect(job.page.get_by_label("Turns")).to_have_value("2 1/4")
    expect(job.page.get_by_label("in, shorter")).to_be_checked()
    job.log_change_now()
    expect(job.page.get_by_text("jam nut was seized")).to_be_visible()
    job.step("Hand in")
    expect(job.page.get_by_text("Typed, but not saved")).to_have_count(0)


def test_a_torque_that_was_saved_is_not_said_to_be_unsaved(job):
    """Both halves were quicker than a draft is noted."""
    job.step("Torque")
    job.torque_figure("Frame-end bolt", "120", "lb-ft")
    job.torqued("At the nut", "Dry", "maker's manual")
    expect(job.page.locator(".answer")).to_contain_text("1 fastener torqued")
    job.step("Hand in")

    expect(job.page.get_by_text("Before the road").first).to_be_visible()
    expect(job.page.get_by_text("Typed, but not saved")).to_have_count(0)


def test_a_note_and_the_reason_of_a_hand_in_outlive_the_screen(job):
    job.step("Hand in")
    job.page.get_by_label("Why it is handed in incomplete").fill("waiting for parts")
    until_noted(job, "waiting for parts")
    job.back()
    job.page.get_by_text("Write a note").click()
    job.page.get_by_label("Note").fill("rail is dented")
    until_noted(job, "rail is dented")
    job.page.get_by_role("link", name="Hand in").click()
    expect(job.page.get_by_label("Why it is handed in incomplete")).to_have_value(
        "waiting for parts"
    )
    job.back()
    expect(job.page.get_by_label("Note")).to_have_value("rail is dented")


def test_which_way_a_bar_was_turned_is_chosen_by_whoever_turned_it(job):
    job.step("Change")
    job.page.get_by_label(TURNED).click()
    expect(job.page.locator("input[type=radio]:checked")).to_have_count(0)
    expect(job.page.get_by_label("Turns")).to_have_value("")
    job.page.get_by_label("Turns").fill("1")
    job.press("Log the change")
    expect(job.page.get_by_text("Choose which way.")).to_be_visible()
    job.page.get_by_label("in, shorter").check()
    expect(job.page.get_by_text("Choose which way.")).to_have_count(0)
    job.log_change_now()


def test_nothing_is_said_of_a_joint_that_nobody_looked_at(job):
    job.step("Play")
    job.open_joint("Track bar, frame end")
    job.press("Bolt, hole and limits")
    job.page.get_by_text("Is anything loose?").click()
    expect(job.page.locator("input[name=loose]:checked")).to_have_count(0)
    job.page.get_by_label("Nothing looks loose").check()
    expect(job.page.locator("input[name=loose]:checked")).to_have_count(1)


def test_heights_without_the_rest_go_on_and_say_what_is_missing(job):
    job.press("Next: heights")
    for height in ("8 3/4", "8 5/8"):
        job.read(height)
    missing = job.page.locator(".notice", has_text="No centering verdict without these")
    expect(missing).to_contain_text("Say what the vehicle is standing on.")
    expect(missing).to_contain_text("Not checked: Floor level.")
    job.press("Checks")
    job.page.get_by_text("on its wheels").click()
    job.press("Heights", exact=True)
    expect(missing).not_to_contain_text("standing on")
    job.press("Next: centering")
    expect(job.page.locator(".keep")).to_be_visible()


def test_a_tag_in_a_browser_that_is_nobodys_takes_nothing_in(real_server, browser):
    context = browser.new_context()
    page = context.new_page()
    page.goto(f"{real_server[0].url}/t/{TAG}")
    expect(page.get_by_text(f"This is the tag {TAG}.")).to_be_visible()
    expect(page.get_by_role("textbox")).to_have_count(0)
    page.get_by_role("link", name="Pair this browser").click()
    expect(page.get_by_label("Pairing code")).to_be_visible()
    context.close()


def test_a_shop_that_does_not_answer_is_not_in_contact(job):
    expect(job.state).to_contain_text("In contact.")
    job.page.context.set_offline(True)
    job.page.get_by_text("on its wheels").click()
    expect(job.state).to_contain_text("Last contact")
    expect(job.state).not_to_contain_text("In contact.")


EVERY_STATE = """globalThis.said = [];
  new MutationObserver(() => {
    const says = document.querySelector('.state')?.textContent;
    if (says && says !== said.at(-1)) said.push(says);
  }).observe(document, { childList: true, subtree: true, characterData: true });"""


def test_an_app_opened_again_knows_when_the_shop_was_last_in_contact(job):
    expect(job.state).to_contain_text("In contact.")
    job.wait_for_worker()
    job.page.context.set_offline(True)
    job.page.add_init_script(EVERY_STATE)
    job.page.reload()

    expect(job.state).to_contain_text("Last contact")
    assert [says for says in job.page.evaluate("said") if "No contact" in says] == []


@pytest.mark.parametrize(
    ("insets", "size"),
    [
        ({"top": 47, "bottom": 34}, {"width": 390, "height": 844}),
        ({"left": 47, "right": 47, "bottom": 21}, {"width": 660, "height": 320}),
    ],
)
def test_nothing_lies_under_a_notch_or_the_home_bar(job, insets, size):
    page = job.page
    page.set_viewport_size(size)
    page.context.new_cdp_session(page).send(
        "Emulation.setSafeAreaInsetsOverride", {"insets": insets}
    )
    bounds = """(element) => {
      const { left, right, top, bottom } = element.getBoundingClientRect();
      return { left, right, top, bottom };
    }"""
    button = page.get_by_role("button", name="Next: heights")
    at = button.evaluate(bounds)
    assert at["bottom"] <= size["height"] - insets["bottom"]
    assert at["left"] >= insets.get("left", 0)
    assert at["right"] <= size["width"] - insets.get("right", 0)
    assert page.locator("h1").evaluate(bounds)["top"] >= insets.get("top", 0)
