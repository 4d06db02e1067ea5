"""What every field paper shares: its words, its frame and cautions, and parapets that are built alike."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from specgen.assessment import Assessment
from specgen.model.document import Block, Document, Para, Style, framed, properties_of, text
from specgen.model.project import Parapet, Project
from specgen.paths.owners import OwnedJoint, owned_joints
from specgen.paths.sequence import Sequence
from specgen.sections.cautions import cautions
from specgen.sections.form_text import FormText
from specgen.sections.words import joined


@dataclass(frozen=True)
class Alike:
    """Parapets with the same parts in the same order and the same joints; the first stands for all."""

    names: tuple[str, ...]
    parapet: Parapet
    sequence: Sequence
    joints: tuple[OwnedJoint, ...]

    @property
    def words(self) -> str:
        """The names as a list."""
        return joined(self.names, "and")


def field_words() -> FormText:
    """The words of the field papers."""
    return FormText("field/field")


def place_heading(names: tuple[str, ...], words: FormText) -> str:
    """The heading over what holds at some parapets."""
    return words("where", s="s" if len(names) > 1 else "", names=joined(names, "and"))


def built_alike(assessment: Assessment) -> tuple[Alike, ...]:
    """The parapets of a project, those whose field work is the same taken together, in the order of the file."""
    groups: dict[object, list[tuple[Parapet, Sequence, tuple[OwnedJoint, ...]]]] = {}
    for wall in assessment.walls:
        parapet, found = wall.parapet, wall.order
        joints = owned_joints(parapet, found, assessment.practice)
        kinds = tuple((part.id, part.kind) for part in parapet.components())
        groups.setdefault((found.steps, found.cycle, joints, kinds, parapet.existing is None), []).append(
            (parapet, found, joints)
        )
    return tuple(
        Alike(tuple(parapet.name for parapet, _, _ in group), *group[0]) for group in groups.values()
    )


def paper(
    project: Project, words: FormText, title: str, blocks: Iterable[Block], landscape: bool = False
) -> Document:
    """A field paper in the frame that all share: title, cautions before any work, its blocks.

    Args:
        project: heads the paper.
        words: of the field papers.
        title: the key of the title in them.
        blocks: what the paper says.
        landscape: for a table of many columns.
    """
    framing = (
        Para(Style.TITLE, text(words(title))),
        Para(Style.NOTE, text(words("recommends"))),
        Para(Style.HEADING, text(words("cautions_heading"))),
        *(Para(Style.BULLET, text(caution)) for caution in cautions()),
        *blocks,
    )
    properties = properties_of(project, words(title), words("subject"))
    return framed(properties, framing, landscape=landscape)
