"""Archives whose bytes rest on what they hold alone."""

from __future__ import annotations

import io
import stat
import zipfile
from collections.abc import Mapping

from specgen.files.names import check_name

_ZIP_TIME = (1980, 1, 1, 0, 0, 0)
_ZIP_UNIX = 3
_ZIP_MODE = (stat.S_IFREG | 0o644) << 16
_ZIP_LEVEL = 6


def zip_deterministic(parts: Mapping[str, bytes]) -> bytes:
    """A zip archive of `parts` in the given order, without times, users or the system it was made on.

    The compressed bytes are those of the zlib that Python was built with; all else is fixed here.

    Raises:
        ValueError: if a name is unsafe.
    """
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as archive:
        for name, data in parts.items():
            entry = zipfile.ZipInfo(check_name(name), _ZIP_TIME)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.create_system = _ZIP_UNIX
            entry.external_attr = _ZIP_MODE
            archive.writestr(entry, data, compresslevel=_ZIP_LEVEL)
    return buffer.getvalue()
