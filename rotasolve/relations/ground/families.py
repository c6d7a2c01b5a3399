"""The graph of crop families: who belongs where, which soil troubles they share, what follows and stands by what.

Nodes are crops, families, rotation groups and pathogens; edges are ``member_of``, ``grown_with``, ``host_of`` (the
pathogen's records hold the gaps in complete years without a host), ``before`` and ``beside`` (each with a record that
holds the level of evidence). This is the only importer of networkx.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import median
from typing import TYPE_CHECKING, TypeVar

import networkx as nx

from rotasolve.domain.family import Neighbours, Succession

Remark = TypeVar("Remark", Succession, Neighbours)

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import date

    from rotasolve.domain.catalogue import Catalogue

    Graph = nx.MultiDiGraph[tuple[str, str]]

_FAMILY_MARK = "family:"
SUPPORTED_EVIDENCE = ("strong", "some")


@dataclass(frozen=True)
class RestGroup:
    """Crops that must not return to the same ground too soon.

    ``gap`` and ``gap_wished`` are complete years without a member; ``closes`` shuts the ground to all members. A
    disease may have been ``seen`` on a day: hosts that stood there then stand on.
    """

    name: str
    crops: frozenset[str]
    gap: int
    gap_wished: int
    closes: bool = False
    disease: bool = False
    seen: date | None = None


class FamilyGraph:
    """Questions about the relations between crops; built once from a catalogue."""

    def __init__(self, catalogue: Catalogue) -> None:
        self._graph: Graph = nx.MultiDiGraph()
        self._exempt = frozenset(crop.name for crop in catalogue.crops if not crop.counts_for_rest)
        self._waited_for = frozenset(crop.name for crop in catalogue.crops if crop.wait_after is not None)
        self._groups: dict[tuple[int | None, int | None], tuple[RestGroup, ...]] = {}
        self._families = {family.name: family for family in catalogue.families}
        self._graph.add_nodes_from(("family", name) for name in self._families)
        self._kinds = {crop.name: crop.kind_of for crop in catalogue.crops if crop.kind_of is not None}
        for crop in catalogue.crops:
            self._graph.add_edge(("crop", crop.name), ("family", crop.family), key="member_of")
            self._graph.add_edge(("crop", crop.name), ("group", crop.rotation_group), key="grown_with")
        for pathogen in catalogue.pathogens:
            node = ("pathogen", pathogen.name)
            self._graph.add_node(node)
            known = self._graph.nodes[node].setdefault("records", [])
            known.append(pathogen)
            for host in pathogen.hosts:
                for name in self.crops_meant(host):
                    self._graph.add_edge(("crop", name), node, key="host_of")
        for succession in catalogue.successions:
            for one in self.crops_meant(succession.before):
                for other in self.crops_meant(succession.after):
                    self._graph.add_edge(("crop", one), ("crop", other), record=succession, kind="before")
        for remark in catalogue.neighbours:
            for one in self.crops_meant(remark.one):
                for other in self.crops_meant(remark.other):
                    if one != other:
                        self._graph.add_edge(("crop", one), ("crop", other), record=remark, kind="beside")

    def crops_meant(self, name: str) -> tuple[str, ...]:
        """Return the crops that a crop name, with its kinds, or ``family:NAME`` stands for, sorted."""
        if name.startswith(_FAMILY_MARK):
            node = ("family", name[len(_FAMILY_MARK) :])
            if node not in self._graph:
                return ()
            return tuple(sorted(crop for kind, crop in self._graph.predecessors(node) if kind == "crop"))
        kinds = [kind for kind, base in self._kinds.items() if base == name]
        return tuple(sorted([name, *kinds])) if ("crop", name) in self._graph else ()

    def family_of(self, crop: str) -> str:
        """Return the botanical family of a crop."""
        return next(name for kind, name in self._graph.successors(("crop", crop)) if kind == "family")

    def family_groups(self, gap: int | None = None, gap_wished: int | None = None) -> tuple[RestGroup, ...]:
        """Return the families that need rest, with the catalogue's gaps or the given ones, sorted by name.

        Crops marked as not counting for rest (clover and vetch covers) are left out.
        """
        if (gap, gap_wished) in self._groups:
            return self._groups[gap, gap_wished]
        groups = []
        for node in sorted(self._graph.nodes):
            record = self._families.get(node[1])
            if node[0] != "family" or record is None or not record.rest:
                continue
            hard = record.gap_hard if gap is None else gap
            wished = record.gap_wished if gap_wished is None else gap_wished
            crops = frozenset(self.crops_meant(_FAMILY_MARK + node[1])) - self._exempt
            groups.append(RestGroup(node[1], crops, hard, max(hard, wished)))
        self._groups[gap, gap_wished] = tuple(groups)
        return self._groups[gap, gap_wished]

    def disease_group(self, pathogen: str) -> RestGroup:
        """Return the hosts of a disease known in a bed, and the gap it asks for.

        Sources disagree; the gap is the median of their lower figures, rounded up, or of the upper ones where no
        source has a lower. One source that closes the ground is enough to close it.
        """
        node = ("pathogen", pathogen)
        records = self._graph.nodes[node]["records"]
        hosts = frozenset(crop for kind, crop in self._graph.predecessors(node) if kind == "crop")
        lows = [record.gap_low for record in records if record.gap_low is not None]
        known = lows or [record.gap_high for record in records if record.gap_high is not None]
        gap = math.ceil(median(known)) if known else 0
        return RestGroup(pathogen, hosts, gap, gap, any(record.closes for record in records), disease=True)

    def said_of_order(self, before: str, after: str) -> tuple[Succession, ...]:
        """Return what sources say of growing ``after`` in ground where ``before`` stood."""
        return tuple(self._records(before, after, Succession))

    def said_of_neighbours(self, one: str, other: str) -> tuple[Neighbours, ...]:
        """Return what sources say of two crops side by side, whichever is named first."""
        return tuple(dict.fromkeys([*self._records(one, other, Neighbours), *self._records(other, one, Neighbours)]))

    def _records(self, one: str, other: str, kind: type[Remark]) -> Iterator[Remark]:
        for data in (self._graph.get_edge_data(("crop", one), ("crop", other)) or {}).values():
            record = data.get("record")
            if isinstance(record, kind):
                yield record

    def bad_orders(self, crops: frozenset[str]) -> dict[tuple[str, str], frozenset[str]]:
        """Return, for each crop and evidence, which of the crops it does badly after; its own family is left to rest.

        Only some or strong evidence counts, of several remarks on a pair the best one, and only what holds anywhere.
        What fresh residues of a green manure do is left to the time that its ground waits.
        """
        pairs: dict[tuple[str, str], str] = {}
        for one, other, data in self._graph.edges(data=True):
            before, after = one[1], other[1]
            if data.get("kind") != "before" or not {before, after} <= crops:
                continue
            said: Succession = data["record"]
            if said.effect not in ("bad", "avoid") or said.strength not in SUPPORTED_EVIDENCE or said.only_where:
                continue
            if before in self._waited_for:
                continue
            if self.family_of(before) != self.family_of(after) and pairs.get((before, after)) != "strong":
                pairs[before, after] = said.strength
        found: dict[tuple[str, str], set[str]] = {}
        for (before, after), evidence in sorted(pairs.items()):
            found.setdefault((after, evidence), set()).add(before)
        return {key: frozenset(found[key]) for key in sorted(found)}

    def pairs_beside(self, effect: str, crops: frozenset[str]) -> dict[tuple[str, str], str]:
        """Return the pairs among ``crops`` whose effect side by side, ``good`` or ``bad``, has evidence, and which.

        Only some or strong evidence counts; of several remarks on a pair the best one.
        """
        pairs: dict[tuple[str, str], str] = {}
        for one, other, data in self._graph.edges(data=True):
            first, second = sorted((one[1], other[1]))
            if data.get("kind") != "beside" or data["record"].effect != effect or not {first, second} <= crops:
                continue
            evidence = data["record"].evidence
            if evidence in SUPPORTED_EVIDENCE and pairs.get((first, second)) != "strong":
                pairs[first, second] = evidence
        return dict(sorted(pairs.items()))
