"""The words of every remark, read from `remarks.toml`. To add a remark, add its code and words there."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Wording:
    """What one remark says, and what to do, which is empty when there is nothing to do."""

    text: str
    advice: str = ""


_FILE = Path(__file__).with_name("remarks.toml")
WORDINGS: Mapping[str, Wording] = MappingProxyType(
    {code: Wording(**words) for code, words in tomllib.loads(_FILE.read_text(encoding="utf-8")).items()}
)
