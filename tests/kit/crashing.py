"""The service with a layer that dies between the commit and the reply of the first push."""

import json
import os
import signal
from pathlib import Path

from webapp.network.serving import SERVED
from webapp.network.worker import app as whole_app


def app():
    """The app; the first push after which `died` is not yet there ends the worker."""
    bridge = whole_app()
    died = Path(json.loads(os.environ[SERVED])["DATA"]) / "died"
    answer = bridge.app

    def dying(environ, start_response):
        reply = answer(environ, start_response)
        if environ["PATH_INFO"] == "/log/push" and not died.exists():
            died.touch()
            os.kill(os.getpid(), signal.SIGKILL)
        return reply

    bridge.app = dying
    return bridge
