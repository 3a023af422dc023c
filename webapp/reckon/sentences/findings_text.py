"""Findings as text for people: the answer, its numbers, what each plan would give, and why."""

from .plan_rows import plan_rows


def findings_text(findings: dict, unit: str) -> str:
    """The findings as lines of text, in the order in which a colleague would tell them."""
    says = findings["says"]
    lines = [says if len(says) > 0 else "Nothing on this sheet asks for an answer yet."]
    numbers = [[each["name"], each["shows"]] for each in findings["numbers"]]
    lines.extend(section("Numbers", columns(numbers)))
    tried = findings.get("what_if") or {}
    for plan in tried.get("plans") or []:
        rows = plan_rows(tried["today"], plan, unit, findings["advice"]["state"])
        texts = [[row["name"], f"{row['then']}, today {row['today']}"] for row in rows]
        lines.extend(section(f"What if: {plan['name']}", columns(texts)))
    lines.extend(section("Why", [f"- {each}" for each in findings["why"]]))
    return "\n".join(lines) + "\n"


def section(title: str, lines: list) -> list:
    """A title over its lines with an empty line before it; nothing where there are none."""
    return ["", title] + lines if len(lines) > 0 else []


def columns(rows: list) -> list:
    """Rows of name and value as lines, the values below each other."""
    widest = max([len(row[0]) for row in rows]) if len(rows) > 0 else 0
    return [f"  {row[0].ljust(widest)}  {row[1]}" for row in rows]
