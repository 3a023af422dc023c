"""A job's way past the lead in words: its state, what was decided, what came in behind that."""

from ..numbers import counted
from ..terms import JOB_STATES

AGAIN = ", accepted before"
STAYS = "It stays as it was accepted until the lead decides again."


def state_words(job: dict) -> str:
    """The state of a folded job in words; one that is put back before the lead says so."""
    words = JOB_STATES[job["state"]]
    put_back = job["state"] == "pending" and job.get("accepted") is not None
    return words + AGAIN if put_back else words


def later_sentence(job: dict) -> str:
    """What came in after a job was accepted; empty where nothing did."""
    if job.get("accepted") is None or len(job["later"]) == 0:
        return ""
    came = counted(len(job["later"]), "entry", "entries")
    return f"{came} came in after this job was accepted. {STAYS}"


def verdict_words(body: dict) -> str:
    """What a decision (its body) decided, and why somebody decided on their own work."""
    words = "Sent back"
    if body["verdict"] == "accepted":
        words = "Kept as it was accepted" if body.get("keeps") is True else "Accepted"
    if body.get("own_reason"):
        words += f" by the person who did the work, because: {body['own_reason']}"
    return words
