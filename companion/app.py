"""The Flask application, from top to bottom."""

from flask import Flask

from .config import Config, folder
from .demo import load_demo
from .records.catalogue import found, is_empty
from .records.files import make_private, private_folder
from .records.store import Store
from .web import (
    access,
    bench,
    doors,
    headers,
    journal,
    languages,
    office,
    problems,
    proxy,
    sync,
    trust,
)
from .web.intake import Intake, Sizes
from .web.limits import MAX_FILE_BYTES
from .web.state import State
from .web.trust import Trust

#: Largest body any route takes but the import of a file; the log route allows less.
MAX_BODY_BYTES = 1024 * 1024
#: Requests worked on at a time. One process writes; the others of its threads read meanwhile.
THREADS = 4


def create_app(config: Config | None = None) -> Flask:
    """Build the application: open the records, then hang the rooms of ``web`` on it."""
    config = config or Config.from_environment()
    store = open_store(config)
    app = Flask(
        __name__, static_folder=str(folder("static")), template_folder=str(folder("templates"))
    )
    app.config.update(
        MAX_CONTENT_LENGTH=MAX_BODY_BYTES,
        MAX_FORM_MEMORY_SIZE=MAX_BODY_BYTES,
        SEND_FILE_MAX_AGE_DEFAULT=0,
    )
    app.extensions["companion"] = State(config, store, found(store, demo=config.demo))
    proxy.stand_behind(app, config)
    headers.guard(app)
    access.guard(app)
    problems.answer(app)
    languages.speak(app)
    if config.journal:
        journal.keep(app, config.journal_dir)
    for room in (bench, office, sync, doors):
        app.register_blueprint(room.blueprint)
    return app


def create_intake() -> Intake:
    """The application as this program serves it, where no proxy takes the bodies in."""
    sizes = Sizes(MAX_BODY_BYTES, {"/import": MAX_FILE_BYTES})
    return Intake(create_app(), sizes, THREADS)


def open_store(config: Config) -> Store:
    """Open the records of this run, newest schema, with the demo workshop where asked."""
    private_folder(config.data_dir)
    make_private(config.database_file)
    store = Store(config.database_url)
    store.migrate()
    # Records keep the kind they were made as: a real shop never gets invented cards.
    if found(store, demo=config.demo).demo and is_empty(store):
        load_demo(store)
    return store


def create_trust_app(facts: Trust) -> Flask:
    """Build the trust page: an application without records, for the port without TLS."""
    app = Flask(__name__, static_folder=None, template_folder=str(folder("templates")))
    trust.guard(app, facts)
    languages.speak(app, trust.language)
    app.register_blueprint(trust.blueprint)
    return app
