"""Findings and comments of a project as BCF 3.0: a topic each, for the list of issues of a building model."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date
from uuid import UUID

from lxml import etree

from specgen.explain.commented import Commented
from specgen.files.archive import zip_deterministic
from specgen.model.comment import Comment
from specgen.model.finding import Finding, Outcome
from specgen.model.folded import FoldedFinding, folded
from specgen.render.bcf_view import TopicSubject, Views
from specgen.render.ifc_names import guid, project_id
from specgen.render.xml_tree import under, written
from specgen.sections.words import named_sources, sentence, without_file
from specgen.specification import Specification

VERSION = "3.0"
AUTHOR = "specgen"
FINDING, COMMENT = "Finding", "Comment"  # types of topics
OPEN, WAIVED, ANSWERED = "open", "waived", "answered"


@dataclass(frozen=True)
class Topic:
    """One topic: what is wrong or asked, where, and what people wrote on it."""

    guid: UUID
    type: str
    status: str
    title: str
    description: str
    labels: tuple[str, ...]
    shown: TopicSubject
    comments: tuple[Comment, ...] = ()
    priority: str = ""


@dataclass(frozen=True)
class Bcf:
    """What was made of the findings and the comments."""

    data: bytes
    topics: tuple[Topic, ...]


@dataclass
class _Given:
    """The comments that no finding has taken yet."""

    left: list[Commented] = field(default_factory=list)

    def of(self, one: FoldedFinding) -> tuple[Comment, ...]:
        """Those on a finding; each is given once."""
        mine = [each for each in self.left if _is_on(each.comment, one)]
        self.left = [each for each in self.left if each not in mine]
        return tuple(each.comment for each in mine)


def bcf_file(spec: Specification, comments: Iterable[Commented], day: date) -> Bcf:
    """The findings that somebody must act on or has decided, and the comments, in the order in which papers list them.

    The same project makes the same ids, so that a list of issues knows a topic again.

    Args:
        spec: the project as written.
        comments: on it, each with what it is about.
        day: that the topics bear as the day of their making.
    """
    topics = tuple(_topics(spec, _Given(list(comments))))
    title = spec.assessment.project.title
    parts = {
        "bcf.version": _version(),
        "extensions.xml": _extensions(topics),
        "project.bcfp": _project(title),
    }
    views = Views(spec)
    for one in topics:
        folder = str(one.guid)
        view_guid = guid(title, "view", folder)
        view = views.viewpoint(one.shown, view_guid)
        picture = views.snapshot(one.shown.parapets[0], one.shown.component) if view else None
        parts[f"{folder}/markup.bcf"] = _markup(one, title, day, view_guid if view else None, bool(picture))
        if view:
            parts[f"{folder}/viewpoint.bcfv"] = view
        if picture:
            parts[f"{folder}/snapshot.png"] = picture
    return Bcf(zip_deterministic(parts), topics)


def _topics(spec: Specification, given: _Given) -> Iterator[Topic]:
    """A topic for each finding, and one for each comment on something else, or on a finding that is gone."""
    one = spec.assessment
    title, every = one.project.title, tuple(wall.parapet.name for wall in one.walls)
    times: Counter[tuple[str, str, str]] = Counter()
    for each in folded(found for found in one.findings if status_of(found)):
        found = each.finding
        names = (found.code, found.parapet, found.layer)
        times[names] += 1
        at = each.parapets if found.parapet in every else every
        yield Topic(
            guid(title, FINDING, *names, str(times[names])),
            FINDING,
            status_of(found),
            f"{found.code} {found.name}" + (f", {each.places}" if found.parapet in every else ""),
            _description(spec, each),
            (found.word, found.code),
            TopicSubject(at, found.layer),
            given.of(each),
            found.severity.value,
        )
    for left in given.left:
        about = left.comment.about
        yield Topic(
            guid(title, COMMENT, left.comment.key),
            COMMENT,
            OPEN if left.open else ANSWERED,
            left.object.where,
            left.object.now or left.object.gone,
            (about.kind,),
            TopicSubject((about.parapet,) if about.parapet in every else every, about.layer or about.of),
            (left.comment,),
        )


def status_of(found: Finding) -> str:
    """The status of a finding's topic; "" of one that is none.

    Args:
        found: one finding.
    """
    if found.counts:
        return OPEN
    if found.outcome is Outcome.WAIVED:
        return WAIVED
    return ANSWERED if found.outcome is Outcome.NOT_COVERED else ""


def _is_on(comment: Comment, one: FoldedFinding) -> bool:
    about, found = comment.about, one.finding
    same = about.finding == found.code and about.layer in ("", found.layer)
    return same and (not about.parapet or about.parapet in one.parapets)


def _description(spec: Specification, one: FoldedFinding) -> str:
    """What is found, why it matters, what would close it, where that comes from, and who accepted it."""
    plain, found = spec.assessment.paper_words(), one.finding
    parts = [sentence(plain(found.message)), sentence(plain(found.reason))]
    if found.waiver:
        parts.append(f"Accepted by {sentence(found.waiver)}")
    elif found.answer:
        parts.append(f"Answered: {sentence(found.answer)}")
    elif remedy := without_file(found.remedy):
        parts.append(sentence(plain(remedy)))
    if found.sources:
        parts.append(f"Source: {named_sources(found.sources)}.")
    return " ".join(part for part in parts if part)


def _version() -> bytes:
    return written(etree.Element("Version", VersionId=VERSION))


def _project(title: str) -> bytes:
    root = etree.Element("ProjectInfo")
    under(under(root, "Project", ProjectId=str(guid(title, "project"))), "Name", title or "Parapets")
    return written(root)


def _extensions(topics: Iterable[Topic]) -> bytes:
    """The words that the topics use, which programs offer as choices."""
    every = tuple(topics)
    people = (name for one in every for comment in one.comments for name, _, _ in _words(comment))
    root = etree.Element("Extensions")
    for group, name, words in (
        ("TopicTypes", "TopicType", (FINDING, COMMENT)),
        ("TopicStatuses", "TopicStatus", (OPEN, WAIVED, ANSWERED)),
        ("Priorities", "Priority", sorted({one.priority for one in every if one.priority})),
        ("TopicLabels", "TopicLabel", sorted({label for one in every for label in one.labels})),
        ("Users", "User", sorted({AUTHOR, *people})),
    ):
        above = under(root, group)
        for word in words:
            under(above, name, word)
    return written(root)


def _markup(one: Topic, title: str, day: date, view: UUID | None, pictured: bool) -> bytes:
    """One topic with its comments and its view; the schema wants this order."""
    root = etree.Element("Markup")
    files = under(under(root, "Header"), "Files")
    under(files, "File", IfcProject=project_id(title), IsExternal="true")
    topic = under(root, "Topic", Guid=str(one.guid), TopicType=one.type, TopicStatus=one.status)
    under(topic, "Title", one.title)
    if one.priority:
        under(topic, "Priority", one.priority)
    labels = under(topic, "Labels")
    for label in one.labels:
        under(labels, "Label", label)
    under(topic, "CreationDate", f"{day.isoformat()}T00:00:00Z")
    under(topic, "CreationAuthor", AUTHOR)
    under(topic, "Description", one.description)
    if one.comments:
        above = under(topic, "Comments")
        for each in one.comments:
            _comments(above, title, each)
    if view is not None:
        shown = under(under(topic, "Viewpoints"), "ViewPoint", Guid=str(view))
        under(shown, "Viewpoint", "viewpoint.bcfv")
        if pictured:
            under(shown, "Snapshot", "snapshot.png")
    return written(root)


def _comments(above: etree._Element, title: str, comment: Comment) -> None:
    """A comment and its answers, each as one."""
    for number, (name, time, text) in enumerate(_words(comment)):
        made = under(above, "Comment", Guid=str(guid(title, "words", comment.key, str(number))))
        under(made, "Date", time)
        under(made, "Author", name)
        under(made, "Comment", text)


def _words(comment: Comment) -> list[tuple[str, str, str]]:
    """Name, time and text of a comment, and of each of its answers."""
    answers = [(one.name, one.time, one.text) for one in comment.answers]
    return [(comment.name, comment.time, comment.text), *answers]
