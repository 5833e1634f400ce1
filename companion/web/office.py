"""Office pages."""

from flask import Blueprint, redirect
from werkzeug.wrappers import Response

blueprint = Blueprint("office", __name__)


@blueprint.get("/")
def home() -> Response:
    """Start page."""
    return redirect("/bench/")
