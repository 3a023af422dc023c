"""What the tests share: servers, phones, sheets, entries, and the compiled arithmetic."""
