"""The whole job of the tutorial: a plow truck, its bar rebuilt, from a blank tag to the hand-in.

A technician's phone does it without the network from the first touch to the last. Wherever the
tutorial shows a screen, `look(name, part)` is called with the part to see, or None for the top.
"""

from collections.abc import Callable

from hands import Hands
from playwright.sync_api import Locator, expect

Look = Callable[[str, Locator | None], None]
TAG = "QRTV-2345"
NAME = "Plow truck P7 Snowdrift"
ABOUT = "Bar rebuilt after a drift hid a rock"
HEIGHTS = ("222", "220")
FOUND = ("217", "217", "203", "204")
LEFT = ("210", "210", "211", "210")
BAR = {
    "Bar length": "862",
    "Frame-end height": "612",
    "Axle-end height": "498",
    "Fore-aft lead": "18",
    "Frame end to middle": "431",
    "Bump travel": "80",
    "Droop travel": "100",
}
PLACES = 12  # four travel states at three locks
PAIR = "Track bar to tie rod"
TORQUES = {
    "Frame-end bolt": "165",
    "Axle-end bolt": "165",
    "Jam nuts": "95",
    "Drag link clamps": "60",
}
MANUAL = "maker's manual, front axle, table 4"


class Plowtruck:
    """The job, step by step, in the hands of one technician."""

    def __init__(self, hands: Hands, look: Look = lambda name, part: None) -> None:
        self.hands = hands
        self.page = hands.page
        self.look = look

    def whole(self) -> None:
        """Everything between the two ends of the job at which the shop is heard."""
        self.make_vehicle()
        self.as_found()
        self.bar()
        self.link()
        self.play()
        self.rebuild()
        self.fit_up()
        self.as_left()
        self.torque()
        self.hand_in()

    def make_vehicle(self) -> None:
        """The blank tag becomes a vehicle, and a job is opened on it."""
        self.hands.open_tag(TAG)
        self.page.get_by_label("Name the shop uses").fill(NAME)
        self.page.get_by_text("millimeters").click()
        self.look("blank-tag", None)
        self.hands.press("Add this vehicle")
        expect(self.page.get_by_role("heading", name=NAME)).to_be_visible()
        self.hands.open_job(ABOUT)

    def measure(self, sides: tuple[str, ...]) -> None:
        """Ride height and both sides, to the answer."""
        self.hands.make_ready()
        for height in HEIGHTS:
            self.hands.read(height)
        self.hands.press("Next: centering")
        for distance in sides:
            self.hands.read(distance)
        expect(self.page.locator(".answer").first).to_contain_text("The axle sits")

    def as_found(self) -> None:
        """The first round: the axle sits far to the left."""
        self.measure(FOUND)
        self.look("found", None)

    def bar(self) -> None:
        """The bar as it was found, and how many turns would put the axle right."""
        self.hands.press("Next: track bar")
        self.hands.pick_value("Frame end on the", "left")
        for name, length in BAR.items():
            self.hands.read_value(name, length)
        self.hands.adjuster("One threaded end", "M16")
        expect(self.page.locator(".answer").first).to_contain_text("turns out")
        self.look("bar", None)

    def link(self) -> None:
        """The drag link: what a bump steers, and what the bar's change will do to the wheel."""
        self.hands.step("Drag link")
        self.hands.measure_link()
        expect(self.page.locator(".answer")).to_contain_text("The steering wheel will then sit")
        self.look("link", None)

    def play(self) -> None:
        """The hole at the frame end is oval, and its joint moves."""
        self.hands.step("Play")
        self.hands.open_joint("Track bar, frame end")
        self.hands.gauge("0.4 + 0.5")
        for name, size in (("Bolt", "14.1"), ("the long way", "15.2"), ("the short way", "14.6")):
            self.hands.size(name, size)
        expect(self.page.get_by_text("Repair choices, for comparison")).to_be_visible()
        self.look("play", self.page.get_by_text("Repair choices, for comparison"))
        self.hands.all_joints()
        self.rock("Track bar, axle end", "0.1")

    def rock(self, joint: str, movement: str) -> None:
        """Rock one joint, and read the dial."""
        self.hands.open_joint(joint)
        self.hands.gauge(movement)
        self.hands.all_joints()

    def rebuild(self) -> None:
        """The bracket's hole is welded up and drilled anew, and the bar gets new ends."""
        self.hands.step("Change")
        self.page.get_by_label("Hole repaired").click()
        self.hands.press("frame-end bracket")
        self.hands.log_change_now()
        self.hands.press("Log another change")
        self.page.get_by_label("Track bar replaced").click()
        self.page.get_by_label("How much longer or shorter").fill("7")
        self.page.get_by_label("longer", exact=True).check()
        self.page.get_by_label("Details (optional)").fill("New tube, new ends")
        self.hands.log_change_now()
        self.look("change", None)
        self.hands.back()

    def fit_up(self) -> None:
        """The bar as it will run: nothing may touch before anything is welded for good."""
        self.begin("fit-up", "Clearance")
        self.sweep()
        self.say_what_never_comes_near()
        self.hands.back()
        welding = self.page.locator(".hold-point", has_text="Before final welding")
        welding.get_by_label("Bar installed as it will run").check()
        welding.get_by_label("Steering turned lock to lock").check()
        expect(welding).to_contain_text("That does not make it safe.")
        self.look("fit-up", welding)

    def begin(self, name: str, step: str) -> None:
        """Begin the next round from the job's page, at a step."""
        self.page.get_by_role("link", name=f"Start round: {name}").click()
        expect(self.page.get_by_text(f"axle, {name}")).to_be_visible()
        self.page.locator("main ul.rows").get_by_role("link", name=step).first.click()

    def sweep(self) -> None:
        """Every place of the pair that comes closest."""
        self.hands.open_pair(PAIR)
        self.hands.press("Gap")
        for gap in range(40, 40 + PLACES):
            expect(self.page.locator(".pad-figure")).to_have_value("")
            self.hands.enter(str(gap))
            self.hands.keep_button.click()
        expect(self.page.locator(".pad")).to_have_count(0)
        self.look("clearance", None)
        self.hands.press("All pairs")

    def say_what_never_comes_near(self) -> None:
        """Every other pair that bracket and bar ask for."""
        rows = self.page.locator("main ul.rows button", has_text="not checked")
        expect(rows.first).to_be_visible()
        asked = [name for name in rows.all_inner_texts() if self.is_asked(name)]
        for name in [text.split("\n")[0] for text in asked]:
            self.hands.open_pair(name)
            self.hands.press("Never near")
            row = self.page.locator("main ul.rows button", has_text=name)
            expect(row).to_contain_text("never near each other")

    def is_asked(self, row: str) -> bool:
        """Whether a row of the pairs is one that the job's changes ask for."""
        return "track bar" in row.lower() or "bracket" in row.lower()

    def as_left(self) -> None:
        """Measured again on its wheels: the axle is in its place, and the wheel is centered."""
        self.begin("as left", "Ride height")
        self.measure(LEFT)
        assert "Leave the track bar as it is" in self.hands.answer
        self.look("left", None)
        self.center_wheel()
        self.look_again()

    def center_wheel(self) -> None:
        """The drag link is turned until the wheel stands straight."""
        self.hands.step("Change")
        self.hands.press("Log another change")
        self.page.get_by_label("Drag link turned").click()
        self.page.get_by_label("Turns").fill("1 1/2")
        self.page.get_by_label("out, longer").check()
        self.hands.log_change_now()
        self.hands.step("Drag link")
        self.hands.open_value("Steering wheel sits")
        self.hands.press("12 o’clock", exact=True)
        self.hands.press("Save steering wheel")
        self.hands.back_at_values()
        expect(self.page.locator(".answer")).to_contain_text("straight")

    def look_again(self) -> None:
        """The repaired joint no longer moves."""
        self.hands.step("Play")
        self.rock("Track bar, frame end", "0")
        self.rock("Track bar, axle end", "0.1")

    def torque(self) -> None:
        """Every fastener that was undone, by the maker's figure, and when to check it again."""
        self.hands.step("Torque")
        for fastener, figure in TORQUES.items():
            self.hands.torque_figure(fastener, figure, "N·m")
            self.hands.torqued("At the nut", "Dry", MANUAL)
        expect(self.page.locator(".answer")).to_contain_text("4 fasteners torqued")
        self.page.locator("summary", has_text="When to check again").click()
        self.hands.press("800 km, 4 weeks")
        self.hands.press("Save re-check")
        self.look("torque", None)

    def hand_in(self) -> None:
        """Nothing is missing, so it goes to the lead."""
        self.hands.step("Hand in")
        expect(self.page.get_by_text("Every step that was started is complete.")).to_be_visible()
        road = self.page.locator(".hold-point", has_text="Before the road")
        expect(road.locator("summary")).to_contain_text("nothing open")
        self.look("hand-in", None)
        self.hands.press("Hand in", exact=True)
        expect(self.page.get_by_text("Handed in.")).to_be_visible()
