"""The blueprint that every page of the door is registered on."""

from flask import Blueprint, redirect
from werkzeug.wrappers import Response

bp = Blueprint("door", __name__, template_folder="templates")


def on_to(path: str) -> Response:
    """A redirect to a page of this site, fetched with GET."""
    return redirect(path, 303)
