"""Reasons in sentences: what the checks return as codes and values becomes words here, once.

A reason is a dict with a `code` and the values that belong to it: {"code": "one_reading",
"side": "left"}.
"""

from ..joint_terms import NAMELESS_FASTENER, joint_title
from .centering_reasons import CENTERING_SENTENCES
from .joint_reasons import JOINT_SENTENCES, pair_sentences
from .linkage_reasons import LINKAGE_SENTENCES
from .play_reasons import NAMELESS_JOINT, PLAY_SENTENCES, repairs_in_words

TABLES: list = [CENTERING_SENTENCES, LINKAGE_SENTENCES, JOINT_SENTENCES, PLAY_SENTENCES]
# What a finding holds as reasons, and under which name it holds their sentences.
MANY = {"reasons": "why", "unsteady_sides": "unsteady", "lacking": "lacks"}
# What a finding has several of, and what one without a name is called.
NAMELESS = {"joint": NAMELESS_JOINT, "fastener": NAMELESS_FASTENER}
ONE = {"settled_by": "settle", "sum_reason": "sum_hint"}


def sentence(reason: dict, unit: str) -> str:
    """The reason in a sentence, its lengths in the unit in use."""
    for table in TABLES:
        made = table.get(reason["code"])
        if isinstance(made, str):
            return made
        if made is not None:
            return made(reason, unit)
    raise ValueError(f"No sentence is known for {reason['code']}.")


def sentences(reasons: list, unit: str) -> list:
    """The reasons in sentences, in their order."""
    return [sentence(reason, unit) for reason in reasons]


def in_words(found: dict, unit: str) -> dict:
    """The finding with its reasons in sentences too: `why`, and what else it says."""
    worded = dict(found)
    for key in list(MANY):
        if found.get(key) is not None:
            worded[MANY[key]] = sentences(found[key], unit)
    for key in list(ONE):
        if key in found:
            worded[ONE[key]] = None if found[key] is None else sentence(found[key], unit)
    if found.get("repairs") is not None:
        worded["repairs"] = repairs_in_words(found["repairs"], unit)
    for key in list(NAMELESS):
        if found.get(key + "s") is not None:
            worded[key + "s"] = [part_in_words(each, key, unit) for each in found[key + "s"]]
            worded["why"] = named_sentences(worded[key + "s"], key)
    if found.get("plans") is not None:
        worded["plans"] = named_plans(found["plans"])
    if found.get("pairs") is not None:
        worded["why"] = [pair_sentences(pair, unit) for pair in found["pairs"]]
    return worded


def named_plans(found: list) -> list:
    """The plans, one without a name called by its number."""
    plans: list = []
    for plan in found:
        named = dict(plan)
        named["name"] = plan["name"] or f"Plan {len(plans) + 1}"
        plans.append(named)
    return plans


def part_in_words(found: dict, key: str, unit: str) -> dict:
    """A joint or a fastener in words; one without a name is called so."""
    worded = in_words(found, unit)
    worded[key] = found[key] or NAMELESS[key]
    return worded


def named_sentences(found: list, key: str) -> list:
    """Everything that stands behind joints or fasteners, each sentence with their name."""
    says: list = []
    for one in found:
        name = one[key]
        choices = [choice["says"] for choice in one.get("repairs") or []]
        for why in one["why"] + choices:
            says.append(f"{joint_title(name)}: {why}")
    return says
