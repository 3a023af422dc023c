"""Who may come in: sessions, phone credentials, pairing, roles."""
