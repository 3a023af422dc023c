"""What to know of a tag."""


def replaced_tag_sentence(record: dict, code: str) -> str:
    """What to know of a tag that leads to a vehicle but counts no more; empty when it counts."""
    replaced = (record.get("replaced_tags") or {}).get(code)
    if replaced is None:
        return ""
    if replaced.get("by") is not None:
        return f"This tag was replaced by {replaced['by']}. Take it off the vehicle."
    return "This tag was reported lost. Check that it is on the right vehicle."
