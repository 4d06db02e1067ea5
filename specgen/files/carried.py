"""Where the folders that spec writers edit and copy are found: in the repository, or carried inside the wheel."""

from __future__ import annotations

from pathlib import Path

_NAMES = ("clauses", "templates", "projects")
_PACKAGE = Path(__file__).resolve().parent.parent


def carried(name: str) -> Path:
    """The folder `clauses`, `templates` or `projects`.

    An installed package carries it as `specgen/carried/<name>`; in a checkout it stands at the top.

    Returns:
        Path of the existing folder.

    Raises:
        ValueError: if `name` is not one of these folders.
        FileNotFoundError: if the folder is in neither place.
    """
    if name not in _NAMES:
        raise ValueError(f"no carried folder {name!r}: the carried folders are {', '.join(_NAMES)}")
    installed = _PACKAGE / "carried" / name
    if installed.is_dir():
        return installed
    checkout = _PACKAGE.parent
    # An installed package may have an unrelated folder of that name beside it; only a checkout has this file.
    if (checkout / "pyproject.toml").is_file() and (checkout / name).is_dir():
        return checkout / name
    raise FileNotFoundError(
        f"the folder '{name}' of specgen is missing: looked for {installed} and {checkout / name}; "
        "install specgen again"
    )
