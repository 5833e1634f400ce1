"""The hatch cover of T1 with its cards, for the tests of jobs."""

from companion.trade.cards import (
    Additive,
    Cloth,
    Cure,
    PotLife,
    ReleaseAgent,
    ScaleCard,
    SystemCard,
    TackWindow,
)
from companion.trade.job_check import ClothFigures, JobChoices
from companion.trade.job_form import TypedJob, TypedPly
from companion.trade.job_order import CoatOrder, JobOrder, PlyOrder

SLOW = SystemCard(
    "RES-L+HRD-S", 3, "RES-L", "HRD-S", "SLOW", 30, 2, 150, pot_life=PotLife(45, 100, 25)
)
COAT = SystemCard(
    "SRF-A+SRF-B",
    1,
    "SRF-A",
    "SRF-B",
    "COAT",
    40,
    2,
    150,
    tack=TackWindow(240, 480, 20),
    cure=Cure(1440, 10080, 20),
    minimum_c=16,
)
SYSTEMS = {card.code: card for card in (SLOW, COAT)}
BY_NAME = {card.name: card for card in (SLOW, COAT)}
FINE, COARSE = ScaleCard("S1", 1, "0.1", 2000), ScaleCard("S2", 1, "1", 5000)
CLOTHS = {
    "C200": Cloth("C200", 1, "carbon", 200, 1.8, 1.2),
    "C400": Cloth("C400", 1, "carbon", 400, 1.8, 1.2),
}
WAX = ReleaseAgent("WAX", 1, 3, 30, 60)
PASTE = Additive("PIG-W", 1, "white paste", 5)
HATCH = JobOrder(
    job="14",
    part="hatch cover",
    serial="HC-014",
    area_m2=0.34,
    resin_mass_fraction=0.48,
    plies=(PlyOrder("C200", 200), PlyOrder("C400", 400, 2), PlyOrder("C200", 200)),
    system="RES-L+HRD-S",
    peel_ply_g_m2=40,
    tools_g=25,
    loss_per_cup_g=8,
    surface_coat=CoatOrder("SRF-A+SRF-B", 350, 10),
)
CHOICES = JobChoices(
    systems=SYSTEMS,
    cloths={code: ClothFigures(card.areal_weight_g_m2, 1.8) for code, card in CLOTHS.items()},
    release_agents={"WAX": WAX},
    additives={"PIG-W": PASTE},
    customers=frozenset({"LAKE"}),
    taken=frozenset({"15"}),
    scale=FINE,
)
TYPED = TypedJob(
    code="14",
    part="hatch cover",
    customer="LAKE",
    area_m2="0,34",
    resin_pct="48",
    system="RES-L+HRD-S",
    coat_system="SRF-A+SRF-B",
    coat_g_m2="350",
    coat_tools_g="10",
    release_agent="WAX",
    peel_ply_g_m2="40",
    tools_g="25",
    loss_per_cup_g="8",
    plies=(TypedPly("C200"), TypedPly("C400", layers="2", angle_deg="-45"), TypedPly("C200")),
)
