"""Whom to tell about a security hole."""

from datetime import UTC, datetime, timedelta


def fields(reply):
    """The fields of a security.txt by name."""
    return dict(line.split(": ", 1) for line in reply.text.splitlines())


def test_a_tool_finds_the_contact_where_the_standard_says(client):
    reply = client.get("/.well-known/security.txt")

    assert reply.status_code == 200
    assert reply.content_type == "text/plain; charset=utf-8"
    found = fields(reply)
    assert found["Contact"].startswith("http")
    assert found["Canonical"].endswith("/.well-known/security.txt")
    left = datetime.fromisoformat(found["Expires"]) - datetime.now(UTC)
    assert timedelta(days=30) < left < timedelta(days=365)


def test_the_contact_is_a_page_that_anybody_may_read(client):
    contact = fields(client.get("/.well-known/security.txt"))["Contact"]

    page = client.get("/security")

    assert contact.endswith("/security")
    assert page.status_code == 200
    assert "tell a shop lead" in page.text
    assert "Report a vulnerability" in page.text
