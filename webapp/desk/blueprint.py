"""The blueprint that every page of the desk is registered on."""

from flask import Blueprint

bp = Blueprint("desk", __name__, url_prefix="/desk", template_folder="templates")
