"""Which entries phones made that the log does not hold, by their running numbers."""

from typing import Any

from webapp.shoplog.connection import Store

Row = dict[str, Any]

MADE = """
SELECT phones.id, phones.name, phones.kind, phones.person, people.name AS who, phones.build,
    phones.revoked_at, phones.last_contact, phones.last_local_no AS made,
    phones.pending_count, phones.oldest_pending_at,
    count(DISTINCT entries.local_no) AS here
FROM phones JOIN people ON people.id = phones.person
LEFT JOIN entries ON entries.phone = phones.id AND entries.local_no <= phones.last_local_no
WHERE :person IS NULL OR phones.person = :person
GROUP BY phones.id ORDER BY phones.paired_at, phones.rowid
"""
GAPS = """
SELECT before + 1, number - 1 FROM (
    SELECT number, lag(number, 1, 0) OVER (ORDER BY number) AS before FROM (
        SELECT DISTINCT local_no AS number FROM entries
        WHERE phone = :phone AND local_no <= :made
        UNION SELECT :made + 1
    )
) WHERE number > before + 1 ORDER BY number LIMIT :most
"""
MOST_RANGES = 50


def made_and_here(log: Store, person: str | None = None) -> list[Row]:
    """Each phone and desk with how many entries it made and how many of them are here.

    Rows are {id, name, kind, person, who, build, revoked_at, last_contact, made, here, missing,
    pending_count, oldest_pending_at, ranges}; `ranges` are [first, last] numbers that are not
    here. With `person` only that person's.
    """
    with log.reading() as db:
        rows = [dict(row) for row in db.execute(MADE, {"person": person})]
        for row in rows:
            row["missing"] = row["made"] - row["here"]
            asked = {"phone": row["id"], "made": row["made"], "most": MOST_RANGES}
            row["ranges"] = [list(gap) for gap in db.execute(GAPS, asked)] if row["missing"] else []
    return rows
