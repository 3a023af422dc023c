"""The headers of every answer."""

import pytest


@pytest.mark.parametrize(
    "path", ["/door", "/app", "/nowhere", "/build.json", "/log/pull", "/sw.js"]
)
def test_every_answer_carries_the_strict_headers(client, path):
    headers = client.get(path).headers

    policy = headers["Content-Security-Policy"]
    assert "default-src 'self'" in policy
    assert "unsafe" not in policy
    assert "frame-ancestors 'none'" in policy
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "same-origin"
    assert headers["Cache-Control"]
