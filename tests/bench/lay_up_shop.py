"""A job with a lay-up sheet in the records of a running shop; all of it invented."""

from dataclasses import replace

from companion.app import open_store
from companion.config import Config
from companion.records import catalogue, plans
from companion.records.plans import PlannedCup
from companion.records.store import Store
from companion.trade.cards import Cure, Job, ReleaseAgent, SystemCard, TackWindow
from companion.trade.job_order import CoatOrder, JobOrder, PlyOrder
from tests.running import RunningServer

MADE_AT = "2026-03-01T08:00:00.000Z"
COVER, NEXT = "Inspection cover", "Bow hatch"
LAMINATE, COAT, WAX = "RES-L+HRD-S", "SRF-A+SRF-B", "WAX-T"


def describe(server: RunningServer) -> None:
    """Two jobs: a cover with a surface coat and two plies, and a hatch that takes release agent."""
    store = open_store(Config(server.data_dir, server.demo))
    try:
        _cards(store)
        _job(store, "77", COVER, surface_coat=CoatOrder(COAT, 350), peel_ply_g_m2=40)
        _job(store, "78", NEXT, release_agent=WAX)
        system = catalogue.named(store, SystemCard, LAMINATE).name
        for step in ("ply 1", "ply 2"):
            plans.order(store, PlannedCup("", "77@1", step, system, "146.4", "C250"), 1, MADE_AT)
    finally:
        store.close()


def _cards(store: Store) -> None:
    for code, opens_h, closes_h in ((LAMINATE, 2, 6), (COAT, 4, 8)):
        card = catalogue.named(store, SystemCard, code)
        tack = TackWindow(opens_h * 60, closes_h * 60, 20)
        catalogue.revise(store, replace(card, tack=tack, cure=Cure(24 * 60, None, 20)), MADE_AT)
    wax = ReleaseAgent(WAX, 0, coats=2, between_min=30, last_min=60, too_old_min=480)
    catalogue.revise(store, wax, MADE_AT)


def _job(store: Store, code: str, part: str, **more: object) -> None:
    plies = (PlyOrder("C200", 200), PlyOrder("C400", 400, angle_deg=45))
    order = JobOrder(code, part, 0.34, 0.48, plies, LAMINATE, **more)  # type: ignore[arg-type]
    catalogue.revise(store, Job(code, 0, part, order), MADE_AT)
