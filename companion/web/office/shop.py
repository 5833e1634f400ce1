"""The shop's own words for what stands as a code in plans and rows."""

from collections.abc import Mapping
from dataclasses import dataclass

from ...records import catalogue
from ...records.store import Store
from ...trade.cards import CupType, Job, SystemCard


@dataclass(frozen=True, slots=True)
class Shop:
    """Cards by the name that stands in the records, and people by code."""

    parts: Mapping[str, str]
    people: Mapping[str, str]
    systems: Mapping[str, SystemCard]
    cup_types: Mapping[str, CupType]

    def part(self, job: str) -> str:
        """Part a job makes, or the job's own name where its card is not here."""
        return self.parts.get(job, job)

    def person(self, code: str) -> str:
        """Name of a person, or the code where the name was erased or never entered."""
        return self.people.get(code, code)

    def newest_system(self, name: str) -> str:
        """Newest revision of a system, by name; empty where this is it, or is not known."""
        card = self.systems.get(name)
        if card is None:
            return ""
        newest = max(
            (one for one in self.systems.values() if one.code == card.code),
            key=lambda one: one.revision,
        )
        return "" if newest.name == name else newest.name


def open_shop(store: Store) -> Shop:
    """Look everything up once per page."""
    return Shop(
        parts={job.name: job.part for job in catalogue.every(store, Job)},
        people=catalogue.all_people(store),
        systems={card.name: card for card in catalogue.every(store, SystemCard)},
        cup_types={card.code: card for card in catalogue.latest(store, CupType)},
    )
