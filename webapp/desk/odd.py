"""What a lead should look at twice before accepting a job, in sentences."""

from typing import Any

from webapp.desk.findings import Look, Round
from webapp.desk.words import counted
from webapp.reckon import fold

Row = dict[str, Any]


def oddities(look: Look) -> list[str]:
    """Everything odd about the job: its last round first, then what it went through."""
    return doubts(look.last) + on_its_way(look)


def doubts(this: Round) -> list[str]:
    """What makes a round's verdict doubtful and is not in its answer already."""
    says = [fault["says"] for fault in this.findings.get("faults", [])]
    if this.verdict == "not measured":
        says.append("No centring was measured in the last round.")
    answered = this.findings.get("says", "")
    return says + [why for why in this.centring.get("why", []) if why not in answered]


def on_its_way(look: Look) -> list[str]:
    """What the hand-in listed as missing, its reason, and what came after it."""
    hand_in = look.job["hand_in"]
    if hand_in is None:
        return []
    says = []
    if hand_in["body"]["missing"]:
        things = counted(len(hand_in["body"]["missing"]), "thing")
        says.append(f"Handed in with {things} missing: {hand_in['body']['reason'] or 'no reason'}")
    late = late_entries(look.entries, hand_in)
    if late:
        says.append(f"{counted(len(late), 'entry', 'entries')} came in after the hand-in.")
    return says


def late_entries(entries: list[Row], hand_in: Row) -> list[Row]:
    """What reached the log after the hand-in, decisions left out."""
    after = [entry for entry in entries if entry["seq"] > hand_in["seq"]]
    decided = {entry["id"] for entry in fold.of_kind(after, "decision")}
    return [e for e in after if e["id"] not in decided and e["body"].get("target") not in decided]
