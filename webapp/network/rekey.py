"""`axlewright rekey`: other keys for cookies, forms and seals; no service has the log open."""

import sys
from pathlib import Path

from webapp.door import secret_key
from webapp.network.data_folder import usual_folder
from webapp.shoplog import LogError, ShopLog
from webapp.shoplog.returned_entries import change_seal_key

DONE = "From the next start of the service, cookies and forms are signed with a new key."
SIGN_IN_ANEW = (
    "Every lead has to sign in again. Entries of others get new seals, so each phone downloads the "
    "log once more; what was sealed before is not taken."
)
GO_ON = "Sessions stay valid: the old key works for 30 more days."


def run(folder: Path | None, keep_sessions: bool) -> int:
    """Change the key and say what follows; the exit code."""
    place = folder or usual_folder()
    try:
        # Opening a log makes one where there is none.
        ShopLog.glance(place)
        with ShopLog(place) as log:
            secret_key.change(log, keep_sessions)
            if not keep_sessions:
                change_seal_key(log)
    except (LogError, OSError) as error:
        print(error, file=sys.stderr)
        return 1
    print(DONE, GO_ON if keep_sessions else SIGN_IN_ANEW)
    return 0
