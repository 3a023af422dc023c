"""A shop with a backup and an export of it, and every command as it is given there."""

from kit.entries import hire, make_entry
from kit.servers import free_port
from webapp.shoplog import ShopLog, backup
from webapp.shoplog.connection import FILE
from webapp.shoplog.export_import import export


class Place:
    """A shop's data folder, and beside it a backup and an export of it."""

    def __init__(self, root):
        self.root, self.data = root, root / "shop"
        self.backup, self.zip = root / "backups" / "axlewright-20261125-104207.db", root / "in.zip"
        with ShopLog(self.data) as log:
            log.set_settings({"shop_address": "https://127.0.0.1:8700"})
            crew = hire(log)
            log.append(crew.phone, [make_entry(crew.phone) for _ in range(20)])
            self.backup.parent.mkdir()
            backup.back_up(log, self.backup)
        export(self.data, self.zip)
        self.file = self.data / FILE

    def asked(self, command):
        """The command on this data folder."""
        port = str(free_port())
        serve = ["--host", "127.0.0.1", "--address", "127.0.0.1", "--port", port]
        more = {
            "serve": [*serve, "--helper-port", str(free_port()), "--backup-every", "0"],
            "demo": ["--port", port],
            "setup-link": [],
            "passphrase": ["Bram"],
            "backup": ["--to", self.root / "to"],
            "restore": [self.backup],
            "check": [],
            "export": [self.root / "out.zip"],
            "import": [self.zip],
        }
        return [command, "--data", str(self.data), *map(str, more[command])]


COMMANDS = [
    "serve",
    "demo",
    "setup-link",
    "passphrase",
    "backup",
    "restore",
    "check",
    "export",
    "import",
]
