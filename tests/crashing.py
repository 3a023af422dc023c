"""The service with a layer that dies between the commit and the reply of the first push."""

import os
import signal
from pathlib import Path

from webapp.network.serving import DATA
from webapp.network.serving import app as whole_app


def app():
    """The app; the first push after which `died` is not yet there ends the worker."""
    inner = whole_app()
    died = Path(os.environ[DATA]) / "died"
    answer = inner.wsgi_app

    def dying(environ, start_response):
        reply = answer(environ, start_response)
        if environ["PATH_INFO"] == "/log/push" and not died.exists():
            died.touch()
            os.kill(os.getpid(), signal.SIGKILL)
        return reply

    inner.wsgi_app = dying
    return inner
