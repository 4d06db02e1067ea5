"""Imported once by the process that audit workers are forked from: what each of them needs is read before."""

from specgen.commands import audit_job  # noqa: F401 - a worker then finds it loaded
from specgen.practice.load import load_practice
from specgen.rules.book import load_book

load_book(load_practice())
