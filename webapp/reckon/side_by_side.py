"""Two rounds side by side: which of their numbers changed."""


def changed_numbers(first: dict, then: dict) -> list:
    """The numbers that two findings show differently, as {name, before, after} rows.

    What only one of them shows is `not known` in the other.
    """
    before = by_name(first.get("numbers") or [])
    after = by_name(then.get("numbers") or [])
    names = list(before) + [added for added in list(after) if added not in before]
    rows: list = []
    for name in names:
        if before.get(name) != after.get(name):
            rows.append(
                {
                    "name": name,
                    "before": before.get(name) or "not known",
                    "after": after.get(name) or "not known",
                }
            )
    return rows


def by_name(rows: list) -> dict:
    """What each row shows, by its name; of two with one name the last."""
    shows: dict = {}
    for row in rows:
        shows[row["name"]] = row["shows"]
    return shows
