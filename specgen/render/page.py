"""Templates of pages: HTML files that need no other file, no network and no script."""

from __future__ import annotations

from functools import lru_cache

import jinja2
from jinja2 import BytecodeCache, Environment, FileSystemLoader, StrictUndefined, Template
from jinja2.bccache import Bucket
from jinja2.sandbox import ImmutableSandboxedEnvironment

from specgen.files.carried import carried
from specgen.files.compiled import compiled


class _Compiled(BytecodeCache):
    """Keeps a template that ships as Python compiles it; an office's own documents are no pages."""

    def get_bucket(self, environment: Environment, name: str, filename: str | None, source: str) -> Bucket:
        bucket = Bucket(environment, self.get_cache_key(name, filename), self.get_source_checksum(source))
        made_from = [one.encode() for one in (jinja2.__version__, name, str(filename), source)]
        kept = f"page-{name.replace('/', '-')}"
        bucket.code = compiled(kept, made_from, lambda: environment.compile(source, name, filename))
        return bucket


@lru_cache(maxsize=8)
def page_template(name: str) -> Template:
    """A template under ``templates/``; frame, style sheet and parts of every page are in ``templates/page``."""
    environment = ImmutableSandboxedEnvironment(
        loader=FileSystemLoader(str(carried("templates"))),
        undefined=StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        bytecode_cache=_Compiled(),
    )
    return environment.get_template(name)
